"""The targets for coverage, each with what there is and by how much it is missed."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from kb.gaps.coverage import RECALLED_SHARE, SMALL_GROUP, Bases, counts, rejected_by
from kb.model import CITED, Plant, TraitId
from kb.profiles.stocks import ON_STOCK

SHARES: tuple[tuple[str, tuple[str, ...], float], ...] = (
    ("family", ("family",), 1.0),
    ("life cycle", ("life-cycle",), 1.0),
    ("growth form", ("growth-form",), 1.0),
    ("nitrogen fixation", ("nitrogen-fixation",), 0.97),
    ("mature height", ("mature-height",), 0.95),
    ("light to survive", ("light-to-survive",), 0.85),
    (
        "a growth, leaf, flower or harvest window",
        ("growth-window", "leaf-window", "flowering-window", "harvest-window"),
        0.85,
    ),
    ("soil reaction", ("soil-reaction",), 0.80),
    ("soil moisture", ("moisture",), 0.80),
    ("hardiness or exposure to freezing", ("hardiness", "freezing-exposure"), 0.70),
    ("root form or storage organ", ("root-form", "storage-organ"), 0.75),
)
"""Words, traits of which one is enough, share of all taxa (issue 4, point 1)."""

DEPTH_TAXA, DEPTH_TAXA_IF_THE_LITERATURE_YIELDS = 200, 260
TAXA = 520
CROPS = frozenset({"annual-vegetable", "field-crop"})
CROP_TRAITS = ("cycle-length", "water-use", "depletion-fraction", "nitrogen-uptake", "light-to-crop")
STOCKED = ("malus-domestica", "pyrus-communis", "prunus-domestica", "prunus-avium")
NOT_FOR_EATING = frozenset({"flower", "timber-tree"})
"""Groups of plants that are neither in edible plantings nor in hedges."""


@dataclass(frozen=True, slots=True)
class Target:
    """One target: how many of how many taxa are wanted, and how many there are."""

    name: str
    wanted: int
    have: int
    of: int
    note: str = ""

    @property
    def short_by(self) -> int:
        return max(0, self.wanted - self.have)

    def as_dict(self) -> dict[str, object]:
        return {
            "target": self.name,
            "wanted": self.wanted,
            "have": self.have,
            "of": self.of,
            "met": self.short_by == 0,
            "short_by": self.short_by,
            "note": self.note,
        }


def targets(bases: Bases) -> tuple[Target, ...]:
    """Every target of issue 4, point 1."""
    return tuple(
        target
        for part in (_taxa, _shares, _partners, _depths, _crowns, _crops, _stocks)
        for target in part(bases)
    )


def _taxa(bases: Bases) -> Iterator[Target]:
    counted = [plant for plant in bases.taxa if not set(plant.groups) <= NOT_FOR_EATING]
    yield Target("taxa of edible plantings, hedges and trials", TAXA, len(counted), len(bases.taxa))


def _shares(bases: Bases) -> Iterator[Target]:
    everything = len(bases.taxa)
    for name, traits, share in SHARES:
        have = sum(bases.sourced(plant, *traits) for plant in bases.taxa)
        yield Target(name, math.ceil(share * everything - 1e-9), have, everything, _by_scale(bases, traits))


def _by_scale(bases: Bases, traits: tuple[str, ...]) -> str:
    fed = sum(bases.count(bases.taxa, TraitId(trait)).fed for trait in traits)
    return f"{fed} of them by the class of a scale alone" if fed else ""


def _partners(bases: Bases) -> Iterator[Target]:
    fixers = [
        plant
        for plant in bases.taxa
        if (value := bases.snapshot.adopted(plant.id).get(TraitId("nitrogen-fixation")))
        and "fixes" in value.concepts
    ]
    have = sum(bases.sourced(plant, "fixing-partner") for plant in fixers)
    yield Target("partner of those that fix nitrogen", len(fixers), have, len(fixers))


def depth_counts(plant: Plant) -> bool:
    """Whether a plant has a cited depth of its roots that is no floor, legal class or model limit.

    Limits of crop models are another trait. A ceiling names no depth either.
    """
    rejected = rejected_by(plant)
    return any(
        record.trait in {"effective-rooting-depth", "rooting-depth"}
        and record.basis in CITED
        and counts(record, rejected)
        and record.number_kind not in {"floor", "ceiling", "minimum", "model-limit"}
        and record.condition("kind") != "legal-class"
        for record in plant.records
    )


def _depths(bases: Bases) -> Iterator[Target]:
    have = sum(depth_counts(plant) for plant in bases.taxa)
    note = "floors, legal classes and model limits left out; nothing inherited"
    name = "rooting depth (effective or deepest)"
    yield Target(name, DEPTH_TAXA, have, len(bases.taxa), note)
    yield Target(
        f"{name}, if the literature yields it",
        DEPTH_TAXA_IF_THE_LITERATURE_YIELDS,
        have,
        len(bases.taxa),
        note,
    )


def _crowns(bases: Bases) -> Iterator[Target]:
    profiles = {plant.id: bases.snapshot.profile(plant.id) for plant in bases.taxa}
    woody = [p for p in bases.taxa if profiles[p.id].growth_form.value in {"tree", "shrub"}]
    cited = sum(bases.sourced(plant, "crown-width") for plant in woody)
    interval = sum(profiles[plant.id].crown_width_m.likely > 0 for plant in woody)
    note = f"{cited} cited, the rest an interval that says so"
    yield Target("crown width of trees and shrubs", len(woody), interval, len(woody), note)


def _crops(bases: Bases) -> Iterator[Target]:
    crops = [plant for plant in bases.taxa if CROPS & set(plant.groups)]
    for trait in CROP_TRAITS:
        label = bases.snapshot.vocabulary.traits[TraitId(trait)].label
        have = sum(bases.sourced(plant, trait) for plant in crops)
        yield Target(f"{label} of annual vegetables and field crops", len(crops), have, len(crops))


def _stocks(bases: Bases) -> Iterator[Target]:
    plants = bases.snapshot.plants.values()
    for species in STOCKED:
        trees = [plant for plant in plants if plant.rank == ON_STOCK and plant.parent == species]
        have = sum(
            any(r.trait in {"stock-vigour", "mature-height"} and r.basis in CITED for r in tree.records)
            for tree in trees
        )
        name = bases.snapshot.plants[trees[0].parent or trees[0].id].common_name if trees else species
        yield Target(f"stocks of {name} with vigour or size", max(1, len(trees)), have, len(trees))


def small_groups(groups: dict[str, int]) -> tuple[str, ...]:
    """Planting groups with too few taxa for their shares to say much."""
    return tuple(group for group, taxa in groups.items() if taxa < SMALL_GROUP)


def mostly_recalled(recalled: dict[str, int], taxa: int) -> tuple[str, ...]:
    """Traits that are recalled from memory, and no better, for more taxa than allowed."""
    return tuple(trait for trait, number in recalled.items() if number > RECALLED_SHARE * taxa)
