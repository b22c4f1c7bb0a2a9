"""Where roots are: by depth, by season, and sideways from a tree.

Depth (`computation-notes` 1.2): the share of roots above depth d is 1 - exp(-ln 2 (d/D50)^m) with
m = 1.4637/ln(D95/D50). It passes through one half at D50 and 95 % at D95, has density at the
surface (the logistic form has none), and is the beta curve of Jackson et al. 1996 where m is 1.

Sideways (`computation-notes` 1.1): x is distance over crown radius. Half of a tree's roots lie
within x 0.80 and 95 % within 1.99. All shapes sideways are judgement; scatter is large.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import exp, sqrt

import numpy as np
import numpy.typing as npt

from kb.mixture import kernels
from kb.mixture.altered import altered
from kb.mixture.profile import Estimate, Profile
from kb.mixture.season import FloatArray
from kb.mixture.site import Tree

COMPILED = "soil"
DEEPEST_M = 2.2
LAYER_EDGES_M: FloatArray = np.linspace(0.0, DEEPEST_M, 111)
"""Edges of the layers, every 2 cm to 2.2 m; what lies deeper joins the last layer."""
DRAW_EDGES_M: FloatArray = np.array(
    [0, 0.04, 0.08, 0.12, 0.16, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.6, DEEPEST_M]
)
"""Coarser edges for the many draws of doubt; each layer's share is exact all the same."""

SHAPE = float(np.log(np.log(20) / np.log(2)))
"""1.4637: the number in m that puts 95 % of the roots above D95."""
LEAST_RATIO = 1.25
"""D95 over D50 below which the curve is a step that no root system has."""

YOUNG_DEPTH = 0.4
"""A young tree's roots reach at least this share of their final depth (judgement, notes 1.7)."""
ANNUAL_START = 0.25
"""Depth of an annual's roots at the start of its season, of the depth in full cover (`trade` 4.1)."""

USUAL_ROOTS_KM_M2 = 4.5
"""Length of the roots beneath a full stand of most herbs: the middle of the crops on record
(`tests/reference/test_root_length.py`). Other forms are taken alike (judgement): wood has fewer roots, and
fungi for them."""
GRASS_ROOTS = 3.0
"""A stand of a grass or cereal without a record has so many times as much: the middle of those on record; of
15 plants of an orchard floor the grasses had 3.6 times the roots of the others (the same test)."""
STANDS_IN_TIMES = 2.0
"""How far the length may lie from such a middle, either way: most crops on record do (the same test)."""

NEAREST_X, MOST_DRAW = 0.1, 1.5
FOUR_FIFTHS_X = float(np.log(5) ** (1 / 1.6))
"""1.35: within so many radii lie four fifths of the roots."""
NARROW_CROWN = 0.4
"""The radius that counts is at least this share of the height: narrow trees root wider than their
crown (`trade` 4.2, judgement)."""


def root_length(profile: Profile) -> Estimate:
    """Length of the roots beneath a full stand, in those beneath most herbs; by its form if unknown."""
    known = profile.root_length_km_m2
    if known is None:
        usual = GRASS_ROOTS if profile.growth_form.value == "graminoid" else 1.0
        return Estimate(usual / STANDS_IN_TIMES, usual, usual * STANDS_IN_TIMES, "form")
    low, likely, high = (value / USUAL_ROOTS_KM_M2 for value in (known.low, known.likely, known.high))
    return Estimate(low, likely, high, known.origin, known.records)


def cumulative_share(depth_m: npt.ArrayLike, d50_m: npt.ArrayLike, d95_m: npt.ArrayLike) -> FloatArray:
    """Share (0-1) of the roots above a depth; the arrays broadcast. Raises unless D50 < D95."""
    depth, d50, d95 = (np.asarray(value, dtype=float) for value in (depth_m, d50_m, d95_m))
    if not (np.all(d50 > 0) and np.all(d95 > d50)):
        raise ValueError(f"root depths must be 0 < D50 < D95, not D50 {d50} m and D95 {d95} m")
    share: FloatArray = -np.expm1(-np.log(2) * (depth / d50) ** (SHAPE / np.log(d95 / d50)))
    return share


