"""What plants ask of water where they stand: in a bed as they are, beneath a tree as its shade lets them."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from kb.mixture.ground.root_draw import Asking
from kb.mixture.light.shaded_need import need_in_light
from kb.mixture.season import FloatArray
from kb.mixture.sharing.place import Place
from kb.mixture.sharing.variants import Variants

WORTH_SAYING = 0.9
"""Where the need in shade is at most so much of that in the open, the words say so (judgement)."""


def light_through(heights: FloatArray, place: Place) -> FloatArray:
    """Share of open light (rows, weeks) that a tree lets through to leaves at these heights (rows,), m."""
    lights, which = lights_through(heights, place)
    return lights[which]


def lights_through(heights: FloatArray, place: Place) -> tuple[FloatArray, npt.NDArray[np.intp]]:
    """The same as the light (n, weeks) at each height that there is, and which of them each row has (rows,).

    All variants of one plant have their leaf at one height.
    """
    if place.light is None:
        raise ValueError("a bed has no light from beneath a tree")
    first = float(heights[0])
    if len(heights) == 1 or (heights == first).all():
        return place.light(first)[None], _all_the_first(len(heights))
    found, which = np.unique(heights, return_inverse=True)
    return np.stack([place.light(height) for height in found.tolist()]), which


@lru_cache(maxsize=64)
def _all_the_first(rows: int) -> npt.NDArray[np.intp]:
    return np.zeros(rows, dtype=np.intp)


def water_asked(
    plants: Sequence[Variants], place: Place
) -> tuple[tuple[Asking, ...], tuple[FloatArray, ...]]:
    """What full stands of plants ask of water here, and what each finds of that in the open (rows,).

    In a bed or hedge as they are. Beneath a tree, which is the first, the others ask less in its shade, by
    the likely leaf of the tree.
    """
    asking, alone = asked_there(plants, place), [plant.sole_water for plant in plants]
    if place.light is None:
        return asking, tuple(alone)
    for i, plant in enumerate(plants[1:], start=1):
        whole = plant.water_course.sum(axis=1)
        alone[i] = alone[i] * asking[i].course.sum(axis=1) / np.where(whole > 0, whole, 1.0)
    return asking, tuple(alone)


def asked_there(plants: Sequence[Variants], place: Place) -> tuple[Asking, ...]:
    """What full stands of plants ask of water here, as `water_asked` has it."""
    asking = [plant.water for plant in plants]
    if place.light is None:
        return tuple(asking)
    for i, plant in enumerate(plants[1:], start=1):
        lights, which = lights_through(plant.leaf_height, place)
        need = need_in_light(lights, place.site.latitude)
        asking[i] = Asking(plant.water_course * (need if len(need) == 1 else need[which]), plant.roots)
    return tuple(asking)


def less_in_shade(plant: Variants, place: Place) -> str:
    """Words that the smaller need in this shade is counted; none in a bed, or where it is hardly smaller."""
    if place.light is None:
        return ""
    need = need_in_light(light_through(plant.leaf_height[:1], place), place.site.latitude)[0]
    season = float(plant.water_course[0].sum())
    if season <= 0 or float((plant.water_course[0] * need).sum()) > WORTH_SAYING * season:
        return ""
    return " (the smaller need in this shade is counted)"
