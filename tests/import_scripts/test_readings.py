"""Our own readings: a sound row becomes a record, any other is refused by name (all rows invented)."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from import_scripts.base import Draft, Refused, Statement
from import_scripts.names import PlantNames
from import_scripts.readings.importer import FACT_COLUMNS, SOURCE_COLUMNS
from import_scripts.registry import importers
from import_scripts.run import run
from kb.errors import SourceFault
from kb.repository import MemoryRepository, open_repository

Written = Callable[..., Path]
Stated = Callable[[str, Path], list[Statement]]
DAY = date(2026, 1, 1)
SOUND = {
    "plant": "daucus-carota",
    "trait": "mature-height",
    "low": "0.3",
    "high": "0.6",
    "number_kind": "range",
    "conditions": "place=an invented garden; n=3",
    "verbatim": "30-60 cm",
    "name_as_printed": "carrot",
    "source_key": "invented-list",
    "locator": "p. 3",
    "basis": "read-in-source",
}
SOURCE = {
    "key": "invented-list",
    "citation": "An invented list (2001)",
    "year": "2001",
    "licence": "not stated where it was read",
    "tier": "B",
    "how_read": "invented for this test",
    "credit": "An invented list",
}


def table(columns: tuple[str, ...], *rows: dict[str, str]) -> str:
    """A table of these rows; a cell that holds a comma is quoted."""
    lines = [",".join(f'"{row.get(column, "")}"' for column in columns) for row in rows]
    return "\n".join((",".join(columns), *lines)) + "\n"


def files(*rows: dict[str, str], source: dict[str, str] = SOURCE) -> dict[str, str]:
    """One topic with these facts."""
    return {"one/facts.csv": table(FACT_COLUMNS, *rows), "one/sources.csv": table(SOURCE_COLUMNS, source)}


def test_a_sound_row_becomes_a_record(written: Written, stated: Stated) -> None:
    """Figures, conditions in order, printed words and place are kept as they are."""
    (found,) = stated("readings", written(files(SOUND)))

    assert isinstance(found, Draft)
    assert (Decimal("0.3"), None, Decimal("0.6")) == (found.low, found.likely, found.high)
    assert (("n", "3"), ("place", "an invented garden")) == found.conditions
    assert ("30-60 cm", "p. 3", "read-in-source") == (found.verbatim, found.locator, found.basis)


WINDOW = {"trait": "harvest-window", "low": "40", "high": "4", "number_kind": "range"}
ORGAN = {
    "trait": "storage-organ",
    "concept": "taproot-store",
    "low": "",
    "high": "",
    "number_kind": "membership",
}


@pytest.mark.parametrize("change", [WINDOW, ORGAN, {"basis": "recalled"}])
def test_windows_concepts_and_what_is_recalled_are_held(
    written: Written, stated: Stated, change: dict[str, str]
) -> None:
    """Weeks may wrap round the year; a value of a scheme stands alone; what is recalled says so."""
    (found,) = stated("readings", written(files(SOUND | change)))

    assert isinstance(found, Draft), found
    assert change.get("basis", "read-in-source") == found.basis


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"plant": "nowhere-at-all"}, "no plant goes by that name"),
        ({"trait": "colour"}, "no trait 'colour'"),
        ({"basis": "derived"}, "basis 'derived'"),
        ({"basis": ""}, "basis ''"),
        ({"number_kind": "guess"}, "kind of number 'guess'"),
        ({"verbatim": ""}, "'verbatim' is empty"),
        ({"locator": " "}, "'locator' is empty"),
        ({"name_as_printed": ""}, "'name_as_printed' is empty"),
        ({"source_key": "another"}, "cites 'another'"),
        ({"conditions": "in a pot"}, "not key=value"),
        ({"conditions": "n=3; n=4"}, "twice"),
        ({"low": "0,3"}, "is no number"),
        ({"low": "", "high": ""}, "states no value"),
        ({"low": "", "high": "0.6"}, "shapes refuse it"),
        ({"low": "0.6", "high": "0.3"}, "shapes refuse it"),
        ({"low": "30", "high": "600"}, "shapes refuse it"),
        ({"concept": "tree"}, "holds numbers"),
        (ORGAN | {"concept": "bag"}, "no value 'bag'"),
        (ORGAN | {"low": "1"}, "told by concepts"),
        (WINDOW | {"high": ""}, "a window needs"),
        (WINDOW | {"high": "60"}, "shapes refuse it"),
    ],
)
def test_other_rows_are_refused(written: Written, stated: Stated, change: dict[str, str], said: str) -> None:
    """Each fault is named, with what to do; the rows beside it are kept."""
    odd, sound = stated("readings", written(files(SOUND | change, SOUND)))

    assert isinstance(odd, Refused)
    assert said in odd.reason
    assert odd.mend
    assert isinstance(sound, Draft)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"citation": ""}, "'citation' is empty"),
        ({"tier": "C"}, "tier 'C'"),
        ({"year": "n.d."}, "no year"),
        ({"licence": ""}, "'licence'"),
        ({"identifier": "pmid:13679959"}, "neither a DOI nor an address"),
        ({"identifier": "https://example.org, page 3"}, "neither a DOI nor an address"),
    ],
)
def test_a_source_must_be_described(written: Written, change: dict[str, str], said: str) -> None:
    """Who said it, under which licence and how it was read are never left out."""
    with pytest.raises(SourceFault, match=said):
        list(importers()["readings"].rows(written(files(SOUND, source=SOURCE | change))))


@pytest.mark.parametrize("identifier", ["", "10.1098/rstb.1977.0140", "https://example.org/a,b"])
def test_a_source_is_identified_by_a_doi_or_an_address_or_nothing(written: Written, identifier: str) -> None:
    """DOI names begin with 10. and a registrant (ISO 26324); words belong into the citation."""
    rows = list(
        importers()["readings"].rows(written(files(SOUND, source=SOURCE | {"identifier": identifier})))
    )

    assert rows


def test_two_topics_describe_a_source_alike(written: Written) -> None:
    """One key with two citations is two works: refused."""
    again = files(SOUND, source=SOURCE | {"year": "1"})
    other = {name.replace("one/", "two/"): text for name, text in again.items()}

    with pytest.raises(SourceFault, match="describes 'invented-list' otherwise"):
        list(importers()["readings"].rows(written(files(SOUND) | other)))


def test_a_folder_without_topics_is_named(tmp_path: Path) -> None:
    """Facts that stand in no topic, or without their sources, are not guessed at."""
    with pytest.raises(SourceFault, match="holds no <topic>"):
        list(importers()["readings"].rows(tmp_path))
    (tmp_path / "one").mkdir()
    (tmp_path / "one" / "facts.csv").write_text(table(FACT_COLUMNS, SOUND), encoding="utf-8")
    with pytest.raises(SourceFault, match="is missing"):
        list(importers()["readings"].rows(tmp_path))


def test_a_second_import_changes_nothing(written: Written, store: MemoryRepository) -> None:
    """The same tables twice: the same records."""
    folder = written(files(SOUND))
    first = run(importers()["readings"], folder, store, DAY)
    second = run(importers()["readings"], folder, store, DAY)

    assert ["daucus-carota.mature-height.invented-list"] == first.added
    assert ([], 1, []) == (second.added, second.unchanged, second.plants_written)


def test_the_carried_tables_are_all_on_file(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every row of the tables in the project is a shipped record, and no source is described twice.

    The shapes are held against the shipped records elsewhere, so that here only the cells are judged.
    """
    monkeypatch.setattr("import_scripts.readings.importer.shape_faults", lambda _draft: ())
    importer = importers()["readings"]
    folder = importer.carried
    assert folder is not None
    snapshot = open_repository(None).snapshot()
    mine = "importer readings"
    on_file: set[Statement] = set()
    for plant in snapshot.plants.values():
        on_file |= {Draft.of(one) for one in plant.records if one.entered_by == mine}
    matcher = PlantNames.of(snapshot.plants.values())
    said = {one for row in importer.rows(folder) for one in importer.convert(row, matcher)}

    assert set() == {one for one in said if isinstance(one, Refused)}
    assert set() == said - on_file
    assert [] == [one.key for one in importer.sources(folder) if snapshot.sources.get(one.key) != one]
