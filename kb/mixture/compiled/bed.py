"""Compiled light of two in a bed: the loop of ``felt`` over rows and weeks (`share.captured_light`).

Imported only by a service that stays up, as ``compiled.roots``. Doubles throughout; sums in another order
than the plain twin's.
"""

import numpy as np
from numba import njit

from kb.mixture.compiled.exponential import FAST, LEAST, exp, expm1
from kb.mixture.compiled.roots import season


def rehearse():
    """Compile, or load what is kept, for the kinds of arrays that ``felt`` gives."""
    weekly, each, rows = np.ones((1, 2)), np.ones(1), np.arange(1)
    plant = (weekly, weekly, each, np.zeros(1), each, np.zeros(1), each, each)
    kept = rows.copy()
    kept.setflags(write=False)  # as `felt` keeps them
    for some in (rows, kept):
        two(plant, some, 0.5, plant, some, 0.5, 1.0)
    beneath(weekly, each, kept, plant, kept, weekly, rows, 1.0)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _part(traits, top, low):
    """The part of a crown's depth that a layer between two neighbouring edges holds."""
    height, base = traits[0], traits[1]
    return (top - low) / (height - base) if height >= top and base <= low else 0.0


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _worth(activity, own, seen, open_light, zero, full, survive):
    """Loss of crop by light, and share of active weeks darker than it survives (`felt.light_felt`)."""
    worth, season, dark, awake = 0.0, 0.0, 0.0, 0.0
    per_range = 1.0 / (full - zero)
    for week in range(len(activity)):
        active, depth = np.float64(activity[week]), own[week]
        captured = seen[week] * depth / -expm1(-depth) if depth > 0 else seen[week]
        left = open_light * min(captured, 1.0)
        worth += active * min(max((left - zero) * per_range, 0.0), 1.0)
        season += active
        awake += 1.0 if active > 0 else 0.0
        dark += 1.0 if active > 0 and left < survive else 0.0
    return (1 - worth / season if season > 0 else 1.0), dark / max(awake, 1.0)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def room(weeks):
    """Arrays for `lit` to reckon in, made once for many rows."""
    return np.empty(weeks), np.empty(weeks), np.empty(weeks), np.empty(weeks), np.empty(weeks)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def lit(activity_a, leaf_a, traits_a, share_a, activity_b, leaf_b, traits_b, share_b, open_light, work):
    """Loss of crop and dark weeks of a, then of b, on shares of one bed.

    Activity and leaf area (weeks,), some weeks or all; traits: height, base, extinction, light of no crop, of
    a full one and to survive. ``work`` is a `room`.
    """
    weeks = len(activity_a)
    own_a, own_b, light, seen_a, seen_b = (
        work[0][:weeks], work[1][:weeks], work[2][:weeks], work[3][:weeks], work[4][:weeks],
    )  # fmt: skip
    lower_top, higher_base = min(traits_a[0], traits_b[0]), max(traits_a[1], traits_b[1])
    second, third = max(lower_top, higher_base), min(lower_top, higher_base)
    highest, lowest = max(traits_a[0], traits_b[0]), min(traits_a[1], traits_b[1])
    for week in range(len(light)):
        own_a[week] = traits_a[2] * leaf_a[week]
        own_b[week] = traits_b[2] * leaf_b[week]
        light[week], seen_a[week], seen_b[week] = 1.0, 0.0, 0.0
    for top, low in ((highest, second), (second, third), (third, lowest)):
        part_a, part_b = _part(traits_a, top, low), _part(traits_b, top, low)
        if part_a == 0 and part_b == 0:
            continue
        for week in range(len(light)):
            layer = share_a * own_a[week] * part_a + share_b * own_b[week] * part_b
            lost = -expm1(-layer)
            passed = light[week] * (lost / layer if layer > 0 else 1.0)
            seen_a[week] += passed * part_a
            seen_b[week] += passed * part_b
            light[week] *= 1.0 - lost
    loss_a, dark_a = _worth(activity_a, own_a, seen_a, open_light, *traits_a[3:])
    loss_b, dark_b = _worth(activity_b, own_b, seen_b, open_light, *traits_b[3:])
    return loss_a, dark_a, loss_b, dark_b


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def two(plant_a, rows_a, share_a, plant_b, rows_b, share_b, open_light):
    """Losses of crop and dark weeks, (rows, 2) each, of two on shares of one bed.

    A plant is its activity and leaf area (rows, weeks), and its traits as `lit` has them, (rows,) each.
    """
    activity_a, leaf_a, height_a, base_a, extinction_a, zero_a, full_a, survive_a = plant_a
    activity_b, leaf_b, height_b, base_b, extinction_b, zero_b, full_b, survive_b = plant_b
    losses, darks = np.empty((len(rows_a), 2)), np.empty((len(rows_a), 2))
    work = room(activity_a.shape[1])
    for i in range(len(rows_a)):
        a, b = rows_a[i], rows_b[i]
        traits_a = height_a[a], base_a[a], extinction_a[a], zero_a[a], full_a[a], survive_a[a]
        traits_b = height_b[b], base_b[b], extinction_b[b], zero_b[b], full_b[b], survive_b[b]
        first, last = season(activity_a[a], activity_b[b])
        here = slice(first, last)
        losses[i, 0], darks[i, 0], losses[i, 1], darks[i, 1] = lit(
            activity_a[a, here], leaf_a[a, here], traits_a, share_a, activity_b[b, here], leaf_b[b, here],
            traits_b, share_b, open_light, work,
        )  # fmt: skip
    return losses, darks


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def beneath(leaf_a, base_a, rows_a, plant, rows_b, through, which, open_light):
    """Losses of crop and dark weeks (rows, 2) of a tree and a plant beneath it: `felt._beneath` and `_worth`.

    And whether the plant reaches into the crown in any row: what that costs the tree is not reckoned here.
    ``leaf_a`` (variants, weeks) is the tree's leaf area. ``through`` (n, weeks) is the light that its likely
    leaf lets through at n heights, ``which`` (variants,) of them the plant has; where there is more leaf,
    that to the power of how many times as much, as e^(times ln light).
    """
    activity, _, height, _, _, zero, full, survive = plant
    weeks, thick, tall = activity.shape[1], np.empty(len(leaf_a)), False
    for a in range(len(leaf_a)):
        thick[a] = leaf_a[a].max()
    logs, left = np.log(through), np.empty(weeks)
    losses, darks = np.zeros((len(rows_a), 2)), np.zeros((len(rows_a), 2))
    for i in range(len(rows_a)):
        a, b = rows_a[i], rows_b[i]
        tall = tall or height[b] > base_a[a]
        times = thick[a] / thick[0] if len(thick) > 1 and thick[0] > 0 else 1.0
        at, least, per_range = which[b], zero[b], 1.0 / (full[b] - zero[b])
        if times == 1.0:
            left[:] = through[at]
        else:
            for week in range(weeks):
                left[week] = exp(max(times * logs[at, week], LEAST))
        lost, season, awake, dark = 0.0, 0.0, 0.0, 0.0
        for week in range(weeks):
            active, light = activity[b, week], open_light * left[week]
            lost += active * (1.0 - min(max((light - least) * per_range, 0.0), 1.0))
            season += active
            awake += 1.0 if active > 0 else 0.0
            dark += 1.0 if active > 0 and light < survive[b] else 0.0
        losses[i, 1] = lost / season if season > 0 else 1.0
        darks[i, 1] = dark / max(awake, 1.0)
    return losses, darks, tall
