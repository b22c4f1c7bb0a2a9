"""What plants on one piece of ground take from each other, in every variant at once.

Nothing here knows of pairs: two plants are n = 2. Rows are variants of one set (the likely values,
draws of doubt), or the plants of a whole list under one tree: the arithmetic is the same.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt

from kb.mixture import kernels
from kb.mixture.ground import root_draw
from kb.mixture.ground.root_draw import Asking, taken_alone, taken_on_share, taken_together
from kb.mixture.ground.share import captured_light, loss_of, relative_uptake, relief_of
from kb.mixture.light.hedge_light import hedge_light, kept_crown
from kb.mixture.light.shaded_need import need_by_sun
from kb.mixture.season import FloatArray
from kb.mixture.sharing.asked_beneath import light_through, lights_through, water_asked
from kb.mixture.sharing.place import Place, Soil
from kb.mixture.sharing.variants import Variants
from kb.mixture.uncertainty import CHECKABLE, first_again

IntArray = npt.NDArray[np.intp]
COMPILED = "bed"
Rows = tuple[IntArray, ...]
"""Which row of each plant stands with which rows of the others."""


@dataclass(frozen=True, slots=True, eq=False)
class Spot:
    """One piece of ground and who stands on it.

    ``shares`` of the ground, plant by plant (their sum may exceed 1); under a tree the tree is the
    first, its share h. ``planted`` is the share of the tree's roots in the planted ground.
    """

    place: Place
    shares: tuple[float, ...]
    planted: float = 1.0

    @property
    def under(self) -> bool:
        return self.place.setting == "under"


def spot_of_two(place: Place) -> Spot:
    """The ground of a pair."""
    return Spot(place, (place.share_a, place.share_b), place.planted)


@dataclass(frozen=True, slots=True, eq=False)
class RootsFelt:
    """For each row, and each plant (rows, n): shares of its own stand's uptake that it goes without.

    ``roots`` is the larger of ``water`` and ``nitrate``; ``relief`` (rows,) what they gain together;
    ``unmet`` (rows, n) nitrogen not found in the soil, g/m2 of ground.
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
    """(rows, n) each: ``loss`` of crop, and ``dark``, the share of active weeks below what it survives."""

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


def rows_of(draws: int, *, again: Sequence[bool], moved: Sequence[int] | None = None) -> Rows:
    """Rows that stand together: likely, draw with draw, then each trait of each plant alone.

    ``again`` (one for each plant) says whose root depth stands in for a record: where there is any,
    draw with draw comes once more with that depth moved as if it were on record, the others as they
    are. ``moved`` are the plants whose traits are moved one at a time, all where None.
    """
    return _kept_rows(draws, tuple(again), tuple(range(len(again)) if moved is None else moved))


@lru_cache(maxsize=64)
def _kept_rows(draws: int, again: tuple[bool, ...], moved: tuple[int, ...]) -> Rows:
    drawn, likely = 1 + np.arange(draws), np.zeros(1, dtype=np.intp)
    single = 1 + draws + np.arange(2 * len(CHECKABLE)) if draws else np.arange(0)
    still = np.zeros_like(single)
    rows = []
    for plant in range(len(again)):
        turns = [single if plant == one else still for one in moved]
        parts = [likely, drawn, *turns]
        if any(again) and draws:
            parts.append(first_again(draws) + np.arange(draws) if again[plant] else drawn)
        rows.append(np.concatenate(parts))
        rows[-1].setflags(write=False)  # kept for the next question of the same kind
    return tuple(rows)


def _side_by_side(columns: Sequence[npt.NDArray[Any]]) -> npt.NDArray[Any]:
    """Columns (rows, ...) of each plant as (rows, n, ...): ``np.stack`` on axis 1, but sooner."""
    first = columns[0]
    found = np.empty((first.shape[0], len(columns), *first.shape[1:]), dtype=first.dtype)
    for at, column in enumerate(columns):
        found[:, at] = column
    return found


