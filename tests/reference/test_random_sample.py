"""A random sample of the shipped statements, re-read by hand in the raw inputs, holds what was read.

``random_sample.csv``: 100 cited records (at most 15 of a source), 20 cited cautions and 20 host
statements, drawn with ``random.Random(20261126)`` and compared with the named row of the source file
(paths below the shared data; lines counted from 1, the header being line 1) without the importers.
The expected values are those of the source rows.
"""

import csv
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

import pytest

from kb.enemy_model import HostStatement
from kb.model import Caution, Record
from kb.repository import open_repository

SAMPLE = Path(__file__).with_name("random_sample.csv")
REMOVED = "wrong, removed"


@pytest.fixture(scope="module")
def sample() -> list[dict[str, str]]:
    with SAMPLE.open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


@pytest.fixture(scope="module")
def shipped() -> Mapping[str, Record | Caution | HostStatement]:
    snapshot = open_repository(None).snapshot()
    found: dict[str, Record | Caution | HostStatement] = {}
    for plant in snapshot.plants.values():
        found.update({record.id: record for record in plant.records})
        found.update({caution.id: caution for caution in plant.cautions})
    for thing in snapshot.enemies.values():
        found.update({said.id: said for said in thing.statements if isinstance(said, HostStatement)})
    return found


def said(statement: Record | Caution | HostStatement) -> tuple[Decimal | str | None, ...]:
    if isinstance(statement, Record):
        numbers = (statement.low, statement.likely, statement.high)
        return (statement.plant, *numbers, ";".join(statement.concepts))
    if isinstance(statement, Caution):
        return (statement.plant, None, None, None, statement.kind)
    words = [statement.role, *([statement.severity] if statement.severity else [])]
    return (statement.plant, None, None, None, ";".join(words))


def test_the_sample_is_whole(sample: list[dict[str, str]]) -> None:
    """Nothing was left out of the sample after it was drawn, and each row says where it was read."""
    kinds = [row["kind"] for row in sample]

    assert (100, 20, 20) == tuple(kinds.count(kind) for kind in ("record", "caution", "host statement"))
    assert [] == [row["record"] for row in sample if not (row["source_file"] and row["row"])]


def test_audited_statements_still_say_what_their_rows_say(
    sample: list[dict[str, str]], shipped: Mapping[str, Record | Caution | HostStatement]
) -> None:
    """Plant, numbers and words of each statement that was found right or was mended."""
    expected = {
        row["record"]: (
            row["plant"],
            *(Decimal(row[end]) if row[end] else None for end in ("low", "likely", "high")),
            row["says"],
        )
        for row in sample
        if row["verdict"] != REMOVED
    }

    assert expected == {name: said(shipped[name]) for name in expected if name in shipped}


def test_what_was_found_wrong_is_gone(
    sample: list[dict[str, str]], shipped: Mapping[str, Record | Caution | HostStatement]
) -> None:
    """A statement found wrong may not come back with the next import."""
    assert [] == [r["record"] for r in sample if r["verdict"] == REMOVED and r["record"] in shipped]
