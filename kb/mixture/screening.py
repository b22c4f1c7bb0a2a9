"""A whole list of plants under one tree at once, by their likely values: who to look at more closely."""

from dataclasses import dataclass

import numpy as np

from kb.mixture.conflicts import DARK_SHARE, mutual_limits, own_limits
from kb.mixture.crowd import Crowd
from kb.mixture.encounter import givings_between, meeting_at, party_at
from kb.mixture.enemy_book import EnemyBook
from kb.mixture.felt import IntArray, Rows, feel_light, feel_roots
from kb.mixture.harm import harm_between, may_harm
from kb.mixture.limits import HOLDS_BACK, ceiling_of
from kb.mixture.nitrogen import is_giver
from kb.mixture.place import Place
from kb.mixture.profile import Profile
from kb.mixture.relatedness import relation, same_species
from kb.mixture.results import ORDER
from kb.mixture.season import FloatArray
from kb.mixture.stress import held_down, near_limit, with_benefits
from kb.mixture.support import SUPPORT_BENEFIT, supports_among
from kb.mixture.variants import Variants

LIKE_STRESS = 0.5
"""Like with like gains and loses nothing: it sorts in the middle."""


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What does not depend on the side: benefits, kinship, ceilings (n,).

    Ceilings are steps of `ORDER`.
    """

    benefits: FloatArray
    ceilings: IntArray
    enemies: FloatArray
    like: FloatArray


def ground_under(
    tree: Variants, plants: Crowd, place: Place, age_years: float | None, book: EnemyBook | None = None
) -> Ground:
    """Limits and benefits of every plant in a ring; light, and the need of water in it, come by side."""
    count = len(plants.profiles)
    felt = feel_roots(tree, plants.rows, _facing(count), place, place.coarse)
    overhead = party_at(tree, place, first=True, age_years=age_years)
    meeting = meeting_at(place)
    own = HOLDS_BACK[ceiling_of(own_limits(overhead, meeting, 0.0))]
    ceilings = np.minimum(plants.held_by_place(meeting), own)
    benefits = np.zeros(count)
    enemies = _shared_with(tree.profile, plants, book)
    for i, party in enumerate(plants.parties):
        supports = supports_among((overhead, party), {(0, 1): meeting})
        limits = [limit for support in supports for limit in support.limits]
        limits += mutual_limits(overhead, party, meeting)
        if may_harm(tree.profile, party.profile, book):
            harm = harm_between(tree.profile, party.profile, meeting, book)
            limits += harm.limits
            enemies[i] = harm.pressure
        ceilings[i] = min(ceilings[i], HOLDS_BACK[ceiling_of(limits)])
        if any(support.host for support in supports):
            benefits[i] = SUPPORT_BENEFIT
        if is_giver(tree.profile, party.profile) or is_giver(party.profile, tree.profile):
            gifts = givings_between(tree, plants.one(i), felt.only(i), place, _facing(1))
            benefits[i] += sum(float(gift.benefit[0]) for gift in gifts)
    return Ground(
        benefits=benefits,
        ceilings=ceilings,
        enemies=enemies,
        like=np.array([same_species(tree.profile, profile) for profile in plants.profiles]),
    )


def _shared_with(tree: Profile, plants: Crowd, book: EnemyBook | None) -> FloatArray:
    """Give e of the tree with every plant: by the lists of named enemies, else by kinship."""
    if book is not None:
        return book.row(tree, plants.profiles)
    return np.array([relation(tree, profile).shared for profile in plants.profiles])


def stress_under(tree: Variants, plants: Crowd, place: Place, ground: Ground) -> FloatArray:
    """K' (n,) of every plant on one side of a ring, under all limits; like with like in the middle."""
    facing = _facing(len(plants.profiles))
    light = feel_light(tree, plants.rows, facing, place)
    roots = feel_roots(tree, plants.rows, facing, place, place.coarse).roots
    each = near_limit(roots, light.loss, ground.enemies[:, None])
    stress = with_benefits(each.max(axis=1), ground.benefits)
    dark = (light.dark > DARK_SHARE).any(axis=1)
    step = np.where(dark, HOLDS_BACK["avoid"], ground.ceilings)
    held = np.choose(step, [held_down(stress, verdict) for verdict in ORDER])
    return np.where(ground.like, LIKE_STRESS, held)


def _facing(count: int) -> Rows:
    """The one tree against each of so many plants."""
    return np.zeros(count, dtype=np.intp), np.arange(count)
