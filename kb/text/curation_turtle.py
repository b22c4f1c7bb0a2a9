"""Observations, withdrawals and reviews as triples of a plant's file."""

from datetime import date

from rdflib import RDF, Graph, Literal, URIRef

from kb.namespaces import DWC, DWCIRI, PREFIXES, TB
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.text.turtle_parts import PROV, add_date, add_texts, add_value, decimal_literal

COMMENT = URIRef(PREFIXES["rdfs"] + "comment")


def add_observation(graph: Graph, seen: Observation, *, window: bool, unit: str | None) -> None:
    subject = URIRef(seen.iri)
    graph.add((subject, RDF.type, TB.Observation))
    graph.add((subject, RDF.type, PROV.Activity))
    graph.add((subject, TB.aboutTaxon, TB[f"plant.{seen.plant}"]))
    graph.add((subject, DWCIRI.measurementType, TB[f"trait.{seen.trait}"]))
    add_value(graph, subject, seen, window=window, unit=unit)
    graph.add((subject, TB.quality, TB[f"quality.{seen.quality}"]))
    add_date(graph, subject, TB.observedOn, seen.observed_on)
    add_date(graph, subject, TB.enteredOn, seen.entered_on)
    if seen.age_years is not None:
        graph.add((subject, TB.ageYears, decimal_literal(seen.age_years)))
    add_texts(
        graph,
        subject,
        (
            (DWC.measurementValue, seen.verbatim),
            (TB.observedBy, seen.observer),
            (TB.observedAt, seen.place),
            (TB.stock, seen.stock),
            (TB.procedure, seen.procedure),
            (TB.note, seen.quality_note),
        ),
    )


def add_withdrawal(graph: Graph, withdrawal: Withdrawal) -> None:
    subject = URIRef(withdrawal.iri)
    graph.add((subject, RDF.type, TB.Withdrawal))
    graph.add((subject, TB.withdraws, TB[withdrawal.withdraws]))
    _add_act(graph, subject, withdrawal.plant, withdrawal.decided_by, withdrawal.decided_on, withdrawal.why)


def add_review(graph: Graph, review: Review) -> None:
    subject = URIRef(review.iri)
    graph.add((subject, RDF.type, TB.Review))
    graph.add((subject, TB.reviews, TB[f"caution.{review.caution}"]))
    graph.add((subject, TB.verdict, TB[f"review-verdict.{review.verdict}"]))
    _add_act(graph, subject, review.plant, review.decided_by, review.decided_on, review.why)


def _add_act(graph: Graph, subject: URIRef, plant: str, who: str, when: date, why: str) -> None:
    graph.add((subject, RDF.type, PROV.Activity))
    graph.add((subject, TB.aboutTaxon, TB[f"plant.{plant}"]))
    graph.add((subject, TB.decidedBy, Literal(who)))
    add_date(graph, subject, TB.decidedOn, when)
    graph.add((subject, COMMENT, Literal(why)))
