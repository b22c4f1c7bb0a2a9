"""How much less water a plant needs beneath a crown, whose leaves take the sun that would dry it.

What the air asks of leaves (FAO-56 eq. 6, Penman-Monteith) is the sum of two terms: one goes with the
radiation that reaches them, one with the dryness and motion of the air. Beneath a tree the first falls with
the light; the second is left as in the open, since air mixes under a tree that stands alone. Under closed
crowns it is stiller and damper there, so that the need is rather too high here than too low. Without this a
crown and what grows under it would together spend the same sunshine twice.

Measured: in shade net radiation falls in proportion to the ground shaded; undergrowth takes on average a
third of all that a wood gives off, by its light (Balandier et al. 2022, Eur. J. For. Res. 141: 979-997,
abstract, some 200 papers), 30-42 % in a stand of Douglas fir over salal by weighing lysimeter (Osberg 1986,
University of British Columbia, MSc thesis, abstract); live cover adds 0.25 ETo to an orchard (FAO-56 table
12). Held to all three in `tests/mixture/light/test_shaded_need.py`.

Less sun means less growth too: that is counted by the light (`felt.light_felt`), so that want of water is
told against what a plant needs in the light it has: the share of its need that it finds, over the share that
a stand of its own finds in the open (as ETa/ETm in FAO-33 and Ks in FAO-56). What is there to find beneath a
crown is less too: `crown_ground`.
"""

import numpy as np

from kb.mixture.season import FloatArray
from kb.mixture.weeks.climate import weekly_share_by_sun


def need_by_sun(latitude: float) -> FloatArray:
    """The part of the need (52,) that goes with the light."""
    return weekly_share_by_sun(latitude)


def need_in_light(light: FloatArray, latitude: float) -> FloatArray:
    """Need of water in shade over that in the open (..., 52), from the share of open light (..., 52)."""
    need: FloatArray = 1 - need_by_sun(latitude) * (1 - np.minimum(light, 1.0))
    return need
