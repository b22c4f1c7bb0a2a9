"""Compiled soil: the daily balance of ``water`` through many years, and roots that grow (``roots``).

Imported only by a service that stays up, as ``compiled.roots``. The balance does the same sums in the same
order as its plain twin, so it gives the same to the last bit.
"""

import numpy as np
from numba import njit

from kb.mixture.compiled.exponential import FAST, expm1
from kb.mixture.compiled.roots import take_alone

LN_2 = 0.6931471805599453
SMALLEST = 2.2250738585072014e-308


def rehearse():
    """Compile, or load what is kept, for the kinds of arrays that ``water`` and ``roots`` give."""
    days, demand, weekly = np.ones((2, 2)), np.ones(2), np.ones(1)
    demand.setflags(write=False)  # as `climate` keeps it
    scarce(
        demand, weekly, days, np.zeros(1, np.int64), weekly, np.ones((1, 2)), (1.0, 0.5, 1.0), 1.0, 0.1, 0.9
    )
    growing(days, days, True)
    standing(days, days, True, days, days, days[:1], days[:1])
    moved, ground = (weekly, weekly, weekly, weekly), (np.array([0.0, 1.0]), 1.0, days[:1], days[:1])
    grown_tree((0.1, 0.3, 1.1, 1.5), (1.0, 0.01, 0.1, 1.0), moved, (days[:1], days[:1], days[:1]), ground)


@njit(cache=True, nogil=True, error_model="numpy")
def scarce(demand, draw, rain, starts, weekly_demand, weekly_rain, store, times, least, most):
    """Omega (weeks, years) of a store of water that is followed through the days: `water._omega`.

    ``demand`` (days,), ``rain`` (days, years), mm; ``draw``, the days that weeks begin with, and their demand
    (weeks,); their rain (weeks, years). ``store``: how much it holds, from what on uptake slows, mm, and by
    what its weekly sum is divided.
    """
    weeks, days, years = len(starts), len(demand), rain.shape[1]
    capacity_mm, slows_at_mm, lasts = store
    asked, part = np.empty(days), np.ones(days)
    for week in range(weeks):
        for day in range(starts[week], starts[week + 1] if week + 1 < weeks else days):
            asked[day] = demand[day] * draw[week]
            if slows_at_mm > 0:
                part[day] = max(0.0, 1 - asked[day] / slows_at_mm)
    water, first, others = np.full(years, capacity_mm), np.empty(years), np.empty(years)
    for day in range(days):
        _step(water, rain[day], capacity_mm, part[day], asked[day])
    _follows(water)
    found = np.empty((weeks, years))
    for week in range(weeks):  # sums as numpy's reduceat has them: the first day, and all others
        begin, end = starts[week], starts[week + 1] if week + 1 < weeks else days
        _step(water, rain[begin], capacity_mm, part[begin], asked[begin])
        first[:] = water
        others[:] = 0.0
        for day in range(begin + 1, end):
            _step_summed(water, rain[day], others, capacity_mm, part[day], asked[day])
        whole = weekly_demand[week]
        for year in range(years):
            given = (weekly_rain[week, year] + (first[year] + others[year]) / lasts) * times
            found[week, year] = min(max(whole / max(whole + given, 1e-300), least), most)
    return found


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _step(water, rain, capacity_mm, part, asked):
    """A day of the balance, for ``water`` and ``rain`` (years,)."""
    for year in range(len(water)):
        full = min(water[year] + rain[year], capacity_mm)
        water[year] = max(full * part, full - asked)


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _step_summed(water, rain, summed, capacity_mm, part, asked):
    """The same, which comes to ``summed`` (years,) in one go: to come back for it takes as long again."""
    for year in range(len(water)):
        full = min(water[year] + rain[year], capacity_mm)
        left = max(full * part, full - asked)
        water[year] = left
        summed[year] += left


@njit(cache=True, nogil=True)
def _follows(water):
    """What each year ends with (years,) put to the one after it; the first follows the last."""
    last = water[-1]
    for year in range(len(water) - 1, 0, -1):
        water[year] = water[year - 1]
    water[0] = last


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _share(below, reached, whole, first):
    """A layer's share of roots from those above its edges; all are in the first where none are held."""
    share = below - reached
    if whole > SMALLEST:
        share /= whole
    elif first:
        share = 1.0
    return share


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _grow(at_edges, deeper, open_end, shares, work):
    """One row of `growing`, put into ``shares`` (layers, weeks); ``work`` is a `room`."""
    moving, factor, reached, whole, found = work
    last, weeks, some = len(shares), len(deeper), 0
    for week in range(weeks):
        if deeper[week] != 1.0:
            moving[some], factor[some] = week, deeper[week]
            some += 1
    factor[some] = 1.0
    for k in range(some + 1):
        whole[k] = 1.0 if open_end else -expm1(-LN_2 * at_edges[last] * factor[k])
        reached[k] = -expm1(-LN_2 * at_edges[0] * factor[k])
    for layer in range(last):
        bottom = layer == last - 1
        for k in range(some + 1):
            below = whole[k] if bottom else -expm1(-LN_2 * at_edges[layer + 1] * factor[k])
            found[k] = _share(below, reached[k], whole[k], layer == 0)
            reached[k] = below
        shares[layer] = found[some]
        for k in range(some):
            shares[layer, moving[k]] = found[k]


