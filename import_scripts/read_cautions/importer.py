"""Cautions read in lists of poison centres, laws, papers and public pages, and the searches for them.

Three tables: ``cautions.csv`` (one warning a row), ``searches.csv`` (one search of one plant a row,
found or not) and ``sources.csv``. A row that reassures is refused, whoever printed it.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import get_args

from import_scripts.base import CautionDraft, PublishedFile, Refused, Row, Statement, refuse, unmatched
from import_scripts.names import PlantNames
from import_scripts.readings.checks import BASES, parts, source_faults, source_of
from import_scripts.readings.importer import SOURCE_COLUMNS
from import_scripts.recalled_cautions.importer import KINDS, OF_LAW, REASSURING
from import_scripts.tables import csv_rows, locate
from kb.errors import SourceFault
from kb.model import CITED, PlantId, Source, SourceKey
from kb.statements.search_model import Found, Search

CAUTIONS, SEARCHES, SOURCES = "cautions.csv", "searches.csv", "sources.csv"
COLUMNS = (
    "plant",
    "kind",
    "text",
    "part",
    "agent",
    "group",
    "place",
    "as_of",
    "lookalike",
    "verbatim",
    "name_as_printed",
    "source_key",
    "locator",
    "basis",
)
SEARCH_COLUMNS = ("plant", "searched_on", "queries", "pages", "outcome", "note")
SEARCHED_BY = "traitbed contributors"
OUTCOMES: dict[str, Found] = {word: word for word in get_args(Found)}


@dataclass(frozen=True)
class ReadCautionsImporter:
    """The importer ``read-cautions``: cited cautions, and a dated search for each plant looked up."""

    key: str = "read-cautions"
    title: str = "cautions read in poison lists, laws, papers and public pages, and dated searches"
    files: tuple[PublishedFile, ...] = (
        PublishedFile(CAUTIONS),
        PublishedFile(SEARCHES),
        PublishedFile(SOURCES),
    )
    _cited: set[SourceKey] = field(default_factory=set, repr=False)
    _days: Counter[str] = field(default_factory=Counter, repr=False)
    """How many searches of a plant on a day were read so far: a second one is a record of its own."""

    @property
    def carried(self) -> Path:
        return Path(str(files(__package__))) / "data"

    def sources(self, folder: Path) -> tuple[Source, ...]:
        """The sources that a caution cites. Raises SourceFault where one is not described well."""
        cited = {SourceKey(row["source_key"]) for row in self._cautions(folder)}
        found = {}
        for row in csv_rows(locate(folder, SOURCES), SOURCE_COLUMNS, name="key"):
            for fault in source_faults(row):
                raise SourceFault(SOURCES, f"line {row.number}: {fault.reason}; {fault.mend}")
            if SourceKey(row["key"]) in cited:
                found[row["key"]] = source_of(row)
        return tuple(source for _, source in sorted(found.items()))

    def rows(self, folder: Path) -> Iterator[Row]:
        self._cited.clear()
        self._days.clear()
        self._cited.update(source.key for source in self.sources(folder))
        yield from self._cautions(folder)
        yield from csv_rows(locate(folder, SEARCHES), SEARCH_COLUMNS, name="plant")

    def _cautions(self, folder: Path) -> Iterator[Row]:
        yield from csv_rows(locate(folder, CAUTIONS), COLUMNS, name="name_as_printed")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = PlantId(row["plant"])
        if plant not in names.ids:
            return [unmatched(row, row["plant"])]
        return [self._search(row, plant) if "queries" in row.values else self._caution(row, plant)]

    def _caution(self, row: Row, plant: PlantId) -> CautionDraft | Refused:
        fault = next(self._faults(row), None)
        if fault is not None:
            return refuse(row, *fault, name=f"{row['plant']} ({row.name})")
        return CautionDraft(
            plant=plant,
            kind=KINDS[row["kind"]],
            text=row["text"],
            part=row["part"] or None,
            agent=row["agent"] or None,
            group=row["group"] or None,
            place=row["place"] or None,
            as_of=row["as_of"] or None,
            lookalike=row["lookalike"] or None,
            verbatim=row["verbatim"],
            name_as_printed=row.name,
            source=SourceKey(row["source_key"]),
            locator=row["locator"],
            basis=BASES[row["basis"]],
        )

    def _faults(self, row: Row) -> Iterator[tuple[str, str]]:
        """What is wrong with a row of cautions, and how to mend it."""
        if row["kind"] not in KINDS:
            yield f"'{row['kind']}' is no kind of caution", f"use one of {', '.join(KINDS)}"
        if row["basis"] not in CITED:
            yield f"the basis '{row['basis']}' is not one of reading", f"use one of {', '.join(CITED)}"
        if SourceKey(row["source_key"]) not in self._cited:
            yield f"cites '{row['source_key']}', which {SOURCES} lacks", "describe the source there"
        for column in ("text", "verbatim", "name_as_printed", "locator"):
            if not row[column]:
                yield f"'{column}' is empty", "write the warning, what the source prints, and where"
        calming = REASSURING.search(row["text"])
        if calming:
            yield f"'{calming[0]}' reassures, and a caution only warns", "say what harms whom, and how"
        if row["kind"] == "lookalike" and not row["lookalike"]:
            yield "names no look-alike", "name the other plant in the column lookalike"
        if row["kind"] in OF_LAW and not (row["place"] and row["as_of"]):
            yield "a listing holds for a place and a date", "fill the columns place and as_of"
        if row["kind"] == "food-use" and not row["part"]:
            yield "does not say which part must be prepared", "fill the column part"

    def _search(self, row: Row, plant: PlantId) -> Search | Refused:
        try:
            day = date.fromisoformat(row["searched_on"])
        except ValueError:
            return refuse(row, f"'{row['searched_on']}' is no date", "write the day as 2026-11-26")
        queries, pages = parts(row["queries"]), parts(row["pages"])
        outcome = OUTCOMES.get(row["outcome"])
        if outcome is None:
            return refuse(row, f"'{row['outcome']}' is no outcome", f"use {' or '.join(OUTCOMES)}")
        if not queries or not pages:
            return refuse(
                row, "names no query or no page read", "a search counts only where it can be repeated"
            )
        name = f"{plant}.{day.isoformat()}"
        self._days[name] += 1
        return Search(
            id=name if self._days[name] == 1 else f"{name}.{self._days[name]}",
            plant=plant,
            searched_by=SEARCHED_BY,
            searched_on=day,
            queries=tuple(sorted(set(queries))),
            pages=tuple(sorted(set(pages))),
            outcome=outcome,
            note=row["note"] or None,
        )


IMPORTER = ReadCautionsImporter()
