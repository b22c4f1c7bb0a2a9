"""The SHACL core constraints that our shapes use, each as a plain function over a mini graph.

A constraint gets the focus node and its value nodes and gives back the values that break it (None
where the fault is in the number of values). Wording and rules are those of SHACL 1.0 (W3C
Recommendation of 20 July 2017, section 4).
"""

import re
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from decimal import Decimal, InvalidOperation

from kb.soundness.mini_graph import MiniGraph, Term

XSD = "http://www.w3.org/2001/XMLSchema#"
LANG_STRING = "http://www.w3.org/1999/02/22-rdf-syntax-ns#langString"
NODE_KINDS = {
    "IRI": {"iri"},
    "BlankNode": {"blank"},
    "Literal": {"literal"},
    "BlankNodeOrIRI": {"blank", "iri"},
    "BlankNodeOrLiteral": {"blank", "literal"},
    "IRIOrLiteral": {"iri", "literal"},
}

Fault = tuple[Term | None, str | None]
"""A value that breaks a constraint (None: their number does), and its path where it is not the shape's."""
Check = Callable[[MiniGraph, Term, Sequence[Term]], Iterable[Fault]]
Conforms = Callable[[MiniGraph, Term], bool]


def number(term: Term) -> Decimal | None:
    """The number of a numeric literal, else None."""
    if term.kind != "literal" or term.datatype not in {f"{XSD}{name}" for name in _NUMERIC}:
        return None
    try:
        found = Decimal(term.value)
    except InvalidOperation:
        return None
    return found if found.is_finite() else None


_NUMERIC = ("decimal", "integer", "double", "float", "int", "long", "nonNegativeInteger")
_LEXICAL = {
    f"{XSD}decimal": re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)"),
    f"{XSD}integer": re.compile(r"[+-]?\d+"),
    f"{XSD}date": re.compile(r"-?\d{4,}-\d\d-\d\d(Z|[+-]\d\d:\d\d)?"),
}


def well_typed(term: Term, datatype: str) -> bool:
    """Whether a literal has the datatype and its text belongs to it."""
    if term.kind != "literal" or term.datatype != datatype:
        return False
    lexical = _LEXICAL.get(datatype)
    if lexical is not None and not lexical.fullmatch(term.value):
        return False
    return datatype != f"{XSD}date" or _is_day(term.value)


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text.removesuffix("Z")[:10])
    except ValueError:
        return False
    return True


def each(breaks: Callable[[MiniGraph, Term], bool]) -> Check:
    """A constraint that looks at one value at a time."""

    def check(graph: MiniGraph, _focus: Term, values: Sequence[Term]) -> Iterable[Fault]:
        return [(value, None) for value in values if breaks(graph, value)]

    return check


def min_count(least: int) -> Check:
    return lambda _graph, _focus, values: [(None, None)] if len(values) < least else []


def max_count(most: int) -> Check:
    return lambda _graph, _focus, values: [(None, None)] if len(values) > most else []


def datatype(wanted: str) -> Check:
    return each(lambda _graph, value: not well_typed(value, wanted))


def node_kind(kind: str) -> Check:
    kinds = NODE_KINDS[kind.rpartition("#")[2]]
    return each(lambda _graph, value: value.kind not in kinds)


def of_class(wanted: str) -> Check:
    return each(lambda graph, value: value.kind == "literal" or wanted not in graph.types(value))


def one_of(allowed: frozenset[Term]) -> Check:
    return each(lambda _graph, value: value not in allowed)


def has_value(wanted: Term) -> Check:
    return lambda _graph, _focus, values: [] if wanted in values else [(None, None)]


def pattern(expression: str, flags: str) -> Check:
    compiled = re.compile(expression, re.IGNORECASE if "i" in flags else 0)
    return each(lambda _graph, value: value.kind == "blank" or not compiled.search(value.value))


def min_length(least: int) -> Check:
    return each(lambda _graph, value: value.kind == "blank" or len(value.value) < least)


def bound(limit: Decimal, breaks: Callable[[Decimal, Decimal], bool]) -> Check:
    """A lower or upper bound; what is no number breaks it."""

    def outside(_graph: MiniGraph, value: Term) -> bool:
        found = number(value)
        return found is None or breaks(found, limit)

    return each(outside)


def less_than(other: str, *, or_equal: bool) -> Check:
    """Every value is below every value of another property; what cannot be compared breaks it."""

    def check(graph: MiniGraph, focus: Term, values: Sequence[Term]) -> Iterable[Fault]:
        faults: list[Fault] = []
        for value in values:
            for above in graph.values(focus, other):
                left, right = number(value), number(above)
                fits = (
                    left is not None and right is not None and (left < right or (or_equal and left == right))
                )
                if not fits:
                    faults.append((value, None))
        return faults

    return check


def unique_lang(graph: MiniGraph, focus: Term, values: Sequence[Term]) -> Iterable[Fault]:
    """No two values carry the same language tag."""
    del graph, focus
    tags = [value.lang for value in values if value.lang]
    return [(None, None) for tag in sorted(set(tags)) if tags.count(tag) > 1]


def closed(allowed: frozenset[str]) -> Check:
    """No property but those allowed; each other value is a fault of its own."""

    def check(graph: MiniGraph, _focus: Term, values: Sequence[Term]) -> Iterable[Fault]:
        return [
            (value, predicate)
            for node in values
            for predicate, found in graph.subjects.get(node, {}).items()
            if predicate not in allowed
            for value in found
        ]

    return check


def conforms_to(shape: Conforms) -> Check:
    return each(lambda graph, value: not shape(graph, value))


def conforms_to_none(shape: Conforms) -> Check:
    return each(shape)


def conforms_to_any(shapes: Sequence[Conforms]) -> Check:
    return each(lambda graph, value: not any(shape(graph, value) for shape in shapes))