@njit(cache=True, nogil=True)
def room(weeks):
    """Arrays for `_grow` to reckon in, made once for many rows."""
    moving = np.empty(weeks, dtype=np.int64)
    return moving, np.empty(weeks + 1), np.empty(weeks + 1), np.empty(weeks + 1), np.empty(weeks + 1)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def growing(at_edges, deeper, open_end):
    """Shares of roots (n, layers, weeks) from (d/D)^m at the edges (n, edges) and f^-m by week (n, weeks).

    ``open_end``: the soil is deeper than the last edge, and what lies below joins the last layer. Weeks of
    full depth, f = 1, are alike and reckoned once.
    """
    count, last, weeks = len(at_edges), at_edges.shape[1] - 1, deeper.shape[1]
    shares, work = np.empty((count, last, weeks)), room(weeks)
    for i in range(count):
        _grow(at_edges[i], deeper[i], open_end, shares[i], work)
    return shares


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def standing(at_edges, deeper, open_end, water_course, nitrate_course, water, nitrate):
    """The roots of `growing`, and what full stands with them get of water and nitrate (n,) by themselves.

    Courses (n, weeks) and supplies (layers, weeks) as in `compiled.roots.one`; each row's roots are summed up
    while they are at hand.
    """
    count, last, weeks = len(at_edges), at_edges.shape[1] - 1, deeper.shape[1]
    shares, work, evenly = np.empty((count, last, weeks)), room(weeks), np.ones(water.shape[1])
    drunk, eaten = np.empty(count), np.empty(count)
    for i in range(count):
        _grow(at_edges[i], deeper[i], open_end, shares[i], work)
        drunk[i] = take_alone(water_course[i], shares[i], 1.0, water, evenly)
        eaten[i] = take_alone(nitrate_course[i], shares[i], 1.0, nitrate, evenly)
    return shares, drunk, eaten


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def grown_tree(depths, sizes, moved, courses, ground):
    """What its size moves of a tree, in all its variants (n,): `standing_tree._grown_on`.

    ``depths``: D50 and D95, the least ratio of the two, the shape of roots; ``sizes``: height and its least,
    the part of it below the leaves, leaf area index; ``moved`` (n,): what D50, D95, height and leaf are
    multiplied by; ``courses``: leaf, and what is asked of water and nitrate (n, weeks); ``ground``: edges of
    the layers, depth of the soil, and both supplies (layers, weeks).
    """
    d50_m, d95_m, least_ratio, shape = depths
    height_m, least_height_m, bare, leaf_area_index = sizes
    of_d50, of_d95, of_height, of_leaf = moved
    leaf, water_course, nitrate_course = courses
    edges, soil_depth_m, water, nitrate = ground
    count, weeks, last = len(of_d50), leaf.shape[1], len(edges) - 1
    d50, height, base, leaf_area = np.empty(count), np.empty(count), np.empty(count), np.empty((count, weeks))
    roots, drunk, eaten = np.empty((count, last, 1)), np.empty(count), np.empty(count)
    at_edges, full, work, evenly = np.empty(last + 1), np.ones(1), room(1), np.ones(water.shape[1])
    open_end = soil_depth_m >= edges[last]
    for i in range(count):
        d50[i] = d50_m * of_d50[i]
        power = shape / np.log(max(d95_m * of_d95[i], d50[i] * least_ratio) / d50[i])
        for edge in range(last + 1):
            at_edges[edge] = (min(edges[edge], soil_depth_m) / d50[i]) ** power
        _grow(at_edges, full, open_end, roots[i], work)
        height[i] = max(height_m * of_height[i], least_height_m)
        base[i] = height[i] * bare
        area = leaf_area_index * of_leaf[i]
        for week in range(weeks):
            leaf_area[i, week] = area * leaf[i, week]
        drunk[i] = take_alone(water_course[i], roots[i], 1.0, water, evenly)
        eaten[i] = take_alone(nitrate_course[i], roots[i], 1.0, nitrate, evenly)
    return d50, height, base, leaf_area, roots, drunk, eaten
