"""A list of one's own: each row is matched, ambiguous or unknown, and nothing is guessed."""

from dataclasses import replace

import pytest

from kb.errors import BadFile, BadParameter
from kb.exchange.plant_list import MOST_HELPED, MOST_ROWS, PlantList, read_list
from kb.model import CommonName, Name
from kb.names import NameIndex
from kb.repository import MemoryRepository
from kb.snapshot import Snapshot
from tests.kb.invented import PLANT, SOURCE, other


@pytest.fixture
def data() -> Snapshot:
    first = replace(
        PLANT,
        authority="Test.",
        synonyms=(Name("Inventa vetus", None, None),),
        common_names=(CommonName("trial shrub", "en"), CommonName("grey herb", "en")),
    )
    second = replace(
        other("altera"), common_names=(CommonName("grey herb", "en"), CommonName("kürbel", "de"))
    )
    return MemoryRepository((first, second), (SOURCE,)).snapshot()


def outcomes(read: PlantList) -> list[tuple[int, str, str | None]]:
    return [(row.line, row.outcome, row.plant) for row in read.rows]


A, B = "inventa-exemplaris", "inventa-altera"


@pytest.mark.parametrize(
    "written",
    [
        A,
        "Inventa exemplaris",
        "INVENTA EXEMPLARIS",
        "Inventa vetus",
        "trial shrub",
        "trial shrubs",
        "trialshrub",
        "Inventa exemplaris Test.",
    ],
)
def test_a_known_name_is_matched(data: Snapshot, written: str) -> None:
    """Id, accepted name with or without author, listed synonym, common name."""
    assert [(1, "matched", A)] == outcomes(read_list(written.encode(), "x", data))


def test_a_name_of_two_plants_offers_both(data: Snapshot) -> None:
    """The choice is the user's."""
    (row,) = read_list(b"grey herb", "x", data).rows

    assert ("ambiguous", (B, A)) == (row.outcome, row.choices)


@pytest.mark.parametrize("written", ["Inventa exemplarus", "trial shrib", "Inventa"])
def test_a_name_one_letter_off_is_unknown(data: Snapshot, written: str) -> None:
    """The nearest names are shown, none is taken."""
    (row,) = read_list(written.encode(), "x", data).rows

    assert ("unknown", None) == (row.outcome, row.plant)
    assert row.nearest


LISTS = [
    "scientific name,number\nInventa exemplaris,3\nInventa altera,1\n",
    "number;scientific name\n3;Inventa exemplaris\n1;Inventa altera\n",
    "number\tPlant\n3\tInventa exemplaris\n1\tInventa altera\n",
    "bed,Genus,Species\n1,Inventa,exemplaris\n2,Inventa,altera\n",
    "row|latin name|n\n1|Inventa exemplaris|5\n2|Inventa altera|5\n",
]


@pytest.mark.parametrize("text", LISTS)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "windows-1252"])
def test_any_order_and_delimiter_with_headings(data: Snapshot, text: str, encoding: str) -> None:
    """The heading says where the names stand."""
    read = read_list(text.encode(encoding), "x", data)

    assert [(2, "matched", A), (3, "matched", B)] == outcomes(read)


@pytest.mark.parametrize(
    "text", ["1,Inventa exemplaris\n2,Inventa altera\n", "Inventa exemplaris;a\nInventa altera;b"]
)
def test_without_headings_the_only_column_of_names_is_read(data: Snapshot, text: str) -> None:
    """And the answer says which it was."""
    read = read_list(text.encode(), "x", data)

    assert [(1, "matched", A), (2, "matched", B)] == outcomes(read)
    assert read.columns[0] in {"column 1", "column 2"}


def test_two_columns_of_names_without_headings_ask_back(data: Snapshot) -> None:
    """A neighbour in a list of pairs is not the plant; the user says which column is meant."""
    text = b"Inventa exemplaris,Inventa altera\nInventa altera,Inventa exemplaris\n"
    with pytest.raises(BadParameter, match="columns 1, 2 hold names"):
        read_list(text, "x", data)

    assert [(1, "matched", B), (2, "matched", A)] == outcomes(read_list(text, "x", data, column="2"))


@pytest.mark.parametrize(("column", "told"), [("9", "has 2 columns"), ("colour", "no heading is 'colour'")])
def test_a_column_that_is_not_there_is_told(data: Snapshot, column: str, told: str) -> None:
    """With what there is."""
    with pytest.raises(BadParameter, match=told):
        read_list(b"name,number\nInventa altera,1\n", "x", data, column=column)


