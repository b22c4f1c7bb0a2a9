"""The shapes and the vocabulary as graphs, read once: for a SHACL engine and for the plain checks."""

from functools import cache
from importlib.resources import files
from pathlib import Path

import pyoxigraph
import rdflib
from pyoxigraph import RdfFormat

from kb.soundness.mini_graph import MiniGraph
from kb.soundness.shape_reading import Shape, read_shapes
from kb.soundness.trait_shapes import trait_shapes
from kb.vocabulary_store import Vocabulary, load_vocabulary


def to_rdflib(node: pyoxigraph.NamedNode | pyoxigraph.BlankNode | pyoxigraph.Literal) -> rdflib.term.Node:
    """A pyoxigraph term as rdflib has it; plain strings stay without a datatype, as rdflib reads them."""
    if isinstance(node, pyoxigraph.NamedNode):
        return rdflib.URIRef(node.value)
    if isinstance(node, pyoxigraph.BlankNode):
        return rdflib.BNode(node.value)
    if node.language:
        return rdflib.Literal(node.value, lang=node.language)
    datatype = rdflib.URIRef(node.datatype.value)
    return rdflib.Literal(node.value, datatype=None if datatype == rdflib.XSD.string else datatype)


def to_oxigraph(
    node: rdflib.term.Node,
) -> pyoxigraph.NamedNode | pyoxigraph.BlankNode | pyoxigraph.Literal:
    """An rdflib term as pyoxigraph has it."""
    if isinstance(node, rdflib.URIRef):
        return pyoxigraph.NamedNode(str(node))
    if isinstance(node, rdflib.BNode):
        return pyoxigraph.BlankNode(str(node))
    if not isinstance(node, rdflib.Literal):
        raise TypeError(node)
    if node.language:
        return pyoxigraph.Literal(str(node), language=node.language)
    datatype = pyoxigraph.NamedNode(str(node.datatype or rdflib.XSD.string))
    return pyoxigraph.Literal(str(node), datatype=datatype)


def _vocabulary_files() -> list[Path]:
    return sorted(Path(str(files("kb") / "vocabulary")).glob("*.ttl"))


def vocabulary_texts() -> tuple[str, ...]:
    """The shipped vocabulary as it is written."""
    return tuple(path.read_text(encoding="utf-8") for path in _vocabulary_files())


@cache
def vocabulary_graph() -> MiniGraph:
    """All triples of the shipped vocabulary. Shared: never add to it."""
    graph = MiniGraph()
    for path in _vocabulary_files():
        graph.add_quads(pyoxigraph.parse(path.read_bytes(), format=RdfFormat.TURTLE))
    return graph


@cache
def vocabulary_rdf() -> rdflib.Graph:
    """All triples of the shipped vocabulary for rdflib. Shared: never add to it."""
    graph = rdflib.Graph(bind_namespaces="none")
    for path in _vocabulary_files():
        graph.parse(path, format="turtle")
    return graph


@cache
def _core_shapes() -> rdflib.Graph:
    graph = rdflib.Graph(bind_namespaces="none")
    for path in sorted(Path(str(files("shapes"))).glob("*.ttl")):
        graph.parse(path, format="turtle")
    return graph


def shapes_rdf(vocabulary: Vocabulary) -> rdflib.Graph:
    """The core shapes of ``shapes/*.ttl`` with those that follow from the vocabulary."""
    graph = rdflib.Graph(bind_namespaces="none")
    graph += _core_shapes()
    graph += trait_shapes(vocabulary.traits.values())
    return graph


@cache
def _shipped_shapes() -> tuple[Shape, ...]:
    return read_shapes(shapes_rdf(load_vocabulary()))


def compiled_shapes(vocabulary: Vocabulary) -> tuple[Shape, ...]:
    """The same shapes as plain Python checks."""
    if vocabulary is load_vocabulary():
        return _shipped_shapes()
    return read_shapes(shapes_rdf(vocabulary))
