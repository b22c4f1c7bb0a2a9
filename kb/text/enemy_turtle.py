"""Enemies and emissions as Turtle text: written canonically, read back strictly.

One file holds one enemy with all its host statements, or one emission with its lists. There are no
blank nodes; writing and reading follow `kb.turtle` and `kb.text.turtle_reading`.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from rdflib import RDF, Graph, Literal, URIRef

from kb.errors import BadFile
from kb.model import PlantId
from kb.namespaces import BASE, PREFIXES, TB
from kb.statements.enemy_model import (
    ActsThrough,
    AttackedPart,
    DistanceMeaning,
    Emission,
    EmissionId,
    EmissionStatement,
    Enemy,
    EnemyId,
    EnemyKind,
    Grade,
    HostRole,
    HostStatement,
    ListedAs,
    Route,
    Scope,
    Severity,
    YearsMeaning,
)
from kb.text.turtle_parts import PROV, add_provenance, add_texts, decimal_literal, empty_graph
from kb.text.turtle_reading import SubjectReader, Subjects, quoted, read_subjects, revised

LABEL = URIRef(PREFIXES["rdfs"] + "label")
COMMENT = URIRef(PREFIXES["rdfs"] + "comment")
Statement = TypeVar("Statement", HostStatement, EmissionStatement)
Span = tuple[Decimal | None, Decimal | None]


@dataclass(frozen=True, slots=True)
class ParsedEnemies:
    """What one file gave: an enemy or an emission without its faulty parts, and the faults."""

    enemy: Enemy | None
    emission: Emission | None
    faults: tuple[BadFile, ...]


def _terms(graph: Graph, subject: URIRef, terms: Iterable[tuple[URIRef, str, str | None]]) -> None:
    for predicate, scheme, value in terms:
        if value is not None:
            graph.add((subject, predicate, TB[f"{scheme}.{value}"]))


def _span(graph: Graph, subject: URIRef, predicates: tuple[URIRef, URIRef], span: Span | None) -> None:
    for predicate, value in zip(predicates, span or (None, None), strict=True):
        if value is not None:
            graph.add((subject, predicate, decimal_literal(value)))


def _common(graph: Graph, said: HostStatement | EmissionStatement) -> URIRef:
    """What both kinds of statement have: plant, printed words, source, basis, standing, entry."""
    subject = URIRef(said.iri)
    add_provenance(graph, subject, said)
    _terms(
        graph,
        subject,
        (
            (TB.statementScope, "statement-scope", said.scope),
            (PROV.wasRevisionOf, "record", said.revises),
        ),
    )
    add_texts(graph, subject, ((COMMENT, said.note),))
    return subject


def _host(graph: Graph, said: HostStatement) -> None:
    subject = _common(graph, said)
    graph.add((subject, RDF.type, TB.HostStatement))
    _terms(
        graph,
        subject,
        (
            (TB.aboutEnemy, "enemy", said.enemy),
            (TB.hostRole, "host-role", said.role),
            (TB.severity, "severity", said.severity),
            (TB.travelsBy, "route", said.route),
            (TB.distanceMeaning, "distance-meaning", said.distance_meaning),
            (TB.yearsMeaning, "years-meaning", said.years_meaning),
        ),
    )
    _span(graph, subject, (TB.minDistance, TB.maxDistance), said.distance_m)
    _span(graph, subject, (TB.minYears, TB.maxYears), said.years)
    add_texts(
        graph,
        subject,
        (
            (TB.yearsAsPrinted, said.years_as_printed),
            (TB.region, said.region),
            (TB.enemyAsPrinted, said.enemy_as_printed),
        ),
    )


def enemy_graph(enemy: Enemy) -> Graph:
    """All triples of one enemy and its statements. No blank node."""
    graph = empty_graph()
    subject = URIRef(enemy.iri)
    graph.add((subject, RDF.type, TB.Enemy))
    add_texts(graph, subject, ((LABEL, enemy.name), (TB.organism, enemy.organism)))
    _terms(graph, subject, ((TB.enemyKind, "enemy-kind", enemy.kind),))
    _terms(graph, subject, ((TB.attacks, "attacked-part", part) for part in enemy.attacks))
    for said in enemy.statements:
        _host(graph, said)
    return graph


def enemy_to_turtle(enemy: Enemy) -> str:
    """The enemy's file as canonical long Turtle; the same enemy always gives the same text."""
    return enemy_graph(enemy).serialize(format="longturtle")


