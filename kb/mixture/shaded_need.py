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
12). Held to all three in `tests/mixture/test_shaded_need.py`.

Less sun means less growth too: that is counted by the light (`felt.light_felt`), so that want of water is
told against what a plant needs in the light it has: the share of its need that it finds, over the share that
a stand of its own finds in the open (as ETa/ETm in FAO-33 and Ks in FAO-56). What is left of the rain under
a crown is `share.INTERCEPTION`; the crown's own roots are counted as ever.
"""

from collections.abc import Sequence

import numpy as np

from kb.mixture.climate import weekly_share_by_sun
from kb.mixture.place import Place
from kb.mixture.root_draw import Asking
from kb.mixture.season import FloatArray
from kb.mixture.variants import Variants

WORTH_SAYING = 0.9
"""Where the need in shade is at most so much of that in the open, the words say so (judgement)."""


def need_in_light(light: FloatArray, latitude: float) -> FloatArray:
    """Need of water in shade over that in the open (..., 52), from the share of open light (..., 52)."""
    by_sun = weekly_share_by_sun(latitude)
    need: FloatArray = 1 - by_sun * (1 - np.minimum(light, 1.0))
    return need


def light_through(heights: FloatArray, place: Place) -> FloatArray:
    """Share of the light of the open ground (rows, weeks) that a tree lets through to leaves at heights (m)."""
    if place.light is None:
        raise ValueError("a bed has no light from beneath a tree")
    found = {height: place.light(height) for height in np.unique(heights).tolist()}
    return np.stack([found[height] for height in heights.tolist()])


def water_asked(
    plants: Sequence[Variants], place: Place
) -> tuple[tuple[Asking, ...], tuple[FloatArray, ...]]:
    """What full stands of plants ask of water here, and what each finds of that in the open (rows,).

    In a bed or hedge as they are. Beneath a tree, which is the first, the others ask less in its shade, by
    the likely leaf of the tree.
    """
    asking = [plant.water for plant in plants]
    alone = [plant.sole_water for plant in plants]
    if place.light is None:
        return tuple(asking), tuple(alone)
    for i, plant in enumerate(plants[1:], start=1):
        need = need_in_light(light_through(plant.leaf_height, place), place.site.latitude)
        course = plant.water_course * need
        whole = plant.water_course.sum(axis=1)
        alone[i] = alone[i] * course.sum(axis=1) / np.where(whole > 0, whole, 1.0)
        asking[i] = Asking(course, plant.roots)
    return tuple(asking), tuple(alone)


def less_in_shade(plant: Variants, place: Place) -> str:
    """Words that the smaller need in this shade is counted; none in a bed, or where it is hardly smaller."""
    if place.light is None:
        return ""
    need = need_in_light(light_through(plant.leaf_height[:1], place), place.site.latitude)[0]
    season = float(plant.water_course[0].sum())
    if season <= 0 or float((plant.water_course[0] * need).sum()) > WORTH_SAYING * season:
        return ""
    return " (in this shade it needs less, which is counted)"
