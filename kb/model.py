"""What the knowledge base holds: plants, records, cautions, decisions, sources.

All classes are frozen. Lengths are metres, temperatures degrees Celsius, nitrogen g/m2,
weeks ISO week numbers (fractions allowed) that may wrap round the year.
"""

from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import Literal

from kb.ids import PlantId as PlantId  # noqa: PLC0414 - handed on
from kb.ids import SourceKey as SourceKey  # noqa: PLC0414 - handed on
from kb.ids import TraitId as TraitId  # noqa: PLC0414 - handed on
from kb.namespaces import iri
from kb.statements.curation_model import OWN_FROM, Observation, Review, Withdrawal, is_retired, number_of
from kb.statements.search_model import Search

Basis = Literal[
    "read-in-source",
    "read-in-transcription",
    "read-in-excerpt",
    "second-hand",
    "common-practice",
    "recalled",
    "derived",
]
CITED: tuple[Basis, ...] = (
    "read-in-source",
    "read-in-transcription",
    "read-in-excerpt",
    "second-hand",
)
NumberKind = Literal[
    "single",
    "mean",
    "median",
    "range",
    "maximum",
    "minimum",
    "class",
    "floor",
    "ceiling",
    "expert",
    "membership",
    "model-limit",
]
Standing = Literal["proposed", "accepted", "outweighed", "superseded", "rejected"]
Confidence = Literal["high", "medium", "low", "contested"]
TraitKind = Literal["number", "concept", "window"]


@dataclass(frozen=True, slots=True)
class Trait:
    """One trait of the vocabulary (``kb/vocabulary/traits.ttl``).

    ``kind`` is ``number`` (low/likely/high in ``unit``), ``concept`` (values of ``scheme``) or
    ``window`` (start and end week; low is the start, high the end, and start > end wraps the year).
    ``allowed`` is the hard range outside which a record is refused; ``usual`` only warns.
    """

    id: TraitId
    label: str
    definition: str
    kind: TraitKind
    unit: str | None
    unit_label: str | None
    allowed: tuple[Decimal, Decimal] | None
    usual: tuple[Decimal, Decimal] | None
    scheme: str | None
    adoption: str
    matches: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Concept:
    """One value of a value scheme, e.g. ``growth-form`` / ``tree``."""

    scheme: str
    id: str
    label: str
    definition: str
    matches: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Source:
    """Where a record was read: one citable work or data set."""

    key: SourceKey
    citation: str
    identifier: str | None
    year: str | None
    licence: str
    licence_iri: str | None
    tier: Literal["A", "B"]
    how_read: str
    credit: str


@dataclass(frozen=True, slots=True)
class Record:
    """One statement by one source about one plant and one trait.

    ``conditions`` are ``(key, value)`` pairs: ``method``, ``study``, ``place``, ``age``, ``stock``,
    ``scope`` (``crop`` or ``group``), ``as`` ...
    """

    id: str
    plant: PlantId
    trait: TraitId
    low: Decimal | None
    likely: Decimal | None
    high: Decimal | None
    concepts: tuple[str, ...]
    number_kind: NumberKind
    conditions: tuple[tuple[str, str], ...]
    verbatim: str
    name_as_printed: str
    source: SourceKey
    locator: str
    basis: Basis
    standing: Standing
    entered_by: str
    entered_on: date
    note: str | None = None
    revises: str | None = None

    @property
    def iri(self) -> str:
        return iri("record", self.id)

    def condition(self, key: str) -> str | None:
        for name, value in self.conditions:
            if name == key:
                return value
        return None


CautionKind = Literal[
    "toxic",
    "food-use",
    "lookalike",
    "skin",
    "allergen",
    "thorn",
    "livestock",
    "invasive",
    "prohibited",
]


@dataclass(frozen=True, slots=True)
class Caution:
    """One sourced warning. Cautions are joined, never averaged; none on record is not safety."""

    id: str
    plant: PlantId
    kind: CautionKind
    text: str
    part: str | None
    agent: str | None
    group: str | None
    place: str | None
    as_of: str | None
    lookalike: str | None
    verbatim: str
    name_as_printed: str
    source: SourceKey
    locator: str
    basis: Basis
    standing: Standing
    entered_by: str
    entered_on: date

    @property
    def iri(self) -> str:
        return iri("caution", self.id)


DecisionRole = Literal["preferred", "outweighed", "rejected", "superseded", "accepted"]


@dataclass(frozen=True, slots=True)
class Decision:
    """A curator's choice between records: who, when, why, and the role each record played."""

    id: str
    plant: PlantId
    trait: TraitId
    decided_by: str
    decided_on: date
    why: str
    weighed: tuple[tuple[str, DecisionRole], ...]

    @property
    def iri(self) -> str:
        return iri("decision", self.id)

    @property
    def order(self) -> tuple[bool, date, int, str]:
        """Later decisions count over earlier ones, those of one's own over the base's."""
        number = number_of(self.id)
        return (number >= OWN_FROM, self.decided_on, number, self.id)