@pytest.mark.parametrize(
    ("row", "outcome", "choices"),
    [
        ("Inventa exemplaris,trial shrub", "matched", ()),
        ("Inventa exemplaris,", "matched", ()),
        (",trial shrub", "matched", ()),
        ("Inventa exemplaris,grey herb", "matched", ()),
        ("Inventa exemplaris,something of ours", "matched", ()),
        ("Inventa exemplaris,kürbel", "ambiguous", (B, A)),
        ("Inventa ignota,trial shrub", "ambiguous", (A,)),
        ("Inventa ignota,something of ours", "unknown", ()),
    ],
)
def test_two_names_in_a_row_must_agree(
    data: Snapshot, row: str, outcome: str, choices: tuple[str, ...]
) -> None:
    """The botanical name leads; where the other means another plant, nobody decides but the user."""
    read = read_list(f"botanical name,common name\n{row}\n".encode(), "x", data)

    assert [(outcome, choices)] == [(one.outcome, one.choices) for one in read.rows]


def test_windows_1252_is_read_and_said(data: Snapshot) -> None:
    """A likely reading is named as one."""
    read = read_list("kürbel\n".encode("windows-1252"), "x", data)

    assert [(1, "matched", B)] == outcomes(read)
    assert "Read as windows-1252" in read.notes[0]


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (b"", "holds no names"),
        (b"\n \n", "holds no names"),
        (b"\x00\x01", "zero bytes"),
        (b"caf\x81", "neither UTF-8"),
        (b'name,n\n"Inventa,1\n', "never closed"),
        (b"a\nb\nc", "has 3 rows, 2 are the most"),
    ],
)
def test_what_is_no_list_is_refused(data: Snapshot, raw: bytes, told: str) -> None:
    """With what to do."""
    with pytest.raises(BadFile, match=told):
        read_list(raw, "x", data, most=2)


def test_a_longer_list_than_is_read_is_refused_with_what_to_do(data: Snapshot) -> None:
    """Where no longer one is read elsewhere, it is to be split; none is cut short."""
    with pytest.raises(BadFile, match="has 50001 rows, 50000 are the most here; split it into shorter lists"):
        read_list(b"grey herb\n" * (MOST_ROWS + 1), "x", data)

    assert MOST_ROWS == len(read_list(b"grey herb\n" * MOST_ROWS, "x", data).rows)


def test_nearest_names_are_sought_for_no_more_rows_than_are_helped(
    data: Snapshot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A long list of unknown names is no slow one: names spelt alike are sought at most 100 times."""
    sought: list[str] = []
    monkeypatch.setattr(NameIndex, "nearest", lambda _index, name: sought.append(name) or ())

    rows = [f"unheard of {number}" for number in range(300)]
    read = read_list("\n".join([*rows, *rows]).encode(), "x", data)

    assert rows[:MOST_HELPED] == sought
    assert {"unknown"} == {row.outcome for row in read.rows}


def test_an_endless_name_is_unknown(data: Snapshot) -> None:
    """It is shown shortened and takes no time."""
    (row,) = read_list(100_000 * b"x", "x", data).rows

    assert ("unknown", 200) == (row.outcome, len(row.written))


def test_words_over_numbers_are_headings_in_any_language(data: Snapshot) -> None:
    """A table whose headings nobody knows: its first row is no plant, and decimal commas are numbers."""
    raw = b"Nr;Name (bot.);Abstand\n1;Inventa vetus;0,5\n2;Inventa vetsu;1,25\n"
    read = read_list(raw, "x", data)

    assert [(2, "matched", A), (3, "unknown", None)] == outcomes(read)
    assert ("Name (bot.)",) == read.columns


def test_a_first_row_without_numbers_below_stays_a_row(data: Snapshot) -> None:
    """A misspelt first name is told, never taken for a heading."""
    read = read_list(b"Inventa vetsu;red\nInventa vetus;blue\n", "x", data)

    assert [(1, "unknown", None), (2, "matched", A)] == outcomes(read)


def test_a_plant_that_stands_in_several_rows_is_told(data: Snapshot) -> None:
    """By the rows; both stay."""
    read = read_list(b"trial shrub\nkurbel\nInventa vetus\n", "x", data)

    assert any("rows 1 and 3 (Inventa exemplaris)" in note for note in read.notes)
    assert 3 == len(read.rows)
