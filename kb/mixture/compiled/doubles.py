"""Compiled inner loops: each has a plain numpy twin that the tests hold it against.

Imported only where many plants or places are asked for at once: the first call in a new environment
compiles for some seconds (kept in ``__pycache__`` afterwards), which no single question may pay.
Arrays are C-contiguous; goods are water (0) and nitrate (1); plants of a pair are a (0) and b (1).
"""

import numpy as np
from numba import njit

from kb.mixture.compiled.bed import lit, room
from kb.mixture.compiled.exponential import FAST, exp, expm1
from kb.mixture.compiled.roots import per_unit
from kb.mixture.stress import BENEFIT_WEIGHT

LAYERS = 16
"""Of ``exact``: those of the draws, with one more that is empty, so that they are a few whole strides."""
TINY = 1e-100
LN_2 = 0.6931471805599453
DEEPEST = 500.0
"""A number whose exponential, as (d/D)^m, is below all roots, and still is one."""
SMALLEST = 2.2250738585072014e-308


@njit(cache=True)
def _fourth_root(x):
    return np.sqrt(np.sqrt(x))


@njit(cache=True)
def _growth(activity, out):
    """`roots.annual_growth`: 0.25 to 1, rising with activity from the start of the season."""
    weeks = len(activity)
    start, most, least = -1, 0.0, activity[0]
    for w in range(weeks):
        if start < 0 and activity[w] > 0 and activity[w - 1] == 0:
            start = w
        most, least = max(most, activity[w]), min(least, activity[w])
    if start < 0 or most <= 0 or least > 0:
        out[:] = 1.0
        return
    high, reached, w = 0.0, 0.25, start
    for _ in range(weeks):
        if activity[w] > high:
            high = activity[w]
            reached = 0.25 + 0.75 * high / most
        out[w] = reached
        w = w + 1 if w + 1 < weeks else 0


@njit(cache=True, fastmath=FAST, error_model="numpy")
def _profile(at_edges, deeper, profile):
    """Shares by layer of roots from (d/D)^m at the lower edges and f^-m (`roots.growing_profile`)."""
    for z in range(LAYERS):
        profile[z] = -expm1(-LN_2 * at_edges[z] * deeper)
    whole = profile[LAYERS - 1]
    if whole <= SMALLEST:
        profile[:] = 0.0
        profile[0] = 1.0
        return
    per_whole = 1.0 / whole
    for z in range(LAYERS - 1, 0, -1):
        profile[z] = (profile[z] - profile[z - 1]) * per_whole
    profile[0] *= per_whole


@njit(cache=True, fastmath=FAST, error_model="numpy", inline="always")
def _week(water, nitrate, share, profile, roots, water_a, nitrate_a, water_given, nitrate_given):
    """What a and b take of both goods in one week, and b alone: of water, then of nitrate.

    ``water``, ``nitrate``: what a full stand of b asks; of a what it asks in each layer. ``roots`` of both to
    a demand of nitrate of 1. Division is what takes time: 1/(x y) serves both goods, as 1/x = y/(x y).
    """
    per_a, per_b = roots
    to_a, to_b, alone, to_a_too, to_b_too, alone_too = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    for z in range(LAYERS):
        full, given, a = water * profile[z], water_given[z], water_a[z]
        full_too, given_too, a_too = nitrate * profile[z], nitrate_given[z], nitrate_a[z]
        b, b_too = share * full, share * full_too
        mine = per_a * a_too
        most, both = max(a + b, given, TINY), max(mine + per_b * b_too, TINY)
        per_both = 1.0 / (most * both)
        met, part = given * both * per_both, given_too * mine * most * per_both
        to_a += a * met
        to_b += b * met
        alone += min(full, given)
        to_a_too += min(a_too, max(part, given_too - b_too))
        to_b_too += min(b_too, max(given_too - part, given_too - a_too))
        alone_too += min(full_too, given_too)
    return to_a, to_b, alone, to_a_too, to_b_too, alone_too


@njit(cache=True, fastmath=FAST, error_model="numpy")
def _roots(
    activity, shape, annual, asked, alone, hunger_a, supply, log_edges, share, growth, at_edges, profile,
    taken, sole,
):  # fmt: skip
    """Uptake of a and b, ``taken`` (2 goods, 2), and of b in a stand of its own, ``sole`` (2,).

    ``growth`` (weeks,), ``at_edges`` and ``profile`` (layers,) are room to reckon in.
    """
    growth[:] = 1.0
    if annual:
        _growth(activity, growth)
    log_d50, power = np.log(np.float64(shape[0])), np.float64(shape[1])
    for z in range(LAYERS):
        at_edges[z] = exp(min(power * (log_edges[z] - log_d50), DEEPEST))
    taken[:], sole[:] = 0.0, 0.0
    roots, drawn = (per_unit(hunger_a), per_unit(np.float64(shape[9]))), -1.0
    for w in range(len(activity)):
        active = np.float64(activity[w])
        if active <= 0:
            taken[0, 0] += alone[0, w]
            taken[1, 0] += alone[1, w]
            continue
        if growth[w] != drawn:
            drawn = growth[w]
            _profile(at_edges, np.exp(-power * np.log(drawn)), profile)
        found = _week(
            active * shape[2], active * shape[3], share, profile, roots, asked[0, w], asked[1, w],
            supply[0, w], supply[1, w],
        )  # fmt: skip
        for good in range(2):
            taken[good, 0] += found[3 * good]
            taken[good, 1] += found[3 * good + 1]
            sole[good] += found[3 * good + 2]


