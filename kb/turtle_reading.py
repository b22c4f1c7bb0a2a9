"""Reading one Turtle file into a plant or a source, with faults named by file and line.

A syntax fault spoils the whole file (nothing after it can be trusted); a fault in one record or
caution leaves that one out and keeps the rest.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from functools import cache
from typing import Any, TypeVar, get_args

from pyoxigraph import Literal as OxLiteral
from pyoxigraph import NamedNode, RdfFormat, parse

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

Node = NamedNode | OxLiteral
Part = TypeVar("Part", Record, Caution, Decision)
Subjects = dict[str, dict[str, list[Node]]]
TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"


@dataclass(frozen=True, slots=True)
class ParsedPlant:
    """What one plant file gave: the plant without its faulty parts, and the faults."""

    plant: Plant | None
    faults: tuple[BadFile, ...]


@cache
def _expand(name: str) -> str:
    prefix, _, rest = name.partition(":")
    return PREFIXES[prefix] + rest


def read_subjects(text: str, file: str) -> Subjects:
    """All triples of a Turtle text by subject and predicate. Raises BadFile with the line."""
    subjects: Subjects = {}
    try:
        for quad in parse(text.encode(), format=RdfFormat.TURTLE):
            if not isinstance(quad.subject, NamedNode) or not isinstance(quad.object, NamedNode | OxLiteral):
                raise BadFile(file, None, "holds a node without a name; give every node an IRI of its own")
            values = subjects.setdefault(quad.subject.value, {}).setdefault(quad.predicate.value, [])
            values.append(quad.object)
    except SyntaxError as fault:
        raise BadFile(file, fault.lineno, f"is not Turtle: {fault.msg}. Mend that line.") from None
    return subjects


class SubjectReader:
    """The properties of one subject, asked for by prefixed name."""

    def __init__(self, subject: str, properties: Mapping[str, list[Node]], file: str) -> None:
        self.subject = subject
        self.properties = properties
        self.file = file

    def fail(self, detail: str) -> BadFile:
        return BadFile(self.file, None, f"{self.subject.removeprefix(BASE)}: {detail}")

    def values(self, name: str) -> list[str]:
        return [node.value for node in self.properties.get(_expand(name), ())]

    def nodes(self, name: str) -> list[Node]:
        return list(self.properties.get(_expand(name), ()))

    def maybe(self, name: str) -> str | None:
        values = self.values(name)
        if len(values) > 1:
            raise self.fail(f"has {len(values)} values of {name}; keep one")
        return values[0] if values else None

    def one(self, name: str) -> str:
        value = self.maybe(name)
        if value is None:
            raise self.fail(f"has no {name}; add it")
        return value

    def local(self, name: str, kind: str) -> str:
        value = self.one(name)
        head = f"{BASE}{kind}."
        if not value.startswith(head):
            raise self.fail(f"{name} must be a tb:{kind}.… but is {value}")
        return value.removeprefix(head)

    def choice(self, name: str, kind: str, allowed: Any) -> Any:
        value = self.local(name, kind)
        if value not in get_args(allowed):
            raise self.fail(f"{name} '{value}' is not one of {', '.join(get_args(allowed))}")
        return value

    def choices(self, name: str, kind: str, allowed: Any) -> list[Any]:
        """All values of a property, each one of a closed list."""
        found = [value.removeprefix(f"{BASE}{kind}.") for value in self.values(name)]
        for value in found:
            if value not in get_args(allowed):
                raise self.fail(f"{name} '{value}' is not one of {', '.join(get_args(allowed))}")
        return found

    def maybe_choice(self, name: str, kind: str, allowed: Any) -> Any:
        return None if self.maybe(name) is None else self.choice(name, kind, allowed)

    def decimal(self, name: str) -> Decimal | None:
        value = self.maybe(name)
        if value is None:
            return None
        try:
            number = Decimal(value)
        except InvalidOperation:
            raise self.fail(f"{name} '{value}' is not a decimal number") from None
        if not number.is_finite():
            raise self.fail(f"{name} '{value}' is not a finite number")
        return number

    def day(self, name: str) -> date:
        value = self.one(name)
        try:
            return date.fromisoformat(value)
        except ValueError:
            raise self.fail(f"{name} '{value}' is not a date like 2026-11-25") from None


def _record(reader: SubjectReader, record_id: str) -> Record:
    conditions = []
    for text in reader.values("tb:condition"):
        key, equals, value = text.partition("=")
        if not equals or not key:
            raise reader.fail(f"tb:condition '{text}' must read key=value")
        conditions.append((key, value))
    trait = reader.local("dwciri:measurementType", "trait")
    concepts = []
    for value in reader.values("dwciri:measurementValue"):
        head = f"{BASE}{trait}."
        if not value.startswith(head):
            raise reader.fail(f"value {value} is no concept of the trait {trait}")
        concepts.append(value.removeprefix(head))
    revises = reader.maybe("prov:wasRevisionOf")
    return Record(
        id=record_id,
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        trait=TraitId(trait),
        low=_either(reader, "tb:minValue", "tb:startWeek"),
        likely=_either(reader, "tb:likelyValue", "tb:likelyWeek"),
        high=_either(reader, "tb:maxValue", "tb:endWeek"),
        concepts=tuple(sorted(concepts)),
        number_kind=reader.choice("tb:numberKind", "number-kind", NumberKind),
        conditions=tuple(sorted(conditions)),
        verbatim=reader.one("dwc:measurementValue"),
        name_as_printed=reader.one("tb:nameAsPrinted"),
        source=SourceKey(reader.local("prov:wasQuotedFrom", "source")),
        locator=reader.one("tb:locator"),
        basis=reader.choice("tb:basis", "basis", Basis),
        standing=reader.choice("tb:standing", "standing", Standing),
        entered_by=reader.one("tb:enteredBy"),
        entered_on=reader.day("tb:enteredOn"),
        note=reader.maybe("tb:note"),
        revises=revises.removeprefix(f"{BASE}record.") if revises else None,
    )


def _either(reader: SubjectReader, number: str, week: str) -> Decimal | None:
    value = reader.decimal(number)
    return value if value is not None else reader.decimal(week)


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
        verbatim=reader.one("dwc:measurementValue"),
        name_as_printed=reader.one("tb:nameAsPrinted"),
        source=SourceKey(reader.local("prov:wasQuotedFrom", "source")),
        locator=reader.one("tb:locator"),
        basis=reader.choice("tb:basis", "basis", Basis),
        standing=reader.choice("tb:standing", "standing", Standing),
        entered_by=reader.one("tb:enteredBy"),
        entered_on=reader.day("tb:enteredOn"),
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
    things: tuple[Record | Caution | Decision, ...] = (*records, *cautions, *decisions)
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
