"""From what plants lose to K, and to K' by what they bring each other: the same for every row."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from kb.mixture import kernels
from kb.mixture.bodies.support import SUPPORT_BENEFIT, Support
from kb.mixture.judging.bonds import Bond, Ground, shared_by
from kb.mixture.judging.encounter import any_gives, givings_at
from kb.mixture.kept import KeptBy
from kb.mixture.profile import Profile
from kb.mixture.relatedness import ENEMY_WEIGHT
from kb.mixture.season import FloatArray
from kb.mixture.sharing.felt import Felt, RootsFelt, Rows
from kb.mixture.sharing.nitrogen import NITROGEN_BENEFIT, Giving
from kb.mixture.sharing.variants import Variants
from kb.mixture.stress import BENEFIT_WEIGHT, near_limit, with_benefits

Shares = tuple[FloatArray, FloatArray, FloatArray]
COMPILED = "stress"
KEPT = 256
_OF_TWO: KeptBy[Shares] = KeptBy(KEPT)


@dataclass(frozen=True, slots=True, eq=False)
class Given:
    """A gift of nitrogen, and the places in the set of giver and taker."""

    giver: int
    taker: int
    giving: Giving


@dataclass(frozen=True, slots=True, eq=False)
class Easing:
    """What turns losses into K and K', the same for every row.

    ``shared`` and ``pressure`` (n,) of enemies; ``carried`` (n,) the benefit of climbing; ``relief``
    says for each ground whether what is gained together counts (root depths and seasons on record). All of it
    hangs on who stands with whom, so other shares of the same grounds and all draws have it too.
    """

    shared: FloatArray
    pressure: FloatArray
    carried: FloatArray
    relief: tuple[bool, ...]

    @classmethod
    def of(
        cls,
        profiles: Sequence[Profile],
        members: Iterable[tuple[int, ...]],
        bonds: Sequence[Bond],
        supports: Sequence[Support],
    ) -> "Easing":
        """Of plants that stand on grounds, each with its ``members``."""
        shares = shares_of(len(profiles), bonds, supports)
        known = [profile.root_d95_m.known and profile.activity.known for profile in profiles]
        relief = tuple(all(known[i] for i in some) for some in members)
        return cls(*shares, relief)

    def apply(
        self,
        grounds: Sequence[Ground],
        plants: Sequence[Variants],
        felt: Felt,
        by_ground: Sequence[RootsFelt],
        rows: Rows,
    ) -> tuple[FloatArray, FloatArray, tuple[Given, ...]]:
        """K and K' before limits, (rows, n) each, and the nitrogen given."""
        alone = len(grounds) == 1 and len(grounds[0].members) == len(plants)
        if alone and not any_gives(plants):
            gained = by_ground[0].relief if self.relief[0] else np.zeros(len(felt.roots))
            return *self.without_gifts(felt, gained), ()
        each = near_limit(felt.roots, felt.light, self.pressure)
        benefits = np.empty_like(each)
        benefits[:] = self.carried
        gifts: list[Given] = []
        for ground, roots, relief in zip(grounds, by_ground, self.relief, strict=True):
            members = ground.members
            here, its_rows = [plants[i] for i in members], tuple(rows[i] for i in members)
            own = givings_at(here, roots, ground.spot, its_rows)
            there = slice(None) if len(members) == len(plants) else list(members)
            if own:
                benefits[:, there] += _by_nitrogen(own, len(members), len(each))
                gifts += [Given(members[i], members[j], gift) for i, j, gift in own]
            if relief:
                benefits[:, there] += roots.relief[:, None]
        return each, with_benefits(each, benefits), tuple(gifts)

    def without_gifts(self, felt: Felt, relief: FloatArray) -> tuple[FloatArray, FloatArray]:
        """The same where nobody gives nitrogen, by what they gain together (rows,).

        A compiled loop does it where one is loaded.
        """
        loop = kernels.ready(COMPILED)
        if loop is None:
            each = near_limit(felt.roots, felt.light, self.pressure)
            return each, with_benefits(each, self.carried + relief[:, None])
        weights = (ENEMY_WEIGHT, BENEFIT_WEIGHT)
        found: tuple[FloatArray, FloatArray] = loop.stressed(
            felt.roots, felt.light, self.pressure, self.carried, relief, *weights
        )
        return found


def shares_of(count: int, bonds: Sequence[Bond], supports: Sequence[Support]) -> Shares:
    """``shared``, ``pressure``, ``carried`` of an `Easing` of so many plants; of two kept by their harm."""
    carried = tuple(support.places for support in supports if support.host is not None)
    if len(bonds) != 1:
        return _shares_of(count, bonds, carried)
    only = bonds[0]
    values = (only.kin.kinship, only.places, count, carried)
    return _OF_TWO.of((only.harm,), values, lambda: _shares_of(count, bonds, carried))


def _shares_of(count: int, bonds: Sequence[Bond], carried: Iterable[tuple[int, int]]) -> Shares:
    """The same, by the places of those that are carried."""
    shared, pressure, benefit = np.zeros(count), np.zeros(count), np.zeros(count)
    around: list[list[Bond]] = [[] for _ in range(count)]
    for bond in bonds:
        if bond.kin.kinship != "species":
            for place in bond.places:
                around[place].append(bond)
    for place, own in enumerate(around):
        shared[place] = shared_by(own)
        given_off = [bond.harm.pressure for bond in own if bond.harm.emissions]
        pressure[place] = max([shared[place], *given_off])
    for places in carried:
        benefit[list(places)] = SUPPORT_BENEFIT
    for array in (shared, pressure, benefit):
        array.setflags(write=False)  # kept for those who ask again
    return shared, pressure, benefit


def _by_nitrogen(gifts: Iterable[tuple[int, int, Giving]], count: int, rows: int) -> FloatArray:
    """The benefit (rows, n): to a taker what all give it, to a giver what it does for one at most."""
    gets, does = np.zeros((rows, count)), np.zeros((rows, count))
    for giver, taker, gift in gifts:
        gets[:, taker] += gift.benefit
        does[:, giver] = np.maximum(does[:, giver], gift.benefit)
    benefit: FloatArray = np.minimum(gets, NITROGEN_BENEFIT) + does
    return benefit
