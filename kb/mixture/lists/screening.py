"""A whole list of plants under one tree at once, by their likely values: who to look at more closely."""

from bisect import insort
from collections.abc import Iterable

import numpy as np

from kb.mixture.bodies.support import SUPPORT_BENEFIT, climbs, supports_among
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.harm import harm_between, may_harm
from kb.mixture.judging.conflicts import DARK_SHARE, mutual_limits, own_limits
from kb.mixture.judging.crowd import Crowd
from kb.mixture.judging.encounter import givings_between, meeting_at, party_at
from kb.mixture.judging.strong_light import bright_steps
from kb.mixture.limits import HOLDS_BACK, holds_of
from kb.mixture.profile import Profile
from kb.mixture.relatedness import relation, same_species
from kb.mixture.season import FloatArray
from kb.mixture.sharing.felt import IntArray, Rows, feel_light, feel_roots
from kb.mixture.sharing.nitrogen import is_giver
from kb.mixture.sharing.place import Place
from kb.mixture.sharing.variants import Variants
from kb.mixture.stress import counted, counted_steps, held_by_counts, near_limit, with_benefits

LIKE_STRESS = 0.5
"""Like with like gains and loses nothing: it sorts in the middle."""


class Ground:
    """What does not depend on the side: benefits, ceilings, kinship (n,).

    What two plants forbid each other is looked up only for those that are asked for, since it can but hold
    a plant down. ``benefits`` and ``enemies`` are whole from the start. ``shared`` is `shared_with`, where
    it has been looked up before.
    """

    def __init__(
        self,
        tree: Variants,
        plants: Crowd,
        place: Place,
        age_years: float | None = None,
        book: EnemyBook | None = None,
        *,
        shared: FloatArray | None = None,
    ) -> None:
        count = len(plants.profiles)
        self._tree, self._plants, self._place, self._book = tree, plants, place, book
        self._overhead = party_at(tree, place, first=True, age_years=age_years)
        self._meeting = meeting_at(place)
        felt = feel_roots(tree, plants.rows, _facing(count), place, place.coarse)
        self.like = np.array([same_species(tree.profile, profile) for profile in plants.profiles])
        # What is shared where they meet like this may be more, or less: a copy, as it is written to.
        self.enemies = (shared_with(tree.profile, plants, book) if shared is None else shared).copy()
        self.benefits = np.zeros(count)
        own = tuple(own_limits(self._overhead, self._meeting, 0.0))
        self._limits = [(*own, *limits) for limits in plants.held_by_place(self._meeting)]
        self._holds = counted([holds_of(limits) for limits in self._limits])
        self._settled = np.zeros(count, dtype=np.bool_)
        for i, party in enumerate(plants.parties):
            if is_giver(tree.profile, party.profile) or is_giver(party.profile, tree.profile):
                gifts = givings_between(tree, plants.one(i), felt.only(i), place, _facing(1))
                self.benefits[i] = sum(float(gift.benefit[0]) for gift in gifts)
            climbing = climbs(party) or climbs(self._overhead)
            if climbing or may_harm(tree.profile, party.profile, book):
                self._settle(i, climbing=climbing)

    def _settle(self, i: int, *, climbing: bool = False) -> None:
        """What the tree and one plant forbid each other; of one that climbs, what it gains by it."""
        party, limits = self._plants.parties[i], []
        if climbing:
            supports = supports_among((self._overhead, party), {(0, 1): self._meeting})
            limits += [limit for support in supports for limit in support.limits]
            if any(support.host for support in supports):
                self.benefits[i] += SUPPORT_BENEFIT
        limits += mutual_limits(self._overhead, party, self._meeting)
        if may_harm(self._tree.profile, party.profile, self._book):
            harm = harm_between(self._tree.profile, party.profile, self._meeting, self._book)
            limits += harm.limits
            self.enemies[i] = harm.pressure
        self._holds[i] = counted([holds_of((*self._limits[i], *limits))])[0]
        self._settled[i] = True

    def holds_all(self, chosen: Iterable[int]) -> IntArray:
        """`holds`, once all that holds those chosen has been looked up."""
        for i in chosen:
            if not self._settled[i]:
                self._settle(i)
        return self._holds

    @property
    def holds(self) -> IntArray:
        """How many things are known to hold each plant to each word (n, 3): `stress.counted`."""
        return self._holds


def shared_with(tree: Profile, plants: Crowd, book: EnemyBook | None) -> FloatArray:
    """Give e of the tree with every plant: by the lists of named enemies, else by kinship."""
    if book is not None:
        return book.row(tree, plants.profiles)
    return np.array([relation(tree, profile).shared for profile in plants.profiles])


def stress_under(tree: Variants, plants: Crowd, place: Place, ground: Ground) -> FloatArray:
    """K' (n,) of every plant on one side of a ring, under all limits; like with like in the middle."""
    ground.holds_all(range(len(plants.profiles)))
    stress, most = _unheld(tree, plants, place, ground)
    return _held(stress, most, ground)


def least_under(tree: Variants, plants: Crowd, place: Place, ground: Ground, count: int) -> list[int]:
    """The ``count`` plants of the least K' by `stress_under` on one side of a ring, best first.

    What the tree forbids a plant is looked up only until none that is left can be among them.
    """
    stress, most = _unheld(tree, plants, place, ground)
    least = _held(stress, most, ground)
    found: list[tuple[float, int]] = []
    for i in np.argsort(least, kind="stable").tolist():
        if len(found) >= count and found[count - 1] < (float(least[i]), i):
            break
        holds = ground.holds_all([i])[i : i + 1] + most[i : i + 1]
        held = LIKE_STRESS if ground.like[i] else float(held_by_counts(stress[i : i + 1], holds)[0])
        insort(found, (held, i))
    return [i for _, i in found[:count]]


def _unheld(tree: Variants, plants: Crowd, place: Place, ground: Ground) -> tuple[FloatArray, IntArray]:
    """K' before any limit, and what the light there holds each to (n, 3)."""
    facing = _facing(len(plants.profiles))
    light = feel_light(tree, plants.rows, facing, place)
    roots = feel_roots(tree, plants.rows, facing, place, place.coarse).roots
    each = near_limit(roots, light.loss, ground.enemies[:, None])
    dark = np.any(light.dark > DARK_SHARE, axis=1)
    most = counted_steps(np.where(dark, HOLDS_BACK["avoid"], bright_steps(plants, place)))
    return with_benefits(each.max(axis=1), ground.benefits), most


def _held(stress: FloatArray, most: IntArray, ground: Ground) -> FloatArray:
    """K' under all that is known so far to hold it."""
    return np.where(ground.like, LIKE_STRESS, held_by_counts(stress, most + ground.holds))


def _facing(count: int) -> Rows:
    """The one tree against each of so many plants."""
    return np.zeros(count, dtype=np.intp), np.arange(count)
