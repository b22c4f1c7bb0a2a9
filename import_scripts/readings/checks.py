"""Whether a row of our own readings may become a record: every cell, then the shapes.

The cells are judged first, so that a fault names the column; what is left (order of the figures,
range and unit of the trait, what a kind of number may hold) is judged by the same shapes that judge a
record before it is written.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import get_args

from import_scripts.base import Draft, Row
from import_scripts.quantities import number
from kb.model import CITED, Basis, NumberKind, Plant, Record, Source, SourceKey, Trait
from kb.namespaces import BASE, iri
from kb.soundness.mini_graph import RDF_TYPE, MiniGraph, Term
from kb.soundness.shape_library import vocabulary_graph
from kb.turtle import plant_graph
from kb.validate import validate_graph
from kb.vocabulary_store import load_vocabulary

NUMBERS = ("low", "likely", "high")
UNCITED: tuple[Basis, ...] = ("common-practice", "recalled")
BASES: dict[str, Basis] = {basis: basis for basis in (*CITED, *UNCITED)}
IDENTIFIER = re.compile(r"(?:doi:)?10\.\d{4,9}/\S+|https?://\S+")
"""A DOI or an address, and nothing beside it."""
KINDS: dict[str, NumberKind] = {kind: kind for kind in get_args(NumberKind)}


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with a row, and how to mend it."""

    reason: str
    mend: str


def parts(cell: str) -> tuple[str, ...]:
    """The parts of a cell that are separated by semicolons."""
    return tuple(part.strip() for part in cell.split(";") if part.strip())


def cell_faults(row: Row, sources: frozenset[SourceKey]) -> Iterator[Fault]:
    """What is wrong with single cells of a row (its plant is looked up elsewhere)."""
    trait = load_vocabulary().traits.get(row["trait"])  # type: ignore[call-overload]
    if trait is None:
        yield Fault(f"there is no trait '{row['trait']}'", "name a trait of kb/vocabulary/traits.ttl")
    else:
        yield from _value_faults(row, trait)
    if row["basis"] not in BASES:
        yield Fault(f"the basis '{row['basis']}' is not for this table", f"use one of {', '.join(BASES)}")
    if row["number_kind"] not in KINDS:
        yield Fault(f"the kind of number '{row['number_kind']}' is unknown", f"use one of {', '.join(KINDS)}")
    for column in ("verbatim", "name_as_printed", "locator"):
        if not row[column]:
            yield Fault(f"'{column}' is empty", "write what the source prints, and where")
    if SourceKey(row["source_key"]) not in sources:
        yield Fault(f"cites '{row['source_key']}', which sources.csv lacks", "describe the source there")
    for part in parts(row["conditions"]):
        key, equals, value = part.partition("=")
        if not (equals and key.strip() and value.strip()):
            yield Fault(f"the condition '{part}' is not key=value", "write key=value; key=value")


def _value_faults(row: Row, trait: Trait) -> Iterator[Fault]:
    filled = [column for column in NUMBERS if row[column]]
    for column in filled:
        if number(row[column]) is None:
            yield Fault(
                f"'{row[column]}' in '{column}' is no number",
                "write a decimal in the unit of the trait",
            )
    concepts = parts(row["concept"])
    if trait.kind == "concept":
        known = load_vocabulary().concepts[trait.scheme or ""]
        if filled or not concepts:
            yield Fault(f"{trait.id} is told by concepts, not numbers", f"use {', '.join(known)}")
        for concept in concepts:
            if concept not in known:
                yield Fault(f"{trait.id} has no value '{concept}'", f"use {', '.join(known)}")
    elif concepts:
        yield Fault(f"{trait.id} holds numbers, not '{row['concept']}'", "empty the column concept")
    elif not filled:
        yield Fault("states no value", "fill low, likely or high")
    elif trait.kind == "window" and not {"low", "high"} <= set(filled):
        yield Fault("a window needs the week of its start and of its end", "fill low and high")


def shape_faults(draft: Draft) -> tuple[Fault, ...]:
    """What the shapes find in the record that this draft would become."""
    record = Record(
        id=f"{draft.plant}.{draft.trait}.{draft.source}",
        standing="proposed",
        entered_by="importer readings",
        entered_on=date(2026, 1, 1),
        **{field: getattr(draft, field) for field in Draft.__slots__},
    )
    plant = Plant(
        id=draft.plant,
        scientific_name="Bearer of one record",
        authority=None,
        rank="species",
        according_to=draft.source,
        parent=None,
        groups=(),
        records=(record,),
    )
    graph = MiniGraph(context=_known(draft.source))
    graph.add_rdflib(plant_graph(plant))
    found = validate_graph(graph, load_vocabulary())
    return tuple(
        Fault(f"the shapes refuse it ({one.path or one.shape})", one.message)
        for one in found
        if one.severity == "violation" and (one.subject or "").startswith("record.")
    )


@cache
def _known(source: SourceKey) -> MiniGraph:
    known = MiniGraph(context=vocabulary_graph())
    known.add(Term("iri", iri("source", source)), RDF_TYPE, Term("iri", f"{BASE}Source"))
    return known


def source_faults(row: Row) -> Iterator[Fault]:
    """What is wrong with a row of sources.csv."""
    for column in ("key", "citation", "licence", "how_read", "credit"):
        if not row[column]:
            yield Fault(
                f"'{column}' is empty", "say it; 'not stated where it was read' is an answer for a licence"
            )
    if row["year"] and not row["year"][:4].isdigit():
        yield Fault(f"'{row['year']}' is no year", "write a year such as 2016, or leave the cell empty")
    if row["identifier"] and not IDENTIFIER.fullmatch(row["identifier"]):
        yield Fault(
            f"'{row['identifier']}' is neither a DOI nor an address",
            "write one alone, such as 10.1000/182 or https://..., and words in the citation",
        )
    if row["tier"] not in {"A", "B"}:
        yield Fault(
            f"the tier '{row['tier']}' is neither A nor B",
            "A: open licence seen; B: single facts with citation",
        )


def source_of(row: Row) -> Source:
    """The source that a sound row describes."""
    return Source(
        key=SourceKey(row["key"]),
        citation=row["citation"],
        identifier=row["identifier"] or None,
        year=row["year"] or None,
        licence=row["licence"],
        licence_iri=row["licence_iri"] or None,
        tier="A" if row["tier"] == "A" else "B",
        how_read=row["how_read"],
        credit=row["credit"],
    )
