"""Light in a ring round a tree, by month: the mean of `near_tree.light_near_tree` over 48 places of it.

All round, many of those places are alike, and each kind of them is reckoned once. Sun and sky are the same
east and west of north, and so is a tree, alone or in a row that runs east-west. Under the sky, whose sectors
lie between the bearings of the places, a tree that stands alone looks the same from every bearing.
"""

from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from kb.mixture import kernels
from kb.mixture.light.near_tree import (
    among_crowns,
    area_factor,
    bearings_of,
    crowns_of,
    monthly_to_weekly,
    refuse_impossible,
    ring_radii,
)
from kb.mixture.light.sun import MONTHS, sky_at
from kb.mixture.season import MONTH_WEIGHTS, FloatArray
from kb.mixture.site import Side, Site, Tree

COMPILED = "ring"


IntArray = npt.NDArray[np.intp]
Seen = tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]
"""Light as it is seen from the places of a ring, as the loops take it.

Directions (3, n) of rays, east, north, up, and their shares of open light (n,); east and north (k,) of the
bearings of places, and how much of the ring each of these stands for (k,).
"""


@lru_cache(maxsize=256)
def seen_at(latitude: float, side: Side | None, *, lone: bool) -> tuple[Seen, IntArray, Seen, FloatArray]:
    """From a side of a ring, or from all of it: the sun, with its months, and the sky, with its shares."""
    sky = sky_at(latitude)
    bearings = bearings_of(side)
    counts = np.full(len(bearings), 1 / len(bearings))
    if side is None:
        half = len(bearings) // 2  # from north by east to south; the others are as these
        bearings, counts = bearings[: half + 1], counts[: half + 1] * 2
        counts[[0, -1]] /= 2
    places = (np.sin(bearings), np.cos(bearings), counts)
    sun = (np.ascontiguousarray(sky.sun.T), np.array(sky.sun_weight), *places)
    directions, weight = sky.sky, sky.sky_weight
    if side is None and lone:
        east = directions[:, 0] > 0
        directions, weight = directions[east], 2 * weight[east]
        places = (np.zeros(1), np.ones(1), np.ones(1))
    overcast = (np.ascontiguousarray(directions.T), np.array(weight), *places)
    return sun, np.array(sky.sun_month), overcast, np.array(sky.diffuse)


@dataclass(frozen=True, slots=True, eq=False)
class RingLight:
    """Light in a ring round a tree, or on one side of it, by week (52,); each height is reckoned once."""

    tree: Tree
    leaf_by_week: FloatArray
    site: Site
    ring_m: tuple[float, float]
    side: Side | None
    found: dict[float, FloatArray] = field(default_factory=dict)

    def at(self, height_m: float) -> FloatArray:
        """At a height, m."""
        if height_m not in self.found:
            (from_m, to_m), where = self.ring_m, (self.tree, self.leaf_by_week, self.site)
            monthly = ring_light(*where, from_m=from_m, to_m=to_m, side=self.side, height_m=height_m)
            self.found[height_m] = monthly_to_weekly(monthly)
        return self.found[height_m]


def ring_light(
    tree: Tree,
    leaf_by_week: FloatArray,
    site: Site,
    *,
    from_m: float,
    to_m: float,
    side: Side | None = None,
    height_m: float = 0.0,
) -> FloatArray:
    """Mean share of open light by month (12,) in a ring, or in the quarter of it on one side.

    ``from_m`` and ``to_m`` are distances from the trunk. Three circles of equal area; on a side,
    five bearings within 45 degrees of it, else sixteen all round.
    """
    refuse_impossible(tree)
    area, seen = (
        area_factor(MONTH_WEIGHTS @ leaf_by_week),
        seen_at(site.latitude, side, lone=tree.stand != "row"),
    )
    loop = kernels.ready(COMPILED)
    reckon = _shares if loop is None else loop.shares
    radii, crowns = ring_radii(from_m, to_m), crowns_of(tree)
    shares = reckon(radii, height_m, crowns, *seen, area)
    if tree.stand == "closed":
        shares = among_crowns(tree, area, shares)
    found: FloatArray = np.minimum(shares, 1.0)  # sums of weights pass 1 by rounding; a share cannot
    return found


def _shares(
    radii: FloatArray,
    height_m: float,
    crowns: FloatArray,
    sun_seen: Seen,
    sun_month: IntArray,
    sky_seen: Seen,
    diffuse: FloatArray,
    area: FloatArray,
) -> FloatArray:
    """Shares of open light by month (12,), the mean of places: the twin of `compiled.ring.shares`."""
    depths, counts = _depths(radii, height_m, crowns, sun_seen)
    beam = counts @ np.exp(depths * area[sun_month])
    light = np.bincount(sun_month, weights=sun_seen[1] * beam, minlength=MONTHS)
    depths, counts = _depths(radii, height_m, crowns, sky_seen)
    # Months with the same leaf see the same sky: reckoned once.
    factors, month_factor = np.unique(area, return_inverse=True)
    overcast = np.array([counts @ np.exp(depths * factor) @ sky_seen[1] for factor in factors])
    shares: FloatArray = light + overcast[month_factor] * diffuse
    return shares


def _depths(
    radii: FloatArray, height_m: float, crowns: FloatArray, seen: Seen
) -> tuple[FloatArray, FloatArray]:
    """Optical depth in full leaf, below 0, of rays (places, rays) through domes (`near_tree._path_in_dome`).

    And the part (places,) that each place stands for.
    """
    directions, _, east, north, counts = seen
    level = [np.multiply.outer(radii, part).ravel() for part in (east, north)]
    places = np.stack([*level, np.full(level[0].size, height_m)])
    found = np.zeros((places.shape[1], directions.shape[1]))
    for trunk_east, trunk_north, radius, thick, base, extinction in crowns:
        scale = np.array([radius, radius, thick])[:, None]
        origin = (places - np.array([trunk_east, trunk_north, base])[:, None]) / scale
        towards = directions / scale
        a = (towards**2).sum(axis=0)
        half_b, c = origin.T @ towards, (origin**2).sum(axis=0)[:, None] - 1
        root = np.sqrt(np.maximum(half_b**2 - a * c, 0.0))
        enters = np.maximum(np.maximum((-root - half_b) / a, -origin[2][:, None] / towards[2]), 0.0)
        found += extinction * np.maximum((root - half_b) / a - enters, 0.0)
    return found, np.tile(counts, len(radii)) / len(radii)
