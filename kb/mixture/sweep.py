"""The best of a very long list of plants beside one: one sweep over the index, pruned by a bound.

In a group of cells (some layers, some weeks) b asks at least ``least`` per m of depth in every cell.
The share of demands met in a cell, f = min(1, Q/(a + b)), falls with b, so with f at ``least``

- what a takes in the group is at most the sum of a f, and
- what b takes is at most the sum of least f, and for the rest of its demand there the largest f.

Both are read from a table made once for a, at ``least`` rounded down to one of a few levels. Over what
each gets alone they bound c of both from above, hence losses from below and relief from above, and
K' from below (light counts as no loss). No plant whose bound is above the 20th best K' found can be
among the best 20.
"""

from functools import cached_property
from typing import Any

import numpy as np

from kb.mixture import kernels
from kb.mixture.in_parts import in_parts
from kb.mixture.index import (
    LAYER_GROUPS,
    NEAR_SURFACE,
    SHAPE_COLUMNS,
    WEEK_GROUPS,
    Float32,
    Ground,
    Index,
    IntArray,
    Plants,
    by_group,
    demands,
    shared_enemies,
    stress,
)
from kb.mixture.relatedness import ENEMY_WEIGHT, SHARED_ENEMIES
from kb.mixture.roots import DRAW_EDGES_M
from kb.mixture.screening import LIKE_STRESS
from kb.mixture.season import FloatArray
from kb.mixture.share import alone, loss_of, relief_of
from kb.mixture.stress import near_limit, with_benefits

SLACK = 1e-4
"""Room for float32 in the bound; sums of 50 numbers near 1 are good to 1e-5."""
LEAST_PART = 16_384
"""So many plants are worth a thread of their own."""
STRIDE = 8
"""Doubles that a processor takes at a time: layers are filled up to a multiple of it."""
LOG_BOTTOMLESS = 1e4
"""A depth (ln m) that all roots are above."""
HARDLY = 1e-18
"""Stands for none in single precision where a division needs some."""
EXTINCTION = SHAPE_COLUMNS.index("extinction")
TOP = 20
HIGHEST = float(np.finfo(np.float32).max)
"""Any bound that is one is below; those of plants already reckoned are infinite."""
NEXT_LOOK = 192
"""So many plants of the lowest bounds are reckoned at a time."""
SAMPLE, LOOK = 768, 64
"""The first limit comes of the lowest ``LOOK`` bounds among about ``SAMPLE`` plants, taken evenly from the
whole list."""


