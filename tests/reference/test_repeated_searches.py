"""Searches for cautions, drawn at random and repeated by queries of other words: thirty each time.

The first thirty (seed 20261128) were repeated on 2026-11-26, and five came out otherwise. The next thirty
(seed 20261130) were drawn from the plants whose every search had found nothing; they were repeated on
2026-11-27, and ten came out otherwise. The last thirty (seed 20261128) were drawn from the 439 searches
that say that nothing was found (one plant twice); they were repeated on 2026-11-28 in their own words,
thirteen in other words too, and four came out otherwise, three of them by the other words. What a repeat
found is in the base, and the search of record of that day says so.
"""

import csv
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from kb.model import Plant, PlantId
from kb.repository import open_repository


@dataclass(frozen=True)
class Repeat:
    """One table of thirty, and the plants that came out otherwise.

    ``no_source``: those of which what was found stands on a page that is no source for a caution.
    """

    table: str
    differ: frozenset[str]
    no_source: frozenset[str] = frozenset()

    def rows(self) -> list[dict[str, str]]:
        with Path(__file__).with_name(self.table).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    def found(self) -> list[tuple[Plant, date]]:
        """The plants of which the repeat found a caution, as in the base, each with the day of the repeat."""
        plants = open_repository(None).snapshot().plants
        return [
            (plants[PlantId(row["plant"])], date.fromisoformat(row["repeated_on"]))
            for row in self.rows()
            if row["repeated_outcome"] == "found"
        ]


FIRST = Repeat(
    "repeated_searches.csv",
    differ=frozenset(
        {
            "gleditsia-triacanthos",
            "lycium-barbarum",
            "nasturtium-officinale",
            "schisandra-chinensis",
            "vinca-minor",
        }
    ),
    no_source=frozenset({"schisandra-chinensis"}),
)
SECOND = Repeat(
    "repeated_searches_2.csv",
    differ=frozenset(
        {
            "arbutus-unedo",
            "comptonia-peregrina",
            "cryptotaenia-japonica",
            "erica-carnea",
            "galium-aparine",
            "lamium-album",
            "lamium-purpureum",
            "shepherdia-canadensis",
            "solidago-virgaurea",
            "verbena-officinalis",
        }
    ),
)
THIRD = Repeat(
    "repeated_searches_3.csv",
    differ=frozenset({"fagus-sylvatica", "lamium-purpureum", "pyrus-pyraster", "silene-vulgaris"}),
)
every = pytest.mark.parametrize("repeat", [FIRST, SECOND, THIRD], ids=lambda repeat: repeat.table)


@every
def test_thirty_were_repeated_and_some_differ(repeat: Repeat) -> None:
    """As the table says it; each row names a query and what was read."""
    found = repeat.rows()

    assert 30 == len(found) == len({(row["plant"], row["recorded_on"]) for row in found})
    assert {row["plant"] for row in found if row["agrees"] != "yes"} == repeat.differ
    assert all(row["query"] and row["page"] for row in found)


@every
def test_what_a_repeat_found_is_in_the_base(repeat: Repeat) -> None:
    """A plant with a finding has a caution from a source; a recalled one where the page was no source."""
    bases = {plant.id: {one.basis for one in plant.cautions} for plant, _ in repeat.found()}

    assert repeat.no_source == {plant for plant, found in bases.items() if found <= {"recalled"}}
    assert all(bases.values())


@every
def test_a_search_of_record_says_what_a_repeat_found(repeat: Repeat) -> None:
    """From the day of the repeat on, no search still says that nothing was found."""
    silent = {
        plant.id
        for plant, day in repeat.found()
        if "nothing-found" in {search.outcome for search in plant.searches if search.searched_on >= day}
    }

    assert set() == silent
