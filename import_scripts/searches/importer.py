"""Searches for cautions: one row for every plant that was looked up, whether anything was found or not.

What was found is a caution with a source of its own (importer ``readings``); this table says who looked
where, and when, so that "nothing found" can be told from "not searched yet".
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import get_args

from import_scripts.base import PublishedFile, Refused, Row, Statement, refuse, unmatched
from import_scripts.names import PlantNames
from import_scripts.readings.checks import parts
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, Source
from kb.search_model import Found, Search

FILE = "searches.csv"
COLUMNS = ("plant", "searched_on", "queries", "pages", "outcome", "note")
SEARCHED_BY = "traitbed contributors"
OUTCOMES: dict[str, Found] = {word: word for word in get_args(Found)}


@dataclass(frozen=True)
class SearchesImporter:
    """The importer ``searches``: one dated search for each row."""

    key: str = "searches"
    title: str = "dated searches for cautions, found or not (our own table)"
    files: tuple[PublishedFile, ...] = (PublishedFile(FILE),)

    @property
    def carried(self) -> Path:
        return Path(str(files(__package__))) / "data"

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return ()

    def rows(self, folder: Path) -> Iterator[Row]:
        yield from csv_rows(locate(folder, FILE), COLUMNS, name="plant")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = PlantId(row["plant"])
        if plant not in names.ids:
            return [unmatched(row, row["plant"])]
        return [_search(row, plant)]


def _search(row: Row, plant: PlantId) -> Search | Refused:
    try:
        day = date.fromisoformat(row["searched_on"])
    except ValueError:
        return refuse(row, f"'{row['searched_on']}' is no date", "write the day as 2026-11-26")
    queries, pages = parts(row["queries"]), parts(row["pages"])
    outcome = OUTCOMES.get(row["outcome"])
    if outcome is None:
        return refuse(row, f"'{row['outcome']}' is no outcome", f"use {' or '.join(OUTCOMES)}")
    if not queries or not pages:
        return refuse(row, "names no query or no page read", "a search counts only where it can be repeated")
    return Search(
        id=f"{plant}.{day.isoformat()}",
        plant=plant,
        searched_by=SEARCHED_BY,
        searched_on=day,
        queries=tuple(sorted(set(queries))),
        pages=tuple(sorted(set(pages))),
        outcome=outcome,
        note=row["note"] or None,
    )


IMPORTER = SearchesImporter()
