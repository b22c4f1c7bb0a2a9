"""The score of a pair in single precision, for very many: `compiled.exact` within a few millionths.

The cells of a plant's weeks lie one after another (`compiled.cells`), and the light of a week is reckoned
in one step, so that one loop takes as many cells or weeks at a time as the processor can. What is within
`NEAR` of being wanted is reckoned again in doubles. Sums, joined as the fourth root of fourth powers, pass
on no more error than they get.
"""

import numpy as np
from numba import njit

from kb.mixture.compiled.cells import (
    LAYERS,
    LEAST_HELD,
    ONE,
    ZERO,
    fill,
    fill_growing,
    fill_year,
    grown_roots,
)
from kb.mixture.compiled.roots import per_unit
from kb.mixture.compiled.single import FAST, expm1
from kb.mixture.stress import BENEFIT_WEIGHT

STRIDE = 16
"""Weeks of light are taken in so many at a time: two strides of singles in most processors."""
WEEKS_HELD = 52 + STRIDE
"""A year's weeks with empty ones behind."""
NEAR = 2e-5
"""How far a score may be from the one in doubles; a test holds it to a tenth of it (3e-7
was the most seen in 80,000 pairs, skins of soil among them)."""
HARDLY = np.float32(1e-18)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _taken(cells, start, stop, water, nitrate, roots, water_a, nitrate_a, water_given, nitrate_given):
    """What a and b take in some cells: of water, then of nitrate.

    ``water``, ``nitrate``: what b asks on its share per cell; of a what it asks in each. ``roots`` of both to
    a demand of nitrate of 1. What is given is never 0.
    """
    per_a, per_b = roots
    to_a, to_b, to_a_too, to_b_too = ZERO, ZERO, ZERO, ZERO
    for place in range(start, stop):
        c = np.uint64(place)
        cell = cells[c]
        given, a = water_given[c], water_a[c]
        met = given / max(a + water * cell, given)
        to_a += a * met
        to_b += cell * met
        given, a = nitrate_given[c], nitrate_a[c]
        b, mine = nitrate * cell, per_a * a
        part = given * mine / max(mine + per_b * b, LEAST_HELD)
        to_a_too += min(a, max(part, given - b))
        to_b_too += min(b, max(given - part, given - a))
    return to_a, water * to_b, to_a_too, to_b_too


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _unshared(cells, start, stop, water, nitrate, water_given, nitrate_given):
    """What b takes in some cells in which a asks nothing: of water, then of nitrate."""
    to_b, to_b_too = ZERO, ZERO
    for place in range(start, stop):
        c = np.uint64(place)
        cell = cells[c]
        to_b += min(water * cell, water_given[c])
        to_b_too += min(nitrate * cell, nitrate_given[c])
    return to_b, to_b_too


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _part(height, base, top, low):
    """The part of a crown's depth that a layer between two neighbouring edges holds."""
    return (top - low) / (height - base) if height >= top and base <= low else ZERO


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _layer(depth):
    """Share of the light that a layer takes, and the mean share of it within."""
    depth = max(depth, HARDLY)
    lost = -expm1(-depth)
    return lost, lost / depth


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _enough(seen, per_sole, open_light, zero, per_range):
    """Share of a full crop that the light gives (`felt.light_felt`)."""
    return min(max((open_light * min(seen * per_sole, ONE) - zero) * per_range, ZERO), ONE)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _lit(
    start, stop, course_a, own_a, per_sole_a, course_b, leaf_b, extinction_b, shares, parts_a, parts_b,
    open_light, zeros, per_ranges,
):  # fmt: skip
    """Activity times the crop that light allows a and b, as `compiled.bed.lit`, summed over some weeks.

    Also b's activity. ``parts_a``, ``parts_b``: the parts of their crowns in each layer, from above.
    """
    share_a, share_b = shares
    top_a, mid_a, low_a = parts_a
    top_b, mid_b, low_b = parts_b
    worth_a, worth_b, season = ZERO, ZERO, ZERO
    for week in range(start, stop):
        w = np.uint64(week)
        own_b = extinction_b * leaf_b[w]
        here_a, here_b = share_a * own_a[w], share_b * own_b
        lost, seen = _layer(here_a * top_a + here_b * top_b)
        seen_a, seen_b, light = seen * top_a, seen * top_b, ONE - lost
        lost, seen = _layer(here_a * mid_a + here_b * mid_b)
        seen_a += light * seen * mid_a
        seen_b += light * seen * mid_b
        light *= ONE - lost
        lost, seen = _layer(here_a * low_a + here_b * low_b)
        seen_a += light * seen * low_a
        seen_b += light * seen * low_b
        depth = max(own_b, HARDLY)
        worth_a += course_a[w] * _enough(seen_a, per_sole_a[w], open_light, zeros[0], per_ranges[0])
        worth_b += course_b[w] * _enough(seen_b, depth / -expm1(-depth), open_light, zeros[1], per_ranges[1])
        season += course_b[w]
    return worth_a, worth_b, season


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _lit_by_two(
    start, stop, course_a, own_a, per_sole_a, course_b, leaf_b, extinction_b, shares, parts_a, parts_b,
    open_light, zeros, per_ranges,
):  # fmt: skip
    """`_lit` where two layers hold both crowns, as they do where both reach down to the ground."""
    share_a, share_b = shares
    top_a, low_a = parts_a
    top_b, low_b = parts_b
    worth_a, worth_b, season = ZERO, ZERO, ZERO
    for week in range(start, stop):
        w = np.uint64(week)
        own_b = extinction_b * leaf_b[w]
        here_a, here_b = share_a * own_a[w], share_b * own_b
        lost, seen = _layer(here_a * top_a + here_b * top_b)
        seen_a, seen_b, light = seen * top_a, seen * top_b, ONE - lost
        lost, seen = _layer(here_a * low_a + here_b * low_b)
        seen_a += light * seen * low_a
        seen_b += light * seen * low_b
        depth = max(own_b, HARDLY)
        worth_a += course_a[w] * _enough(seen_a, per_sole_a[w], open_light, zeros[0], per_ranges[0])
        worth_b += course_b[w] * _enough(seen_b, depth / -expm1(-depth), open_light, zeros[1], per_ranges[1])
        season += course_b[w]
    return worth_a, worth_b, season


