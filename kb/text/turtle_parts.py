"""What every file is written with: the graph, decimals, and who said what of which plant."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Protocol

from rdflib import XSD, Graph, Literal, Namespace, URIRef

from kb.namespaces import DWC, DWCIRI, PREFIXES, TB, UNIT

PROV = Namespace(PREFIXES["prov"])


class Sourced(Protocol):
    """The part that records, cautions and statements on enemies share."""

    @property
    def plant(self) -> str: ...
    @property
    def verbatim(self) -> str: ...
    @property
    def name_as_printed(self) -> str: ...
    @property
    def source(self) -> str: ...
    @property
    def locator(self) -> str: ...
    @property
    def basis(self) -> str: ...
    @property
    def standing(self) -> str: ...
    @property
    def entered_by(self) -> str: ...
    @property
    def entered_on(self) -> date: ...


class Valued(Protocol):
    """The part that records and observations share: a value of a trait."""

    @property
    def trait(self) -> str: ...
    @property
    def low(self) -> Decimal | None: ...
    @property
    def likely(self) -> Decimal | None: ...
    @property
    def high(self) -> Decimal | None: ...
    @property
    def concepts(self) -> tuple[str, ...]: ...


def empty_graph() -> Graph:
    """A graph that writes with our prefixes and no others."""
    graph = Graph(bind_namespaces="none")
    for prefix, namespace in PREFIXES.items():
        graph.bind(prefix, namespace)
    return graph


def plain(value: Decimal) -> Decimal:
    """The same number without trailing zeros or exponent: 1.50 -> 1.5, 1E+1 -> 10."""
    value = value.normalize()
    return value.quantize(Decimal(1)) if value == value.to_integral_value() else value


def decimal_literal(value: Decimal) -> Literal:
    """An xsd:decimal with a canonical lexical form ("3.0" for whole numbers, never an integer)."""
    text = format(plain(value), "f")
    return Literal(text if "." in text else f"{text}.0", datatype=XSD.decimal, normalize=False)


def add_texts(graph: Graph, subject: URIRef, texts: Iterable[tuple[URIRef, str | None]]) -> None:
    """Plain strings; None is left out."""
    for predicate, text in texts:
        if text is not None:
            graph.add((subject, predicate, Literal(text)))


def add_date(graph: Graph, subject: URIRef, predicate: URIRef, day: date) -> None:
    graph.add((subject, predicate, Literal(day.isoformat(), datatype=XSD.date)))


def add_provenance(graph: Graph, subject: URIRef, said: Sourced) -> None:
    """Plant, printed words, source with locator, basis, standing, and who entered it when."""
    graph.add((subject, TB.aboutTaxon, TB[f"plant.{said.plant}"]))
    graph.add((subject, PROV.wasQuotedFrom, TB[f"source.{said.source}"]))
    graph.add((subject, TB.basis, TB[f"basis.{said.basis}"]))
    graph.add((subject, TB.standing, TB[f"standing.{said.standing}"]))
    add_date(graph, subject, TB.enteredOn, said.entered_on)
    add_texts(
        graph,
        subject,
        (
            (DWC.measurementValue, said.verbatim),
            (TB.nameAsPrinted, said.name_as_printed),
            (TB.locator, said.locator),
            (TB.enteredBy, said.entered_by),
        ),
    )


def add_value(graph: Graph, subject: URIRef, said: Valued, *, window: bool, unit: str | None) -> None:
    """Numbers or weeks in the trait's unit (its local name), or concepts."""
    names = (
        (TB.startWeek, TB.likelyWeek, TB.endWeek) if window else (TB.minValue, TB.likelyValue, TB.maxValue)
    )
    for predicate, value in zip(names, (said.low, said.likely, said.high), strict=True):
        if value is not None:
            graph.add((subject, predicate, decimal_literal(value)))
    for concept in said.concepts:
        graph.add((subject, DWCIRI.measurementValue, TB[f"{said.trait}.{concept}"]))
    if unit is not None:
        graph.add((subject, DWCIRI.measurementUnit, UNIT[unit]))
