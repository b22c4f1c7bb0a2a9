"""Random samples of the facts read by hand, read again in their sources by a second reader.

``random_sample_3.csv``: 100 of the 989 facts of five topics of ``import_scripts/readings``, drawn with
``random.Random(20261129)``, at most four of one source; 96 of their pages were opened again on 2026-11-27
without sight of the first entry's reasons. No value and no unit was wrong; seven pointed at the wrong heading
or address, one had another name than was printed, and five said more than the words bear. What they showed
was mended in 55 records.

``random_sample_4.csv``: 100 of the 297 facts of ``floras-woody-2``, ``floras-herbs-2`` and ``crop-values-2``,
drawn with ``random.Random(20261130)``, at most four of one source; 91 were read again on the same day. No
value, unit or name was wrong; eight pointed at an address that opens another plant or another site, and five
rest on words or on a source that do not bear them. What they showed was mended in 51 records.

``found`` says whether the page was reached, ``verdict`` and ``finding`` what it prints, ``mended`` what was
done, and ``now_...`` what the base says since.
"""

import csv
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from kb.model import Record
from kb.repository import open_repository

VERDICTS = {
    "random_sample_3.csv": {
        "right": 83,
        "wrong locator": 7,
        "doubtful": 5,
        "not reached": 4,
        "wrong name": 1,
    },
    "random_sample_4.csv": {"right": 78, "not reached": 9, "wrong locator": 8, "doubtful": 5},
}
REMOVED = {"random_sample_3.csv": 4, "random_sample_4.csv": 9}
NOT_RIGHT = {"wrong locator", "wrong name", "doubtful"}


@pytest.fixture(scope="module", params=VERDICTS)
def table(request: pytest.FixtureRequest) -> str:
    name: str = request.param
    return name


@pytest.fixture(scope="module")
def rows(table: str) -> list[dict[str, str]]:
    with Path(__file__).with_name(table).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


@pytest.fixture(scope="module")
def shipped() -> dict[str, list[Record]]:
    snapshot = open_repository(None).snapshot()
    return {str(plant.id): list(plant.records) for plant in snapshot.plants.values()}


def words_of(printed: str) -> str:
    """The words of a closed list in one order."""
    return ";".join(sorted(word.strip() for word in printed.split(";")))


def saying(row: dict[str, str], records: list[Record], source: str) -> list[tuple[str, str]]:
    """Locator and words of the records of this row's trait, numbers and source."""
    numbers = tuple(Decimal(row[end]) if row[end] else None for end in ("low", "likely", "high"))
    return [
        (record.locator, words_of(";".join(record.concepts)))
        for record in records
        if (record.trait, record.source) == (row["trait"], source)
        and (record.low, record.likely, record.high) == numbers
    ]


def test_the_sample_is_whole(table: str, rows: list[dict[str, str]]) -> None:
    """All 100 of the draw stand there, no source more than four times, and each says what was found."""
    assert len(rows) == 100
    assert max(Counter(row["source_key"] for row in rows).values()) == 4
    assert Counter(row["verdict"] for row in rows) == VERDICTS[table]
    assert [] == [row["plant"] for row in rows if row["verdict"] != "right" and not row["finding"]]


def test_what_was_not_right_was_mended(rows: list[dict[str, str]]) -> None:
    """Each row that was not right says what was done."""
    assert [] == [row["plant"] for row in rows if row["verdict"] in NOT_RIGHT and not row["mended"]]


def test_the_base_says_what_the_sources_print(
    rows: list[dict[str, str]], shipped: dict[str, list[Record]]
) -> None:
    """Numbers, words, source and place in it, of every row that stands."""
    kept = [row for row in rows if row["mended"] != "removed"]

    assert [] == [
        (row["plant"], row["trait"], row["now_source_key"])
        for row in kept
        if (row["now_locator"], words_of(row["now_concept"]))
        not in saying(row, shipped[row["plant"]], row["now_source_key"])
    ]


def test_what_the_words_do_not_bear_is_gone(
    table: str, rows: list[dict[str, str]], shipped: dict[str, list[Record]]
) -> None:
    """A fact that was taken out may not come back with the next import."""
    gone = [row for row in rows if row["mended"] == "removed"]

    assert len(gone) == REMOVED[table]
    assert [] == [row["plant"] for row in gone if saying(row, shipped[row["plant"]], row["source_key"])]
