"""Shapes that follow from the vocabulary: allowed and usual range, unit, value scheme of each trait.

They are made in memory whenever records are judged and never written down, so that the vocabulary
stays the only place where a range stands. SHACL core has no target "records of this trait"; the
trait itself is the target and its records are reached backwards over ``dwciri:measurementType``, so
that a fault names the trait as focus node and the record as value.
"""

from collections.abc import Iterable
from decimal import Decimal

from rdflib import RDF, SH, SKOS, BNode, Graph, Literal, URIRef
from rdflib.collection import Collection

from kb.model import Trait
from kb.namespaces import DWCIRI, TB
from kb.turtle import decimal_literal

NUMBERS = (TB.minValue, TB.likelyValue, TB.maxValue)
WEEKS = (TB.startWeek, TB.likelyWeek, TB.endWeek)
INDICATOR_RULE = "class-median"
"""The rule of adoption of indicator scales, whose values are single steps."""
NAMES = {TB.minValue: "tb:minValue", TB.likelyValue: "tb:likelyValue", TB.maxValue: "tb:maxValue"}


def trait_shapes(traits: Iterable[Trait]) -> Graph:
    """A shapes graph with one node shape for each trait."""
    graph = Graph(bind_namespaces="none")
    for trait in traits:
        _add_trait(graph, trait)
    return graph


def _add_trait(graph: Graph, trait: Trait) -> None:
    shape = TB[f"shape.trait-{trait.id}"]
    graph.add((shape, RDF.type, SH.NodeShape))
    graph.add((shape, SH.targetNode, TB[f"trait.{trait.id}"]))
    if trait.kind == "number":
        _add_numbers(graph, shape, trait)
    elif trait.kind == "window":
        _add_absence(
            graph, shape, (*NUMBERS, DWCIRI.measurementValue), "values", f"{trait.id} is told in weeks"
        )
    else:
        _add_concepts(graph, shape, trait)


def _add_numbers(graph: Graph, shape: URIRef, trait: Trait) -> None:
    unit = trait.unit_label or ""
    if trait.allowed is not None:
        low, high = trait.allowed
        _add_range(
            graph,
            shape,
            "allowed",
            (low, high),
            f"A value of {trait.id} outside {low} to {high} {unit} is impossible; "
            "look for a slipped decimal point or another unit, and correct the record.",
        )
    if trait.usual is not None and trait.usual != trait.allowed:
        low, high = trait.usual
        _add_range(
            graph,
            shape,
            "usual",
            (low, high),
            f"A value of {trait.id} outside {low} to {high} {unit} is unusual; read the source again.",
            warning=True,
        )
    if trait.unit is not None:
        record = _add_property(
            graph,
            shape,
            "unit",
            "dwciri:measurementUnit",
            f"Numbers of {trait.id} are kept in {unit} (<{trait.unit}>); convert them.",
        )
        constraint = _add_part(graph, record, DWCIRI.measurementUnit)
        allowed = BNode()
        Collection(graph, allowed, [URIRef(trait.unit)])
        graph.add((constraint, SH["in"], allowed))
    _add_absence(graph, shape, (*WEEKS, DWCIRI.measurementValue), "values", f"{trait.id} is a number")
    if trait.adoption == INDICATOR_RULE:
        _add_absence(graph, shape, (TB.minValue, TB.maxValue), "step", f"{trait.id} is one step of a scale")


def _add_concepts(graph: Graph, shape: URIRef, trait: Trait) -> None:
    record = _add_property(
        graph,
        shape,
        "scheme",
        "dwciri:measurementValue",
        f"A value of {trait.id} must be one of the scheme tb:scheme.{trait.scheme}.",
    )
    value = TB[f"shape.in-scheme-{trait.scheme}"]
    graph.add((_add_part(graph, record, DWCIRI.measurementValue), SH.node, value))
    if (value, RDF.type, SH.NodeShape) not in graph:
        graph.add((value, RDF.type, SH.NodeShape))
        graph.add((_add_part(graph, value, SKOS.inScheme), SH.hasValue, TB[f"scheme.{trait.scheme}"]))
    _add_absence(graph, shape, (*NUMBERS, *WEEKS), "values", f"{trait.id} is told by concepts")


def _add_range(
    graph: Graph,
    shape: URIRef,
    kind: str,
    bounds: tuple[Decimal, Decimal],
    message: str,
    *,
    warning: bool = False,
) -> None:
    for path, name in NAMES.items():
        ending = name.partition(":")[2]
        record = _add_property(graph, shape, f"{kind}-{ending}", name, message, warning=warning)
        part = _add_part(graph, record, path)
        graph.add((part, SH.minInclusive, decimal_literal(bounds[0])))
        graph.add((part, SH.maxInclusive, decimal_literal(bounds[1])))


def _add_absence(graph: Graph, shape: URIRef, paths: Iterable[URIRef], name: str, reason: str) -> None:
    record = _add_property(
        graph, shape, name, None, f"{reason}; this record holds another sort of value. Correct its trait."
    )
    for path in paths:
        graph.add((_add_part(graph, record, path), SH.maxCount, Literal(0)))


def _add_property(
    graph: Graph, shape: URIRef, ending: str, name: str | None, message: str, *, warning: bool = False
) -> URIRef:
    """A property shape from the trait back to its records; gives the node shape that each must meet."""
    back = URIRef(f"{shape}.{ending}")
    record = URIRef(f"{back}.record")
    path = BNode()
    graph.add((shape, SH.property, back))
    graph.add((back, RDF.type, SH.PropertyShape))
    graph.add((back, SH.path, path))
    graph.add((path, SH.inversePath, DWCIRI.measurementType))
    graph.add((back, SH.node, record))
    graph.add((back, SH.message, Literal(message)))
    if name is not None:
        graph.add((back, SH.name, Literal(name)))
    if warning:
        graph.add((back, SH.severity, SH.Warning))
    graph.add((record, RDF.type, SH.NodeShape))
    return record


def _add_part(graph: Graph, shape: URIRef, path: URIRef) -> BNode:
    part = BNode()
    graph.add((shape, SH.property, part))
    graph.add((part, SH.path, path))
    return part
