"""Cells give back what was put into them, whatever marks are in a text."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.errors import BadFile
from kb.exchange.cells import BadCell, cell_of, hints_of, joined, parted, value_of
from kb.exchange.table_reading import decoded, lines_of
from kb.model import Record

TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), min_size=1)
HINTS = hints_of(Record)


@given(st.lists(TEXT, min_size=1, max_size=4))
def test_lists_come_back_as_they_were(texts: list[str]) -> None:
    """Separators, backslashes and outer spaces inside an entry are part of it."""
    assert tuple(texts) == parted(joined(texts))


@given(st.decimals(allow_nan=False, allow_infinity=False, places=4))
def test_decimals_come_back_exactly(number: Decimal) -> None:
    """No digit is lost and none is added."""
    assert number == value_of(cell_of(number), HINTS["low"])


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("entered_on", date(2026, 11, 25)),
        ("conditions", (("age", "10 years"), ("study", "a|b=c"))),
        ("concepts", ("tree", "shrub")),
        ("number_kind", "floor"),
        ("note", None),
        ("low", None),
    ],
)
def test_fields_are_read_by_their_type(field: str, value: object) -> None:
    """Dates, pairs, lists, closed lists, and what is not there."""
    assert value == value_of(cell_of(value), HINTS[field])


@pytest.mark.parametrize(
    ("field", "cell", "told"),
    [
        ("entered_on", "25/11/2026", "2026-11-25"),
        ("number_kind", "average", "single, mean"),
        ("conditions", "age", "key=value"),
        ("verbatim", "", "fill it in"),
        ("low", "1e3", "decimal point"),
        ("low", "NaN", "decimal point"),
    ],
)
def test_a_bad_cell_says_how_to_mend_it(field: str, cell: str, told: str) -> None:
    """What would be right is named."""
    with pytest.raises(BadCell) as fault:
        value_of(cell, HINTS[field])

    assert told in fault.value.mend


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_marked_and_plain_unicode_is_read(encoding: str) -> None:
    """UTF-8 with and without its mark, UTF-16 with it: the mark is no text."""
    assert "Kürbis ×" == decoded("Kürbis ×".encode(encoding), "list.csv").text


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        ("ok\ncaf\xe9".encode("windows-1252"), "line 2: is not UTF-8"),
        ("plant".encode("utf-16-le"), "UTF-16 must begin with its mark"),
        (b"\xff\xfe\x41", "is not utf-16"),
        (b"\x00\x01binary", "zero bytes"),
    ],
)
def test_other_encodings_are_refused_with_what_to_do(raw: bytes, told: str) -> None:
    """Nothing is read that might be misread."""
    with pytest.raises(BadFile) as fault:
        decoded(raw, "list.csv")

    assert told in str(fault.value)


def test_a_named_encoding_is_used() -> None:
    """Whoever knows it may say so; a wrong name is told."""
    assert "café" == decoded("café".encode("windows-1252"), "list.csv", "windows-1252").text
    with pytest.raises(BadFile, match="no such encoding"):
        decoded(b"x", "list.csv", "latin-of-the-moon")


def test_rows_know_the_line_on_which_they_begin() -> None:
    """Line breaks inside a cell do not shift the count."""
    rows = list(lines_of('a,b\n"one\ntwo",x\n\nlast,y\n', "list.csv", ","))

    assert [1, 2, 5] == [row.number for row in rows]
    assert ("one\ntwo", "x") == rows[1].cells


@pytest.mark.parametrize(
    ("text", "told"),
    [('a\n"open', "never closed"), ("a\n" + 200_000 * "x", "more than 131,072 characters")],
)
def test_a_table_that_cannot_be_followed_is_refused(text: str, told: str) -> None:
    """An open quotation mark or an endless cell spoils all that follows."""
    with pytest.raises(BadFile, match=told):
        list(lines_of(text, "list.csv", ","))
