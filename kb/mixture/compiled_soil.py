"""Compiled soil: the daily balance of ``water`` through many years, and roots that grow (``roots``).

Imported only by a service that stays up, as ``compiled_roots``. The balance does the same sums in the same
order as its plain twin, so it gives the same to the last bit.
"""

import numpy as np
from numba import njit

from kb.mixture.compiled_exponential import FAST, expm1

LN_2 = 0.6931471805599453
SMALLEST = 2.2250738585072014e-308


def rehearse():
    """Compile, or load what is kept, for the kinds of arrays that ``water`` and ``roots`` give."""
    days, demand = np.ones((2, 1)), np.ones(2)
    demand.setflags(write=False)  # as `climate` keeps it
    balance(demand, np.ones(2), days, 1.0, np.ones(1), days.copy())
    growing(days, days, True)


@njit(cache=True, nogil=True, error_model="numpy")
def balance(demand, left, rain, capacity_mm, water, held):
    """Step ``water`` (years,) through the days of `water.soil_water`; ``held`` (days, years) takes each end.

    ``demand`` and ``left`` (days,), ``rain`` (days, years).
    """
    for day in range(len(demand)):
        asked, part = demand[day], left[day]
        for year in range(len(water)):
            full = min(water[year] + rain[day, year], capacity_mm)
            water[year] = max(full * part, full - asked)
            held[day, year] = water[year]


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _share(below, reached, whole, first):
    """A layer's share of roots from those above its edges; all are in the first where none are held."""
    share = below - reached
    if whole > SMALLEST:
        share /= whole
    elif first:
        share = 1.0
    return share


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def growing(at_edges, deeper, open_end):
    """Shares of roots (n, layers, weeks) from (d/D)^m at the edges (n, edges) and f^-m by week (n, weeks).

    ``open_end``: the soil is deeper than the last edge, and what lies below joins the last layer. Weeks of
    full depth, f = 1, are alike and reckoned once.
    """
    count, last, weeks = len(at_edges), at_edges.shape[1] - 1, deeper.shape[1]
    shares, moving = np.empty((count, last, weeks)), np.empty(weeks, dtype=np.int64)
    factor, reached, whole = np.empty(weeks + 1), np.empty(weeks + 1), np.empty(weeks + 1)
    found = np.empty(weeks + 1)
    for i in range(count):
        some = 0
        for week in range(weeks):
            if deeper[i, week] != 1.0:
                moving[some], factor[some] = week, deeper[i, week]
                some += 1
        factor[some] = 1.0
        for k in range(some + 1):
            whole[k] = 1.0 if open_end else -expm1(-LN_2 * at_edges[i, last] * factor[k])
            reached[k] = -expm1(-LN_2 * at_edges[i, 0] * factor[k])
        for layer in range(last):
            bottom = layer == last - 1
            for k in range(some + 1):
                below = whole[k] if bottom else -expm1(-LN_2 * at_edges[i, layer + 1] * factor[k])
                found[k] = _share(below, reached[k], whole[k], layer == 0)
                reached[k] = below
            shares[i, layer] = found[some]
            for k in range(some):
                shares[i, layer, moving[k]] = found[k]
    return shares
