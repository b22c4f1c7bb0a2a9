"""A whole list of plants under one tree at once, by their likely values: who to look at more closely."""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from kb.mixture.conflicts import DARK_SHARE, all_limits
from kb.mixture.encounter import givings_between, meeting_at, party_at
from kb.mixture.enemy_book import EnemyBook
from kb.mixture.felt import IntArray, Rows, feel_light, feel_roots
from kb.mixture.harm import harm_between, may_harm
from kb.mixture.limits import HOLDS_BACK, ceiling_of
from kb.mixture.place import Place
from kb.mixture.profile import Profile
from kb.mixture.relatedness import relation
from kb.mixture.results import ORDER, Verdict
from kb.mixture.season import FloatArray
from kb.mixture.share import Supply
from kb.mixture.site import Site
from kb.mixture.stress import held_down, near_limit, with_benefits
from kb.mixture.support import SUPPORT_BENEFIT
from kb.mixture.variants import Variants, plant_variants

LIKE_STRESS = 0.5
"""Like with like gains and loses nothing: it sorts in the middle."""


@dataclass(frozen=True, slots=True, eq=False)
class Crowd:
    """Many plants by their likely values: ``each`` alone, and ``rows``, one row for each."""

    each: tuple[Variants, ...]
    rows: Variants

    def only(self, chosen: Sequence[int]) -> "Crowd":
        """Some of them, in this order."""
        return _stacked(tuple(self.each[i] for i in chosen))


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What does not depend on the side: losses by roots (n, 2), benefits, kinship, ceilings (n,).

    Ceilings are steps of `ORDER`.
    """

    roots: FloatArray
    benefits: FloatArray
    ceilings: IntArray
    enemies: FloatArray
    like: FloatArray


def crowd_at(site: Site, supply: Supply, profiles: Sequence[Profile]) -> Crowd:
    """The plants as they grow at this site."""
    return _stacked(tuple(plant_variants(profile, site, supply, draws=0) for profile in profiles))


def _stacked(each: tuple[Variants, ...]) -> Crowd:
    """Stack plants of one row each. What a crowd does not use (its profile) is the first's."""
    first = each[0]
    stacked: dict[str, Any] = {}
    for field in fields(Variants):
        value = getattr(first, field.name)
        if isinstance(value, np.ndarray):
            every = [getattr(plant, field.name) for plant in each]
            stacked[field.name] = np.concatenate(_by_weeks(every) if field.name == "roots" else every)
        else:
            stacked[field.name] = value
    return Crowd(each, Variants(**stacked))


def _by_weeks(roots: Sequence[FloatArray]) -> list[FloatArray]:
    """Roots that stay as they are, told week by week as those that grow."""
    weeks = max(one.shape[2] for one in roots)
    return [np.broadcast_to(one, (*one.shape[:2], weeks)) for one in roots]


def ground_under(
    tree: Variants, plants: Crowd, place: Place, age_years: float | None, book: EnemyBook | None = None
) -> Ground:
    """Roots, limits and benefits of every plant in a ring; light comes by side."""
    count = len(plants.each)
    felt = feel_roots(tree, plants.rows, _facing(count), place, place.coarse)
    kin = [relation(tree.profile, plant.profile) for plant in plants.each]
    overhead = party_at(tree, place, first=True, age_years=age_years)
    meeting = meeting_at(place)
    ceilings: list[Verdict] = []
    benefits = np.zeros(count)
    enemies = _shared_with(tree.profile, plants, book)
    for i, plant in enumerate(plants.each):
        limits, supports = all_limits(overhead, party_at(plant, place), meeting, dark=(0.0, 0.0))
        if may_harm(tree.profile, plant.profile, book):
            harm = harm_between(tree.profile, plant.profile, meeting, book)
            limits, enemies[i] = (*limits, *harm.limits), harm.pressure
        ceilings.append(ceiling_of(limits))
        carried = SUPPORT_BENEFIT if any(support.host for support in supports) else 0.0
        gifts = givings_between(tree, plant, felt.only(i), place, _facing(1))
        benefits[i] = carried + sum(float(gift.benefit[0]) for gift in gifts)
    return Ground(
        roots=felt.roots,
        benefits=benefits,
        ceilings=np.array([HOLDS_BACK[ceiling] for ceiling in ceilings]),
        enemies=enemies,
        like=np.array([relative.kinship == "species" for relative in kin]),
    )


def _shared_with(tree: Profile, plants: Crowd, book: EnemyBook | None) -> FloatArray:
    """Give e of the tree with every plant: by the lists of named enemies, else by kinship."""
    profiles = [plant.profile for plant in plants.each]
    if book is not None:
        return book.row(tree, profiles)
    return np.array([relation(tree, profile).shared for profile in profiles])


def stress_under(tree: Variants, plants: Crowd, place: Place, ground: Ground) -> FloatArray:
    """K' (n,) of every plant on one side of a ring, under all limits; like with like in the middle."""
    light = feel_light(tree, plants.rows, _facing(len(plants.each)), place)
    each = near_limit(ground.roots, light.loss, ground.enemies[:, None])
    stress = with_benefits(each.max(axis=1), ground.benefits)
    dark = (light.dark > DARK_SHARE).any(axis=1)
    step = np.where(dark, HOLDS_BACK["avoid"], ground.ceilings)
    held = np.choose(step, [held_down(stress, verdict) for verdict in ORDER])
    return np.where(ground.like, LIKE_STRESS, held)


def _facing(count: int) -> Rows:
    """The one tree against each of so many plants."""
    return np.zeros(count, dtype=np.intp), np.arange(count)
