"""Cautions that were read, and searches for them: a row becomes a statement or is refused with a reason."""

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from import_scripts.base import CautionDraft, Refused, Statement
from import_scripts.read_cautions.importer import COLUMNS
from import_scripts.registry import importers
from import_scripts.run import run
from kb.repository import MemoryRepository
from kb.statements.search_model import Search

Written = Callable[[Mapping[str, str]], Path]
Stated = Callable[[str, Path], list[Statement]]
DAY = date(2026, 11, 26)
CAUTIONS = f"{','.join(COLUMNS)}\n"
SEARCHES = "plant,searched_on,queries,pages,outcome,note\n"
SOURCES = (
    "key,citation,identifier,year,licence,licence_iri,tier,how_read,credit\n"
    "invented-list,Invented list of plants,,2026,none,,B,made up for a test,Invented\n"
)
SOUND = (
    "malus-domestica,toxic,Invented: the pips harm people.,pip,,people,,,,"
    "as printed,Malus,invented-list,row 1,read-in-excerpt\n"
)
LOOKED = "malus-domestica,2026-11-26,pages: invented query,Invented page,nothing-found,\n"


def tables(written: Written, caution: str = SOUND, search: str = LOOKED) -> Path:
    return written(
        {
            "cautions.csv": CAUTIONS + caution,
            "searches.csv": SEARCHES + search,
            "sources.csv": SOURCES,
        }
    )


def test_a_row_becomes_a_caution_and_a_search(written: Written, stated: Stated) -> None:
    """One warning with its printed words, one dated search with its query and page."""
    caution, search = stated("read-cautions", tables(written))

    assert isinstance(caution, CautionDraft)
    assert ("toxic", "as printed", "read-in-excerpt") == (caution.kind, caution.verbatim, caution.basis)
    assert isinstance(search, Search)
    assert ("nothing-found", ("pages: invented query",)) == (search.outcome, search.queries)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("toxic", "odd", "no kind"),
        ("read-in-excerpt", "recalled", "not one of reading"),
        ("invented-list", "another-list", "lacks"),
        ("as printed", "", "'verbatim' is empty"),
        ("row 1", "", "'locator' is empty"),
        ("the pips harm people.", "the pips are safe.", "reassures"),
        ("toxic", "lookalike", "names no look-alike"),
        ("toxic", "invasive", "place and a date"),
        (",pip,", ",,", None),
        ("toxic,Invented: the pips harm people.,pip", "food-use,Invented: cook the pips well.,", "prepared"),
    ],
)
def test_what_is_no_warning_is_refused(
    written: Written, stated: Stated, old: str, new: str, words: str | None
) -> None:
    """Each fault is named; a caution without a part is still a caution."""
    said = stated("read-cautions", tables(written, caution=SOUND.replace(old, new)))[0]

    assert (words is not None) == isinstance(said, Refused)
    assert words is None or (isinstance(said, Refused) and words in said.reason)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("2026-11-26", "last week", "no date"),
        ("nothing-found", "fine", "no outcome"),
        ("pages: invented query", "", "no query"),
        ("Invented page", "", "no page"),
    ],
)
def test_a_search_that_cannot_be_repeated_is_refused(
    written: Written, stated: Stated, old: str, new: str, words: str
) -> None:
    """A search counts with its day, its queries, the pages that were read and what came of them."""
    said = stated("read-cautions", tables(written, search=LOOKED.replace(old, new)))[1]

    assert isinstance(said, Refused)
    assert words in said.reason or "no query or no page" in said.reason


def test_a_second_search_of_the_same_day_is_a_record_of_its_own(written: Written, stated: Stated) -> None:
    """Asked again by other words in the afternoon: both stand, and reading twice numbers them alike."""
    again = LOOKED.replace("invented query", "other words")
    folder = tables(written, search=LOOKED + again)

    for _ in range(2):
        _, first, second = stated("read-cautions", folder)
        assert isinstance(first, Search)
        assert isinstance(second, Search)
        assert [f"malus-domestica.{DAY}", f"malus-domestica.{DAY}.2"] == [first.id, second.id]


def test_a_second_import_changes_nothing_and_keeps_the_first_search(
    written: Written, store: MemoryRepository
) -> None:
    """Searches are kept for good: the same again is unchanged, other words of that day are refused."""
    importer = importers()["read-cautions"]
    first = run(importer, tables(written), store, DAY)
    again = run(importer, tables(written), store, DAY)
    other = run(importer, tables(written, search=LOOKED.replace("query", "question")), store, DAY)

    assert ["malus-domestica.toxic.invented-list", "search.malus-domestica.2026-11-26"] == sorted(first.added)
    assert (0, 2) == (len(again.added), again.unchanged)
    assert ["other words"] == [one.reason[-11:] for one in other.refused]


def test_the_taxa_importer_leaves_searches_alone(written: Written, store: MemoryRepository) -> None:
    """Who a plant is may be imported anew; what is said and looked up of it stays."""
    run(importers()["read-cautions"], tables(written), store, DAY)
    before = store.snapshot().plants
    run(importers()["taxa"], None, store, DAY)
    after = store.snapshot().plants

    assert all(after[key].searches == plant.searches for key, plant in before.items())
    assert 1 == len(after[next(key for key in after if key == "malus-domestica")].searches)
