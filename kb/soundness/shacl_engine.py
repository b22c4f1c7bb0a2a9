"""The verdict of a SHACL engine: the judge of the plain checks, many times slower than they are.

Kept out of ``kb/validate.py``: loading the engine takes a third of a second that no question should wait for.
"""

import pyshacl
import rdflib
from rdflib import SH

from kb.soundness.findings import SEVERITIES, Finding, local_name, shortened
from kb.soundness.shape_library import shapes_rdf, vocabulary_rdf
from kb.vocabulary_store import Vocabulary, load_vocabulary


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
