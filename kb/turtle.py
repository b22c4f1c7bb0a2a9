"""Plants and sources as Turtle text: written canonically, read back strictly.

Writing goes through rdflib's long Turtle (sorted, one property a line, deterministic because
there are no blank nodes); reading through pyoxigraph, which is twenty times faster. Decimals are
written without trailing zeros, so that the same value is always the same text.
"""

from rdflib import RDF, Graph, Literal, Namespace, URIRef

from kb.model import Caution, Decision, Name, Plant, Record, Source
from kb.namespaces import DWC, DWCIRI, PREFIXES, RANK, TB, TCS, UNIT, iri
from kb.text.curation_turtle import add_observation, add_review, add_withdrawal
from kb.text.search_turtle import add_search
from kb.text.turtle_parts import (
    PROV,
    add_date,
    add_provenance,
    add_texts,
    add_value,
    decimal_literal,
    empty_graph,
    plain,
)
from kb.text.turtle_reading import parse_plant, parse_source
from kb.vocabulary_store import load_vocabulary

DCTERMS = Namespace(PREFIXES["dcterms"])
RDFS_COMMENT = URIRef(PREFIXES["rdfs"] + "comment")
SPECIES_RANKS = frozenset({"genus", "species", "subspecies", "variety", "form", "cultivar", "cultivarGroup"})

__all__ = [
    "decimal_literal",
    "plain",
    "plant_from_turtle",
    "plant_graph",
    "plant_to_turtle",
    "source_from_turtle",
    "source_graph",
    "source_to_turtle",
]


def _add_record(graph: Graph, record: Record, *, window: bool, unit: str | None) -> None:
    subject = URIRef(record.iri)
    graph.add((subject, RDF.type, TB.TraitRecord))
    add_provenance(graph, subject, record)
    graph.add((subject, DWCIRI.measurementType, TB[f"trait.{record.trait}"]))
    add_value(graph, subject, record, window=window, unit=unit)
    graph.add((subject, TB.numberKind, TB[f"number-kind.{record.number_kind}"]))
    for key, text in record.conditions:
        graph.add((subject, TB.condition, Literal(f"{key}={text}")))
    add_texts(graph, subject, ((TB.note, record.note),))
    if record.revises is not None:
        graph.add((subject, PROV.wasRevisionOf, TB[f"record.{record.revises}"]))


def _add_caution(graph: Graph, caution: Caution) -> None:
    subject = URIRef(caution.iri)
    graph.add((subject, RDF.type, TB.Caution))
    add_provenance(graph, subject, caution)
    graph.add((subject, TB.cautionKind, TB[f"caution-kind.{caution.kind}"]))
    add_texts(
        graph,
        subject,
        (
            (RDFS_COMMENT, caution.text),
            (TB.part, caution.part),
            (TB.agent, caution.agent),
            (TB.affectedGroup, caution.group),
            (TB.place, caution.place),
            (TB.asOf, caution.as_of),
            (TB.lookalike, caution.lookalike),
        ),
    )


def _add_decision(graph: Graph, decision: Decision) -> None:
    subject = URIRef(decision.iri)
    graph.add((subject, RDF.type, TB.Decision))
    graph.add((subject, RDF.type, PROV.Activity))
    graph.add((subject, TB.aboutTaxon, TB[f"plant.{decision.plant}"]))
    graph.add((subject, DWCIRI.measurementType, TB[f"trait.{decision.trait}"]))
    graph.add((subject, TB.decidedBy, Literal(decision.decided_by)))
    add_date(graph, subject, TB.decidedOn, decision.decided_on)
    graph.add((subject, RDFS_COMMENT, Literal(decision.why)))
    for number, (record, role) in enumerate(decision.weighed, start=1):
        usage = TB[f"usage.{decision.id}.{number}"]
        graph.add((subject, PROV.qualifiedUsage, usage))
        graph.add((usage, RDF.type, PROV.Usage))
        graph.add((usage, PROV.entity, TB[f"record.{record}"]))
        graph.add((usage, PROV.hadRole, TB[f"role.{role}"]))


def _add_name(graph: Graph, node: URIRef, name: str, authority: str | None) -> None:
    graph.add((node, RDF.type, TCS.TaxonName))
    graph.add((node, TCS.nameString, Literal(name)))
    if authority:
        graph.add((node, DWC.scientificNameAuthorship, Literal(authority)))


