"""The ground beneath and beside a tree: drier than open ground, since more than one cover draws on it.

The soil's store of an open site is followed under one short cover (`water`). Round a tree two draw on it, the
tree by its share there and what grows beneath by its need in the shade, so that less of it is left by summer:
the same balance of FAO-56 (eq. 82-88) with that draw. What the week's own rivals take is shared out each week
as ever (`share`): the balance is what the weeks before have left, so that nothing is counted twice.
"""

from dataclasses import dataclass

import numpy as np

from kb.mixture.ground.share import IRRIGATED, IRRIGATED_SCARCITY, Supply, under_leaf
from kb.mixture.ground.water import scarcity_drawn
from kb.mixture.light.shaded_need import need_in_light
from kb.mixture.season import FloatArray
from kb.mixture.site import Site

MOST_DRAW = 1.2
"""No ground gives off more than so many times ETo, whatever stands on it, by the energy that there is (FAO-56
eq. 72, Kc max at a wind of 2 m/s; from memory)."""


@dataclass(frozen=True, slots=True, eq=False)
class CrownGround:
    """Ground round a tree: ``leaf`` (52,) of the crown above it, None beyond its edge; ``scarcity`` (52,)."""

    leaf: FloatArray | None
    scarcity: FloatArray

    def leaves(self, supply: Supply, given: frozenset[str]) -> Supply:
        """What is left here of an open ground's supply; on watered ground no week is scarcer than there."""
        return supply.drawn_down(self.left(supply.scarcity, given))

    def left(self, scarcity: FloatArray, given: frozenset[str]) -> FloatArray:
        """The part (52,) of the water that is left here of a ground as scarce in the open, at any depth.

        Beneath the crown it keeps part of the rain to itself.
        """
        here = np.minimum(self.scarcity, IRRIGATED_SCARCITY) if IRRIGATED in given else self.scarcity
        left: FloatArray = np.minimum((1 - here) / here * scarcity / (1 - scarcity), 1.0)
        return left if self.leaf is None else left * under_leaf(self.leaf)


def crown_ground(
    site: Site, *, draw: float, leaf: FloatArray, light: FloatArray, beneath: bool
) -> CrownGround:
    """The ground where a tree draws ``draw`` times what it does per m2 of its crown, in light (52,)."""
    asked = np.minimum(draw * leaf + need_in_light(light, site.latitude), MOST_DRAW)
    return CrownGround(leaf if beneath else None, scarcity_drawn(site, asked))
