"""How much is known: each trait by planting group and best basis, counted in taxa, beside the targets.

A taxon counts with the best basis among its records of a trait that are not rejected. What a cultivar
group or cultivar lacks it has from the plant above it, as in every answer, and is counted so
(``inherited``). A trait that is read from a scale (``kb.adopt.FEEDS``) counts with the basis of the scale
where it has no better record of its own (``fed``). Trees on named stocks are a level of their own and
are counted apart.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from kb.adopt import FEEDS
from kb.model import Basis, Plant, PlantId, Record, TraitId
from kb.profiles.stocks import ON_STOCK
from kb.snapshot import Snapshot

COLUMNS = ("cited", "excerpt", "second_hand", "common_practice", "recalled", "derived")
COLUMN_OF: Mapping[Basis, str] = {
    "read-in-source": "cited",
    "read-in-transcription": "cited",
    "read-in-excerpt": "excerpt",
    "second-hand": "second_hand",
    "common-practice": "common_practice",
    "recalled": "recalled",
    "derived": "derived",
}
WITH_SOURCE = COLUMNS[:3]
"""The first four bases of the closed list: cited in the sense of the targets."""
SMALL_GROUP = 20
RECALLED_SHARE = 0.15
SEEN_AS: Mapping[TraitId, tuple[TraitId, ...]] = {
    **FEEDS,
    TraitId("soil-reaction"): (TraitId("reaction-indicator-1-9"), TraitId("reaction-indicator-1-8")),
    TraitId("moisture"): (*FEEDS[TraitId("moisture")], TraitId("moisture-indicator-1-12-swedish")),
}
"""A trait -> the scales that stand for it here. No rule turns a reaction indicator into a pH, nor the Swedish
moisture scale into the other: there the plant is known as a class, and the table says how many have nothing
else."""


@dataclass(slots=True)
class Counted:
    """How many taxa have their best record of a trait on each basis."""

    columns: dict[str, int] = field(default_factory=lambda: dict.fromkeys((*COLUMNS, "missing"), 0))
    inherited: int = 0
    fed: int = 0

    def add(self, best: "Best | None") -> None:
        self.columns["missing" if best is None else best.column] += 1
        if best is not None and best.column in WITH_SOURCE:
            self.inherited += best.inherited
            self.fed += best.fed

    @property
    def with_source(self) -> int:
        return sum(self.columns[column] for column in WITH_SOURCE)

    def as_dict(self) -> dict[str, int]:
        counts = {**self.columns, "with_source": self.with_source}
        return {**counts, "inherited": self.inherited, "fed": self.fed}


@dataclass(frozen=True, slots=True)
class Best:
    """The best basis that a taxon has for a trait, and by what way."""

    column: str
    inherited: bool = False
    fed: bool = False

    @property
    def rank(self) -> int:
        return COLUMNS.index(self.column)


def counts(record: Record, rejected: frozenset[str]) -> bool:
    """Whether a record stands: neither it nor a decision says that it is rejected."""
    return record.standing != "rejected" and record.id not in rejected


def rejected_by(plant: Plant) -> frozenset[str]:
    """The records that the latest decision on each trait rejects."""
    roles: dict[str, str] = {}
    for decision in sorted(plant.decisions, key=lambda one: (one.decided_on, one.id)):
        roles.update(dict(decision.weighed))
    return frozenset(record for record, role in roles.items() if role == "rejected")


class Bases:
    """The best basis of each taxon and trait of a snapshot."""

    def __init__(self, snapshot: Snapshot) -> None:
        self.snapshot = snapshot
        self.taxa = tuple(plant for plant in snapshot.plants.values() if plant.rank != ON_STOCK)
        self._own: dict[PlantId, dict[TraitId, str]] = {}

    def own(self, plant: Plant) -> Mapping[TraitId, str]:
        """Trait -> column of the best record of this very taxon."""
        if plant.id not in self._own:
            best: dict[TraitId, str] = {}
            rejected = rejected_by(plant)
            for record in plant.records:
                column = COLUMN_OF[record.basis]
                known = best.get(record.trait)
                if counts(record, rejected) and (
                    known is None or COLUMNS.index(column) < COLUMNS.index(known)
                ):
                    best[record.trait] = column
            self._own[plant.id] = best
        return self._own[plant.id]

    def best(self, plant: Plant, trait: TraitId) -> Best | None:
        """The best of its own record, the scales that feed the trait, and what it inherits."""
        ways = [*self._ways(plant, trait, inherited=False)]
        above = plant
        while above.parent is not None and above.parent in self.snapshot.plants:
            above = self.snapshot.plants[above.parent]
            ways += self._ways(above, trait, inherited=True)
        return min(ways, key=lambda way: (way.rank, way.inherited, way.fed), default=None)

    def _ways(self, plant: Plant, trait: TraitId, *, inherited: bool) -> Iterable[Best]:
        own = self.own(plant)
        if trait in own:
            yield Best(own[trait], inherited)
        for scale in SEEN_AS.get(trait, ()):
            if scale in own:
                yield Best(own[scale], inherited, fed=True)

    def sourced(self, plant: Plant, *traits: str) -> bool:
        """Whether a taxon has a record with a source for any of these traits."""
        found = (self.best(plant, TraitId(trait)) for trait in traits)
        return any(best is not None and best.column in WITH_SOURCE for best in found)

    def count(self, plants: Iterable[Plant], trait: TraitId) -> Counted:
        counted = Counted()
        for plant in plants:
            counted.add(self.best(plant, trait))
        return counted
