"""The table of records, one a row: its columns, and what stands in each (RFC 4180 when written).

The columns up to ``licence`` are those that scripts rely on; the ones after it carry the rest of the
record and its source, so that a row can be read, credited and brought back without this program.
"""

from collections.abc import Iterator

from kb.exchange.cells import cell_of
from kb.model import Record, Source
from kb.namespaces import iri
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
    "revises",
    "note",
    "citation",
    "identifier",
    "year",
    "licence_iri",
    "credit",
    "tier",
    "how_read",
)
SAME_FIELDS = (
    "plant",
    "trait",
    "low",
    "likely",
    "high",
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
    "note",
)
"""Columns that are called as the field of the record is."""
SOURCE_FIELDS = ("licence", "citation", "identifier", "year", "licence_iri", "credit", "tier", "how_read")
"""Columns that describe the source of the row, called as its fields are."""


def record_rows(snapshot: Snapshot) -> Iterator[tuple[str, ...]]:
    """Every record of every plant, by plant and id."""
    for plant in snapshot.plants.values():
        for record in plant.records:
            yield record_row(snapshot, plant.scientific_name, record)


def record_row(snapshot: Snapshot, scientific_name: str, record: Record) -> tuple[str, ...]:
    """One record with its source, a cell for each of ``RECORD_COLUMNS``."""
    trait = snapshot.vocabulary.traits.get(record.trait)
    cells = {name: cell_of(getattr(record, name)) for name in SAME_FIELDS}
    cells |= {
        "record": record.iri,
        "scientific_name": scientific_name,
        "concept": cell_of(record.concepts),
        "unit": (trait.unit_label if trait else None) or "",
        "revises": iri("record", record.revises) if record.revises else "",
        **source_cells(snapshot.sources.get(record.source)),
    }
    return tuple(cells[name] for name in RECORD_COLUMNS)


def source_cells(source: Source | None) -> dict[str, str]:
    """What the columns about the source hold; empty where it is not on file."""
    return {name: cell_of(getattr(source, name)) if source else "" for name in SOURCE_FIELDS}
