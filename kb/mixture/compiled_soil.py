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


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def growing(at_edges, deeper, open_end):
    """Shares of roots (n, layers, weeks) from (d/D)^m at the edges (n, edges) and f^-m by week (n, weeks).

    ``open_end``: the soil is deeper than the last edge, and what lies below joins the last layer.
    """
    count, last, weeks = len(at_edges), at_edges.shape[1] - 1, deeper.shape[1]
    shares, reached, whole = np.empty((count, last, weeks)), np.empty(weeks), np.empty(weeks)
    for i in range(count):
        for week in range(weeks):
            bottom = 1.0 if open_end else -expm1(-LN_2 * at_edges[i, last] * deeper[i, week])
            whole[week] = bottom
            reached[week] = -expm1(-LN_2 * at_edges[i, 0] * deeper[i, week])
        for layer in range(last):
            for week in range(weeks):
                below = -expm1(-LN_2 * at_edges[i, layer + 1] * deeper[i, week])
                if layer == last - 1:
                    below = whole[week]
                share = below - reached[week]
                if whole[week] > SMALLEST:
                    share /= whole[week]
                elif layer == 0:
                    share = 1.0
                shares[i, layer, week] = share
                reached[week] = below
    return shares
