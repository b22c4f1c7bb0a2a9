"""What two plants take from each other at one place, in every variant at once."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kb.mixture.limits import HOLDS_BACK
from kb.mixture.place import Place, Soil, light_height
from kb.mixture.relatedness import ENEMY_WEIGHT
from kb.mixture.results import Verdict
from kb.mixture.season import FloatArray
from kb.mixture.share import alone, captured_light, loss_of, relative_uptake, relief_of, uptake
from kb.mixture.uncertainty import CHECKABLE
from kb.mixture.variants import Variants

IntArray = npt.NDArray[np.intp]

BANDS: tuple[tuple[float, Verdict], ...] = ((0.2, "good"), (0.4, "workable"), (0.6, "poor"))
"""K' below which each verdict holds, fixed beforehand (`computation-notes` 3); else avoid."""
POWER = 4
BENEFIT_WEIGHT = 0.35


@dataclass(frozen=True, slots=True, eq=False)
class Felt:
    """For each row, and each plant (rows, 2): losses 0-1 and what they rest on.

    ``relative`` is uptake over that of a stand of its own; ``water`` and ``nitrate`` the losses by
    cause, ``roots`` the larger; ``light`` the loss by light; ``dark`` the share of active weeks below
    the light it survives; ``relief`` (rows,); ``unmet`` nitrogen not found in the soil, g/m2 of ground.
    """

    water: FloatArray
    nitrate: FloatArray
    roots: FloatArray
    light: FloatArray
    dark: FloatArray
    relief: FloatArray
    unmet: FloatArray


def pair_rows(draws: int) -> tuple[IntArray, IntArray]:
    """Rows of a and b that meet: likely, draw with draw, each trait of a alone, each of b alone."""
    both = np.arange(1 + draws)
    single = 1 + draws + np.arange(2 * len(CHECKABLE)) if draws else np.arange(0)
    still = np.zeros_like(single)
    return np.concatenate([both, single, still]), np.concatenate([both, still, single])


def feel(a: Variants, b: Variants, rows: tuple[IntArray, IntArray], place: Place, soil: Soil) -> Felt:
    """What each feels of the other, by roots and by light."""
    shares = np.array([place.share_a, place.share_b])
    at = rows
    water = np.stack([shares[0] * a.water[at[0]], shares[1] * b.water[at[1]]], axis=1)
    nitrate = np.stack([shares[0] * a.nitrate[at[0]], shares[1] * b.nitrate[at[1]]], axis=1)
    got_water, got_nitrate = uptake(water, soil.here.water), uptake(nitrate, soil.here.nitrate)
    sole_water = np.stack([shares[0] * a.sole_water[at[0]], shares[1] * b.sole_water[at[1]]], axis=1)
    sole_nitrate = np.stack([shares[0] * a.sole_nitrate[at[0]], shares[1] * b.sole_nitrate[at[1]]], axis=1)
    if place.setting == "under":
        # What a plant beneath it costs the tree is told against the tree alone on that same ground.
        sole_water[:, 0] = alone(water[:, 0], soil.here.water)
        sole_nitrate[:, 0] = alone(nitrate[:, 0], soil.here.nitrate)
    by_water = relative_uptake(got_water, sole_water, np.ones(2))
    by_nitrate = relative_uptake(got_nitrate, sole_nitrate, np.ones(2))
    for column, plant in enumerate((a, b)):
        if plant.fixer:
            by_nitrate[:, column] = np.maximum(by_water[:, column], 1.0)
    planted = np.array([place.planted if place.setting == "under" else 1.0, 1.0])
    light, dark = _light(a, b, rows, place)
    asked = np.stack([shares[0] * a.nitrogen[at[0]], shares[1] * b.nitrogen[at[1]]], axis=1)
    relative = np.minimum(by_water, by_nitrate)
    return Felt(
        water=planted * loss_of(by_water),
        nitrate=planted * loss_of(by_nitrate),
        roots=planted * loss_of(relative),
        light=light,
        dark=dark,
        relief=np.zeros(len(relative)) if place.setting == "under" else relief_of(relative),
        unmet=np.maximum(0.0, asked - got_nitrate),
    )


def near_limit(roots: FloatArray, light: FloatArray, enemies: float | FloatArray) -> FloatArray:
    """K: the fourth power lets the worst factor rule, yet moves a little with the others (0-1)."""
    total = roots**POWER + light**POWER + (ENEMY_WEIGHT * enemies) ** POWER
    felt: FloatArray = np.minimum(1.0, total ** (1 / POWER))
    return felt


def with_benefits(worst: FloatArray, benefits: FloatArray) -> FloatArray:
    """K': the worse of the two, eased by what they bring each other (at most 35 %)."""
    eased: FloatArray = worst * (1 - BENEFIT_WEIGHT * np.clip(benefits, 0.0, 1.0))
    return eased


def held_down(stress: FloatArray, ceiling: Verdict) -> FloatArray:
    """K' moved into the band of a ceiling, so that score and word never disagree; order is kept."""
    if ceiling == "avoid":
        return BANDS[-1][0] + (1 - BANDS[-1][0]) * stress
    floors = {"good": 0.0, "workable": BANDS[0][0], "poor": BANDS[1][0]}
    held: FloatArray = np.maximum(stress, floors[ceiling])
    return held


def verdict_of(stress: float) -> Verdict:
    """The word for a K'."""
    return next((word for below, word in BANDS if stress < below), "avoid")


def verdict_steps(stress: FloatArray) -> IntArray:
    """Verdicts of many K' as steps of `ORDER`, worst 0."""
    edges = np.array([below for below, _ in BANDS])
    steps: IntArray = HOLDS_BACK["good"] - np.searchsorted(edges, stress, side="right")
    return steps


def score_of(stress: FloatArray) -> FloatArray:
    """100 (1 - K')."""
    score: FloatArray = 100 * (1 - stress)
    return score


def _light(
    a: Variants, b: Variants, rows: tuple[IntArray, IntArray], place: Place
) -> tuple[FloatArray, FloatArray]:
    """Loss by light and share of dark weeks, (rows, 2) each."""
    in_bed = _bed_light(a, b, rows, place)
    if place.light is None:
        left = in_bed * place.site.open_light
        parts = [_worth(plant, rows[i], left[:, i]) for i, plant in enumerate((a, b))]
    else:
        share = place.light(light_height(float(b.height[0])))
        leaves = a.leaf_area.max(axis=1)
        thicker = (leaves / leaves[0] if leaves[0] > 0 else np.ones_like(leaves))[rows[0]]
        left = share ** thicker[:, None] * place.site.open_light
        tree_loss, _ = _worth(a, rows[0], in_bed[:, 0])
        parts = [(place.planted * tree_loss, np.zeros(len(tree_loss))), _worth(b, rows[1], left)]
    losses, darks = zip(*parts, strict=True)
    return np.stack(losses, axis=1), np.stack(darks, axis=1)


def _bed_light(a: Variants, b: Variants, rows: tuple[IntArray, IntArray], place: Place) -> FloatArray:
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
