"""SHACL shapes read into plain Python checks.

Only the part of SHACL core that our shapes use is read; anything else in a shape is refused, so that
no constraint is ever skipped in silence.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal as Choice

from rdflib import RDF, SH, Graph, Literal, URIRef
from rdflib.collection import Collection
from rdflib.term import Node

from kb.soundness import shape_constraints as constraints
from kb.soundness.mini_graph import MiniGraph, Term, term_of_rdflib
from kb.soundness.shape_constraints import Check

TargetKind = Choice["class", "subjects-of", "node"]
TARGETS: dict[URIRef, TargetKind] = {
    SH.targetClass: "class",
    SH.targetSubjectsOf: "subjects-of",
    SH.targetNode: "node",
}
SAYINGS = frozenset(
    {SH.message, SH.severity, SH.name, SH.description, SH.order, SH.path, SH.property, SH.flags}
)
"""Properties of a shape that constrain nothing by themselves."""


@dataclass(frozen=True, slots=True)
class Path:
    """One predicate, followed forwards or backwards."""

    predicate: str
    inverse: bool = False

    def values(self, graph: MiniGraph, focus: Term) -> list[Term]:
        if self.inverse:
            return graph.pointing(self.predicate, focus)
        return graph.values(focus, self.predicate)


@dataclass(frozen=True, slots=True)
class Shape:
    """One node shape (path None) or property shape, ready to judge."""

    iri: str
    path: Path | None
    targets: tuple[tuple[TargetKind, str], ...]
    checks: tuple[tuple[str, Check], ...]
    properties: "tuple[Shape, ...]"
    message: str
    severity: str
    name: str | None

    def conforms(self, graph: MiniGraph, focus: Term) -> bool:
        """Whether a node breaks nothing of this shape, whatever the severity."""
        values = (focus,) if self.path is None else self.path.values(graph, focus)
        if any(True for _, check in self.checks for _ in check(graph, focus, values)):
            return False
        return all(shape.conforms(graph, value) for shape in self.properties for value in values)


class ShapeReader:
    """Reads the shapes of one graph."""

    def __init__(self, graph: Graph) -> None:
        self.graph = graph
        self._known: dict[Node, Shape] = {}
        self._makers: dict[URIRef, tuple[str, Callable[[Node, Node], Check]]] = {
            SH.minCount: ("MinCount", lambda _s, v: constraints.min_count(int(str(v)))),
            SH.maxCount: ("MaxCount", lambda _s, v: constraints.max_count(int(str(v)))),
            SH.datatype: ("Datatype", lambda _s, v: constraints.datatype(str(v))),
            SH.nodeKind: ("NodeKind", lambda _s, v: constraints.node_kind(str(v))),
            SH["class"]: ("Class", lambda _s, v: constraints.of_class(str(v))),
            SH["in"]: ("In", lambda _s, v: constraints.one_of(frozenset(map(term_of_rdflib, self._list(v))))),
            SH.hasValue: ("HasValue", lambda _s, v: constraints.has_value(term_of_rdflib(v))),
            SH.pattern: ("Pattern", self._pattern),
            SH.minLength: ("MinLength", lambda _s, v: constraints.min_length(int(str(v)))),
            SH.minInclusive: (
                "MinInclusive",
                lambda _s, v: constraints.bound(Decimal(str(v)), lambda found, limit: found < limit),
            ),
            SH.maxInclusive: (
                "MaxInclusive",
                lambda _s, v: constraints.bound(Decimal(str(v)), lambda found, limit: found > limit),
            ),
            SH.maxExclusive: (
                "MaxExclusive",
                lambda _s, v: constraints.bound(Decimal(str(v)), lambda found, limit: found >= limit),
            ),
            SH.lessThan: ("LessThan", lambda _s, v: constraints.less_than(str(v), or_equal=False)),
            SH.lessThanOrEquals: (
                "LessThanOrEquals",
                lambda _s, v: constraints.less_than(str(v), or_equal=True),
            ),
            SH.uniqueLang: ("UniqueLang", lambda _s, _v: constraints.unique_lang),
            SH.closed: ("Closed", self._closed),
            SH.node: ("Node", lambda _s, v: constraints.conforms_to(self.shape(v).conforms)),
            SH["not"]: ("Not", lambda _s, v: constraints.conforms_to_none(self.shape(v).conforms)),
            SH["or"]: ("Or", lambda _s, v: constraints.conforms_to_any(self._members(v))),
        }

    def shapes(self) -> tuple[Shape, ...]:
        """All shapes that have a target, in the order of their IRIs."""
        targeted = {subject for target in TARGETS for subject in self.graph.subjects(target)}
        return tuple(self.shape(node) for node in sorted(targeted, key=str))

    def shape(self, node: Node) -> Shape:
        """One shape. Raises ValueError where it holds something that is not read here."""
        known = self._known.get(node)
        if known is None:
            known = self._known[node] = self._read(node)
        return known

    def _read(self, node: Node) -> Shape:
        targets: list[tuple[TargetKind, str]] = []
        checks: list[tuple[str, Check]] = []
        for predicate, value in sorted(self.graph.predicate_objects(node), key=str):
            if not isinstance(predicate, URIRef) or not predicate.startswith(str(SH)):
                continue
            if predicate in TARGETS:
                targets.append((TARGETS[predicate], str(value)))
            elif predicate in self._makers:
                component, make = self._makers[predicate]
                checks.append((f"{component}ConstraintComponent", make(node, value)))
            elif predicate not in SAYINGS and predicate != SH.ignoredProperties:
                raise ValueError(f"shape {node}: {predicate} is not read here")
        properties = sorted(self.graph.objects(node, SH.property), key=str)
        return Shape(
            iri=str(node),
            path=self._path(node),
            targets=tuple(targets),
            checks=tuple(checks),
            properties=tuple(self.shape(one) for one in properties),
            message=" ".join(sorted(map(str, self.graph.objects(node, SH.message)))),
            severity=str(self.graph.value(node, SH.severity) or SH.Violation).rpartition("#")[2],
            name=next((str(name) for name in self.graph.objects(node, SH.name)), None),
        )

    def _path(self, node: Node) -> Path | None:
        path = self.graph.value(node, SH.path)
        if path is None:
            return None
        if isinstance(path, URIRef):
            return Path(str(path))
        inverse = self.graph.value(path, SH.inversePath)
        if not isinstance(inverse, URIRef) or len(list(self.graph.predicate_objects(path))) != 1:
            raise ValueError(f"shape {node}: only a property or its inverse is read as a path")
        return Path(str(inverse), inverse=True)

    def _list(self, head: Node) -> Sequence[Node]:
        return list(Collection(self.graph, head))

    def _members(self, head: Node) -> list[constraints.Conforms]:
        return [self.shape(one).conforms for one in self._list(head)]

    def _pattern(self, shape: Node, value: Node) -> Check:
        return constraints.pattern(str(value), str(self.graph.value(shape, SH.flags) or ""))

    def _closed(self, shape: Node, value: Node) -> Check:
        if value != Literal(True):
            return lambda _graph, _focus, _values: ()
        ignored = self.graph.value(shape, SH.ignoredProperties)
        allowed = {str(one) for one in (self._list(ignored) if ignored is not None else ())}
        for one in self.graph.objects(shape, SH.property):
            path = self.graph.value(one, SH.path)
            if isinstance(path, URIRef):
                allowed.add(str(path))
        return constraints.closed(frozenset(allowed - {str(RDF.nil)}))


def read_shapes(graph: Graph) -> tuple[Shape, ...]:
    """All targeted shapes of a shapes graph, compiled."""
    return ShapeReader(graph).shapes()
