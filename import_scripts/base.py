"""What an importer is: rows of a published table in, drafts of records out.

An importer reads rows and says what each one states; it never sees a store. ``run`` (in
``run.py``) numbers the drafts, merges them into the plants and writes. A row that cannot become a
record is refused with a reason, never dropped.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Protocol

from import_scripts.names import PlantNames
from kb.model import (
    Basis,
    Caution,
    CautionKind,
    CommonName,
    Name,
    NumberKind,
    PlantId,
    Record,
    Source,
    SourceKey,
    TraitId,
)
from kb.statements.enemy_model import (
    DistanceMeaning,
    Emission,
    EmissionId,
    EmissionStatement,
    Enemy,
    EnemyId,
    Grade,
    HostRole,
    HostStatement,
    ListedAs,
    Route,
    Scope,
    Severity,
    YearsMeaning,
)
from kb.statements.search_model import Search


@dataclass(frozen=True, slots=True)
class PublishedFile:
    """One file of a data set: its name in a folder, and where it is published.

    ``sha256`` is the hash of the copy that the importer was written against; None where that copy
    was an extract, so that the hash of the whole file is not known.
    """

    name: str
    address: str | None = None
    sha256: str | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a source. ``number`` is the line in the file, counted from 1 (the header)."""

    file: str
    number: int
    name: str
    values: Mapping[str, str]

    def __getitem__(self, column: str) -> str:
        return self.values[column].strip()


@dataclass(frozen=True, slots=True)
class Refused:
    """A row (or one statement of it) that became no record: which, why, how to mend it.

    ``unmatched`` rows are sound but are about a plant that this knowledge base does not hold.
    """

    file: str
    row: int
    name: str
    reason: str
    mend: str
    unmatched: bool = False


@dataclass(frozen=True, slots=True)
class Draft:
    """A trait record before it has an id, a date and a standing. Values in canonical units."""

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
    note: str | None

    @classmethod
    def of(cls, record: Record) -> "Draft":
        """What a stored record states, without its id, date and standing."""
        return cls(
            record.plant,
            record.trait,
            record.low,
            record.likely,
            record.high,
            record.concepts,
            record.number_kind,
            record.conditions,
            record.verbatim,
            record.name_as_printed,
            record.source,
            record.locator,
            record.basis,
            record.note,
        )


@dataclass(frozen=True, slots=True)
class CautionDraft:
    """A caution before it has an id, a date and a standing."""

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

    @classmethod
    def of(cls, caution: Caution) -> "CautionDraft":
        """What a stored caution states, without its id, date and standing."""
        return cls(
            caution.plant,
            caution.kind,
            caution.text,
            caution.part,
            caution.agent,
            caution.group,
            caution.place,
            caution.as_of,
            caution.lookalike,
            caution.verbatim,
            caution.name_as_printed,
            caution.source,
            caution.locator,
            caution.basis,
        )


@dataclass(frozen=True, slots=True)
class Identity:
    """Who a plant is: the part of its file that the taxa importer writes."""

    id: PlantId
    scientific_name: str
    authority: str | None
    rank: str
    according_to: SourceKey
    parent: PlantId | None
    groups: tuple[str, ...]
    synonyms: tuple[Name, ...]
    common_names: tuple[CommonName, ...]


@dataclass(frozen=True, slots=True)
class HostDraft:
    """A host statement before it has an id, a date and a standing."""

    enemy: EnemyId
    plant: PlantId
    role: HostRole
    severity: Severity | None
    route: Route | None
    distance_m: tuple[Decimal | None, Decimal | None] | None
    distance_meaning: DistanceMeaning | None
    years: tuple[Decimal | None, Decimal | None] | None
    years_meaning: YearsMeaning | None
    years_as_printed: str | None
    region: str | None
    scope: Scope
    verbatim: str
    name_as_printed: str
    enemy_as_printed: str
    source: SourceKey
    locator: str
    basis: Basis
    note: str | None

    @classmethod
    def of(cls, said: HostStatement) -> "HostDraft":
        """What a stored statement states, without its id, date and standing."""
        return cls(**{name: getattr(said, name) for name in cls.__slots__})


@dataclass(frozen=True, slots=True)
class EmissionDraft:
    """A statement on a list of sensitive or tolerant plants before it has an id, date and standing."""

    emission: EmissionId
    plant: PlantId
    listed_as: ListedAs
    grade: Grade
    scope: Scope
    verbatim: str
    name_as_printed: str
    source: SourceKey
    locator: str
    basis: Basis
    note: str | None

    @classmethod
    def of(cls, said: EmissionStatement) -> "EmissionDraft":
        """What a stored statement states, without its id, date and standing."""
        return cls(**{name: getattr(said, name) for name in cls.__slots__})


Statement = Draft | CautionDraft | Search | Identity | HostDraft | EmissionDraft | Enemy | Emission | Refused
"""An enemy or emission among statements says who it is; its own statements are drafts beside it. A search
is whole: it has a day of its own."""


class Importer(Protocol):
    """One data set, or several tables that are read together."""

    @property
    def key(self) -> str:
        """What the importer is called on the command line."""
        ...

    @property
    def title(self) -> str:
        """One line that says what it brings in."""
        ...

    @property
    def files(self) -> tuple[PublishedFile, ...]:
        """The files that it reads."""
        ...

    @property
    def carried(self) -> Path | None:
        """The folder with its input where the project carries it itself."""
        ...

    def sources(self, folder: Path) -> tuple[Source, ...]:
        """The works that its records cite."""
        ...

    def rows(self, folder: Path) -> Iterator[Row]:
        """The rows of its files. Raises SourceFault at the first that cannot be read."""
        ...

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        """What a row states about plants of this knowledge base; refusals are statements too."""
        ...


def draft(
    row: Row,
    plant: PlantId,
    trait: str,
    *,
    source: str,
    locator: str,
    verbatim: str,
    kind: NumberKind = "class",
    basis: Basis = "read-in-source",
    low: Decimal | None = None,
    likely: Decimal | None = None,
    high: Decimal | None = None,
    concepts: Sequence[str] = (),
    conditions: Mapping[str, str] | None = None,
    name: str | None = None,
    note: str | None = None,
) -> Draft:
    """A draft for a row; empty conditions are left out and the order is the one kept in files."""
    kept = {key: value.strip() for key, value in (conditions or {}).items() if value and value.strip()}
    return Draft(
        plant=plant,
        trait=TraitId(trait),
        low=low,
        likely=likely,
        high=high,
        concepts=tuple(sorted(set(concepts))),
        number_kind=kind,
        conditions=tuple(sorted(kept.items())),
        verbatim=verbatim,
        name_as_printed=name or row.name,
        source=SourceKey(source),
        locator=locator,
        basis=basis,
        note=note,
    )


def refuse(row: Row, reason: str, mend: str, *, name: str | None = None) -> Refused:
    """This row, or a statement of it, cannot become a record."""
    return Refused(row.file, row.number, name or row.name, reason, mend)


def unmatched(row: Row, name: str | None = None) -> Refused:
    """This row is about a plant that is not here under that name."""
    return Refused(
        row.file,
        row.number,
        name or row.name,
        "no plant goes by that name here",
        "add the plant or the synonym to import_scripts/taxa, or a line to the importer's mapping.csv",
        unmatched=True,
    )