def synonym_slug(name: Name) -> str:
    """The end of a synonym's IRI: its words in lower case, joined by hyphens, nothing else."""
    text = name.name.lower().replace("×", "x")
    return "-".join("".join(c if c.isascii() and c.isalnum() else " " for c in text).split())


def _rank(rank: str) -> URIRef:
    return RANK[rank] if rank in SPECIES_RANKS else TB[f"rank.{rank}"]


def plant_graph(plant: Plant) -> Graph:
    """All triples of one plant: identity, names, records, cautions, decisions. No blank node."""
    graph = empty_graph()
    subject = URIRef(plant.iri)
    name = TB[f"name.{plant.id}"]
    graph.add((subject, RDF.type, TCS.TaxonConcept))
    graph.add((subject, TCS.taxonName, name))
    graph.add((subject, TCS.accordingTo, TB[f"source.{plant.according_to}"]))
    graph.add((subject, TCS.taxonRank, _rank(plant.rank)))
    if plant.parent is not None:
        graph.add((subject, TB.parentPlant, TB[f"plant.{plant.parent}"]))
    for group in plant.groups:
        graph.add((subject, TB.plantingGroup, TB[f"planting-group.{group}"]))
    for rank, common in enumerate(plant.common_names):
        called = TB.mainCommonName if rank == 0 else DWC.vernacularName
        graph.add((subject, called, Literal(common.name, lang=common.lang)))
    _add_name(graph, name, plant.scientific_name, plant.authority)
    for synonym in plant.synonyms:
        node = TB[f"name.{plant.id}.synonym-{synonym_slug(synonym)}"]
        graph.add((subject, TB.synonym, node))
        _add_name(graph, node, synonym.name, synonym.authority)
        if synonym.according_to:
            graph.add((node, DCTERMS.source, TB[f"source.{synonym.according_to}"]))
    _add_parts(graph, plant)
    return graph


def _add_parts(graph: Graph, plant: Plant) -> None:
    """What is said, decided and seen of a plant."""
    vocabulary = _traits()
    for record in plant.records:
        unit, window = vocabulary.get(record.trait, (None, False))
        _add_record(graph, record, window=window, unit=unit)
    for caution in plant.cautions:
        _add_caution(graph, caution)
    for decision in plant.decisions:
        _add_decision(graph, decision)
    for seen in plant.observations:
        unit, window = vocabulary.get(seen.trait, (None, False))
        add_observation(graph, seen, window=window, unit=unit)
    for withdrawal in plant.withdrawals:
        add_withdrawal(graph, withdrawal)
    for review in plant.reviews:
        add_review(graph, review)
    for search in plant.searches:
        add_search(graph, search)


def _traits() -> dict[str, tuple[str | None, bool]]:
    """For each trait id its unit's local name and whether it is a window."""
    return {
        trait.id: (trait.unit.removeprefix(str(UNIT)) if trait.unit else None, trait.kind == "window")
        for trait in load_vocabulary().traits.values()
    }


def plant_to_turtle(plant: Plant) -> str:
    """The plant's file as canonical long Turtle; the same plant always gives the same text."""
    return plant_graph(plant).serialize(format="longturtle")


def plant_from_turtle(text: str, file: str) -> Plant:
    """The plant in one file's text. Raises BadFile (with line or subject) at the first fault."""
    parsed = parse_plant(text, file)
    if parsed.faults:
        raise parsed.faults[0]
    if parsed.plant is None:  # a file without faults always holds a plant
        raise AssertionError(file)
    return parsed.plant


def source_graph(source: Source) -> Graph:
    """All triples of one source."""
    graph = empty_graph()
    subject = URIRef(iri("source", source.key))
    graph.add((subject, RDF.type, TB.Source))
    graph.add((subject, RDF.type, PROV.Entity))
    if source.licence_iri:
        graph.add((subject, DCTERMS.license, URIRef(source.licence_iri)))
    add_texts(
        graph,
        subject,
        (
            (DCTERMS.bibliographicCitation, source.citation),
            (DCTERMS.identifier, source.identifier),
            (DCTERMS.issued, source.year),
            (TB.licenceText, source.licence),
            (TB.tier, source.tier),
            (TB.howRead, source.how_read),
            (TB.creditLine, source.credit),
        ),
    )
    return graph


def source_to_turtle(source: Source) -> str:
    """The source's file as canonical long Turtle."""
    return source_graph(source).serialize(format="longturtle")


def source_from_turtle(text: str, file: str) -> Source:
    """The source in one file's text. Raises BadFile at the first fault."""
    return parse_source(text, file)