class Query:
    """One plant against an index: ``best`` gives the places and K' of the best, exactly.

    ``compiled`` takes the loops of `compiled` where they can be had; else everything is reckoned in
    numpy, pruned by the same bound.
    """

    def __init__(self, index: Index, a: Plants, ground: Ground, *, compiled: bool = True) -> None:
        self.index, self.a, self.ground = index, a, ground
        self._kernels = kernels.compiled("compiled") if compiled else None
        self._singles = kernels.compiled("compiled_near") if compiled else None
        self._within = self._singles.NEAR if self._singles else 0.0
        self._own = self._full_demand()
        self._sole = np.array([alone(self._own[good], ground.supply[good]) for good in range(2)])
        self.reckoned = 0

    def _full_demand(self) -> FloatArray:
        """What a full stand of a asks, (2, layers, weeks)."""
        a = self.a
        if not self._kernels:
            plain: FloatArray = demands(a, self.ground.soil_depth_m)[0]
            return plain
        by_week = self._kernels.demands(a.activity[0], a.shape[0], bool(a.annual[0]), self._edges)
        found: FloatArray = np.swapaxes(by_week, 1, 2)[:, : len(DRAW_EDGES_M) - 1]
        return found

    @cached_property
    def shared(self) -> Float32:
        if not self._kernels:
            return shared_enemies(self.index.plants, self.a)
        steps = tuple(ENEMY_WEIGHT * SHARED_ENEMIES[kin] for kin in ("genus", "family", "unknown", "none"))
        found: Float32 = self._kernels.shared(self.index.plants.kin, self.a.kin[0], steps)
        return found

    @cached_property
    def table(self) -> Float32:
        """(2, groups, levels, 4): see `compiled.tables`; the third is per unit of b's whole demand."""
        asked = self.ground.shares[0] * self._own
        levels = self.ground.shares[1] * self.index.levels
        make = self._kernels.tables if self._kernels else _plain_tables
        found: Float32 = make(
            asked, self.ground.supply, np.diff(DRAW_EDGES_M), LAYER_GROUPS, WEEK_GROUPS, levels
        )
        found[..., 2] /= self.ground.shares[1]
        return found

    @cached_property
    def most(self) -> FloatArray:
        """What c of a, and of any plant, can be at most: with nobody beside it, and 1 over its share."""
        own = self.ground.shares[0] * self._sole
        goods = slice(0, 1 if self.a.fixer[0] else 2)
        alone_here = self.table[goods, :, 0, 0].sum(axis=1, dtype=np.float64) / own[goods]
        return np.array([alone_here.min() + SLACK, 1 / self.ground.shares[1] + SLACK])

    def bounds(self, limit: float = np.inf, step: int = 1) -> Float32:
        """For every ``step``-th plant a K' that the real one is never below, (n,); inf for the others.

        Above ``limit`` it may be lower than it could be said to be, but is above it.
        """
        index, plants = self.index, self.index.plants
        out = np.full(len(plants), np.inf, dtype=np.float32)
        if self._kernels:
            told = (
                index.codes, index.amounts, index.scale, index.below, index.per_water, index.soles,
                plants.fixer, plants.known, self.shared, self.table, self.ground.shares[0] * self._sole,
                bool(self.a.fixer[0]), bool(self.a.known[0]), self.most, NEAR_SURFACE, SLACK, limit,
            )  # fmt: skip
            look = self._kernels.bounds
            in_parts(
                -(-len(out) // step),
                LEAST_PART,
                lambda start, stop: look(*told, start * step, min(stop * step, len(out)), step, out),
            )
        else:
            out[::step] = self._plain_bounds()[::step]
        return out

    def _plain_bounds(self) -> FloatArray:
        index, table = self.index, self.table.astype(np.float64)
        groups = np.arange(index.amounts.shape[1])
        amount = index.amounts * index.scale[:, None].astype(np.float64)
        asked = (amount, amount * index.per_water[:, None])
        most = []
        for good in range(2):
            took = table[good][groups, index.codes[:, good]]
            sole = index.soles[:, good].astype(np.float64)
            a = took[..., 0].sum(axis=1) / (self.ground.shares[0] * self._sole[good])
            b = (asked[good] * took[..., 1] + took[..., 2]).sum(axis=1) / np.where(sole > 0, sole, 1.0)
            found = np.stack([a, b], axis=1) + SLACK
            most.append(np.minimum(np.where(sole[:, None] > 0, found, np.inf), self.most))
        water, nitrate = most
        fixer = np.stack(np.broadcast_arrays(self.a.fixer[0], index.plants.fixer), axis=-1)
        both = np.where(fixer, water, np.minimum(water, nitrate))
        relief = np.where(index.plants.known & self.a.known[0], relief_of(both), 0.0)
        shared = self.shared[:, None].astype(np.float64) / ENEMY_WEIGHT
        return with_benefits(near_limit(loss_of(both), np.zeros_like(both), shared).max(axis=1), relief)

    @cached_property
    def _edges(self) -> FloatArray:
        return _log_lower_edges(self.ground.soil_depth_m)

    @cached_property
    def _ready(self) -> tuple[Any, ...]:
        """What `compiled.exact` needs to know of a and of the ground."""
        a, ground, asked = self.a, self.ground, self.ground.shares[0] * self._own
        own = [array[0].astype(np.float64) for array in (a.activity, a.leaf, a.shape)]
        return (
            _by_week(asked),
            np.minimum(asked, ground.supply).sum(axis=1),
            *own,
            self._sole,
            bool(a.fixer[0]),
            bool(a.known[0]),
            _by_week(ground.supply),
            self._edges,
        )

    def exact(self, chosen: IntArray, limit: float = np.inf) -> FloatArray:
        """K' of some plants, as `stress` has it; inf may stand for what is above ``limit``."""
        self.reckoned += len(chosen)
        plants, ground, a = self.index.plants, self.ground, self.a
        if not self._kernels:
            return stress(plants.only(chosen), a, ground)
        found: FloatArray = self._kernels.exact(
            chosen, plants.activity, plants.leaf, plants.shape, plants.fixer, plants.known, plants.annual,
            self.shared, *self._ready, ground.open_light, ground.shares, limit,
        )  # fmt: skip
        return np.where(plants.kin[chosen, 0] == a.kin[0, 0], LIKE_STRESS, found)

    @cached_property
    def _ready_in_singles(self) -> tuple[Any, ...]:
        """What `compiled_near.near` needs to know of a and of the ground."""
        asked, alone_by_week, activity, leaf, shape, sole, fixer, known, supply, edges = self._ready
        weeks, held = len(activity), self._singles.WEEKS_HELD if self._singles else 0
        until = np.zeros((2, weeks + 1))
        np.cumsum(alone_by_week, axis=1, out=until[:, 1:])
        depth = np.maximum(shape[EXTINCTION] * leaf, HARDLY)
        light = np.zeros((3, held))
        light[:, :weeks] = activity, depth, depth / -np.expm1(-depth)
        active = np.flatnonzero(activity)
        first, last = (int(active[0]), int(active[-1]) + 1) if len(active) else (0, 1)
        return (
            _cells(asked, held, 0.0), until, _singles(light), (first, last, float(activity.sum())),
            _singles(shape), sole, fixer, known, _cells(np.maximum(supply, HARDLY), held, 1.0),
            _singles(edges),
        )  # fmt: skip

    def near(self, chosen: IntArray, limit: float = np.inf) -> FloatArray:
        """K' of some plants, within ``compiled_near.NEAR``; inf may stand for what is above ``limit``."""
        if not self._singles:
            return self.exact(chosen)
        self.reckoned += len(chosen)
        plants, ground = self.index.plants, self.ground
        found: FloatArray = self._singles.near(
            chosen, plants.activity, plants.leaf, plants.shape, self.index.seasons, self.index.soles,
            plants.fixer, plants.known, plants.annual, self.shared, *self._ready_in_singles,
            ground.open_light, ground.shares, limit,
        )  # fmt: skip
        found[plants.kin[chosen, 0] == self.a.kin[0, 0]] = LIKE_STRESS
        untold = np.flatnonzero(found == -np.inf)
        if len(untold):
            found[untold] = self.exact(chosen[untold])
        return found

    def best(self, count: int = TOP) -> tuple[IntArray, FloatArray]:
        """Places and K' of the best ``count``, best first, equals (to 9 digits) in their order."""
        step = max(1, len(self.index.plants) // SAMPLE)
        places = self._lowest(self.bounds(step=step), max(LOOK, count))
        found = self.near(places)
        limit = _nth(found, count) + self._within
        low = self.bounds(limit + SLACK)
        if limit >= LIKE_STRESS:  # like with like stands in the middle, whatever its bound
            like = np.flatnonzero(self.index.plants.kin[:, 0] == self.a.kin[0, 0])
            low[like] = np.minimum(low[like], LIKE_STRESS)
        low[places] = np.inf
        rest = self._below(low, min(limit + SLACK, HIGHEST))
        lowest = low[rest]
        order = np.argsort(lowest, kind="stable")
        rest, lowest = rest[order], lowest[order]
        for start in range(0, len(rest), NEXT_LOOK):
            some = rest[start : start + NEXT_LOOK]
            if lowest[start] > limit + SLACK:
                break
            places = np.concatenate([places, some])
            found = np.concatenate([found, self.near(some, limit + self._within)])
            limit = _nth(found, count) + self._within
        places = places[found <= limit + self._within]
        found = self.exact(places)
        order = np.lexsort([places, np.round(found, 9)])[:count]
        return places[order], found[order]

    def _lowest(self, values: Float32, count: int) -> IntArray:
        """Places of the smallest finite values, in no order."""
        found: IntArray
        if self._kernels:
            found = self._kernels.smallest(values, count)
        else:
            found = np.argsort(values, kind="stable")[:count]
        return found[np.isfinite(values[found])]

    def _below(self, values: Float32, limit: float) -> IntArray:
        found: IntArray = (
            self._kernels.below(values, limit) if self._kernels else np.flatnonzero(values <= limit)
        )
        return found


def _singles(array: FloatArray) -> Float32:
    return np.ascontiguousarray(array, dtype=np.float32)


def _cells(by_week: FloatArray, weeks: int, beyond: float) -> Float32:
    """(2, weeks, layers) as singles in one row a good, filled up to so many weeks with ``beyond``."""
    goods, held, layers = by_week.shape
    found = np.full((goods, weeks, layers), beyond, dtype=np.float32)
    found[:, :held] = by_week
    return found.reshape(goods, -1)


def _by_week(cells: FloatArray) -> FloatArray:
    """(2, layers, weeks) as (2, weeks, layers), in that order in memory, with empty layers to `STRIDE`."""
    goods, layers, weeks = cells.shape
    by_week = np.zeros((goods, weeks, layers + -layers % STRIDE))
    by_week[..., :layers] = np.swapaxes(cells, 1, 2)
    return by_week


def _log_lower_edges(soil_depth_m: float) -> FloatArray:
    """Logarithms of the layers' lower ends (m), for `compiled.exact`; the last has none where soil goes on.

    The layers that fill up to `STRIDE` end where the last one does, so no roots are in them.
    """
    layers = len(DRAW_EDGES_M) - 1
    ends = np.empty(layers + -layers % STRIDE)
    ends[:layers] = np.log(np.minimum(DRAW_EDGES_M[1:], soil_depth_m))
    if soil_depth_m >= DRAW_EDGES_M[-1]:
        ends[layers - 1] = LOG_BOTTOMLESS
    ends[layers:] = ends[layers - 1]
    return ends


def _nth(values: FloatArray, count: int) -> float:
    """The largest of the ``count`` smallest, with room for rounding to 9 digits; inf for fewer."""
    if len(values) < count:
        return float("inf")
    return float(np.partition(values, count - 1)[count - 1]) + 1e-9


def _plain_tables(
    asked: FloatArray,
    supply: FloatArray,
    thickness: FloatArray,
    layer_groups: IntArray,
    week_groups: IntArray,
    levels: FloatArray,
) -> Float32:
    """The twin of `compiled.tables`."""
    groups = (len(layer_groups) - 1) * (len(week_groups) - 1)
    found = np.zeros((2, groups, levels.shape[1], 4), dtype=np.float32)
    for good in range(2):
        for at, level in enumerate(levels[good]):
            b = np.broadcast_to(level * thickness[:, None], supply[good].shape)
            met = np.minimum(1.0, supply[good] / np.maximum(asked[good] + b, 1e-300))
            most = by_group(met, np.maximum)
            found[good, :, at, 0] = by_group(asked[good] * met, np.add)
            found[good, :, at, 1] = most
            found[good, :, at, 2] = by_group(b * met, np.add) - by_group(b, np.add) * most
    return found