@njit(cache=True)
def demands(activity, shape, annual, log_edges):
    """What a full stand of one plant asks, (2, weeks, layers): `index.demands`, with empty layers."""
    growth, asked = np.ones(len(activity)), np.empty((2, len(activity), LAYERS))
    at_edges, profile = np.empty(LAYERS), np.empty(LAYERS)
    if annual:
        _growth(activity, growth)
    power = np.float64(shape[1])
    for z in range(LAYERS):
        at_edges[z] = exp(min(power * (log_edges[z] - np.log(np.float64(shape[0]))), DEEPEST))
    for w in range(len(activity)):
        _profile(at_edges, np.exp(-power * np.log(growth[w])), profile)
        for good in range(2):
            full = np.float64(activity[w]) * shape[2 + good]
            for z in range(LAYERS):
                asked[good, w, z] = full * profile[z]
    return asked


@njit(cache=True, nogil=True, error_model="numpy")
def least_got(taken, sole, share, fixes):
    """The lesser of water and nitrate got (2,), over the same share of a stand of its own, ``sole`` (2,)."""
    water = taken[0] / (share * sole[0]) if share * sole[0] > 0 else 1.0
    nitrate = taken[1] / (share * sole[1]) if share * sole[1] > 0 else 1.0
    return min(water, max(water, 1.0) if fixes else nitrate)


@njit(cache=True, nogil=True, error_model="numpy")
def exact(
    chosen, activity, leaf, shape, fixer, known, annual, shared, a_asked, a_alone, a_course, a_leaf, a_shape,
    a_sole, a_fixer, a_known, supply, log_edges, open_light, shares, limit,
):  # fmt: skip
    """K' of the chosen plants beside a: the formula of `index.stress`, plant by plant.

    Columns of ``shape`` as `index.SHAPE_COLUMNS`; ``a_asked``, ``supply`` (2, weeks, layers); ``log_edges``
    (layers,) of the lower ends, ln m, the last one deep enough for all where roots go on below. A plant
    that is above ``limit`` before light is told as infinite: light only adds.
    """
    out = np.empty(len(chosen))
    taken, sole, dark, relative = np.empty((2, 2)), np.empty(2), np.empty(2), np.empty(2)
    growth, light = np.empty(activity.shape[1]), room(activity.shape[1])
    at_edges, profile = np.empty(LAYERS), np.empty(LAYERS)
    a_traits = a_shape[4], a_shape[5], a_shape[6], a_shape[7], a_shape[8], 0.0
    for at in range(len(chosen)):
        i = chosen[at]
        _roots(
            activity[i], shape[i], annual[i], a_asked, a_alone, a_shape[9], supply, log_edges, shares[1],
            growth, at_edges, profile, taken, sole,
        )  # fmt: skip
        relative[0] = least_got(taken[:, 0], a_sole, shares[0], a_fixer)
        relative[1] = least_got(taken[:, 1], sole, shares[1], fixer[i])
        relief = max(0.0, (relative[0] + relative[1]) / 2 - 1) if a_known and known[i] else 0.0
        eased = 1 - BENEFIT_WEIGHT * min(1.0, relief)
        enemies = np.float64(shared[i]) ** 4
        least = _fourth_root(max(0.0, 1 - min(relative[0], relative[1])) ** 4 + enemies)
        if min(1.0, least) * eased > limit:
            out[at] = np.inf
            continue
        b = shape[i]
        traits = (
            np.float64(b[4]), np.float64(b[5]), np.float64(b[6]), np.float64(b[7]), np.float64(b[8]), 0.0
        )  # fmt: skip
        dark[0], _, dark[1], _ = lit(
            a_course, a_leaf, a_traits, shares[0], activity[i], leaf[i], traits, shares[1], open_light, light
        )
        most = 0.0
        for plant in range(2):
            felt = _fourth_root(max(0.0, 1 - relative[plant]) ** 4 + dark[plant] ** 4 + enemies)
            most = max(most, min(1.0, felt))
        out[at] = most * eased
    return out
