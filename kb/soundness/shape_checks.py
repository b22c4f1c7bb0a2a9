"""Judging a mini graph by compiled shapes: the same verdict as a SHACL engine, a thousand times sooner.

``tests/kb/test_shapes.py`` holds both against each other on every valid and invalid example.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from kb.soundness.mini_graph import MiniGraph, Term
from kb.soundness.shape_reading import Shape


@dataclass(frozen=True, slots=True)
class Breach:
    """One value (or number of values) that breaks one constraint of one shape."""

    focus: Term
    path: str | None
    value: Term | None
    component: str
    shape: str
    message: str
    severity: str
    name: str | None
    inverse: bool = False

    @property
    def culprit(self) -> Term:
        """The node to mend: where a trait judges its records, the record."""
        return self.value if self.inverse and self.value is not None else self.focus


def judge(graph: MiniGraph, shapes: Iterable[Shape]) -> tuple[Breach, ...]:
    """Everything in a graph that breaks a shape."""
    return tuple(
        breach
        for shape in shapes
        for focus in _focus_nodes(graph, shape)
        for breach in _breaches(graph, shape, focus)
    )


def _focus_nodes(graph: MiniGraph, shape: Shape) -> Iterator[Term]:
    seen: set[Term] = set()
    for kind, iri in shape.targets:
        if kind == "class":
            found: Iterable[Term] = graph.of_class(iri)
        elif kind == "subjects-of":
            found = graph.by_predicate.get(iri, ())
        else:
            found = (Term("iri", iri),)
        for focus in found:
            if focus not in seen:
                seen.add(focus)
                yield focus


def _breaches(graph: MiniGraph, shape: Shape, focus: Term) -> Iterator[Breach]:
    path = shape.path
    values = (focus,) if path is None else path.values(graph, focus)
    for component, check in shape.checks:
        for value, other_path in check(graph, focus, values):
            yield Breach(
                focus=focus,
                path=other_path or (path.predicate if path is not None else None),
                value=value if path is not None or value is not None else focus,
                component=component,
                shape=shape.iri,
                message=shape.message,
                severity=shape.severity,
                name=shape.name,
                inverse=path is not None and path.inverse,
            )
    for nested in shape.properties:
        for value in values:
            yield from _breaches(graph, nested, value)