def feel(plants: Sequence[Variants], rows: Rows, spot: Spot, soil: Soil) -> Felt:
    """What each feels of the others, by roots and by light."""
    return Felt(roots_felt(plants, rows, spot, soil), light_felt(plants, rows, spot))


def feel_roots(a: Variants, b: Variants, rows: Rows, place: Place, soil: Soil) -> RootsFelt:
    """`roots_felt` of two."""
    return roots_felt((a, b), rows, spot_of_two(place), soil)


def feel_light(a: Variants, b: Variants, rows: Rows, place: Place) -> LightFelt:
    """`light_felt` of two."""
    return light_felt((a, b), rows, spot_of_two(place))


def roots_felt(plants: Sequence[Variants], rows: Rows, spot: Spot, soil: Soil) -> RootsFelt:
    """What each loses of water and nitrate to the others.

    Two, on open ground or one beneath the other, go through a compiled loop where one is loaded; tests hold
    it against the plain way.
    """
    loop = kernels.ready(root_draw.COMPILED) if len(plants) == 2 else None
    if loop is not None and soil.here.unfed is None:
        (one, other), (its, others), (share, rest) = plants, rows, spot.shares
        supply = (soil.here.water, soil.here.nitrate)
        if spot.under:
            tree, plant = (rooted(one), its, share, spot.planted), (rooted(other), others, rest)
            shade = (*lights_through(other.leaf_height, spot.place), need_by_sun(spot.place.site.latitude))
            return RootsFelt(*loop.felt_beneath(*tree, *plant, *shade, *supply))
        return RootsFelt(*loop.felt(rooted(one), its, share, rooted(other), others, rest, *supply))
    water = _by_roots(*water_asked(plants, spot.place), rows, spot, soil.here.water)
    nitrate = _by_roots(
        [plant.nitrate for plant in plants],
        [plant.sole_nitrate for plant in plants],
        rows,
        spot,
        soil.here.nitrate,
    )
    if soil.here.unfed is not None:
        nitrate = replace(nitrate, relative=_as_fed(nitrate, plants, rows, spot, soil))
    fixer = _side_by_side([plant.fixer[row] for plant, row in zip(plants, rows, strict=True)])
    by_nitrate = np.where(fixer, np.maximum(water.relative, 1.0), nitrate.relative)
    relative = np.minimum(water.relative, by_nitrate)
    planted = np.ones(len(plants))
    if spot.under:
        planted[0] = spot.planted
    nitrogen = _side_by_side([plant.nitrogen[row] for plant, row in zip(plants, rows, strict=True)])
    return RootsFelt(
        water=planted * loss_of(water.relative),
        nitrate=planted * loss_of(by_nitrate),
        roots=planted * loss_of(relative),
        relief=np.zeros(len(relative)) if spot.under else relief_of(relative),
        unmet=np.maximum(0.0, np.array(spot.shares) * nitrogen - nitrate.taken),
    )


def rooted(plant: Variants) -> tuple[npt.NDArray[Any], ...]:
    """What the compiled loop needs to know of a plant and its roots."""
    return (
        plant.water_course,
        plant.nitrate_course,
        plant.roots,
        plant.sole_water,
        plant.sole_nitrate,
        plant.nitrogen,
        plant.fixer,
        plant.hunger,
    )


def light_felt(plants: Sequence[Variants], rows: Rows, spot: Spot) -> LightFelt:
    """What each loses of its crop by light, and in how many of its weeks it is too dark to keep.

    Two, in a bed or one beneath the other, go through a compiled loop where one is loaded; the tests hold it
    against the plain way.
    """
    loop = kernels.ready(COMPILED) if spot.place.setting in {"bed", "under"} and len(plants) == 2 else None
    if loop is not None and spot.under:
        (tree, plant), open_light = plants, spot.place.site.open_light
        through = lights_through(plant.leaf_height, spot.place)
        losses, darks, tall = loop.beneath(
            tree.leaf_area, tree.base, rows[0], lit(plant), rows[1], *through, open_light
        )
        if tall:
            losses[:, 0] = _shade_on_tree(plants, rows, spot)[0]
        return LightFelt(losses, darks)
    if loop is not None:
        (one, other), (its, others), (share, rest) = plants, rows, spot.shares
        open_light = spot.place.site.open_light
        return LightFelt(*loop.two(lit(one), its, share, lit(other), others, rest, open_light))
    left = light_left(plants, rows, spot)
    first = 1 if spot.under else 0
    parts = [_shade_on_tree(plants, rows, spot)] if spot.under else []
    for plant, row, got in zip(plants[first:], rows[first:], left[first:], strict=True):
        parts.append(_worth(plant, row, got))
    losses, darks = zip(*parts, strict=True)
    return LightFelt(_side_by_side(losses), _side_by_side(darks))


