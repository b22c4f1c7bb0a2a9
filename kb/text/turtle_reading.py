"""Reading one Turtle file into a plant or a source, with faults named by file and line.

A syntax fault spoils the whole file (nothing after it can be trusted); a fault in one record or
caution leaves that one out and keeps the rest.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import TypedDict, TypeVar

from pyoxigraph import Literal as OxLiteral

from kb.errors import BadFile
from kb.model import (
    Basis,
    Caution,
    CautionKind,
    CommonName,
    Decision,
    DecisionRole,
    Name,
    NumberKind,
    Plant,
    PlantId,
    Record,
    Source,
    SourceKey,
    Standing,
    TraitId,
)
from kb.namespaces import BASE, PREFIXES
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.statements.search_model import Search
from kb.text.curation_reading import read_observation, read_review, read_withdrawal
from kb.text.search_turtle import read_search
from kb.text.subject_reading import SubjectReader, Subjects, read_subjects

Part = TypeVar("Part", Record, Caution, Decision, Observation, Withdrawal, Review, Search)


__all__ = ["SubjectReader", "Subjects", "parse_plant", "parse_source", "read_subjects"]


@dataclass(frozen=True, slots=True)
class ParsedPlant:
    """What one plant file gave: the plant without its faulty parts, and the faults."""

    plant: Plant | None
    faults: tuple[BadFile, ...]


class Quoted(TypedDict):
    """What every statement tells of its source, and of who entered it when."""

    verbatim: str
    name_as_printed: str
    source: SourceKey
    locator: str
    basis: Basis
    standing: Standing
    entered_by: str
    entered_on: date


def quoted(reader: SubjectReader) -> Quoted:
    return Quoted(
        verbatim=reader.one("dwc:measurementValue"),
        name_as_printed=reader.one("tb:nameAsPrinted"),
        source=SourceKey(reader.local("prov:wasQuotedFrom", "source")),
        locator=reader.one("tb:locator"),
        basis=reader.choice("tb:basis", "basis", Basis),
        standing=reader.choice("tb:standing", "standing", Standing),
        entered_by=reader.one("tb:enteredBy"),
        entered_on=reader.day("tb:enteredOn"),
    )


def revised(reader: SubjectReader) -> str | None:
    """The record that this one revises."""
    revises = reader.maybe("prov:wasRevisionOf")
    return revises.removeprefix(f"{BASE}record.") if revises else None


def _record(reader: SubjectReader, record_id: str) -> Record:
    conditions = []
    for text in reader.values("tb:condition"):
        key, equals, value = text.partition("=")
        if not equals or not key:
            raise reader.fail(f"tb:condition '{text}' must read key=value")
        conditions.append((key, value))
    trait = reader.local("dwciri:measurementType", "trait")
    return Record(
        id=record_id,
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        trait=TraitId(trait),
        low=reader.either("tb:minValue", "tb:startWeek"),
        likely=reader.either("tb:likelyValue", "tb:likelyWeek"),
        high=reader.either("tb:maxValue", "tb:endWeek"),
        concepts=reader.concepts(trait),
        number_kind=reader.choice("tb:numberKind", "number-kind", NumberKind),
        conditions=tuple(sorted(conditions)),
        **quoted(reader),
        note=reader.maybe("tb:note"),
        revises=revised(reader),
    )


def _caution(reader: SubjectReader, caution_id: str) -> Caution:
    return Caution(
        id=caution_id,
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        kind=reader.choice("tb:cautionKind", "caution-kind", CautionKind),
        text=reader.one("rdfs:comment"),
        part=reader.maybe("tb:part"),
        agent=reader.maybe("tb:agent"),
        group=reader.maybe("tb:affectedGroup"),
        place=reader.maybe("tb:place"),
        as_of=reader.maybe("tb:asOf"),
        lookalike=reader.maybe("tb:lookalike"),
        **quoted(reader),
    )


def _decision(reader: SubjectReader, decision_id: str, subjects: Subjects) -> Decision:
    weighed: list[tuple[str, DecisionRole]] = []
    usages = sorted(reader.values("prov:qualifiedUsage"), key=lambda usage: int(usage.rpartition(".")[2]))
    for usage in usages:
        use = SubjectReader(usage, subjects.get(usage, {}), reader.file)
        weighed.append((use.local("prov:entity", "record"), use.choice("prov:hadRole", "role", DecisionRole)))
    return Decision(
        id=decision_id,
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        trait=TraitId(reader.local("dwciri:measurementType", "trait")),
        decided_by=reader.one("tb:decidedBy"),
        decided_on=reader.day("tb:decidedOn"),
        why=reader.one("rdfs:comment"),
        weighed=tuple(weighed),
    )


def _parts(
    subjects: Subjects,
    kind: str,
    file: str,
    read: Callable[[SubjectReader, str], Part],
    faults: list[BadFile],
) -> tuple[Part, ...]:
    """All subjects of one kind that read well, sorted by IRI; the others become faults."""
    head = f"{BASE}{kind}."
    found: list[Part] = []
    for subject in sorted(subjects):
        if subject.startswith(head):
            try:
                found.append(
                    read(SubjectReader(subject, subjects[subject], file), subject.removeprefix(head))
                )
            except BadFile as fault:
                faults.append(fault)
    return tuple(found)


def _common_names(reader: SubjectReader) -> tuple[CommonName, ...]:
    names = []
    for predicate in ("tb:mainCommonName", "dwc:vernacularName"):
        found = []
        for node in reader.nodes(predicate):
            if not isinstance(node, OxLiteral) or not node.language:
                raise reader.fail(f'{predicate} {node.value} must carry its language, like "apple"@en')
            found.append(CommonName(node.value, _canonical_tag(node.language)))
        names += sorted(found, key=lambda name: (name.lang, name.name))
    return tuple(names)


def _canonical_tag(tag: str) -> str:
    """A BCP 47 tag with the region in capitals: stores lower-case it (en-gb -> en-GB)."""
    language, _, region = tag.partition("-")
    return f"{language.lower()}-{region.upper()}" if region else language.lower()


def _synonyms(reader: SubjectReader, subjects: Subjects) -> tuple[Name, ...]:
    names = []
    for node in reader.values("tb:synonym"):
        name = SubjectReader(node, subjects.get(node, {}), reader.file)
        according_to = name.maybe("dcterms:source")
        names.append(
            Name(
                name.one("tcs:nameString"),
                name.maybe("dwc:scientificNameAuthorship"),
                according_to.removeprefix(f"{BASE}source.") if according_to else None,
            )
        )
    return tuple(sorted(names, key=lambda name: name.name))


def _group(value: str) -> str:
    return value.removeprefix(f"{BASE}planting-group.")


def parse_plant(text: str, file: str) -> ParsedPlant:
    """One plant file: the plant with all its sound parts, and a fault for each part left out."""
    try:
        subjects = read_subjects(text, file)
        return _parse_one(_only(subjects, "plant", file), subjects, file)
    except BadFile as fault:
        return ParsedPlant(None, (fault,))


def _only(subjects: Subjects, kind: str, file: str) -> str:
    """The one subject of that kind in a file. Raises BadFile where there is none or more."""
    found = [subject for subject in subjects if subject.startswith(f"{BASE}{kind}.")]
    if len(found) != 1:
        raise BadFile(file, None, f"describes {len(found)} {kind}s; one file holds exactly one")
    return found[0]


def _parse_one(subject: str, subjects: Subjects, file: str) -> ParsedPlant:
    faults: list[BadFile] = []
    reader = SubjectReader(subject, subjects[subject], file)
    plant_id = PlantId(subject.removeprefix(f"{BASE}plant."))
    name_node = reader.one("tcs:taxonName")
    name = SubjectReader(name_node, subjects.get(name_node, {}), file)
    parent = reader.maybe("tb:parentPlant")
    rank = reader.one("tcs:taxonRank")
    records = _parts(subjects, "record", file, _record, faults)
    cautions = _parts(subjects, "caution", file, _caution, faults)
    decisions = _parts(
        subjects, "decision", file, lambda part, ident: _decision(part, ident, subjects), faults
    )
    observations = _parts(subjects, "observation", file, read_observation, faults)
    withdrawals = _parts(subjects, "withdrawal", file, read_withdrawal, faults)
    reviews = _parts(subjects, "review", file, read_review, faults)
    searches = _parts(subjects, "search", file, read_search, faults)
    things: tuple[Record | Caution | Decision | Observation | Withdrawal | Review | Search, ...] = (
        *records,
        *cautions,
        *decisions,
        *observations,
        *withdrawals,
        *reviews,
        *searches,
    )
    faults += [
        BadFile(file, None, f"{thing.id} is about {thing.plant}, not {plant_id}; move it to that file")
        for thing in things
        if thing.plant != plant_id
    ]
    plant = Plant(
        id=plant_id,
        scientific_name=name.one("tcs:nameString"),
        authority=name.maybe("dwc:scientificNameAuthorship"),
        rank=rank.removeprefix(PREFIXES["rank"]).removeprefix(f"{BASE}rank."),
        according_to=SourceKey(reader.local("tcs:accordingTo", "source")),
        parent=PlantId(parent.removeprefix(f"{BASE}plant.")) if parent else None,
        groups=tuple(sorted(map(_group, reader.values("tb:plantingGroup")))),
        synonyms=_synonyms(reader, subjects),
        common_names=_common_names(reader),
        records=tuple(record for record in records if record.plant == plant_id),
        cautions=tuple(caution for caution in cautions if caution.plant == plant_id),
        decisions=tuple(decision for decision in decisions if decision.plant == plant_id),
        observations=tuple(seen for seen in observations if seen.plant == plant_id),
        withdrawals=tuple(act for act in withdrawals if act.plant == plant_id),
        reviews=tuple(act for act in reviews if act.plant == plant_id),
        searches=tuple(one for one in searches if one.plant == plant_id),
    )
    return ParsedPlant(plant, tuple(faults))


def parse_source(text: str, file: str) -> Source:
    """One source file. Raises BadFile at the first fault."""
    subjects = read_subjects(text, file)
    subject = _only(subjects, "source", file)
    reader = SubjectReader(subject, subjects[subject], file)
    tier = reader.one("tb:tier")
    if tier not in {"A", "B"}:
        raise reader.fail(f"tb:tier '{tier}' is not A or B")
    return Source(
        key=SourceKey(subject.removeprefix(f"{BASE}source.")),
        citation=reader.one("dcterms:bibliographicCitation"),
        identifier=reader.maybe("dcterms:identifier"),
        year=reader.maybe("dcterms:issued"),
        licence=reader.one("tb:licenceText"),
        licence_iri=reader.maybe("dcterms:license"),
        tier="A" if tier == "A" else "B",
        how_read=reader.one("tb:howRead"),
        credit=reader.one("tb:creditLine"),
    )
