"""What two plants take from each other at one place, in every variant at once.

Rows are variants of one pair (the likely values, draws of doubt), or the plants of a whole list
under one tree: the arithmetic is the same.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kb.mixture.place import Place, Soil
from kb.mixture.season import FloatArray
from kb.mixture.share import alone, captured_light, loss_of, relative_uptake, relief_of, uptake
from kb.mixture.uncertainty import CHECKABLE, first_again
from kb.mixture.variants import Variants

IntArray = npt.NDArray[np.intp]
Rows = tuple[IntArray, IntArray]
"""Which row of a meets which row of b."""


@dataclass(frozen=True, slots=True, eq=False)
class RootsFelt:
    """For each row, and each plant (rows, 2): shares of its own stand's uptake that it goes without.

    ``roots`` is the larger of ``water`` and ``nitrate``; ``relief`` (rows,) what the two gain together;
    ``unmet`` (rows, 2) nitrogen not found in the soil, g/m2 of ground.
    """

    water: FloatArray
    nitrate: FloatArray
    roots: FloatArray
    relief: FloatArray
    unmet: FloatArray

    def only(self, row: int) -> "RootsFelt":
        """One row of it."""
        some = slice(row, row + 1)
        return RootsFelt(
            self.water[some], self.nitrate[some], self.roots[some], self.relief[some], self.unmet[some]
        )


@dataclass(frozen=True, slots=True, eq=False)
class LightFelt:
    """(rows, 2) each: ``loss`` of crop, and ``dark``, the share of active weeks below what it survives."""

    loss: FloatArray
    dark: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Felt:
    """By roots and by light."""

    by_roots: RootsFelt
    by_light: LightFelt

    @property
    def roots(self) -> FloatArray:
        return self.by_roots.roots

    @property
    def light(self) -> FloatArray:
        return self.by_light.loss


def pair_rows(draws: int, *, again: tuple[bool, bool] = (False, False)) -> Rows:
    """Rows of a and b that meet: likely, draw with draw, each trait of a alone, each of b alone.

    Where a root depth of either stands in for a record (``again``), draw with draw once more with
    that depth moved as if it were on record; the other's draws stay as they are.
    """
    drawn = 1 + np.arange(draws)
    likely = np.zeros(1, dtype=np.intp)
    single = 1 + draws + np.arange(2 * len(CHECKABLE)) if draws else np.arange(0)
    still = np.zeros_like(single)
    one, other = [likely, drawn, single, still], [likely, drawn, still, single]
    if any(again) and draws:
        repeated = first_again(draws) + np.arange(draws)
        one.append(repeated if again[0] else drawn)
        other.append(repeated if again[1] else drawn)
    return np.concatenate(one), np.concatenate(other)


def feel(a: Variants, b: Variants, rows: Rows, place: Place, soil: Soil) -> Felt:
    """What each feels of the other, by roots and by light."""
    return Felt(feel_roots(a, b, rows, place, soil), feel_light(a, b, rows, place))


def feel_roots(a: Variants, b: Variants, rows: Rows, place: Place, soil: Soil) -> RootsFelt:
    """What each loses of water and nitrate to the other."""
    shares = np.array([place.share_a, place.share_b])
    water = _by_roots((a.water, b.water), (a.sole_water, b.sole_water), rows, place, soil.here.water)
    nitrate = _by_roots(
        (a.nitrate, b.nitrate), (a.sole_nitrate, b.sole_nitrate), rows, place, soil.here.nitrate
    )
    fixer = np.stack([a.fixer[rows[0]], b.fixer[rows[1]]], axis=1)
    by_nitrate = np.where(fixer, np.maximum(water.relative, 1.0), nitrate.relative)
    relative = np.minimum(water.relative, by_nitrate)
    planted = np.array([place.planted if place.setting == "under" else 1.0, 1.0])
    asked = shares * np.stack([a.nitrogen[rows[0]], b.nitrogen[rows[1]]], axis=1)
    return RootsFelt(
        water=planted * loss_of(water.relative),
        nitrate=planted * loss_of(by_nitrate),
        roots=planted * loss_of(relative),
        relief=np.zeros(len(relative)) if place.setting == "under" else relief_of(relative),
        unmet=np.maximum(0.0, asked - nitrate.taken),
    )


def feel_light(a: Variants, b: Variants, rows: Rows, place: Place) -> LightFelt:
    """What each loses of its crop by light, and in how many of its weeks it is too dark to keep."""
    if place.light is None:
        left = _bed_light(a, b, rows, place) * place.site.open_light
        parts = [_worth(plant, rows[i], left[:, i]) for i, plant in enumerate((a, b))]
    else:
        parts = [_shade_on_tree(a, b, rows, place), _worth(b, rows[1], _beneath(a, b, rows, place))]
    losses, darks = zip(*parts, strict=True)
    return LightFelt(np.stack(losses, axis=1), np.stack(darks, axis=1))


@dataclass(frozen=True, slots=True, eq=False)
class _Uptake:
    """``taken`` and ``relative`` to a stand of its own, (rows, 2) each."""

    taken: FloatArray
    relative: FloatArray


def _by_roots(
    demands: tuple[FloatArray, FloatArray],
    soles: tuple[FloatArray, FloatArray],
    rows: Rows,
    place: Place,
    supply: FloatArray,
) -> _Uptake:
    """Uptake of one good from ``supply`` (layers, weeks); ``demands`` and ``soles`` of full stands."""
    shares = (place.share_a, place.share_b)
    asked = np.empty((2, len(rows[0]), *supply.shape))
    sole = np.empty((len(rows[0]), 2))
    for i, share in enumerate(shares):
        np.take(demands[i], rows[i], axis=0, out=asked[i], mode="clip")
        asked[i] *= share
        sole[:, i] = share * soles[i][rows[i]]
    taken = uptake(asked, supply).T
    if place.setting == "under":
        # What a plant beneath it costs the tree is told against the tree alone on that same ground.
        sole[:, 0] = alone(asked[0], supply)
    return _Uptake(taken, relative_uptake(taken, sole, np.ones(2)))


def _beneath(a: Variants, b: Variants, rows: Rows, place: Place) -> FloatArray:
    """Share of open-sky light (rows, weeks) that b gets beneath the tree a.

    Where the draws make the tree's leaf thicker, what passes is raised to that power (Beer's law;
    a little too dark where the light comes through gaps).
    """
    if place.light is None:
        raise ValueError("a bed has no light from beneath a tree")
    heights = b.leaf_height[rows[1]]
    share = np.empty((len(heights), b.activity.shape[1]))
    for height in np.unique(heights):
        share[heights == height] = place.light(float(height))
    leaves = a.leaf_area.max(axis=1)
    if len(leaves) > 1 and leaves[0] > 0:
        share = share ** (leaves / leaves[0])[rows[0], None]
    beneath: FloatArray = share * place.site.open_light
    return beneath


def _shade_on_tree(a: Variants, b: Variants, rows: Rows, place: Place) -> tuple[FloatArray, FloatArray]:
    """What the plant beneath costs the tree by light: nothing unless it reaches into its crown."""
    loss = np.zeros(len(rows[0]))
    tall = np.flatnonzero(b.height[rows[1]] > a.base[rows[0]])
    if tall.size:
        some = (rows[0][tall], rows[1][tall])
        loss[tall] = place.planted * _worth(a, some[0], _bed_light(a, b, some, place)[:, 0])[0]
    return loss, np.zeros_like(loss)


def _bed_light(a: Variants, b: Variants, rows: Rows, place: Place) -> FloatArray:
    def both(one: FloatArray, other: FloatArray) -> FloatArray:
        return np.stack([one[rows[0]], other[rows[1]]], axis=1)

    tree_share = 1.0 if place.setting == "under" else place.share_a
    return captured_light(
        both(a.leaf_area, b.leaf_area),
        both(a.height, b.height),
        both(a.base, b.base),
        both(a.extinction, b.extinction),
        np.array([tree_share, place.share_b]),
    )


def _worth(plant: Variants, rows: IntArray, left: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Loss of crop by light, and share of active weeks darker than it survives; ``left`` (rows, weeks)."""
    activity = plant.activity[rows]
    zero, full = plant.crop_zero[rows, None], plant.crop_full[rows, None]
    season = activity.sum(axis=1)
    enough = np.clip((left - zero) / (full - zero), 0.0, 1.0)
    worth = (activity * enough).sum(axis=1) / np.where(season > 0, season, 1.0)
    awake = activity > 0
    dark = (awake & (left < plant.survive[rows, None])).sum(axis=1) / np.maximum(awake.sum(axis=1), 1)
    return np.where(season > 0, 1 - worth, 1.0), dark
