"""Light of two in a bed, kept: no soil moves it, nor does what stands for water and nitrogen.

It is kept by the very arrays it comes of (`felt.lit`), which `variants` keeps too, and only where compiled
loops serve: a single question asks for each but once.
"""

from collections.abc import Sequence
from itertools import chain

from kb.mixture import kernels
from kb.mixture.kept import KeptBy
from kb.mixture.sharing.felt import COMPILED, LightFelt, Rows, Spot, light_felt, lit, mean_light
from kb.mixture.sharing.variants import Variants

KEPT = 64
"""So many findings, some 0.1 MB each with draws."""
_FELT: KeptBy[LightFelt] = KeptBy(KEPT)
_MEANS: KeptBy[list[float]] = KeptBy(KEPT)


def light_kept(plants: Sequence[Variants], rows: Rows, spot: Spot) -> LightFelt:
    """`felt.light_felt`; in a bed that of before, where nothing it comes of is another."""
    if _moved(spot):
        return light_felt(plants, rows, spot)
    arrays = (*chain.from_iterable(map(lit, plants)), *rows)
    return _FELT.of(arrays, _shades(spot), lambda: light_felt(plants, rows, spot))


def mean_kept(plants: Sequence[Variants], spot: Spot) -> list[float]:
    """`felt.mean_light`, likewise."""
    if _moved(spot):
        return mean_light(plants, spot)
    arrays = tuple(chain.from_iterable(map(lit, plants)))
    return _MEANS.of(arrays, _shades(spot), lambda: mean_light(plants, spot))


def _moved(spot: Spot) -> bool:
    """Whether the light of this place is another one with every question, or nothing is warm yet."""
    return spot.place.setting != "bed" or kernels.ready(COMPILED) is None


def _shades(spot: Spot) -> tuple[float, ...]:
    return (*spot.shares, spot.place.site.open_light)
