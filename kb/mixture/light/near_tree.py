"""Light near a tree: what share of open-ground light is left at a place, month by month.

The crown is a dome: the upper half of an ellipsoid, widest at its base. Leaf is spread evenly in
it. Each ray towards the sun and towards a part of the overcast sky is dimmed by the length of its
way through the dome. Above and below the tree the same horizon is cut off, so that open ground
reads 1 in every month; what a horizon itself takes is not counted here.

What it leaves out: light that leaves pass on or throw back, gaps between branches, and the stem.
"""

from collections.abc import Sequence
from math import sqrt

import numpy as np
import numpy.typing as npt

from kb.mixture import kernels
from kb.mixture.light.canopy import bed_light, light_sufficiency
from kb.mixture.light.sun import MID_MONTH_DAYS, MONTHS, Sky, sky_at, sun_position
from kb.mixture.season import MONTH_WEIGHTS, WEEKS, YEAR_DAYS, FloatArray
from kb.mixture.site import Side, Site, Tree

__all__ = [
    "bed_light",
    "light_near_tree",
    "light_near_tree_weekly",
    "light_sufficiency",
    "monthly_to_weekly",
    "sun_position",
]

LEAF_EXTINCTION = 0.5
"""Leaves at all angles (spherical): half their area faces any direction (`trade` 4.4)."""
BARE_AREA = 0.24
"""Twigs of the bare crown as a share of the leaf area: gives way to the leaves as they come.

With `WOOD_AREA` a bare crown stops light like 0.27 of the crown in leaf, the mean of five trees whose
sunlight was measured both ways (0.17 to 0.38; Gardner and Sydnor, as in tests/reference). By the sky
seen through ten other trees it would be 0.38 (0.24 to 0.51; Wilkinson 1992). The 0.12 of `trade` 4.4
lies below all fifteen.
"""
WOOD_AREA = 0.04
"""Stem and branches, all year, as a share of the leaf area (`trade` 4.4: judgement)."""

CLOSED_SHARE = 0.8
"""In a closed stand, the share of ground under canopy without a gap; the rest as a lone tree."""
ROW_NEIGHBOURS = (-2, -1, 0, 1, 2)
"""A row runs east-west, tree by tree one crown diameter apart, so that the crowns just touch."""

_BEARING = {"N": 0.0, "E": 90.0, "S": 180.0, "W": 270.0}
_PLACES_AT_ONCE = 1024
LARGE = 2000
"""From so many places on the compiled twin of the loop is worth loading (`compiled.light`)."""


def light_near_tree(
    tree: Tree,
    leaf_by_week: FloatArray,
    site: Site,
    *,
    east_m: npt.ArrayLike,
    north_m: npt.ArrayLike,
    height_m: npt.ArrayLike = 0.0,
) -> FloatArray:
    """Share (0-1] of open-ground light at places near a tree, by month: shape (..., 12).

    Places are metres east and north of the trunk and above the ground; the arrays broadcast.
    ``leaf_by_week`` (52,) is the tree's leaf activity at the site (1 in full leaf, 0 bare).
    ``site.open_light`` is not applied: the share is of the open ground beside the tree.
    """
    refuse_impossible(tree)
    sky = sky_at(site.latitude)
    area = area_factor(MONTH_WEIGHTS @ leaf_by_week)
    east, north, height = np.broadcast_arrays(east_m, north_m, height_m)
    places = np.stack([east.ravel(), north.ravel(), height.ravel()], axis=1).astype(np.float32)
    reckon = _in_pieces if len(places) < LARGE else _lone_or_row_compiled
    shares = reckon(tree, area, sky, places)
    if tree.stand == "closed":
        shares = among_crowns(tree, area, shares)
    # Float32 sums can pass 1 by a few parts in ten million; a share cannot.
    shape = (*east.shape, MONTHS)
    return np.clip(shares, np.finfo(np.float32).tiny, 1.0).reshape(shape)


def light_near_tree_weekly(
    tree: Tree,
    leaf_by_week: FloatArray,
    site: Site,
    *,
    east_m: npt.ArrayLike,
    north_m: npt.ArrayLike,
    height_m: npt.ArrayLike = 0.0,
) -> FloatArray:
    """As `light_near_tree`, by week: shape (..., 52), interpolated between mid-months."""
    monthly = light_near_tree(tree, leaf_by_week, site, east_m=east_m, north_m=north_m, height_m=height_m)
    return monthly_to_weekly(monthly)


