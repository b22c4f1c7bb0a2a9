"""What plants give off that may harm others, and the trials, dishes and lists that say so."""

from collections.abc import Iterator, Mapping
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import get_args

from import_scripts.base import EmissionDraft, Refused, Row, Statement, refuse
from import_scripts.enemies.decided import hosts
from import_scripts.names import PlantNames
from import_scripts.tables import csv_rows, locate
from kb.model import Basis, SourceKey
from kb.statements.enemy_model import ActsThrough, Emission, EmissionId, Grade, ListedAs, Scope

EMISSIONS = "emissions.csv"
STATEMENTS = "emission_statements.csv"
EMISSION_FILES = (EMISSIONS, STATEMENTS)
HOW_READ: dict[str, Basis] = {
    "excerpt": "read-in-excerpt",
    "abstract": "read-in-excerpt",
    "second-hand": "second-hand",
}
GRADES: tuple[str, ...] = get_args(Grade)
LISTED_AS: tuple[str, ...] = get_args(ListedAs)
STRENGTHS = ("0", "1", "2", "3")


def emission_rows(folder: Path) -> Iterator[Row]:
    """The emissions first, then what is said of each."""
    yield from csv_rows(
        locate(folder, EMISSIONS),
        ("substance", "emitter", "strength", "acts_through", "reach_low_m", "reach_high_m"),
        name="emission",
    )
    yield from csv_rows(
        locate(folder, STATEMENTS),
        (
            "emission",
            "name_as_printed",
            "listed_as",
            "grade",
            "scope",
            "source",
            "locator",
            "verbatim",
            "how_read",
            "note",
        ),
        name="affected_scientific_name",
    )


def emission_of(row: Row, names: PlantNames) -> Emission | Refused:
    """The emission that a row of ``emissions.csv`` describes, without its statements."""
    wrong = _outside(row, "strength", STRENGTHS) or _outside(row, "acts_through", get_args(ActsThrough))
    if wrong is not None:
        return wrong
    emitter = hosts(row, row["emitter"], names)
    if not isinstance(emitter, list):
        return emitter
    if len(emitter) != 1:
        return refuse(row, f"'{row['emitter']}' is several plants", "give each an emission of its own")
    try:
        low, high = (Decimal(row[end]) if row[end] else None for end in ("reach_low_m", "reach_high_m"))
    except InvalidOperation:
        return refuse(row, "a reach is no number of metres", "write metres, or leave both empty")
    return Emission(
        EmissionId(row.name),
        row["substance"],
        emitter[0].plant,
        int(row["strength"]),
        acts_through=row["acts_through"],  # type: ignore[arg-type]
        reach_m=None if low is None and high is None else (low, high),
    )


def stated(row: Row, names: PlantNames, emissions: Mapping[EmissionId, Emission]) -> list[Statement]:
    """What a row of ``emission_statements.csv`` states: its emission, and a draft for each plant it means."""
    emission = emissions.get(EmissionId(row["emission"]))
    if emission is None:
        return [refuse(row, f"the emission '{row['emission']}' is not in {EMISSIONS}", "add it there")]
    closed = (
        ("listed_as", LISTED_AS),
        ("grade", GRADES),
        ("scope", get_args(Scope)),
        ("how_read", tuple(HOW_READ)),
    )
    for column, allowed in closed:
        wrong = _outside(row, column, allowed)
        if wrong is not None:
            return [wrong]
    meant = hosts(row, row.name, names)
    if not isinstance(meant, list):
        return [meant]
    return [
        emission,
        *(
            EmissionDraft(
                emission=emission.id,
                plant=host.plant,
                listed_as=row["listed_as"],  # type: ignore[arg-type]
                grade=row["grade"],  # type: ignore[arg-type]
                scope=row["scope"],  # type: ignore[arg-type]
                verbatim=row["verbatim"],
                name_as_printed=row["name_as_printed"],
                source=SourceKey(row["source"]),
                locator=row["locator"],
                basis=HOW_READ[row["how_read"]],
                note="; ".join(note for note in (row["note"], host.note) if note) or None,
            )
            for host in meant
        ),
    ]


def _outside(row: Row, column: str, allowed: tuple[str, ...]) -> Refused | None:
    if row[column] in allowed:
        return None
    return refuse(row, f"{column} '{row[column]}' is not known", f"use one of {', '.join(allowed)}")