@dataclass(frozen=True, slots=True)
class Name:
    """A scientific name other than the accepted one, and who treats it so."""

    name: str
    authority: str | None
    according_to: str | None


@dataclass(frozen=True, slots=True)
class CommonName:
    """A common name with its BCP 47 language tag (``en``, ``en-GB`` ...)."""

    name: str
    lang: str


@dataclass(frozen=True, slots=True)
class Plant:
    """One taxon: a species, or below it a cultivar group, cultivar, or a tree on a stock."""

    id: PlantId
    scientific_name: str
    authority: str | None
    rank: str
    according_to: SourceKey
    parent: PlantId | None
    groups: tuple[str, ...]
    synonyms: tuple[Name, ...] = ()
    common_names: tuple[CommonName, ...] = ()
    records: tuple[Record, ...] = ()
    cautions: tuple[Caution, ...] = ()
    decisions: tuple[Decision, ...] = ()
    observations: tuple[Observation, ...] = ()
    withdrawals: tuple[Withdrawal, ...] = ()
    reviews: tuple[Review, ...] = ()
    searches: tuple[Search, ...] = ()

    @property
    def iri(self) -> str:
        return iri("plant", self.id)

    def bare(self) -> "Plant":
        """Identity and names alone, without anything that is said of it."""
        return replace(
            self,
            records=(),
            cautions=(),
            decisions=(),
            observations=(),
            withdrawals=(),
            reviews=(),
            searches=(),
        )

    def retired(self, caution: Caution) -> bool:
        """Whether two reviewers, neither of them its author, have retired a caution."""
        return is_retired(caution.id, caution.entered_by, self.reviews)

    @property
    def common_name(self) -> str | None:
        return self.common_names[0].name if self.common_names else None


def canonical(plant: Plant) -> Plant:
    """The plant with all its parts in the order in which a file holds them.

    The first common name is the main one and keeps its place.
    """
    records = (
        replace(
            record,
            concepts=tuple(sorted(set(record.concepts))),
            conditions=tuple(sorted(set(record.conditions))),
        )
        for record in plant.records
    )
    return replace(
        plant,
        groups=tuple(sorted(set(plant.groups))),
        synonyms=tuple(sorted(plant.synonyms, key=lambda name: name.name)),
        common_names=plant.common_names[:1]
        + tuple(sorted(plant.common_names[1:], key=lambda name: (name.lang, name.name))),
        records=tuple(sorted(records, key=lambda record: record.id)),
        cautions=tuple(sorted(plant.cautions, key=lambda caution: caution.id)),
        decisions=tuple(sorted(plant.decisions, key=lambda decision: decision.id)),
        observations=tuple(
            replace(seen, concepts=tuple(sorted(set(seen.concepts))))
            for seen in sorted(plant.observations, key=lambda seen: seen.id)
        ),
        withdrawals=tuple(sorted(plant.withdrawals, key=lambda act: act.id)),
        reviews=tuple(sorted(plant.reviews, key=lambda act: act.id)),
        searches=tuple(
            replace(one, queries=tuple(sorted(set(one.queries))), pages=tuple(sorted(set(one.pages))))
            for one in sorted(plant.searches, key=lambda one: one.id)
        ),
    )


@dataclass(frozen=True, slots=True)
class Weighed:
    """How one record counted towards an adopted value."""

    record: str
    weight: float
    counted_as: str


@dataclass(frozen=True, slots=True)
class Bent:
    """How one's own observations moved an adopted value: by what weight, from which value."""

    site_years: float
    weight: float
    low: float | None
    likely: float | None
    high: float | None
    observations: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sowing:
    """Another time of the year from which a crop is grown: its weeks [1, 53), by these records."""

    low: float
    high: float
    records: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Adopted:
    """The value in use for one plant and trait, computed from its records by a stated rule."""

    plant: PlantId
    trait: TraitId
    low: float | None
    likely: float | None
    high: float | None
    concepts: tuple[str, ...]
    confidence: Confidence
    rule: str
    weighed: tuple[Weighed, ...] = field(default=())
    inherited_from: PlantId | None = None
    bent: Bent | None = None
    sowings: tuple[Sowing, ...] = ()
    """The other times of sowing that are on record for a window; the value itself is of the usual one."""

    @property
    def records(self) -> tuple[str, ...]:
        """IRIs of the records that counted."""
        return tuple(iri("record", w.record) for w in self.weighed if w.weight > 0)