def emission_graph(emission: Emission) -> Graph:
    """All triples of one emission and its statements. No blank node."""
    graph = empty_graph()
    subject = URIRef(emission.iri)
    graph.add((subject, RDF.type, TB.Emission))
    add_texts(graph, subject, ((LABEL, emission.name),))
    _terms(graph, subject, ((TB.emitter, "plant", emission.emitter),))
    graph.add((subject, TB.strength, Literal(emission.strength)))
    _terms(graph, subject, ((TB.actsThrough, "acts-through", emission.acts_through),))
    _span(graph, subject, (TB.minReach, TB.maxReach), emission.reach_m)
    for said in emission.statements:
        node = _common(graph, said)
        graph.add((node, RDF.type, TB.EmissionStatement))
        _terms(
            graph,
            node,
            (
                (TB.aboutEmission, "emission", said.emission),
                (TB.listedAs, "listed-as", said.listed_as),
                (TB.evidenceGrade, "evidence-grade", said.grade),
            ),
        )
    return graph


def emission_to_turtle(emission: Emission) -> str:
    """The emission's file as canonical long Turtle."""
    return emission_graph(emission).serialize(format="longturtle")


def _read_span(reader: SubjectReader, low: str, high: str) -> Span | None:
    span = (reader.decimal(low), reader.decimal(high))
    if span[0] is not None and span[1] is not None and span[0] > span[1]:
        raise reader.fail(f"{low} {span[0]} is above {high} {span[1]}")
    return None if span == (None, None) else span


def _read_host(reader: SubjectReader, record_id: str) -> HostStatement:
    distance = _read_span(reader, "tb:minDistance", "tb:maxDistance")
    years = _read_span(reader, "tb:minYears", "tb:maxYears")
    meaning = reader.maybe_choice("tb:distanceMeaning", "distance-meaning", DistanceMeaning)
    if (distance is None) != (meaning is None):
        raise reader.fail("a distance and tb:distanceMeaning stand together; add the one that lacks")
    return HostStatement(
        id=record_id,
        enemy=EnemyId(reader.local("tb:aboutEnemy", "enemy")),
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        role=reader.choice("tb:hostRole", "host-role", HostRole),
        severity=reader.maybe_choice("tb:severity", "severity", Severity),
        route=reader.maybe_choice("tb:travelsBy", "route", Route),
        distance_m=distance,
        distance_meaning=meaning,
        years=years,
        years_meaning=reader.maybe_choice("tb:yearsMeaning", "years-meaning", YearsMeaning),
        years_as_printed=reader.maybe("tb:yearsAsPrinted"),
        region=reader.maybe("tb:region"),
        scope=reader.choice("tb:statementScope", "statement-scope", Scope),
        enemy_as_printed=reader.one("tb:enemyAsPrinted"),
        **quoted(reader),
        note=reader.maybe("rdfs:comment"),
        revises=revised(reader),
    )


def _read_emission(reader: SubjectReader, record_id: str) -> EmissionStatement:
    return EmissionStatement(
        id=record_id,
        emission=EmissionId(reader.local("tb:aboutEmission", "emission")),
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        listed_as=reader.choice("tb:listedAs", "listed-as", ListedAs),
        grade=reader.choice("tb:evidenceGrade", "evidence-grade", Grade),
        scope=reader.choice("tb:statementScope", "statement-scope", Scope),
        **quoted(reader),
        note=reader.maybe("rdfs:comment"),
        revises=revised(reader),
    )


def _sound(
    read: Callable[[SubjectReader, str], Statement], readers: Iterable[SubjectReader], faults: list[BadFile]
) -> tuple[Statement, ...]:
    """The statements that read well, in the order of their ids; the others become faults."""
    found = []
    for reader in readers:
        try:
            found.append(read(reader, reader.subject.removeprefix(f"{BASE}record.")))
        except BadFile as fault:
            faults.append(fault)
    return tuple(found)


