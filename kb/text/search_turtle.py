"""Searches as triples of a plant's file, and back."""

from rdflib import RDF, Graph, Literal, URIRef

from kb.model import PlantId
from kb.namespaces import TB
from kb.statements.search_model import Found, Search
from kb.text.subject_reading import SubjectReader
from kb.text.turtle_parts import PROV, add_date, add_texts


def add_search(graph: Graph, search: Search) -> None:
    subject = URIRef(search.iri)
    graph.add((subject, RDF.type, TB.Search))
    graph.add((subject, RDF.type, PROV.Activity))
    graph.add((subject, TB.aboutTaxon, TB[f"plant.{search.plant}"]))
    graph.add((subject, TB.searchOutcome, TB[f"search-outcome.{search.outcome}"]))
    add_date(graph, subject, TB.searchedOn, search.searched_on)
    for query in search.queries:
        graph.add((subject, TB.query, Literal(query)))
    for page in search.pages:
        graph.add((subject, TB.pageRead, Literal(page)))
    add_texts(graph, subject, ((TB.searchedBy, search.searched_by), (TB.note, search.note)))


def read_search(reader: SubjectReader, name: str) -> Search:
    return Search(
        id=name,
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        searched_by=reader.one("tb:searchedBy"),
        searched_on=reader.day("tb:searchedOn"),
        queries=tuple(sorted(reader.values("tb:query"))),
        pages=tuple(sorted(reader.values("tb:pageRead"))),
        outcome=reader.choice("tb:searchOutcome", "search-outcome", Found),
        note=reader.maybe("tb:note"),
    )
