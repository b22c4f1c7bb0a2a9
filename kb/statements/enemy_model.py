"""Named pests and diseases with their hosts, and what plants give off that harms their neighbours.

All classes are frozen. Distances are metres, persistence is years. A statement is one sourced row;
what is said of an enemy as a whole (how it travels, how long it lasts) is read off its statements.
"""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Literal, NewType

from kb.model import Basis, PlantId, SourceKey, Standing
from kb.namespaces import iri

EnemyId = NewType("EnemyId", str)
EmissionId = NewType("EmissionId", str)

EnemyKind = Literal[
    "bacterium", "fungus", "oomycete", "protist", "virus", "nematode", "insect", "mite", "complex"
]
"""``complex`` is a trouble of several organisms at once, such as replant disease."""
Route = Literal["air", "soil", "water", "vector", "contact", "planting-stock", "seed"]
AttackedPart = Literal["leaf", "stem", "root", "fruit", "blossom", "whole"]
HostRole = Literal["main", "side", "alternate", "resistant", "non-host"]
Severity = Literal["serious", "moderate", "slight"]
DistanceMeaning = Literal["between-hosts", "flight", "rotation", "gap", "root-reach"]
"""What a printed distance is: apart from the other host; how far it flies; how far this year's crop
is from last year's; bare ground left round a trap crop; how far a root wakes it in the soil."""
YearsMeaning = Literal["survival", "rotation", "life-cycle"]
"""What printed years are: how long it lasts in the ground; the gap advised between crops; the length
of its course on the other host."""
Scope = Literal["taxon", "group", "family", "unnamed"]
"""``group``: the source names a genus or a crop of several species, of which this plant is one.
``family``: it names a whole family; this plant stands for it, and its kin without a statement of their own
count as hosts through it. ``unnamed``: it tells of plants that it does not name; this one stands for them."""
Grade = Literal["A", "B", "C", "D"]
"""Evidence for allelopathy: field; pots, or field second-hand; laboratory; advice or a list."""
ListedAs = Literal["sensitive", "tolerant"]
ActsThrough = Literal["living", "residues"]
"""Whether the standing plant gives it off, or what it leaves in the ground."""


@dataclass(frozen=True, slots=True)
class HostStatement:
    """One source on one plant and one enemy.

    ``distance_m`` and ``years`` are (low, high), either end None where only the other is printed;
    ``severity`` is None where no word for it is printed.
    """

    id: str
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
    standing: Standing
    entered_by: str
    entered_on: date
    note: str | None = None
    revises: str | None = None

    @property
    def iri(self) -> str:
        return iri("record", self.id)

    @property
    def counts(self) -> bool:
        """Whether it is still held to be true."""
        return self.standing not in {"rejected", "superseded"}


@dataclass(frozen=True, slots=True)
class Enemy:
    """One named pest or disease, or a named group that a source treats as one.

    ``attacks`` are the parts of the plant that it is known by (common practice: most are in its name).
    """

    id: EnemyId
    name: str
    organism: str | None
    kind: EnemyKind
    attacks: tuple[AttackedPart, ...] = ()
    statements: tuple[HostStatement, ...] = ()

    @property
    def iri(self) -> str:
        return iri("enemy", self.id)

    @property
    def travels(self) -> tuple[Route, ...]:
        """Every way in which it travels, as its statements say."""
        return tuple(sorted({said.route for said in self.statements if said.counts and said.route}))

    @property
    def persistence(self) -> tuple[Decimal | None, Decimal | None] | None:
        """How many years it lasts in the ground: from the least to the most that is printed."""
        spans = [
            said.years
            for said in self.statements
            if said.counts and said.years and said.years_meaning == "survival"
        ]
        lows = [low for low, _ in spans if low is not None]
        highs = [high for _, high in spans if high is not None]
        return (min(lows, default=None), max(highs, default=None)) if spans else None


@dataclass(frozen=True, slots=True)
class EmissionStatement:
    """One source that lists one plant as sensitive to, or tolerant of, what another gives off."""

    id: str
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
    standing: Standing
    entered_by: str
    entered_on: date
    note: str | None = None
    revises: str | None = None

    @property
    def iri(self) -> str:
        return iri("record", self.id)

    @property
    def counts(self) -> bool:
        return self.standing not in {"rejected", "superseded"}


@dataclass(frozen=True, slots=True)
class Emission:
    """What one plant gives off in one way, and the plants listed as sensitive or tolerant.

    ``name`` is the substance, or plainly how it gets out where none is known; ``strength`` how much of
    it the emitter gives off, 0 to 3 (`trade` 4.9; judgement); ``reach_m`` how far from the emitter harm is
    reported, (usual, farthest) in metres, None where no source prints it.
    """

    id: EmissionId
    name: str
    emitter: PlantId
    strength: int
    statements: tuple[EmissionStatement, ...] = ()
    acts_through: ActsThrough = "living"
    reach_m: tuple[Decimal | None, Decimal | None] | None = None

    @property
    def iri(self) -> str:
        return iri("emission", self.id)

    @property
    def record_head(self) -> str:
        """What the ids of its statements say after the plant: one plant may give off in both ways."""
        return f"allelopathy.{self.emitter}{'' if self.acts_through == 'living' else '-residues'}"


def canonical_enemy(enemy: Enemy) -> Enemy:
    """The enemy with its parts in the order in which a file holds them."""
    return replace(
        enemy,
        attacks=tuple(sorted(set(enemy.attacks))),
        statements=tuple(sorted(enemy.statements, key=lambda said: said.id)),
    )


def canonical_emission(emission: Emission) -> Emission:
    """The emission with its statements in the order in which a file holds them."""
    return replace(emission, statements=tuple(sorted(emission.statements, key=lambda said: said.id)))
