"""The best of a very long list of plants beside one: one sweep over the index, pruned by a bound.

In a group of cells (some layers, some weeks) b asks at least ``least`` per m of depth in every cell.
The share of demands met in a cell, for water f = min(1, Q/(a + b)), falls with b, so with f at ``least``

- what a takes in the group is at most the sum of a f, and
- what b takes is at most the sum of least f, and for the rest of its demand there the largest f: all that
  it asks there, less (1 - largest f) of it, less the sum of least (largest f - f).

Of nitrate, which goes by roots, what a takes and the share of b's demand that is met fall with b's roots and
with what a unit of them asks, so ``least`` is that of its roots, at that hunger rounded down.

Both are read from a table made once for a, at ``least`` rounded down to one of a few levels and b's demand
rounded down, which only makes them larger. In a group that is not looked at a takes at most what it takes
with nobody beside it, and b all that it asks. So any groups will do for a bound: those in which a asks most
come first, a plant is turned away as soon as the groups so far say so, and those in which a asks nothing are
never looked at. Over what each gets alone the sums bound c of both from above, hence losses from below and
relief from above, and K' from below (light counts as no loss). No plant whose bound is above the 20th best
K' found can be among the best 20; so it does not matter by which plants that one was found.
"""

from functools import cache, cached_property, lru_cache
from types import ModuleType
from typing import Any, NamedTuple

import numpy as np