def ring_light_by_side(
    tree: Tree,
    leaf_by_week: FloatArray,
    site: Site,
    *,
    from_m: float,
    to_m: float,
    sides: Sequence[Side],
    heights_m: Sequence[float],
) -> FloatArray:
    """`ring_light` on several sides at several heights at once, (sides, heights, 12)."""
    east, north = np.stack([_ring_places(from_m, to_m, side) for side in sides], axis=1)
    shares = light_near_tree(
        tree,
        leaf_by_week,
        site,
        east_m=east[:, None],
        north_m=north[:, None],
        height_m=np.array(heights_m)[:, None, None],
    )
    mean: FloatArray = shares.mean(axis=(2, 3))
    return mean


_MIDDLES = (1, 3, 5)


def ring_radii(from_m: float, to_m: float) -> FloatArray:
    """Radii (3,) of the middles of three circles of equal area that make up a ring, m."""
    if not 0 <= from_m < to_m:
        raise ValueError(f"a ring needs 0 <= from < to, not from {from_m:g} m to {to_m:g} m")
    return np.array([sqrt(from_m**2 + (to_m**2 - from_m**2) * middle / 6) for middle in _MIDDLES])


def _ring_places(from_m: float, to_m: float, side: Side | None) -> tuple[FloatArray, FloatArray]:
    """Metres east and north of the trunk of the places in a ring, or in the quarter of it on a side."""
    radius, bearing = ring_radii(from_m, to_m), bearings_of(side)
    return radius[:, None] * np.sin(bearing), radius[:, None] * np.cos(bearing)


def bearings_of(side: Side | None) -> FloatArray:
    """Bearings of the places of a ring, clockwise from north, radians: all round, or on a side."""
    bearings: FloatArray = np.radians(
        np.arange(16) * 22.5 if side is None else _BEARING[side] + np.array([-36, -18, 0, 18, 36])
    )
    return bearings


def _month_to_week_matrix() -> FloatArray:
    weeks = (np.arange(WEEKS) + 0.5) * YEAR_DAYS / WEEKS
    columns = [np.interp(weeks, MID_MONTH_DAYS, unit, period=YEAR_DAYS) for unit in np.eye(MONTHS)]
    return np.array(columns)


MONTH_TO_WEEK = _month_to_week_matrix()


def monthly_to_weekly(monthly: FloatArray) -> FloatArray:
    """(..., 12) mid-month values to (..., 52) weekly ones, straight lines round the year."""
    weekly: FloatArray = monthly @ MONTH_TO_WEEK
    return weekly


def among_crowns(tree: Tree, area: FloatArray, shares: FloatArray) -> FloatArray:
    """Shares (..., 12) of a lone tree, in a stand whose crowns touch."""
    under_canopy = np.exp(-LEAF_EXTINCTION * tree.leaf_area_index * area)
    closed: FloatArray = (1 - CLOSED_SHARE) * shares + CLOSED_SHARE * under_canopy
    return closed


def area_factor(leaf: FloatArray) -> FloatArray:
    """Area that stops light, as a share of the full leaf area, at this leaf activity."""
    return leaf + BARE_AREA * (1 - leaf) + WOOD_AREA


def refuse_impossible(tree: Tree) -> None:
    """Raise ValueError where a tree can be none."""
    if not 0 <= tree.crown_base_m < tree.height_m:
        raise ValueError(
            f"the crown base ({tree.crown_base_m:g} m) must lie between the ground and the top "
            f"({tree.height_m:g} m)"
        )
    if not (tree.crown_radius_m > 0 and tree.leaf_area_index >= 0):
        raise ValueError(
            f"a crown needs a radius above 0 m (given: {tree.crown_radius_m:g}) and a leaf area "
            f"index of 0 or more (given: {tree.leaf_area_index:g})"
        )


def _lone_or_row_compiled(
    tree: Tree, area: FloatArray, sky: Sky, places: npt.NDArray[np.float32]
) -> FloatArray:
    """The same as `_in_pieces`, compiled; the same function where no compiler can be had."""
    loop = kernels.compiled("light")
    if loop is None:
        return _in_pieces(tree, area, sky, places)
    found: FloatArray = loop.shares(crowns_of(tree), area, sky, places)
    return found