@njit(cache=True, nogil=True, error_model="numpy")
def _parts(height, base, highest, second, third, lowest):
    """The parts of a crown's depth in the three layers that the edges of two crowns make."""
    return (
        _part(height, base, highest, second),
        _part(height, base, second, third),
        _part(height, base, third, lowest),
    )


@njit(cache=True, nogil=True, error_model="numpy")
def _least_got(water, nitrate, water_alone, nitrate_alone, fixes):
    """The lesser of water and nitrate got, over what a stand of its own gets on the same share."""
    by_water = water / water_alone if water_alone > 0 else 1.0
    by_nitrate = nitrate / nitrate_alone if nitrate_alone > 0 else 1.0
    return by_water if fixes else min(by_water, by_nitrate)


@njit(cache=True, nogil=True)
def _fourth(x):
    """The fourth power."""
    return (x * x) * (x * x)


@njit(cache=True, nogil=True, error_model="numpy")
def near(
    chosen, limit, activity, leaf, shape, seasons, soles, fixer, known, annual, shared, kin, own, like, asked,
    until, light_a, season_a, shape_a, sole_a, fixer_a, known_a, supply, log_edges, open_light, shares,
):  # fmt: skip
    """K' of the chosen plants beside a, within `NEAR`, in singles; -inf where only doubles can tell.

    Also how many of those there are. Like with like, of the species ``own``, is ``like``.

    Arrays as `index.Index` has them. Of a: ``asked`` (2, cells) on its share of ``supply`` (2, cells), none
    of it 0; ``until`` (2, weeks + 1) in doubles, what it has taken before each week where b is not there;
    ``light_a`` (3, `WEEKS_HELD`), activity, optical depth, and depth over what it takes alone; ``season_a``
    its first week and the one after the last, and its activity. A plant that is above ``limit`` before
    light is told as infinite: light only adds.
    """
    count, weeks, layers, untold = len(chosen), activity.shape[1], len(log_edges), 0
    out, held = np.empty(count), np.empty(count, dtype=np.float32)
    reach = np.empty(count * LAYERS, dtype=np.float32)
    profile, cells = np.empty_like(reach), np.zeros(WEEKS_HELD * LAYERS, dtype=np.float32)
    rows, room = np.zeros(WEEKS_HELD * (LAYERS + 1), dtype=np.float32), np.empty(weeks, dtype=np.float32)
    course, leaves = np.zeros(WEEKS_HELD, dtype=np.float32), np.zeros(WEEKS_HELD, dtype=np.float32)
    water_a, nitrate_a, water, nitrate = asked[0], asked[1], supply[0], supply[1]
    course_a, own_a, per_sole_a = light_a[0], light_a[1], light_a[2]
    first_a, last_a, active_a = season_a
    here_a, here_b = np.float32(shares[0]), np.float32(shares[1])
    highest_told = _fourth(limit) if limit > 0 else -1.0
    range_a, open_here = ONE / (shape_a[8] - shape_a[7]), np.float32(open_light)
    per_a = np.float32(per_unit(shape_a[9]))
    grown_roots(chosen, shape, log_edges, reach, profile, held)
    for at in range(count):
        i = chosen[at]
        if kin[i, 0] == own:
            out[at] = like
            continue
        b, base = shape[i], np.uint64(at * LAYERS)
        first, last = np.int64(seasons[i, 0]), np.int64(seasons[i, 1])
        for week in range(weeks):
            w = np.uint64(week)
            course[w], leaves[w] = activity[i, w], leaf[i, w]
        grown, least = first, held[at]
        if annual[i] and first == 0 and last == weeks:
            grown, least = last, fill_year(course, weeks, b[1], reach, base, layers, room, rows, cells)
        elif annual[i] and first < last:
            grown, least = fill_growing(
                course, first, last, b[1], reach, base, layers, room, rows, cells
            )  # fmt: skip
        if min(least, held[at]) < LEAST_HELD:
            out[at] = -np.inf
            untold += 1
            continue
        fill(course, grown, last, profile, base, layers, cells)
        begin = min(max(first, first_a), last)  # of the weeks in which both grow
        end = max(min(last, last_a), begin)
        of_water, of_nitrate = here_b * b[2], here_b * b[3]
        took = _taken(
            cells, begin * LAYERS, end * LAYERS, of_water, of_nitrate, (per_a, np.float32(per_unit(b[9]))),
            water_a, nitrate_a, water, nitrate,
        )  # fmt: skip
        before = _unshared(cells, first * LAYERS, begin * LAYERS, of_water, of_nitrate, water, nitrate)
        after = _unshared(cells, end * LAYERS, last * LAYERS, of_water, of_nitrate, water, nitrate)
        apart = (
            until[0, weeks] - until[0, end] + until[0, begin],
            until[1, weeks] - until[1, end] + until[1, begin],
        )
        got_a = _least_got(
            apart[0] + took[0], apart[1] + took[2], shares[0] * sole_a[0], shares[0] * sole_a[1], fixer_a
        )  # fmt: skip
        got_b = _least_got(
            took[1] + before[0] + after[0], took[3] + before[1] + after[1], shares[1] * soles[i, 0],
            shares[1] * soles[i, 1], fixer[i],
        )  # fmt: skip
        relief = max(0.0, (got_a + got_b) / 2 - 1) if known_a and known[i] else 0.0
        eased = 1 - BENEFIT_WEIGHT * min(1.0, relief)
        of_a, of_b = _fourth(max(0.0, 1 - got_a)), _fourth(max(0.0, 1 - got_b))
        enemies = _fourth(np.float64(shared[i]))
        if min(1.0, max(of_a, of_b) + enemies) * _fourth(eased) > highest_told:
            out[at] = np.inf
            continue
        first, last = min(first, first_a), max(last, last_a)
        lower_top, higher_base = min(shape_a[4], b[4]), max(shape_a[5], b[5])
        second, third = max(lower_top, higher_base), min(lower_top, higher_base)
        highest, lowest = max(shape_a[4], b[4]), min(shape_a[5], b[5])
        parts_a = _parts(shape_a[4], shape_a[5], highest, second, third, lowest)
        parts_b = _parts(b[4], b[5], highest, second, third, lowest)
        end, zeros, per_ranges = (
            first - (first - last) // STRIDE * STRIDE, (shape_a[7], b[7]), (range_a, ONE / (b[8] - b[7]))
        )  # fmt: skip
        if parts_a[2] + parts_b[2] > 0:
            worth_a, worth_b, active_b = _lit(
                first, end, course_a, own_a, per_sole_a, course, leaves, b[6], (here_a, here_b), parts_a,
                parts_b, open_here, zeros, per_ranges,
            )  # fmt: skip
        else:
            worth_a, worth_b, active_b = _lit_by_two(
                first, end, course_a, own_a, per_sole_a, course, leaves, b[6], (here_a, here_b),
                (parts_a[0], parts_a[1]), (parts_b[0], parts_b[1]), open_here, zeros, per_ranges,
            )  # fmt: skip
        dark_a = 1.0 - worth_a / active_a if active_a > 0 else 1.0
        dark_b = 1.0 - worth_b / active_b if active_b > 0 else 1.0
        felt = min(1.0, max(of_a + _fourth(dark_a), of_b + _fourth(dark_b)) + enemies)
        out[at] = np.sqrt(np.sqrt(felt)) * eased
    return out, untold