from kb.mixture import kernels
from kb.mixture.ground.roots import DRAW_EDGES_M
from kb.mixture.ground.share import alone, loss_of, relief_of
from kb.mixture.in_parts import in_parts
from kb.mixture.lists.index import (
    LAYER_GROUPS,
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
from kb.mixture.lists.screening import LIKE_STRESS
from kb.mixture.relatedness import ENEMY_WEIGHT, SHARED_ENEMIES
from kb.mixture.season import FloatArray
from kb.mixture.stress import near_limit, with_benefits

SLACK = 1e-4
"""Room for float32 in the bound; sums of 50 numbers near 1 are good to 1e-5."""
EQUAL = 1e-9
"""Closer than this stresses are equal."""
LEAST_PART = 16_384
"""So many plants are worth a thread of their own."""
STRIDE = 8
"""Doubles that a processor takes at a time: layers are filled up to a multiple of it."""
LOG_BOTTOMLESS = 1e4
"""A depth (ln m) that all roots are above."""
EXTINCTION, HUNGER = SHAPE_COLUMNS.index("extinction"), SHAPE_COLUMNS.index("hunger")
SHARED_STEPS = tuple(ENEMY_WEIGHT * SHARED_ENEMIES[kin] for kin in ("genus", "family", "unknown", "none"))
TOP = 20
NEXT_LOOK = 64
"""So many plants of the lowest bounds are reckoned at a time."""
SAMPLE, LOOK = 320, 64
"""The first limit comes of the lowest ``LOOK`` bounds among about ``SAMPLE`` plants, taken evenly from those
of the relation that can be best."""


class Query:
    """One plant against an index: ``best`` gives the places and K' of the best, exactly.

    ``compiled`` takes the loops of `compiled.sweep` where they can be had; else everything is reckoned in
    numpy, pruned by the same bound.
    """

    def __init__(self, index: Index, a: Plants, ground: Ground, *, compiled: bool = True) -> None:
        self.index, self.a, self.ground = index, a, ground
        self._loops = _loops() if compiled else None
        self.reckoned = 0

    @cached_property
    def _ready(self) -> tuple[tuple[Any, ...], FloatArray, tuple[Any, ...]]:
        """What `compiled.subject.subject` makes of a and of the ground."""
        a, ground = self.a, self.ground
        found: tuple[tuple[Any, ...], FloatArray, tuple[Any, ...]] = _had(self._loops).subject.subject(
            a.activity[0], a.leaf[0], a.shape[0], bool(a.annual[0]), EXTINCTION,
            _log_lower_edges(ground.soil_depth_m), ground.supply, float(ground.shares[0]),
        )  # fmt: skip
        return found

    @cached_property
    def shared(self) -> Float32:
        if not self._loops:
            return shared_enemies(self.index.plants, self.a)
        found: Float32 = self._loops.sweep.shared(self.index.plants.kin, self.a.kin[0], SHARED_STEPS)
        return found

    @cached_property
    def _tables(self) -> tuple[Any, ...]:
        """The table, the order of its groups, how many they are, what is left of them, and ``most``."""
        ground = self.ground
        (asked, *_, sole), supply, _ = self._ready
        loops, share = _had(self._loops), float(ground.shares[1])
        found: tuple[Any, ...] = loops.sweep.tables(
            asked, supply, np.diff(DRAW_EDGES_M), LAYER_GROUPS, WEEK_GROUPS, share * self.index.levels, share,
            float(self.a.shape[0, HUNGER]), self.index.hungers,
        )  # fmt: skip
        fixer, own = bool(self.a.fixer[0]), ground.shares[0] * sole
        return found + tuple(loops.sweep.most_of(*found, share, own, fixer, SLACK))

    @cached_property
    def table(self) -> Float32:
        """(2, groups, hungers x levels, 4): see `compiled.sweep.tables`."""
        if self._loops:
            compiled: Float32 = self._tables[0]
            return compiled
        asked = self.ground.shares[0] * demands(self.a, self.ground.soil_depth_m)[0]
        levels = self.ground.shares[1] * self.index.levels
        hungers = (float(self.a.shape[0, HUNGER]), self.index.hungers)
        found = _plain_tables(asked, self.ground.supply, np.diff(DRAW_EDGES_M), levels, hungers)
        found[..., 2] /= self.ground.shares[1]
        return found

    @cached_property
    def _told_of_bounds(self) -> tuple[Any, ...]:
        """What the loops of `compiled.sweep` that bound need to know."""
        index, plants, a = self.index, self.index.plants, self.a
        sole = self._ready[0][-1]
        return (
            index.codes, index.amounts, index.scale, index.whole, index.per_water, index.soles, plants.fixer,
            plants.known, self.shared, plants.kin, *self._tables, self.ground.shares[0] * sole,
            bool(a.fixer[0]), bool(a.known[0]), int(a.kin[0, 0]), LIKE_STRESS, SLACK, index.steps,
            index.levels.shape[1],
        )  # fmt: skip

    @cached_property
    def _told_of_near(self) -> tuple[Any, ...]:
        """What `compiled.near.near` needs to know of all plants, of a and of the ground."""
        index, plants, a, ground = self.index, self.index.plants, self.a, self.ground
        asked, until, light, season, shape, supply, edges = self._ready[2]
        return (
            plants.activity, plants.leaf, plants.shape, index.seasons, index.soles, plants.fixer,
            plants.known, plants.annual, self.shared, plants.kin, int(a.kin[0, 0]), LIKE_STRESS, asked, until,
            light, season, shape, self._ready[0][-1], bool(a.fixer[0]), bool(a.known[0]), supply, edges,
            float(ground.open_light), ground.shares,
        )  # fmt: skip

    def bounds(self) -> FloatArray:
        """For every plant a K' that the real one is never below, (n,)."""
        if not self._loops:
            return self._plain_bounds()
        found = np.full(len(self.index.plants), np.inf)
        for places, low in self._under(1.0, np.arange(0)):
            found[places] = low**0.25
        return found

    def _under(self, limit: float, but: IntArray) -> list[tuple[IntArray, FloatArray]]:
        """`compiled.sweep.under` of the whole list, in parts."""
        size, told, under = len(self.index.plants), self._told_of_bounds, _had(self._loops).sweep.under
        places, low = np.empty(size, dtype=np.int64), np.empty(size)
        ends: list[tuple[int, int]] = []
        in_parts(
            size,
            LEAST_PART,
            lambda start, stop: ends.append(
                (start, start + under(start, stop, limit, but, places, low, told))
            ),
        )
        return [(places[start:end], low[start:end]) for start, end in sorted(ends)]

    def _plain_bounds(self) -> FloatArray:
        index, a, table = self.index, self.a, self.table.astype(np.float64)
        own = self.ground.shares[0] * alone(demands(a, self.ground.soil_depth_m)[0], self.ground.supply)
        groups = np.arange(index.amounts.shape[1])
        amount = index.amounts * index.scale[:, None].astype(np.float64)
        goods = []
        for good, unit in enumerate((np.ones(len(index.plants)), index.per_water.astype(np.float64))):
            first = index.steps[:, None] * index.levels.shape[1] if good else 0
            met = table[good][groups, first + index.codes[:, good].astype(np.int64)]
            sole = index.soles[:, good].astype(np.float64)
            got = index.whole - (amount * met[..., 1]).sum(axis=1)
            taken = np.stack([met[..., 0].sum(axis=1), unit * got + met[..., 2].sum(axis=1)], axis=-1)
            whole = np.stack(np.broadcast_arrays(own[good], sole), axis=-1)
            goods.append(np.where(whole > 0, taken / np.where(whole > 0, whole, 1.0), 1.0) + SLACK)
        water, nitrate = goods
        fixer = np.stack(np.broadcast_arrays(a.fixer[0], index.plants.fixer), axis=-1)
        most = np.minimum(np.where(fixer, water, np.minimum(water, nitrate)), self._most)
        relief = np.where(index.plants.known & a.known[0], relief_of(most), 0.0)
        shared = self.shared[:, None].astype(np.float64) / ENEMY_WEIGHT
        found = with_benefits(near_limit(loss_of(most), np.zeros_like(most), shared).max(axis=1), relief)
        return np.where(index.plants.kin[:, 0] == a.kin[0, 0], LIKE_STRESS, found)

    def exact(self, chosen: IntArray, limit: float = np.inf) -> FloatArray:
        """K' of some plants, as `stress` has it; inf may stand for what is above ``limit``."""
        self.reckoned += len(chosen)
        plants, ground, a = self.index.plants, self.ground, self.a
        if not self._loops:
            return stress(plants.only(chosen), a, ground)
        doubles, supply, _ = self._ready
        found: FloatArray = self._loops.doubles.exact(
            chosen, plants.activity, plants.leaf, plants.shape, plants.fixer, plants.known, plants.annual,
            self.shared, *doubles, bool(a.fixer[0]), bool(a.known[0]), supply,
            _log_lower_edges(ground.soil_depth_m), ground.open_light, ground.shares, limit,
        )  # fmt: skip
        return np.where(plants.kin[chosen, 0] == a.kin[0, 0], LIKE_STRESS, found)

    def near(self, chosen: IntArray, limit: float = np.inf) -> FloatArray:
        """K' of some plants, within ``compiled.near.NEAR``; inf may stand for what is above ``limit``."""
        if not self._loops:
            return self.exact(chosen)
        self.reckoned += len(chosen)
        found: FloatArray
        found, untold = self._loops.singles.near(chosen, limit, *self._told_of_near)
        if untold:
            these = np.flatnonzero(found == -np.inf)
            found[these] = self.exact(chosen[these])
        return found

    def best(self, count: int = TOP) -> tuple[IntArray, FloatArray]:
        """Places and K' of the best ``count``, best first, equals (to 9 digits) in their order."""
        places = self._can_be_best(count) if self._loops else self._plainly_best(count)
        found = self.exact(places)
        order = np.lexsort([places, np.round(found, 9)])[:count]
        return places[order], found[order]

    def _can_be_best(self, count: int) -> IntArray:
        """Places of the best and of what singles cannot tell from them."""
        loops, bounds, near = _had(self._loops), self._told_of_bounds, self._told_of_near
        within, look = loops.singles.NEAR + EQUAL, max(LOOK, count)
        places: IntArray
        if len(self.index.plants) < 2 * LEAST_PART:
            places, reckoned = loops.sweep.sweep(count, SAMPLE, look, within, SLACK, NEXT_LOOK, bounds, near)
        else:
            best = np.full(count, np.inf)
            looked = loops.sweep.promising(SAMPLE, look, bounds)
            found = loops.sweep.first_limit(looked, best, near)
            parts = self._under((best[-1] + within + SLACK) ** 4, looked)
            rest, low = (np.concatenate(some) for some in zip(*parts, strict=True))
            places, reckoned = loops.sweep.lowest_first(
                rest, low, looked, found, best, within, SLACK, NEXT_LOOK, near
            )
        self.reckoned += reckoned
        return places

    def _plainly_best(self, count: int) -> IntArray:
        low = self._plain_bounds()
        order = np.argsort(low, kind="stable")
        found, limit = np.empty(0), np.inf
        while len(found) < len(order) and low[order[len(found)]] <= limit:
            some = order[len(found) : len(found) + NEXT_LOOK]
            found = np.concatenate([found, self.exact(some)])
            if len(found) >= count:
                limit = float(np.partition(found, count - 1)[count - 1]) + EQUAL
        return order[: len(found)][found <= limit]

    @cached_property
    def _most(self) -> FloatArray:
        """What c of a, and of any plant, can be at most: with nobody beside it, and 1 over its share."""
        full, supply = demands(self.a, self.ground.soil_depth_m)[0], self.ground.supply
        own = self.ground.shares[0] * alone(full, supply)
        least = alone(self.ground.shares[0] * full, supply) / np.where(own > 0, own, 1.0)
        by_good = np.where(own > 0, least, 1.0)[: 1 if self.a.fixer[0] else 2]
        return np.array([by_good.min() + SLACK, 1 / self.ground.shares[1] + SLACK])


class _Loops(NamedTuple):
    """The modules of compiled loops."""

    doubles: ModuleType
    singles: ModuleType
    sweep: ModuleType
    subject: ModuleType


@cache
def _loops() -> _Loops | None:
    names = ("doubles", "near", "sweep", "subject")
    doubles, singles, sweep, subject = (kernels.compiled(name) for name in names)
    if doubles is None or singles is None or sweep is None or subject is None:
        return None
    return _Loops(doubles, singles, sweep, subject)


def _had(loops: _Loops | None) -> _Loops:
    if loops is None:
        raise RuntimeError("asked of the compiled loops, which cannot be had here")
    return loops


@lru_cache(maxsize=64)
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


def _plain_tables(
    asked: FloatArray,
    supply: FloatArray,
    thickness: FloatArray,
    levels: FloatArray,
    hungers: tuple[float, FloatArray],
) -> Float32:
    """The twin of `compiled.sweep.tables`, before b's share."""
    anything, count = by_group(asked, np.add) > 0, levels.shape[1]
    found = np.zeros((*anything.shape, len(hungers[1]) * count, 4), dtype=np.float32)
    for good, steps in enumerate((np.ones(1), hungers[1])):
        for at in range(len(steps) * count):
            asks, level = float(steps[at // count]), levels[good, at % count]
            roots = np.broadcast_to(level * thickness[:, None], supply[good].shape)
            b = asks * roots
            met = np.minimum(1.0, supply[good] / np.maximum(asked[good] + b, 1e-300))
            to_a = asked[good] * met
            if good:
                to_a, met = _by_roots(asked[good], hungers[0], roots, asks, supply[good])
            most = by_group(met, np.maximum)
            found[good, :, at, 0] = by_group(to_a, np.add)
            found[good, :, at, 1] = 1 - most
            found[good, :, at, 2] = by_group(b * met, np.add) - by_group(b, np.add) * most
    found[~anything] = 0.0
    return found


def _by_roots(
    a: FloatArray, hunger_a: float, roots: FloatArray, hunger: float, supply: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """What a gets of nitrate by its roots beside those of b, and the part of b's demand that is met."""
    mine = a / hunger_a if hunger_a > 0 else np.zeros_like(a)
    both, b = np.maximum(mine + roots, 1e-30), hunger * roots
    to_a = np.minimum(a, np.maximum(supply * mine / both, supply - b))
    met = np.minimum(1.0, np.maximum(supply / (hunger * both), (supply - a) / np.maximum(b, 1e-30)))
    return to_a, met