def profile_by_layer(
    d50_m: npt.ArrayLike,
    d95_m: npt.ArrayLike,
    *,
    soil_depth_m: float = DEEPEST_M,
    scale: npt.ArrayLike = 1.0,
    edges: FloatArray = LAYER_EDGES_M,
) -> FloatArray:
    """Share of the roots in each layer, shape (..., layers), summing to 1.

    ``d50_m``, ``d95_m`` and ``scale`` broadcast against each other; ``scale`` shortens (or stretches)
    both depths. Below ``soil_depth_m`` there is none: the roots above are scaled up to make 1.
    """
    d50 = np.asarray(d50_m, dtype=float)[..., None] * np.asarray(scale, dtype=float)[..., None]
    d95 = np.asarray(d95_m, dtype=float)[..., None] * np.asarray(scale, dtype=float)[..., None]
    return _layer_shares(cumulative_share(np.minimum(edges, soil_depth_m), d50, d95), edges, soil_depth_m)


@dataclass(frozen=True, slots=True, eq=False)
class Deepening:
    """Roots of n plants that reach their depths by weeks, before any soil holds them: (d/(D f))^m.

    Split into (d/D)^m at the ``edges`` of the layers (n, edges) and f^-m by week (n, weeks), so that the
    powers are few; a soil of another depth moves none. ``growth`` is f (n, weeks), ``power`` m (n, 1).
    """

    d50_m: FloatArray
    power: FloatArray
    edges: FloatArray
    at_edges: FloatArray
    growth: FloatArray
    deeper: FloatArray

    @classmethod
    def of(cls, d50_m: FloatArray, d95_m: FloatArray, growth: FloatArray, edges: FloatArray) -> "Deepening":
        """Of depths (n,) with their growth (n, weeks) in (0, 1]."""
        power = (SHAPE / np.log(d95_m / d50_m))[:, None]
        at_edges = (edges / d50_m[:, None]) ** power
        return cls(d50_m, power, edges, at_edges, growth, growth**-power)

    def by_weeks(self, growth: FloatArray) -> "Deepening":
        """The same depths reached by other weeks: no power of an edge is another for that."""
        return altered(self, growth=growth, deeper=growth**-self.power)

    def cut(self, soil_depth_m: float) -> FloatArray:
        """(d/D)^m at the edges (n, edges), those below the soil's bottom at that bottom."""
        at_bottom = (soil_depth_m / self.d50_m[:, None]) ** self.power
        return np.where(self.edges < soil_depth_m, self.at_edges, at_bottom)

    def in_soil(self, soil_depth_m: float) -> FloatArray:
        """Shares by layer within a soil, (n, layers, weeks): `growing_profile`.

        A compiled loop does it where one is loaded.
        """
        at_edges = self.cut(soil_depth_m)
        loop = kernels.ready(COMPILED)
        if loop is not None:
            found: FloatArray = loop.growing(at_edges, self.deeper, bool(soil_depth_m >= self.edges[-1]))
            return found
        growth, deeper = self.growth, self.deeper
        moving = np.flatnonzero((growth != 1.0).any(axis=0))
        weeks = growth.shape[1]
        alike = weeks - len(moving) > 1
        if alike:
            # Full depth is reached for most of the year: those weeks are alike, and reckoned once.
            deeper = np.concatenate([deeper[:, moving], np.ones((len(growth), 1))], axis=1)
        cumulative = -np.expm1(-np.log(2) * at_edges[:, None, :] * deeper[:, :, None])
        shares = _layer_shares(cumulative, self.edges, soil_depth_m)
        if alike:
            place = np.full(weeks, len(moving))
            place[moving] = np.arange(len(moving))
            shares = shares.take(place, axis=1)
        return np.ascontiguousarray(np.swapaxes(shares, -1, -2))


def growing_profile(
    d50_m: FloatArray, d95_m: FloatArray, growth: FloatArray, *, soil_depth_m: float, edges: FloatArray
) -> FloatArray:
    """As `profile_by_layer` for depths (n,) that are reached by weeks: ``growth`` (n, weeks) in (0, 1].

    Shape (n, layers, weeks).
    """
    return Deepening.of(d50_m, d95_m, growth, edges).in_soil(soil_depth_m)


def depth_overlap(a: FloatArray, b: FloatArray) -> float:
    """Shared part of two profiles by layer, 0-1: the sum of the smaller shares."""
    return float(np.minimum(a, b).sum())


def depth_scale(size: float) -> float:
    """Depth of a tree's roots over their final depth, at this share (0-1) of its final size."""
    return max(YOUNG_DEPTH, sqrt(size))


def annual_growth(activity: FloatArray) -> FloatArray:
    """Depth of an annual's roots by week over their depth in full cover: 0.25 to 1.

    ``activity`` (52,): depth rises with it from the start of the season and does not fall again.
    """
    if not activity.any() or activity.all():
        return np.ones_like(activity)
    week_before = np.concatenate([activity[-1:], activity[:-1]])
    start = int(np.flatnonzero((activity > 0) & (week_before == 0))[0])
    rising = np.maximum.accumulate(np.concatenate([activity[start:], activity[:start]]))
    risen, turn = rising / rising[-1], len(activity) - start
    depth: FloatArray = ANNUAL_START + (1 - ANNUAL_START) * np.concatenate([risen[turn:], risen[:turn]])
    return depth