def lit(plant: Variants) -> tuple[FloatArray, ...]:
    """What the compiled loop needs to know of a plant."""
    return (
        plant.activity,
        plant.leaf_area,
        plant.height,
        plant.base,
        plant.extinction,
        plant.crop_zero,
        plant.crop_full,
        plant.survive,
    )


def light_left(plants: Sequence[Variants], rows: Rows, spot: Spot) -> list[FloatArray]:
    """Share of open-sky light (rows, weeks) at the leaf of each plant.

    In a bed or hedge it is what it captures over what it would in a stand of its own; under a tree that of
    the plants beneath it among themselves, times what the tree lets through. A tree stands in the
    open: what reaches into its crown is told by its loss.
    """
    open_light = spot.place.site.open_light
    if not spot.under:
        row = spot.place.setting == "hedge"
        shared = _captured(plants, rows, spot.shares, row=row) * open_light
        return [shared[:, i] for i in range(len(plants))]
    tree, beneath = plants[0], plants[1:]
    through = [
        _beneath(tree, plant, (rows[0], row), spot.place)
        for plant, row in zip(beneath, rows[1:], strict=True)
    ]
    if len(beneath) > 1:
        shared = _captured(beneath, rows[1:], spot.shares[1:])
        through = [light * shared[:, i] for i, light in enumerate(through)]
    return [np.full((len(rows[0]), tree.activity.shape[1]), open_light), *through]


def mean_light(plants: Sequence[Variants], spot: Spot) -> list[float]:
    """Share of open-sky light at the leaf of each over its growing, by the likely values; 1 if none."""
    rows = rows_of(0, again=[False] * len(plants))
    seasons = [plant.activity[0] for plant in plants]
    loop = kernels.ready(COMPILED) if spot.place.setting in {"bed", "under"} and len(plants) == 2 else None
    if loop is None:
        left = [light[0] for light in light_left(plants, rows, spot)]
        return [
            float((light * season).sum() / season.sum()) if season.any() else 1.0
            for light, season in zip(left, seasons, strict=True)
        ]
    (one, other), (its, others), (share, rest) = plants, rows, spot.shares
    if spot.under:
        open_light, season = spot.place.site.open_light, seasons[1]
        light = light_through(other.leaf_height[:1], spot.place)[0] * open_light
        beneath = float((light * season).sum() / season.sum()) if season.any() else 1.0
        return [open_light if seasons[0].any() else 1.0, beneath]
    # One to which any light is worth as much of a crop as it is of open light loses the rest of it.
    none, whole = np.zeros(1), np.ones(1)
    bare = [(*lit(plant)[:5], none, whole, none) for plant in (one, other)]
    lost = loop.two(bare[0], its, share, bare[1], others, rest, spot.place.site.open_light)[0][0]
    return [float(1 - part) if season.any() else 1.0 for part, season in zip(lost, seasons, strict=True)]


@dataclass(frozen=True, slots=True, eq=False)
class _Uptake:
    """``taken`` and ``relative`` to a stand of its own, (rows, n) each."""

    taken: FloatArray
    relative: FloatArray


