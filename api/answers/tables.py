"""Answers as tables (CSV, RFC 4180): plants, records, adopted values.

Cells hold what is on record, unchanged; nothing is guarded against spreadsheet programs that read
a text beginning with ``=`` as a formula.
"""

import csv
import io
from collections.abc import Iterable, Iterator
from decimal import Decimal

from api.answers.evidence import rounded
from api.answers.finding import SUMMARY, found_plants
from api.answers.knowledge import Answer
from api.questions import PlantsQuestion
from kb.model import PlantId, Record
from kb.snapshot import Snapshot

RECORD_COLUMNS = (
    "record",
    "plant",
    "scientific_name",
    "trait",
    "low",
    "likely",
    "high",
    "concept",
    "unit",
    "number_kind",
    "conditions",
    "verbatim",
    "name_as_printed",
    "source",
    "locator",
    "basis",
    "standing",
    "entered_by",
    "entered_on",
    "licence",
)
ADOPTED_COLUMNS = (
    "plant",
    "trait",
    "low",
    "likely",
    "high",
    "concept",
    "unit",
    "confidence",
    "rule",
    "records",
)
PLANT_COLUMNS = ("id", "scientific_name", "common_name", "rank", "cautions", *SUMMARY)
"""Column orders that scripts rely on (``interface.md``); new ones go to the end."""

Cell = str | None


def as_csv(columns: Iterable[str], rows: Iterable[Iterable[Cell]]) -> str:
    """The table as text, lines ended by CR LF as RFC 4180 has it."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(columns)
    writer.writerows(rows)
    return text.getvalue()


def records_csv(snapshot: Snapshot) -> str:
    """Every record of every plant, one a row, by plant and id."""
    return as_csv(RECORD_COLUMNS, _record_rows(snapshot))


def _record_rows(snapshot: Snapshot) -> Iterator[tuple[Cell, ...]]:
    for plant in snapshot.plants.values():
        for record in plant.records:
            yield _record_row(snapshot, plant.scientific_name, record)


def _record_row(snapshot: Snapshot, scientific_name: str, record: Record) -> tuple[Cell, ...]:
    trait = snapshot.vocabulary.traits.get(record.trait)
    source = snapshot.sources.get(record.source)
    return (
        record.iri,
        record.plant,
        scientific_name,
        record.trait,
        _decimal(record.low),
        _decimal(record.likely),
        _decimal(record.high),
        "|".join(record.concepts),
        trait.unit_label if trait else None,
        record.number_kind,
        "|".join(f"{key}={value}" for key, value in record.conditions),
        record.verbatim,
        record.name_as_printed,
        record.source,
        record.locator,
        record.basis,
        record.standing,
        record.entered_by,
        record.entered_on.isoformat(),
        source.licence if source else None,
    )


def _decimal(value: Decimal | None) -> str | None:
    """A recorded number as it stands, without an exponent."""
    return None if value is None else f"{value:f}"


def _plain(value: float | None) -> str | None:
    return None if value is None else f"{rounded(value):.15g}"


def adopted_csv(snapshot: Snapshot) -> str:
    """One adopted value per plant and trait."""
    return as_csv(ADOPTED_COLUMNS, _adopted_rows(snapshot))


def _adopted_rows(snapshot: Snapshot) -> Iterator[tuple[Cell, ...]]:
    traits = snapshot.vocabulary.traits
    for plant_id in snapshot.plants:
        for trait_id, value in snapshot.adopted(plant_id).items():
            yield (
                plant_id,
                trait_id,
                _plain(value.low),
                _plain(value.likely),
                _plain(value.high),
                "|".join(value.concepts),
                traits[trait_id].unit_label,
                value.confidence,
                value.rule,
                " ".join(value.records),
            )


def plants_csv(snapshot: Snapshot, question: PlantsQuestion, answered: Answer) -> str:
    """The page of plants that was answered, one a row; numbers are the likely values."""
    listed = answered["names"]
    ids = [p for p in found_plants(snapshot, question) if isinstance(listed, dict) and p in listed]
    return as_csv(PLANT_COLUMNS, (_plant_row(snapshot, plant_id) for plant_id in ids))


def _plant_row(snapshot: Snapshot, plant_id: PlantId) -> tuple[Cell, ...]:
    plant = snapshot.plants[plant_id]
    adopted = snapshot.adopted(plant_id)
    values: list[Cell] = []
    for trait_id in SUMMARY:
        value = adopted.get(trait_id)
        values.append(None if value is None else "|".join(value.concepts) or _plain(value.likely))
    cautions = " | ".join(caution.text for caution in snapshot.cautions(plant_id))
    return (plant_id, plant.scientific_name, plant.common_name, plant.rank, cautions, *values)
