"""Thirty searches for cautions, drawn at random (seed 20261128) and repeated on 2026-11-26.

Five came out otherwise; what the repeat found is in the base, and the searches of record say so.
"""

import csv
from pathlib import Path

from kb.model import PlantId
from kb.repository import open_repository

REPEATED = Path(__file__).with_name("repeated_searches.csv")
DIFFER = {
    "gleditsia-triacanthos",
    "lycium-barbarum",
    "nasturtium-officinale",
    "schisandra-chinensis",
    "vinca-minor",
}


def rows() -> list[dict[str, str]]:
    with REPEATED.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_thirty_were_repeated_and_five_differ() -> None:
    """As the table says it; each row names a query and what was read."""
    found = rows()

    assert 30 == len({row["plant"] for row in found})
    assert {row["plant"] for row in found if row["agrees"] != "yes"} == DIFFER
    assert all(row["query"] and row["page"] for row in found)


def test_what_a_repeat_found_is_in_the_base() -> None:
    """A plant with a finding has a caution from a source, and no search that still says nothing was found."""
    plants = open_repository(None).snapshot().plants
    for row in rows():
        plant = plants[PlantId(row["plant"])]
        if row["repeated_outcome"] == "found":
            assert [one for one in plant.cautions if one.basis != "recalled"], row["plant"]
            assert "nothing-found" not in {search.outcome for search in plant.searches}, row["plant"]
