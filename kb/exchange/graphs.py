"""The data set as RDF graphs: one thing with all that explains it, or everything part by part.

No graph has a blank node. The whole data set comes with its vocabulary, its sources and a description
of itself, so that a reader needs nothing else.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

import pyoxigraph
from pyoxigraph import RdfFormat, Triple
from rdflib import RDF, XSD, Graph, Literal, Namespace, URIRef

from kb.exchange.archive_rows import cited_by
from kb.exchange.describing import TITLE, newest_entry, rights, what_it_is
from kb.model import Caution, Decision, Plant, PlantId, Record, SourceKey
from kb.namespaces import PREFIXES, TB, iri
from kb.snapshot import Snapshot
from kb.soundness.shape_library import to_oxigraph, vocabulary_rdf
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.statements.enemy_model import EmissionStatement, HostStatement
from kb.statements.search_model import Search
from kb.text.enemy_turtle import emission_graph, enemy_graph
from kb.turtle import plant_graph, source_graph

DCAT = Namespace("http://www.w3.org/ns/dcat#")
VOID = Namespace("http://rdfs.org/ns/void#")
DCTERMS = Namespace(PREFIXES["dcterms"])
PROV = Namespace(PREFIXES["prov"])
ALL_PREFIXES = {
    **PREFIXES,
    "dcat": str(DCAT),
    "void": str(VOID),
    "eol": "http://eol.org/schema/terms/",
    "owl": "http://www.w3.org/2002/07/owl#",
}
DATASET = TB.dataset


Part = Record | Caution | Decision | Observation | Withdrawal | Review | Search


def dataset_graph(snapshot: Snapshot, keys: Iterable[SourceKey]) -> Graph:
    """What the data set is: version, rights, and the sources that it (or this part of it) draws on.

    Each source carries its own licence and line of credit.
    """
    graph = Graph(bind_namespaces="none")
    for kind in (DCAT.Dataset, VOID.Dataset):
        graph.add((DATASET, RDF.type, kind))
    graph.add((DATASET, DCTERMS.title, Literal(TITLE, lang="en")))
    graph.add((DATASET, DCAT.version, Literal(snapshot.version)))
    issued = Literal(newest_entry(snapshot).isoformat(), datatype=XSD.date)
    graph.add((DATASET, DCTERMS.modified, issued))
    for text in what_it_is(snapshot):
        graph.add((DATASET, DCTERMS.description, Literal(text, lang="en")))
    for text in rights():
        graph.add((DATASET, DCTERMS.rights, Literal(text, lang="en")))
    for key in keys:
        graph.add((DATASET, PROV.wasDerivedFrom, URIRef(iri("source", key))))
    return graph


def whole(snapshot: Snapshot) -> Iterator[Graph]:
    """Everything, part by part: description, vocabulary, sources, plants, enemies, emissions."""
    yield dataset_graph(snapshot, snapshot.sources)
    yield vocabulary_rdf()
    for source in snapshot.sources.values():
        yield source_graph(source)
    for plant in snapshot.plants.values():
        yield plant_graph(plant)
    for enemy in snapshot.enemies.values():
        yield enemy_graph(enemy)
    for emission in snapshot.emissions.values():
        yield emission_graph(emission)


def about_plant(snapshot: Snapshot, plant_id: PlantId) -> Graph:
    """One plant: its own file, the cautions it inherits, what its enemies' files say of it, all sources."""
    plant = snapshot.plants[plant_id]
    plants = [plant, *_above(snapshot, plant)]
    said = [one for one in snapshot.statements() if one.plant == plant_id]
    parts = [*map(plant_graph, plants), *(_statement(snapshot, one) for one in said)]
    return _explained(snapshot, parts, {one.source for one in said}.union(*map(cited_by, plants)))


def about_statement(snapshot: Snapshot, name: str) -> Graph:
    """One record, caution, decision or statement, with its plant's names and cautions and its source.

    A record comes with the decisions that weighed it. Raises UnknownRecord.
    """
    said = snapshot.record(name)
    plant = snapshot.plants[said.plant]
    plants = [_with(plant, said), *_above(snapshot, plant)]
    keys = set[SourceKey]().union(*map(cited_by, plants))
    parts = [*map(plant_graph, plants)]
    if isinstance(said, HostStatement | EmissionStatement):
        parts.append(_statement(snapshot, said))
        keys.add(said.source)
    return _explained(snapshot, parts, keys)


def _above(snapshot: Snapshot, plant: Plant) -> list[Plant]:
    """The plants that it belongs to, with names and cautions only: a caution holds for what is below too."""
    found = []
    while plant.parent is not None and plant.parent in snapshot.plants:
        plant = snapshot.plants[plant.parent]
        found.append(replace(plant.bare(), cautions=plant.cautions, reviews=plant.reviews))
    return found


_PARTS: dict[type, str] = {
    Record: "records",
    Caution: "cautions",
    Decision: "decisions",
    Observation: "observations",
    Withdrawal: "withdrawals",
    Review: "reviews",
    Search: "searches",
}
"""Where a plant keeps each kind of statement."""


def _with(plant: Plant, said: Part | HostStatement | EmissionStatement) -> Plant:
    """The plant with its cautions and one of its other parts, and the decisions on that."""
    bare = replace(plant.bare(), cautions=plant.cautions, reviews=plant.reviews)
    if isinstance(said, HostStatement | EmissionStatement):
        return bare
    room = _PARTS[type(said)]
    held: dict[str, Any] = {room: tuple({one.id: one for one in (*getattr(bare, room), said)}.values())}
    alone: Plant = replace(bare, **held)
    if not isinstance(said, Record):
        return alone
    decided = tuple(d for d in plant.decisions if any(record == said.id for record, _ in d.weighed))
    return replace(alone, decisions=decided)


def _statement(snapshot: Snapshot, said: HostStatement | EmissionStatement) -> Graph:
    """One statement with the enemy or emission that it is about."""
    if isinstance(said, HostStatement):
        return enemy_graph(replace(snapshot.enemies[said.enemy], statements=(said,)))
    return emission_graph(replace(snapshot.emissions[said.emission], statements=(said,)))


def _explained(snapshot: Snapshot, parts: Iterable[Graph], keys: set[SourceKey]) -> Graph:
    graph = Graph(bind_namespaces="none")
    known = sorted(keys & set(snapshot.sources))
    for part in (*parts, *(source_graph(snapshot.sources[key]) for key in known)):
        graph += part
    graph += dataset_graph(snapshot, known)
    return graph


def turtle(graphs: Iterable[Graph]) -> Iterator[str]:
    """The graphs as one Turtle text, piece by piece: subjects together, in the order of their names."""
    for place, graph in enumerate(graphs):
        triples = sorted(graph, key=lambda triple: tuple(part.n3() for part in triple))
        text = pyoxigraph.serialize(
            (Triple(*map(to_oxigraph, triple)) for triple in triples),  # type: ignore[arg-type]
            format=RdfFormat.TURTLE,
            prefixes=ALL_PREFIXES,
        )
        if text is not None:
            yield text.decode() if place == 0 else _without_prefixes(text.decode())


def _without_prefixes(text: str) -> str:
    """The text after its prefix lines, which the first piece has."""
    start = 0
    while text.startswith("@prefix ", start):
        start = text.index("\n", start) + 1
    return text[start:]


def card(graph: Graph) -> str:
    """One small graph as Turtle that reads like a card: one property a line."""
    for prefix, namespace in ALL_PREFIXES.items():
        graph.bind(prefix, namespace)
    return graph.serialize(format="longturtle")
