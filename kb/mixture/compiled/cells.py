"""What a plant asks of each layer in each week, in single precision, for very many plants.

A year's cells lie week after week, ``LAYERS`` to a week. Loops run over unsigned places and over as many
layers as an array has: a processor then takes many at a time, which it does not where an index could be
below zero or where a loop of known length is written out one by one. Where a plant's roots grow, the steps
are reckoned all together, so that none waits for the one before.
"""

import numpy as np
from numba import njit

from kb.mixture.compiled.single import FAST, exp, expm1

LAYERS = 16
"""Those of the draws, with one more that is empty."""
WEEK = np.uint64(LAYERS)
ROOT_STRIDE = 4
"""Weeks of roots are taken in so many at a time: their layers are eight strides of most processors."""
HIGHEST = np.float32(60.0)
"""A number whose exponential, as (d/D)^m, is below all roots, and still is a single."""
LEAST_HELD = np.float32(1e-20)
"""With so few of its roots within the soil a plant is left to the doubles."""
LN_2 = np.float32(0.6931471805599453)
ZERO, ONE, QUARTER = np.float32(0.0), np.float32(1.0), np.float32(0.25)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def grown_roots(chosen, shape, log_edges, reach, profile, held):
    """Fill ``reach``, ln 2 (d/D)^m below 0 at the lower edges, and ``profile``, shares by layer (n x layers).

    ``held`` (n,) is what of the roots the soil holds.
    """
    beyond = np.zeros(LAYERS + 1, dtype=np.float32)
    for k in range(len(chosen)):
        i = chosen[k]
        log_d50, power, base = np.log(shape[i, 0]), shape[i, 1], np.uint64(k * LAYERS)
        for layer in range(len(log_edges)):
            z = np.uint64(layer)
            reach[base + z] = -LN_2 * exp(min(power * (log_edges[z] - log_d50), HIGHEST))
    for cell in range(len(reach)):
        c = np.uint64(cell)
        profile[c] = -expm1(reach[c])
    for k in range(len(chosen)):
        base = np.uint64(k * LAYERS)
        for layer in range(len(log_edges)):
            z = np.uint64(layer)
            beyond[z + np.uint64(1)] = profile[base + z]
        held[k] = beyond[LAYERS]
        per_held = ONE / max(held[k], LEAST_HELD)
        for layer in range(len(log_edges)):
            z = np.uint64(layer)
            profile[base + z] = (beyond[z + np.uint64(1)] - beyond[z]) * per_held


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def fill(activity, start, stop, profile, base, layers, cells):
    """Activity times the share of roots, from week ``start`` to ``stop`` or up to `ROOT_STRIDE` - 1 further.

    The profile lies at ``base``; what weeks there are beyond ``stop`` are without activity.
    """
    for w in range(start, stop, ROOT_STRIDE):
        first, second, third, fourth = activity[w], activity[w + 1], activity[w + 2], activity[w + 3]
        there = np.uint64(w * LAYERS)
        there_2, there_3, there_4 = there + WEEK, there + WEEK + WEEK, there + WEEK + WEEK + WEEK
        for layer in range(layers):
            z = np.uint64(layer)
            share = profile[base + z]
            cells[there + z] = share * first
            cells[there_2 + z] = share * second
            cells[there_3 + z] = share * third
            cells[there_4 + z] = share * fourth


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def fill_growing(activity, start, stop, power, reach, base, layers, deeper, rows, cells):
    """Fill the weeks until an annual's roots are grown; that week, and the least that the soil held.

    Roots reach 0.25 of their depth at the start and grow with the highest activity so far
    (`roots.annual_growth`). ``deeper`` (weeks,) and ``rows`` (weeks x layers + 1) are room to reckon in;
    the first of each of the rows is 0.
    """
    most, high, steps, grown = ZERO, ZERO, 0, start
    for w in range(start, stop):
        most = max(most, activity[w])
    per_most = (ONE - QUARTER) / most
    while activity[grown] < most:
        if activity[grown] > high:
            high = activity[grown]
            deeper[steps] = np.log(QUARTER + per_most * high)
            steps += 1
        grown += 1
    for step in range(steps):
        s = np.uint64(step)
        deeper[s] = exp(-power * deeper[s])
    for step in range(steps):
        here, by = np.uint64(step * (LAYERS + 1) + 1), deeper[step]
        for layer in range(layers):
            z = np.uint64(layer)
            rows[here + z] = -expm1(reach[base + z] * by)
    step, high, held, least = -1, ZERO, ONE, ONE
    for w in range(start, grown):
        if activity[w] > high:
            high = activity[w]
            step += 1
            held = rows[step * (LAYERS + 1) + LAYERS]
            least = min(least, held)
        active = activity[w] / max(held, LEAST_HELD)
        there, here = np.uint64(w * LAYERS), np.uint64(step * (LAYERS + 1))
        for layer in range(layers):
            z = np.uint64(layer)
            cells[there + z] = (rows[here + z + np.uint64(1)] - rows[here + z]) * active
    return grown, least


@njit(cache=True, nogil=True)
def _growth(activity, weeks, out):
    """`roots.annual_growth` of (weeks,), where the season may run over the new year."""
    start, most, least = -1, ZERO, activity[0]
    for w in range(weeks):
        if start < 0 and activity[w] > 0 and activity[w - 1 if w else weeks - 1] == 0:
            start = w
        most, least = max(most, activity[w]), min(least, activity[w])
    if start < 0 or most <= 0 or least > 0:
        out[:] = ONE
        return
    high, reached, w = ZERO, QUARTER, start
    for _ in range(weeks):
        if activity[w] > high:
            high = activity[w]
            reached = QUARTER + (ONE - QUARTER) * high / most
        out[w] = reached
        w = w + 1 if w + 1 < weeks else 0


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def fill_year(activity, weeks, power, reach, base, layers, growth, rows, cells):
    """Fill all weeks of an annual that is active at both ends of the year; the least that the soil held."""
    _growth(activity, weeks, growth)
    drawn, held, least = ZERO, ONE, ONE
    for w in range(weeks):
        if growth[w] != drawn:
            drawn = growth[w]
            by = exp(-power * np.log(drawn))
            for layer in range(layers):
                z = np.uint64(layer)
                rows[z + np.uint64(1)] = -expm1(reach[base + z] * by)
            held = rows[LAYERS]
            least = min(least, held)
        active, there = activity[w] / max(held, LEAST_HELD), np.uint64(w * LAYERS)
        for layer in range(layers):
            z = np.uint64(layer)
            cells[there + z] = (rows[z + np.uint64(1)] - rows[z]) * active
    return least
