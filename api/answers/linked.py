"""Graphs as JSON-LD 1.1, with the hand-written context of ``api/context.jsonld``.

The document is flat: every thing is one object of ``@graph`` with an ``id``, so that it can be read
without knowing JSON-LD. The context stands in the document, so that it can be read without the network.
Decimals are JSON strings: as JSON numbers they would turn into another literal (``1.2E0``).
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import orjson
from rdflib import RDF, XSD, Graph, Literal, URIRef
from rdflib.term import Node

Json = dict[str, Any]
LINES = orjson.OPT_INDENT_2


@dataclass(frozen=True, slots=True)
class Term:
    """How the context says that a property is written."""

    name: str
    coerced: str | None = None
    by_language: bool = False
    always_list: bool = False


@dataclass(frozen=True)
class Context:
    """The context, read once: terms by the IRI of their property, and prefixes, longest first."""

    terms: Mapping[str, Term]
    types: Mapping[str, str]
    prefixes: tuple[tuple[str, str], ...]

    def compact(self, iri: str) -> str:
        """The IRI with the prefix of the context, where the rest can stand behind one."""
        for name, start in self.prefixes:
            if iri.startswith(start) and not iri[len(start) :].startswith("//"):
                return f"{name}:{iri[len(start) :]}"
        return iri


@cache
def context_text() -> bytes:
    """The context as it is served at ``/context.jsonld``."""
    return files("api").joinpath("context.jsonld").read_bytes()


@cache
def context() -> Context:
    """What the context says, for writing."""
    stated: Json = orjson.loads(context_text())["@context"]
    prefixes = {
        name: value
        for name, value in stated.items()
        if isinstance(value, str) and value.endswith(("/", "#")) and not name.startswith("@")
    }
    terms: dict[str, Term] = {}
    types: dict[str, str] = {}
    for name, definition in stated.items():
        if name.startswith("@") or name in prefixes or definition in ("@id", "@type"):
            continue
        wide = definition if isinstance(definition, dict) else {"@id": definition}
        iri = _expanded(wide["@id"], prefixes)
        if name[0].isupper():
            types[iri] = name
            continue
        held = wide.get("@container", [])
        container = {held} if isinstance(held, str) else set(held)
        coerced = wide.get("@type")
        terms[iri] = Term(
            name,
            _expanded(coerced, prefixes) if coerced and coerced != "@id" else coerced,
            "@language" in container,
            "@set" in container,
        )
    ordered = tuple(sorted(prefixes.items(), key=lambda pair: (-len(pair[1]), pair[0])))
    return Context(terms, types, ordered)


def _expanded(name: str, prefixes: Mapping[str, str]) -> str:
    prefix, _, rest = name.partition(":")
    return prefixes[prefix] + rest


def nodes(graph: Graph) -> Iterator[Json]:
    """Every subject of a graph as one JSON object, in the order of their IRIs."""
    about: dict[str, dict[str, list[Node]]] = {}
    for triple in graph:
        subject, predicate = (str(part) for part in triple[:2])
        about.setdefault(subject, {}).setdefault(predicate, []).append(triple[2])
    for name, stated in sorted(about.items()):
        said: Json = {"id": context().compact(name)}
        kinds = stated.pop(str(RDF.type), [])
        if kinds:
            said["type"] = sorted(_type_name(str(kind)) for kind in kinds)
        for iri, values in sorted(stated.items()):
            term = context().terms.get(iri) or Term(context().compact(iri))
            said |= _property(term, values)
        yield said


def _type_name(iri: str) -> str:
    return context().types.get(iri) or context().compact(iri)


def _property(term: Term, values: list[Node]) -> Json:
    ordered = sorted(values, key=lambda node: node.n3())
    if term.by_language:
        return {term.name: _by_language(term, ordered)}
    written = [_value(term, node) for node in ordered]
    return {term.name: written if term.always_list or len(written) > 1 else written[0]}


def _by_language(term: Term, values: Iterable[Node]) -> Json:
    found: dict[str, list[str]] = {}
    for node in values:
        language = node.language if isinstance(node, Literal) else None
        if language is None:
            raise ValueError(f"{term.name} {node} has no language")
        found.setdefault(language, []).append(str(node))
    return {
        language: texts if term.always_list or len(texts) > 1 else texts[0]
        for language, texts in sorted(found.items())
    }


def _value(term: Term, node: Node) -> Any:
    """A value in the short form where the context gives it its type, else spelt out."""
    if isinstance(node, URIRef):
        short = context().compact(str(node))
        return short if term.coerced == "@id" else {"@id": short}
    if not isinstance(node, Literal):
        raise TypeError(f"{node!r} is neither an IRI nor a literal")
    if node.language:
        return {"@value": str(node), "@language": node.language}
    datatype = str(node.datatype or XSD.string)
    if datatype == str(XSD.string) and term.coerced is None:
        return str(node)
    if datatype == str(XSD.integer) and term.coerced is None:
        return int(node)
    if datatype == term.coerced:
        return str(node)
    return {"@value": str(node), "@type": context().compact(datatype)}


def jsonld(graphs: Iterable[Graph]) -> Iterator[bytes]:
    """The graphs as one JSON-LD document, piece by piece."""
    stated = orjson.loads(context_text())["@context"]
    yield b'{"@context": ' + orjson.dumps(stated, option=LINES) + b',\n"@graph": [\n'
    between = b""
    for graph in graphs:
        piece = bytearray()
        for node in nodes(graph):
            piece += between + orjson.dumps(node, option=LINES)
            between = b",\n"
        yield bytes(piece)
    yield b"\n]}\n"
