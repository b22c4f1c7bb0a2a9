"""Our own readings: facts copied one by one from papers, handbooks and pages, in canonical units."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from importlib.resources import files
from pathlib import Path

from import_scripts.base import PublishedFile, Refused, Row, Statement, draft, refuse, unmatched
from import_scripts.names import PlantNames
from import_scripts.quantities import number
from import_scripts.readings.checks import (
    BASES,
    KINDS,
    cell_faults,
    parts,
    shape_faults,
    source_faults,
    source_of,
)
from import_scripts.tables import csv_rows
from kb.errors import SourceFault
from kb.model import PlantId, Source, SourceKey

FACTS, SOURCES = "facts.csv", "sources.csv"
FACT_COLUMNS = (
    "plant",
    "trait",
    "low",
    "likely",
    "high",
    "concept",
    "number_kind",
    "conditions",
    "verbatim",
    "name_as_printed",
    "source_key",
    "locator",
    "basis",
    "note",
)
SOURCE_COLUMNS = (
    "key",
    "citation",
    "identifier",
    "year",
    "licence",
    "licence_iri",
    "tier",
    "how_read",
    "credit",
)


@dataclass(frozen=True)
class ReadingsImporter:
    """The importer ``readings``: one record per row of every ``<topic>/facts.csv`` in the folder."""

    key: str = "readings"
    title: str = "facts read one by one in papers, handbooks and public pages (our own tables)"
    files: tuple[PublishedFile, ...] = (PublishedFile(FACTS), PublishedFile(SOURCES))
    _cited: set[SourceKey] = field(default_factory=set, repr=False)

    @property
    def carried(self) -> Path:
        return Path(str(files(__package__))) / "data"

    def sources(self, folder: Path) -> tuple[Source, ...]:
        """Every source of every topic. Raises SourceFault where two topics differ about one key."""
        found: dict[SourceKey, Source] = {}
        for topic in _topics(folder):
            for row in csv_rows(topic / SOURCES, SOURCE_COLUMNS, name="key"):
                where = f"{topic.name}/{SOURCES}"
                for fault in source_faults(row):
                    raise SourceFault(where, f"line {row.number}: {fault.reason}; {fault.mend}")
                source = source_of(row)
                if found.setdefault(source.key, source) != source:
                    raise SourceFault(
                        where,
                        f"line {row.number} describes '{source.key}' otherwise than another line or topic; "
                        "use the same words in both, or another key",
                    )
        return tuple(source for _, source in sorted(found.items()))

    def rows(self, folder: Path) -> Iterator[Row]:
        self._cited.clear()
        self._cited.update(source.key for source in self.sources(folder))
        for topic in _topics(folder):
            for row in csv_rows(topic / FACTS, FACT_COLUMNS, name="name_as_printed"):
                yield replace(row, file=f"{topic.name}/{FACTS}")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = PlantId(row["plant"])
        if plant not in names.ids:
            return [unmatched(row, row["plant"])]
        faults = list(cell_faults(row, frozenset(self._cited)))
        if faults:
            return [_refused(row, faults[0].reason, faults[0].mend)]
        conditions: dict[str, str] = {}
        for part in parts(row["conditions"]):
            name, _, value = part.partition("=")
            if conditions.setdefault(name.strip(), value.strip()) != value.strip():
                return [_refused(row, f"gives the condition '{name}' twice", "join them in one")]
        found = draft(
            row,
            plant,
            row["trait"],
            low=number(row["low"]),
            likely=number(row["likely"]),
            high=number(row["high"]),
            concepts=parts(row["concept"]),
            kind=KINDS[row["number_kind"]],
            conditions=conditions,
            verbatim=row["verbatim"],
            source=row["source_key"],
            locator=row["locator"],
            basis=BASES[row["basis"]],
            note=row["note"] or None,
        )
        wrong = shape_faults(found)
        return [_refused(row, wrong[0].reason, wrong[0].mend)] if wrong else [found]


def _refused(row: Row, reason: str, mend: str) -> Refused:
    return refuse(row, reason, mend, name=f"{row['plant']} ({row.name})")


def _topics(folder: Path) -> list[Path]:
    """The folders of the topics, by name. Raises SourceFault where there is none."""
    found = sorted(path.parent for path in folder.glob(f"*/{FACTS}"))
    if not found:
        raise SourceFault(folder.name, f"holds no <topic>/{FACTS}; name the folder above the topics")
    for topic in found:
        if not (topic / SOURCES).is_file():
            raise SourceFault(f"{topic.name}/{SOURCES}", "is missing; it describes what facts.csv cites")
    return found


IMPORTER = ReadingsImporter()
