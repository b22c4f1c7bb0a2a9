"""Warnings of the project, written from memory: they may add a warning and never take one away."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import get_args

from import_scripts.base import CautionDraft, PublishedFile, Refused, Row, Statement, refuse
from import_scripts.names import PlantNames
from import_scripts.tables import csv_rows, locate
from kb.model import CautionKind, PlantId, Source, SourceKey

WARNINGS = Source(
    key=SourceKey("recalled-warnings"),
    citation="Warnings of the project, written from memory and unverified (import_scripts/recalled_cautions)",
    identifier=None,
    year="2026",
    licence="that of the project",
    licence_iri=None,
    tier="A",
    how_read="written down from memory; no source was opened",
    credit="Warnings of the project (unverified)",
)
COLUMNS = ("plant_id", "kind", "part", "agent", "group", "place", "as_of", "lookalike", "text")
KINDS: dict[str, CautionKind] = {kind: kind for kind in get_args(CautionKind)}
OF_LAW = frozenset({"invasive", "prohibited"})
REASSURING = re.compile(
    r"\b(safe|safely|safety|harmless|edible|non-?(?:toxic|poisonous)|innocuous|benign|wholesome|mild|mildly"
    r"|rarely|seldom|not (?:very |particularly )?(?:poisonous|toxic|harmful|dangerous)"
    r"|(?:no|little|low) (?:risk|danger|harm|concern)|(?:can|may) be eaten|(?:good|fine) to eat)\b",
    re.IGNORECASE,
)
"""Words that would calm a reader. What is recalled from memory may only warn (data.md, section 3)."""


@dataclass(frozen=True)
class RecalledCautionsImporter:
    """The importer ``recalled-cautions``: one warning per row, always with the basis ``recalled``."""

    key: str = "recalled-cautions"
    title: str = "warnings recalled from memory (our own table, unverified)"
    files: tuple[PublishedFile, ...] = (PublishedFile("cautions.csv"),)

    @property
    def carried(self) -> Path:
        return Path(str(files(__package__)))

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (WARNINGS,)

    def rows(self, folder: Path) -> Iterator[Row]:
        yield from csv_rows(locate(folder, "cautions.csv"), COLUMNS, name="plant_id")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = PlantId(row["plant_id"])
        kind = KINDS.get(row["kind"])
        if plant not in names.ids:
            return [
                refuse(
                    row, f"there is no plant '{plant}'", "use the id of a plant here, or add it to the taxa"
                )
            ]
        if kind is None:
            return [refuse(row, f"'{row['kind']}' is no kind of caution", f"use one of {', '.join(KINDS)}")]
        fault = _fault(row, kind)
        if fault is not None:
            return [fault]
        return [
            CautionDraft(
                plant=plant,
                kind=kind,
                text=row["text"],
                part=row["part"] or None,
                agent=row["agent"] or None,
                group=row["group"] or None,
                place=row["place"] or None,
                as_of=row["as_of"] or None,
                lookalike=row["lookalike"] or None,
                verbatim=row["text"],
                name_as_printed=row.name,
                source=WARNINGS.key,
                locator=_locator(row),
                basis="recalled",
            )
        ]


def _fault(row: Row, kind: CautionKind) -> Refused | None:
    """Why a row about a known plant is no warning, or None where it is one."""
    calming = REASSURING.search(" ".join(row.values.values()))
    if calming:
        return refuse(
            row,
            f"'{calming[0]}' reassures, and memory is no ground for that",
            "say what harms, or cite a source",
        )
    if not row["text"]:
        return refuse(row, "says nothing", "write in the column text what part harms whom, and how")
    if kind == "lookalike" and not row["lookalike"]:
        return refuse(row, "names no look-alike", "name the dangerous plant in the column lookalike")
    if kind in OF_LAW and not (row["place"] and row["as_of"]):
        return refuse(row, "a listing holds for a place and a date", "fill the columns place and as_of")
    return None


def _locator(row: Row) -> str:
    """The row by what it is about, not by its line: a row added above moves nothing."""
    about = row["lookalike"] or row["part"] or row["place"]
    return "cautions.csv, " + ", ".join(filter(None, (row["plant_id"], row["kind"], about)))


IMPORTER = RecalledCautionsImporter()
