"""Is it sound? Plants before they are written, a graph, or a whole folder held against the shapes.

Both doors use the shapes compiled to plain Python (``kb/soundness/shape_checks.py``). The tests hold them
against the verdict of a SHACL engine, many times slower (``kb/soundness/shacl_engine.py``).
"""

from collections.abc import Iterable

from pyoxigraph import NamedNode, Quad, Store

from kb.model import Plant, PlantId, Source
from kb.namespaces import BASE, TCS, iri
from kb.soundness.cross_checks import ask
from kb.soundness.findings import Finding, Note, Report, finding_of, local_name
from kb.soundness.folder_check import validate_folder
from kb.soundness.mini_graph import RDF_TYPE, MiniGraph, Term
from kb.soundness.shape_checks import judge
from kb.soundness.shape_library import (
    compiled_shapes,
    to_oxigraph,
    vocabulary_graph,
)
from kb.stores.files import PLANTS
from kb.turtle import plant_graph, source_graph
from kb.vocabulary_store import Vocabulary

__all__ = [
    "Finding",
    "Note",
    "Report",
    "validate_folder",
    "validate_graph",
    "validate_plants",
    "validate_source",
]


def validate_graph(graph: MiniGraph, vocabulary: Vocabulary) -> tuple[Finding, ...]:
    """What the compiled shapes find in a mini graph whose context holds the vocabulary."""
    return tuple(finding_of(breach) for breach in judge(graph, compiled_shapes(vocabulary)))


def validate_source(source: Source, vocabulary: Vocabulary) -> tuple[Finding, ...]:
    """Everything wrong with a source before it is written; what names no other thing needs no context."""
    graph = MiniGraph()
    graph.add_rdflib(source_graph(source))
    return tuple(finding_of(breach) for breach in judge(graph, compiled_shapes(vocabulary)))


def validate_plants(
    plants: Iterable[Plant],
    vocabulary: Vocabulary,
    sources: Iterable[Source],
    *,
    known_plants: Iterable[PlantId] = (),
) -> tuple[Finding, ...]:
    """Everything wrong or unusual in some plants, before they are written.

    ``sources`` are all sources that records may name; ``known_plants`` the ids of plants that exist
    besides those given, such as a parent. No finding of severity "violation" means: may be written.
    """
    graph = MiniGraph(context=_known(sources, known_plants))
    store = Store()
    files: dict[str, str] = {}
    for plant in plants:
        triples = plant_graph(plant)
        graph.add_rdflib(triples)
        store.extend(
            Quad(to_oxigraph(s), NamedNode(str(p)), to_oxigraph(o))  # type: ignore[arg-type]
            for s, p, o in triples
        )
        file = _file(plant.id)
        files.update({str(subject): file for subject in triples.subjects()})
    found = [
        finding_of(breach, file=files.get(breach.culprit.value))
        for breach in judge(graph, compiled_shapes(vocabulary))
    ]
    for query, rows in ask(store, "checks"):
        for row in rows:
            message = f"{query.mend} ({local_name(row.detail)})"
            where = (files.get(row.subject), local_name(row.subject), None)
            found.append(Finding("violation", *where, message, f"checks/{query.name}"))
    return tuple(found)


def _known(sources: Iterable[Source], plants: Iterable[PlantId]) -> MiniGraph:
    """The vocabulary, with the sources and plants that may be named."""
    known = MiniGraph(context=vocabulary_graph())
    for source in sources:
        known.add(Term("iri", iri("source", source.key)), RDF_TYPE, Term("iri", f"{BASE}Source"))
    for plant_id in plants:
        known.add(Term("iri", iri("plant", plant_id)), RDF_TYPE, Term("iri", str(TCS.TaxonConcept)))
    return known


def _file(plant_id: PlantId) -> str:
    genus, _, rest = plant_id.partition("-")
    return f"{PLANTS}/{genus}/{rest or genus}.ttl"