def usual_root_radius(tree: Tree) -> float:
    """The radius (m) by which distances from a tree are measured by its size alone."""
    return max(tree.crown_radius_m, NARROW_CROWN * tree.height_m)


def root_radius(tree: Tree) -> float:
    """The radius (m) by which distances from this tree are measured for its roots.

    Where the radius of four fifths of them is on record, that at which the curve has as many.
    """
    if tree.roots_80_m is None:
        return usual_root_radius(tree)
    return tree.roots_80_m / FOUR_FIFTHS_X


def crowding(tree: Tree) -> float:
    """How many times denser (1 or more) a tree draws whose roots on record keep closer than its crown.

    The whole crown is fed from where they are.
    """
    return 1.0 if tree.roots_80_m is None else max(1.0, (tree.crown_radius_m / root_radius(tree)) ** 2)


def draw_of(tree: Tree, distance_m: npt.ArrayLike) -> FloatArray:
    """The draw h of a tree at distances (m) from its trunk, held below what the ground can give."""
    x = np.asarray(distance_m, dtype=float) / root_radius(tree)
    held: FloatArray = np.minimum(MOST_DRAW / _whole_draw(), crowding(tree) * sideways_draw(x))
    return held


def draw_at(tree: Tree, distance_m: float) -> float:
    """`draw_of` at one distance: sooner than through arrays, and asked of every ring."""
    x = max(distance_m / root_radius(tree), NEAREST_X)
    capped: float = min(0.8 * x**-0.4 * exp(-(x**1.6)), MOST_DRAW)
    return min(MOST_DRAW, crowding(tree) * capped) / _whole_draw()


def draw_in_ring(tree: Tree, from_m: float, to_m: float) -> float:
    """Mean of h of a tree over the ring between two distances (m) from its trunk."""
    radius, times = root_radius(tree), crowding(tree)
    mean = ring_draw(from_m / radius, to_m / radius)
    return mean if times == 1.0 else min(MOST_DRAW / _whole_draw(), times * mean)


def sideways_draw(x: npt.ArrayLike) -> FloatArray:
    """h: a tree's draw per m2 of ground at x radii from its trunk, over its draw per m2 of crown.

    0.8 x^-0.4 exp(-x^1.6), held below 1.5 near the trunk and scaled so that the whole is 1.
    """
    draw: FloatArray = _capped_draw(np.asarray(x, dtype=float)) / _whole_draw()
    return draw


def planted_share(from_x: float, to_x: float) -> float:
    """Share (0-1) of a tree's roots in the ring between two distances, in radii."""
    return exp(-(from_x**1.6)) - exp(-(to_x**1.6))


def ring_draw(from_x: float, to_x: float) -> float:
    """Mean of h over the ring between two distances, in radii; at one distance, h there."""
    if to_x - from_x < 1e-6:
        return float(sideways_draw((from_x + to_x) / 2))
    return planted_share(from_x, to_x) / (to_x**2 - from_x**2)


def _layer_shares(cumulative: FloatArray, edges: FloatArray, soil_depth_m: float) -> FloatArray:
    """Differences of a cumulative share along the last axis, closed to 1 at the soil's bottom."""
    reached = cumulative[..., -1:]
    if soil_depth_m >= edges[-1]:
        closed = np.concatenate([cumulative[..., :-1], np.ones_like(reached)], axis=-1)
        return np.diff(closed, axis=-1)
    # In a skin of soil over deep roots nothing is left to scale: all of it sits in the first layer.
    lost = reached <= np.finfo(float).tiny
    shares: FloatArray = np.diff(cumulative, axis=-1) / np.where(lost, 1.0, reached)
    shares[..., :1] = np.where(lost, 1.0, shares[..., :1])
    return shares


def _capped_draw(x: FloatArray) -> FloatArray:
    held = np.maximum(x, NEAREST_X)
    capped: FloatArray = np.minimum(0.8 * held**-0.4 * np.exp(-(held**1.6)), MOST_DRAW)
    return capped


@lru_cache(maxsize=1)
def _whole_draw() -> float:
    """The integral of the capped curve over the ground (h 2x dx): 0.986."""
    x = np.linspace(0, 6, 60001)
    return float(np.trapezoid(_capped_draw(x) * 2 * x, x))
