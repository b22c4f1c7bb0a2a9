"""Is it sound? Plants before they are written, a graph, or a whole folder held against the shapes.

Three doors, one verdict: ``validate_plants`` and ``validate_folder`` use the shapes compiled to plain
Python (``kb/shape_checks.py``); ``validate_with_pyshacl`` gives a graph to a SHACL engine, which is
many times slower and is the tests' judge of the plain checks.
"""

from collections.abc import Iterable

import pyshacl
import rdflib
from pyoxigraph import NamedNode, Quad, Store
from rdflib import SH

from kb.cross_checks import ask
from kb.files import PLANTS
from kb.findings import SEVERITIES, Finding, Note, Report, finding_of, local_name, shortened
from kb.folder_check import validate_folder
from kb.mini_graph import RDF_TYPE, MiniGraph, Term
from kb.model import Plant, PlantId, Source
from kb.namespaces import BASE, TCS, iri
from kb.shape_checks import judge
from kb.shape_library import (
    compiled_shapes,
    shapes_rdf,
    to_oxigraph,
    vocabulary_graph,
    vocabulary_rdf,
)
from kb.turtle import plant_graph
from kb.vocabulary_store import Vocabulary, load_vocabulary

__all__ = [
    "Finding",
    "Note",
    "Report",
    "validate_folder",
    "validate_graph",
    "validate_plants",
    "validate_with_pyshacl",
]


def validate_graph(graph: MiniGraph, vocabulary: Vocabulary) -> tuple[Finding, ...]:
    """What the compiled shapes find in a mini graph whose context holds the vocabulary."""
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


def validate_with_pyshacl(graph: rdflib.Graph, vocabulary: Vocabulary | None = None) -> tuple[Finding, ...]:
    """The verdict of a SHACL engine on a graph, which is left as it is.

    The vocabulary is added to a copy of the data (its concepts are values of the data) and given as
    ontology too, so that kinds of classes are known. Warnings do not count as a failure, so the
    severities are read from the results themselves.
    """
    data = rdflib.Graph(bind_namespaces="none")
    data += graph
    data += vocabulary_rdf()
    shapes = shapes_rdf(vocabulary or load_vocabulary())
    _, results, _ = pyshacl.validate(
        data,
        shacl_graph=shapes,
        ont_graph=vocabulary_rdf(),
        inference="none",
        allow_warnings=True,
        inplace=True,
    )
    if not isinstance(results, rdflib.Graph):
        raise TypeError(results)
    found = sorted(results.objects(None, SH.result), key=str)
    return tuple(_of_result(results, shapes, result) for result in found)


def _of_result(results: rdflib.Graph, shapes: rdflib.Graph, result: rdflib.term.Node) -> Finding:
    path = results.value(result, SH.resultPath)
    shape = results.value(result, SH.sourceShape)
    backwards = isinstance(path, rdflib.BNode)
    name = shapes.value(shape, SH.name)
    if name is None and path is not None and not backwards:
        name = rdflib.Literal(shortened(str(path)))
    severity = str(results.value(result, SH.resultSeverity)).rpartition("#")[2]
    culprit = results.value(result, SH.value if backwards else SH.focusNode)
    return Finding(
        severity=SEVERITIES[severity],
        file=None,
        subject=local_name(str(culprit)),
        path=None if name is None else str(name),
        message=" ".join(sorted(map(str, results.objects(result, SH.resultMessage)))),
        shape=local_name(str(shape)),
        component=str(results.value(result, SH.sourceConstraintComponent)).rpartition("#")[2],
    )
