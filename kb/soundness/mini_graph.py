"""A graph as plain dictionaries, for judging records without an RDF library in the loop."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Literal as Choice
from typing import NamedTuple

import pyoxigraph
import rdflib

RDF_TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
SUBCLASS = "http://www.w3.org/2000/01/rdf-schema#subClassOf"

OxTerm = pyoxigraph.NamedNode | pyoxigraph.BlankNode | pyoxigraph.Literal | pyoxigraph.Triple


class Term(NamedTuple):
    """One node or literal. ``datatype`` and ``lang`` are None for nodes."""

    kind: Choice["iri", "blank", "literal"]
    value: str
    datatype: str | None = None
    lang: str | None = None


def term_of(node: OxTerm) -> Term:
    """The term of a pyoxigraph node, its text as it was written."""
    if isinstance(node, pyoxigraph.NamedNode):
        return Term("iri", node.value)
    if isinstance(node, pyoxigraph.Literal):
        return Term("literal", node.value, node.datatype.value, node.language)
    if isinstance(node, pyoxigraph.BlankNode):
        return Term("blank", node.value)
    raise TypeError(node)


def term_of_rdflib(node: rdflib.term.Node) -> Term:
    """The term of an rdflib node."""
    if isinstance(node, rdflib.Literal):
        if node.language:
            return Term("literal", str(node), str(rdflib.RDF.langString), node.language.lower())
        return Term("literal", str(node), str(node.datatype or rdflib.XSD.string))
    return Term("iri" if isinstance(node, rdflib.URIRef) else "blank", str(node))


@dataclass(slots=True)
class MiniGraph:
    """Triples by subject and predicate; ``types`` and ``pointers`` are kept beside them.

    ``context`` is a graph of what is known elsewhere (vocabulary, sources, other plants): it is seen,
    its subjects are not judged.
    """

    context: "MiniGraph | None" = None
    subjects: dict[Term, dict[str, list[Term]]] = field(default_factory=dict)
    by_type: dict[str, list[Term]] = field(default_factory=dict)
    by_predicate: dict[str, list[Term]] = field(default_factory=dict)
    pointers: dict[tuple[str, Term], list[Term]] = field(default_factory=dict)

    def add(self, subject: Term, predicate: str, value: Term) -> None:
        """Add one triple; one that is there already is not added again."""
        properties = self.subjects.setdefault(subject, {})
        values = properties.get(predicate)
        if values is None:
            properties[predicate] = [value]
            self.by_predicate.setdefault(predicate, []).append(subject)
        elif value in values:
            return
        else:
            values.append(value)
        if value.kind != "literal":
            self.pointers.setdefault((predicate, value), []).append(subject)
        if predicate == RDF_TYPE:
            self.by_type.setdefault(value.value, []).append(subject)

    def add_quads(self, quads: Iterable[pyoxigraph.Quad]) -> None:
        for quad in quads:
            self.add(term_of(quad.subject), quad.predicate.value, term_of(quad.object))

    def add_rdflib(self, graph: rdflib.Graph) -> None:
        for subject, predicate, value in graph:
            self.add(term_of_rdflib(subject), str(predicate), term_of_rdflib(value))

    def values(self, subject: Term, predicate: str) -> list[Term]:
        """All values of one property. A node described here hides what the context says of it.

        Its classes are the exception: they are joined, so that a plant known elsewhere stays one.
        """
        own = self.subjects.get(subject)
        if own is not None and (predicate != RDF_TYPE or self.context is None):
            return own.get(predicate, [])
        if self.context is None:
            return []
        known = self.context.values(subject, predicate)
        return known if own is None else [*own.get(predicate, []), *known]

    def pointing(self, predicate: str, value: Term) -> list[Term]:
        """Subjects of this graph (not of the context) that have this value."""
        return self.pointers.get((predicate, value), [])

    def types(self, subject: Term) -> Iterator[str]:
        """All classes of a node, with the classes above them."""
        seen: set[str] = set()
        waiting = [value.value for value in self.values(subject, RDF_TYPE)]
        while waiting:
            found = waiting.pop()
            if found not in seen:
                seen.add(found)
                yield found
                waiting += [v.value for v in self.values(Term("iri", found), SUBCLASS)]

    def of_class(self, class_iri: str) -> Iterator[Term]:
        """Subjects of this graph that belong to a class or to one below it."""
        seen: set[Term] = set()
        for below in self._below(class_iri):
            for subject in self.by_type.get(below, ()):
                if subject not in seen:
                    seen.add(subject)
                    yield subject

    def _below(self, class_iri: str) -> list[str]:
        found, waiting = [class_iri], [class_iri]
        while waiting:
            above = Term("iri", waiting.pop())
            graph: MiniGraph | None = self
            while graph is not None:
                for subject in graph.pointing(SUBCLASS, above):
                    if subject.value not in found:
                        found.append(subject.value)
                        waiting.append(subject.value)
                graph = graph.context
        return found