def parse_enemies(text: str, file: str) -> ParsedEnemies:
    """One file: the enemy or emission with its sound statements, and a fault for each left out."""
    try:
        subjects = read_subjects(text, file)
        return _parse_one(_only_head(subjects, file), subjects, file)
    except BadFile as fault:
        return ParsedEnemies(None, None, (fault,))


def _only_head(subjects: Subjects, file: str) -> SubjectReader:
    heads = [s for s in subjects if s.startswith((f"{BASE}enemy.", f"{BASE}emission."))]
    if len(heads) != 1:
        raise BadFile(file, None, f"describes {len(heads)} enemies or emissions; one file holds exactly one")
    return SubjectReader(heads[0], subjects[heads[0]], file)


def _parse_one(head: SubjectReader, subjects: Subjects, file: str) -> ParsedEnemies:
    said = [SubjectReader(s, subjects[s], file) for s in sorted(subjects) if s.startswith(f"{BASE}record.")]
    faults: list[BadFile] = []
    if head.subject.startswith(f"{BASE}enemy."):
        return ParsedEnemies(_read_enemy(head, said, faults), None, tuple(faults))
    return ParsedEnemies(None, _read_whole_emission(head, said, faults), tuple(faults))


def _read_enemy(head: SubjectReader, said: list[SubjectReader], faults: list[BadFile]) -> Enemy:
    enemy_id = EnemyId(head.subject.removeprefix(f"{BASE}enemy."))
    statements = _sound(_read_host, said, faults)
    faults += [
        BadFile(head.file, None, f"{one.id} is about {one.enemy}, not {enemy_id}; move it to that file")
        for one in statements
        if one.enemy != enemy_id
    ]
    return Enemy(
        id=enemy_id,
        name=head.one("rdfs:label"),
        organism=head.maybe("tb:organism"),
        kind=head.choice("tb:enemyKind", "enemy-kind", EnemyKind),
        attacks=tuple(sorted(head.choices("tb:attacks", "attacked-part", AttackedPart))),
        statements=tuple(one for one in statements if one.enemy == enemy_id),
    )


def _read_whole_emission(head: SubjectReader, said: list[SubjectReader], faults: list[BadFile]) -> Emission:
    emission_id = EmissionId(head.subject.removeprefix(f"{BASE}emission."))
    statements = _sound(_read_emission, said, faults)
    faults += [
        BadFile(head.file, None, f"{one.id} is about {one.emission}, not {emission_id}; move it there")
        for one in statements
        if one.emission != emission_id
    ]
    strength = head.one("tb:strength")
    if strength not in {"0", "1", "2", "3"}:
        raise head.fail(f"tb:strength '{strength}' is not 0, 1, 2 or 3")
    return Emission(
        id=emission_id,
        name=head.one("rdfs:label"),
        emitter=PlantId(head.local("tb:emitter", "plant")),
        strength=int(strength),
        statements=tuple(one for one in statements if one.emission == emission_id),
        acts_through=head.maybe_choice("tb:actsThrough", "acts-through", ActsThrough) or "living",
        reach_m=_read_span(head, "tb:minReach", "tb:maxReach"),
    )


def enemy_from_turtle(text: str, file: str) -> Enemy:
    """The enemy in one file's text. Raises BadFile at the first fault."""
    parsed = parse_enemies(text, file)
    if parsed.faults:
        raise parsed.faults[0]
    if parsed.enemy is None:
        raise BadFile(file, None, "holds an emission, not an enemy")
    return parsed.enemy


def emission_from_turtle(text: str, file: str) -> Emission:
    """The emission in one file's text. Raises BadFile at the first fault."""
    parsed = parse_enemies(text, file)
    if parsed.faults:
        raise parsed.faults[0]
    if parsed.emission is None:
        raise BadFile(file, None, "holds an enemy, not an emission")
    return parsed.emission