def crowns_of(tree: Tree) -> FloatArray:
    """The crown of a tree, with its neighbours in a row, as compiled loops take it (k, 6).

    Trunk east and north, radius, depth and base, m; optical depth per m of way in full leaf, below 0.
    """
    trees = ROW_NEIGHBOURS if tree.stand == "row" else (0,)
    thick = tree.height_m - tree.crown_base_m
    extinction = -LEAF_EXTINCTION * 1.5 * tree.leaf_area_index / thick
    trunks = [2 * tree.crown_radius_m * n for n in trees]
    return np.array(
        [(east, 0.0, tree.crown_radius_m, thick, tree.crown_base_m, extinction) for east in trunks]
    )


def _in_pieces(tree: Tree, area: FloatArray, sky: Sky, places: npt.NDArray[np.float32]) -> FloatArray:
    """`_lone_or_row` of many places, so many at once that they fit in memory."""
    shares = np.empty((len(places), MONTHS))
    for first in range(0, len(places), _PLACES_AT_ONCE):
        some = slice(first, first + _PLACES_AT_ONCE)
        shares[some] = _lone_or_row(tree, area, sky, places[some])
    return shares


def _lone_or_row(tree: Tree, area: FloatArray, sky: Sky, places: npt.NDArray[np.float32]) -> FloatArray:
    """Shares (places, 12). Ways through the crown are found once and shared by all months."""
    trees = ROW_NEIGHBOURS if tree.stand == "row" else (0,)
    density = 1.5 * tree.leaf_area_index / (tree.height_m - tree.crown_base_m)
    extinction = np.float32(-LEAF_EXTINCTION * density)

    def depth(directions: FloatArray) -> npt.NDArray[np.float32]:
        path = sum(
            _path_in_dome(tree, places, directions, trunk_east_m=2 * tree.crown_radius_m * n) for n in trees
        )
        return np.asarray(extinction * path, dtype=np.float32)

    area32 = area.astype(np.float32)
    sun_left = np.exp(depth(sky.sun) * area32[sky.sun_month])
    by_month = np.zeros((len(sky.sun), MONTHS), dtype=np.float32)
    by_month[np.arange(len(sky.sun)), sky.sun_month] = sky.sun_weight
    light = (sun_left @ by_month).astype(float)
    sky_depth = depth(sky.sky)
    sky_weight = sky.sky_weight.astype(np.float32)
    # Months with the same leaf (all of winter, all of summer) see the same sky: reckon it once.
    factors, month_factor = np.unique(area32, return_inverse=True)
    from_sky = np.stack([np.exp(sky_depth * factor) @ sky_weight for factor in factors], axis=1)
    shares: FloatArray = light + from_sky[:, month_factor] * sky.diffuse
    return shares


def _path_in_dome(
    tree: Tree,
    places: npt.NDArray[np.float32],
    directions: FloatArray,
    *,
    trunk_east_m: float,
) -> npt.NDArray[np.float32]:
    """Length (m) inside the dome of each ray from each place, shape (places, directions).

    In co-ordinates scaled to the dome it is the upper half of the unit sphere: the ray meets the
    sphere where |o + t d| = 1, and counts from the base of the crown upwards.
    """
    depth = tree.height_m - tree.crown_base_m
    scale = np.array([tree.crown_radius_m, tree.crown_radius_m, depth])
    centre = np.array([trunk_east_m, 0.0, tree.crown_base_m])
    o = ((places - centre) / scale).astype(np.float32)
    d = (directions / scale).astype(np.float32)
    a = (d**2).sum(axis=1)
    half_b = o @ d.T
    c = (o**2).sum(axis=1)[:, None] - 1
    root = np.sqrt(np.maximum(half_b**2 - a * c, 0))
    leaves = (root - half_b) / a
    enters = (-root - half_b) / a
    base = -o[:, 2:] / d[:, 2]
    np.maximum(enters, base, out=enters)
    np.maximum(enters, 0, out=enters)
    leaves -= enters
    path: npt.NDArray[np.float32] = np.maximum(leaves, 0, out=leaves)
    return path