def _by_roots(
    asking: Sequence[Asking], soles: Sequence[FloatArray], rows: Rows, spot: Spot, supply: FloatArray
) -> _Uptake:
    """Uptake of one good from ``supply`` (layers, weeks); ``asking`` and ``soles`` of full stands."""
    sole = _side_by_side([share * own[row] for share, own, row in zip(spot.shares, soles, rows, strict=True)])
    taken = taken_together(asking, rows, spot.shares, supply)
    if spot.under:
        # What plants beneath it cost the tree is told against the tree alone on that same ground.
        sole[:, 0] = taken_on_share(asking[0], rows[0], spot.shares[0], supply)
    return _Uptake(taken, relative_uptake(taken, sole, np.ones(len(asking))))


def _as_fed(found: _Uptake, plants: Sequence[Variants], rows: Rows, spot: Spot, soil: Soil) -> FloatArray:
    """Uptake of nitrate on fed ground (rows, n), told against a stand of each on the same ground unfed.

    Feeding makes up for what a neighbour takes, to the whole and no further: what is more than that is
    told against a fed stand, as company brings it and not the dung.
    """
    unfed, before = soil.here.unfed, soil.open.unfed
    if unfed is None or before is None:
        return found.relative
    sole = np.stack(
        [
            share * taken_alone(plant.nitrate, before)[row]
            for share, plant, row in zip(spot.shares, plants, rows, strict=True)
        ],
        axis=1,
    )
    if spot.under:
        sole[:, 0] = taken_on_share(plants[0].nitrate, rows[0], spot.shares[0], unfed)
    against = relative_uptake(found.taken, sole, np.ones(len(plants)))
    return np.maximum(found.relative, np.minimum(1.0, against))


def _beneath(tree: Variants, plant: Variants, rows: Rows, place: Place) -> FloatArray:
    """Share of open-sky light (rows, weeks) that a plant gets beneath a tree.

    Where the draws make the tree's leaf thicker, what passes is raised to that power (Beer's law;
    a little too dark where the light comes through gaps).
    """
    share = light_through(plant.leaf_height[rows[1]], place)
    leaves = tree.leaf_area.max(axis=1)
    if len(leaves) > 1 and leaves[0] > 0:
        share = share ** (leaves / leaves[0])[rows[0], None]
    beneath: FloatArray = share * place.site.open_light
    return beneath


def _shade_on_tree(plants: Sequence[Variants], rows: Rows, spot: Spot) -> tuple[FloatArray, FloatArray]:
    """What the plants beneath cost the tree by light: nothing unless they reach into its crown."""
    loss = np.zeros(len(rows[0]))
    base = plants[0].base[rows[0]]
    above = np.zeros(len(base), dtype=bool)
    for plant, row in zip(plants[1:], rows[1:], strict=True):
        above |= plant.height[row] > base
    tall = np.flatnonzero(above)
    if tall.size:
        some = tuple(row[tall] for row in rows)
        captured = _captured(plants, some, (1.0, *spot.shares[1:]))[:, 0]
        loss[tall] = spot.planted * _worth(plants[0], some[0], captured)[0]
    return loss, np.zeros_like(loss)


def _captured(
    plants: Sequence[Variants], rows: Rows, shares: Sequence[float], *, row: bool = False
) -> FloatArray:
    """Light each captures as a share of that in its own stand, a bed or a row (rows, n, weeks)."""

    def stacked(field: str) -> FloatArray:
        return _side_by_side([getattr(plant, field)[some] for plant, some in zip(plants, rows, strict=True)])

    told = stacked("leaf_area"), stacked("height"), stacked("base"), stacked("extinction"), np.array(shares)
    if not row:
        return captured_light(*told)
    crowns = [_crown(plant, some) for plant, some in zip(plants, rows, strict=True)]
    return hedge_light(*told, crowns=_side_by_side(crowns))


def _crown(plant: Variants, rows: IntArray) -> FloatArray:
    """Metres of crown (rows,) that hold its leaf area: all of it, or less where shears keep it dense."""
    height, kept_m = plant.height[rows], plant.profile.kept_m
    if kept_m is None:
        return height - plant.base[rows]
    free = np.where(height < kept_m, height, np.maximum(height, plant.profile.height_m.likely))
    return kept_crown(free - plant.base[rows])


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
