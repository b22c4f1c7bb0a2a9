"""Answers as tables (CSV, RFC 4180): plants, records, adopted values.

Cells hold what is on record, unchanged, so that a table can be brought back: no mark is put before a
text that a spreadsheet program would take for a formula. Such a text is refused where one is written
(``kb.bench.draft_reading.unsafe``); the shipped base holds none.
"""

import csv
import io
from collections.abc import Iterable, Iterator
from itertools import islice

from api.answers.evidence import rounded
from api.answers.finding import SUMMARY, found_plants
from api.answers.knowledge import Answer
from api.questions import PlantsQuestion
from kb.exchange.record_table import RECORD_COLUMNS, record_rows
from kb.model import PlantId
from kb.snapshot import Snapshot

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
ROWS_A_PIECE = 500


def as_csv(columns: Iterable[str], rows: Iterable[Iterable[Cell]]) -> str:
    """The table as text, lines ended by CR LF as RFC 4180 has it."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(columns)
    writer.writerows(rows)
    return text.getvalue()


def records_csv(snapshot: Snapshot) -> Iterator[str]:
    """Every record of every plant, one a row, by plant and id; a piece of text at a time."""
    return csv_pieces(RECORD_COLUMNS, record_rows(snapshot))


def csv_pieces(columns: Iterable[str], rows: Iterable[Iterable[Cell]]) -> Iterator[str]:
    """The table of ``as_csv`` in pieces, for one that is too large to be held."""
    yield as_csv(columns, ())
    pending = iter(rows)
    while batch := tuple(islice(pending, ROWS_A_PIECE)):
        text = io.StringIO(newline="")
        csv.writer(text).writerows(batch)
        yield text.getvalue()


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
