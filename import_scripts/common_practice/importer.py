"""Common practice and recollection: traits that nothing open gives, in our own words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.names import PlantNames
from import_scripts.quantities import number
from import_scripts.tables import csv_rows, locate
from kb.model import Basis, NumberKind, PlantId, Source, SourceKey

NOTES = Source(
    key=SourceKey("trade-notes"),
    citation="Trade notes of the project, compiled from memory, unverified (import_scripts/common_practice)",
    identifier=None,
    year="2026",
    licence="that of the project",
    licence_iri=None,
    tier="A",
    how_read="written down from common practice and memory; no source was opened",
    credit="Trade notes of the project (unverified)",
)
COLUMNS = (
    "plant",
    "trait",
    "low",
    "likely",
    "high",
    "concept",
    "number_kind",
    "conditions",
    "basis",
    "words",
    "note",
)
BASES: dict[str, Basis] = {"common-practice": "common-practice", "recalled": "recalled"}
KINDS: dict[str, NumberKind] = {
    "expert": "expert",
    "range": "range",
    "class": "class",
    "membership": "membership",
}


@dataclass(frozen=True)
class CommonPracticeImporter:
    """The importer ``common-practice``: one record per row; any other basis is refused."""

    key: str = "common-practice"
    title: str = "common practice and what is recalled from memory (our own table, unverified)"
    files: tuple[PublishedFile, ...] = (PublishedFile("records.csv"),)

    @property
    def carried(self) -> Path:
        return Path(str(files(__package__)))

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (NOTES,)

    def rows(self, folder: Path) -> Iterator[Row]:
        yield from csv_rows(locate(folder, "records.csv"), COLUMNS, name="words")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = PlantId(row["plant"])
        if plant not in names.ids:
            return [unmatched(row, row["plant"])]
        basis, kind = BASES.get(row["basis"]), KINDS.get(row["number_kind"])
        if basis is None:
            return [
                refuse(row, f"the basis '{row['basis']}' is not for this table", "use an importer that cites")
            ]
        if kind is None:
            return [
                refuse(
                    row, f"the kind of number '{row['number_kind']}' is not known", f"use {', '.join(KINDS)}"
                )
            ]
        conditions = dict(part.split("=", 1) for part in row["conditions"].split(";") if "=" in part)
        name, _, _ = row["words"].partition(":")
        return [
            draft(
                row,
                plant,
                row["trait"],
                low=number(row["low"]),
                likely=number(row["likely"]),
                high=number(row["high"]),
                concepts=[concept for concept in row["concept"].split(";") if concept],
                kind=kind,
                conditions=conditions,
                verbatim=row["words"],
                name=name,
                source=NOTES.key,
                locator=f"records.csv, {row['plant']}, {row['trait']}",
                basis=basis,
                note=row["note"] or None,
            )
        ]


IMPORTER = CommonPracticeImporter()
