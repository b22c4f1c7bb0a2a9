"""Searches for cautions: every row becomes a dated search or is refused with a reason."""

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from import_scripts.base import Refused, Statement
from import_scripts.registry import importers
from import_scripts.run import run
from import_scripts.searches.importer import COLUMNS
from kb.repository import MemoryRepository
from kb.search_model import Search

Written = Callable[[Mapping[str, str]], Path]
Stated = Callable[[str, Path], list[Statement]]
DAY = date(2026, 11, 26)
LOOKED = "malus-domestica,2026-11-26,pages: invented query,Invented page,nothing-found,\n"


def table(written: Written, search: str = LOOKED) -> Path:
    return written({"searches.csv": f"{','.join(COLUMNS)}\n{search}"})


def test_a_row_becomes_a_search(written: Written, stated: Stated) -> None:
    """A search with its day, its query and the page that was read."""
    (search,) = stated("searches", table(written))

    assert isinstance(search, Search)
    assert ("nothing-found", ("pages: invented query",), DAY) == (
        search.outcome,
        search.queries,
        search.searched_on,
    )


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("2026-11-26", "last week", "no date"),
        ("nothing-found", "fine", "no outcome"),
        ("pages: invented query", "", "no query"),
        ("Invented page", "", "no query or no page"),
    ],
)
def test_a_search_that_cannot_be_repeated_is_refused(
    written: Written, stated: Stated, old: str, new: str, words: str
) -> None:
    """A search counts with its day, its queries, the pages that were read and what came of them."""
    (said,) = stated("searches", table(written, LOOKED.replace(old, new)))

    assert isinstance(said, Refused)
    assert words in said.reason


def test_a_second_import_changes_nothing_and_keeps_the_first_search(
    written: Written, store: MemoryRepository
) -> None:
    """Searches are kept for good: the same again is unchanged, other words of that day are refused."""
    importer = importers()["searches"]
    first = run(importer, table(written), store, DAY)
    again = run(importer, table(written), store, DAY)
    other = run(importer, table(written, LOOKED.replace("query", "question")), store, DAY)

    assert ["search.malus-domestica.2026-11-26"] == first.added
    assert (0, 1) == (len(again.added), again.unchanged)
    assert ["other words"] == [one.reason[-11:] for one in other.refused]


def test_the_taxa_importer_leaves_searches_alone(written: Written, store: MemoryRepository) -> None:
    """Who a plant is may be imported anew; what is said and looked up of it stays."""
    run(importers()["searches"], table(written), store, DAY)
    before = store.snapshot().plants
    run(importers()["taxa"], None, store, DAY)
    after = store.snapshot().plants

    assert all(after[key].searches == plant.searches for key, plant in before.items())
    assert 1 == len(after[next(key for key in after if key == "malus-domestica")].searches)
