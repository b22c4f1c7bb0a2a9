"""Compiled inner loops: each has a plain numpy twin that the tests hold it against.

Imported only where many plants or places are asked for at once: the first call in a new environment
compiles for some seconds (kept in ``__pycache__`` afterwards), which no single question may pay.
Arrays are C-contiguous; goods are water (0) and nitrate (1); plants of a pair are a (0) and b (1).
"""

import numpy as np
from numba import njit

from kb.mixture.compiled_bed import lit, room
from kb.mixture.compiled_exponential import FAST, exp, expm1
from kb.mixture.stress import BENEFIT_WEIGHT

LAYERS = 16
"""Of ``exact``: those of the draws, with one more that is empty, so that they are a few whole strides."""
TINY = 1e-100
LN_2 = 0.6931471805599453
DEEPEST = 500.0
"""A number whose exponential, as (d/D)^m, is below all roots, and still is one."""
SMALLEST = 2.2250738585072014e-308


@njit(cache=True, fastmath={"reassoc", "contract", "nsz"}, error_model="numpy")
def tables(asked, supply, thickness, layer_groups, week_groups, levels):
    """What a density of roots of b in a group of cells leaves, at best, for a and for b itself.

    ``asked``, ``supply`` (2, layers, weeks) of a on its share of the ground; ``levels`` (2, m) of b's
    density, per m of depth. Gives (2, groups, m, 4) float32: the most that a takes there, the largest
    share that b is given of its demand in any cell, what b's least demand takes less than that share
    would give it (below 0), and nothing.
    """
    layers, weeks, count = len(layer_groups) - 1, len(week_groups) - 1, levels.shape[1]
    found = np.zeros((2, layers * weeks, count, 4), dtype=np.float32)
    most_a, most_b, taken, least = np.empty(count), np.empty(count), np.empty(count), np.empty(count)
    for good in range(2):
        for zone in range(layers):
            for season in range(weeks):
                most_a[:], most_b[:], taken[:], least[:] = 0.0, 0.0, 0.0, 0.0
                for z in range(layer_groups[zone], layer_groups[zone + 1]):
                    for w in range(week_groups[season], week_groups[season + 1]):
                        a, given = asked[good, z, w], supply[good, z, w]
                        for level in range(count):
                            b = levels[good, level] * thickness[z]
                            met = given / max(a + b, given, TINY)
                            most_a[level] += a * met
                            most_b[level] = max(most_b[level], met)
                            taken[level] += b * met
                            least[level] += b
                group = found[good, zone * weeks + season]
                for level in range(count):
                    group[level, 0] = most_a[level]
                    group[level, 1] = most_b[level]
                    group[level, 2] = taken[level] - least[level] * most_b[level]
    return found


@njit(cache=True)
def shared(kin, own, steps):
    """`index.shared_enemies` of kin (n, 3) with one plant's ``own`` (3,): genus, family, not known, none."""
    genus, family, unknown, none = steps
    found = np.empty(len(kin), dtype=np.float32)
    for i in range(len(kin)):
        if kin[i, 1] == own[1]:
            found[i] = genus
        elif kin[i, 2] < 0 or own[2] < 0:
            found[i] = unknown
        else:
            found[i] = family if kin[i, 2] == own[2] else none
    return found


@njit(cache=True, fastmath={"reassoc", "contract", "nsz"})
def _most(codes, amounts, table):
    """The most of one good that a takes; and b, in its amounts, and how much less at least."""
    a, b, less = np.float32(0.0), np.float32(0.0), np.float32(0.0)
    a2, b2, less2 = np.float32(0.0), np.float32(0.0), np.float32(0.0)
    half = len(codes) // 2
    for g in range(half):  # two sums at a time: one addition need not wait for the one before
        code, code2 = codes[g], codes[half + g]
        a += table[g, code, 0]
        b += np.float32(amounts[g]) * table[g, code, 1]
        less += table[g, code, 2]
        a2 += table[half + g, code2, 0]
        b2 += np.float32(amounts[half + g]) * table[half + g, code2, 1]
        less2 += table[half + g, code2, 2]
    for g in range(2 * half, len(codes)):
        a += table[g, codes[g], 0]
        b += np.float32(amounts[g]) * table[g, codes[g], 1]
        less += table[g, codes[g], 2]
    return a + a2, b + b2, less + less2


@njit(cache=True)
def _fourth_root(x):
    return np.sqrt(np.sqrt(x))


@njit(cache=True)
def _least_stress(most_a, most_b, shared, eased):
    """K' that no pair with c up to these is below; ``eased``: what they gain together counts."""
    roots = max(0.0, 1 - min(most_a, most_b))
    felt = min(1.0, _fourth_root(roots**4 + shared**4))
    relief = max(0.0, (most_a + most_b) / 2 - 1) if eased else 0.0
    return felt * (1 - BENEFIT_WEIGHT * min(1.0, relief))


@njit(cache=True, nogil=True)
def _above(most_a, most_b, shared, eased, limit):
    """Whether K' with c up to these is above a limit: as `_least_stress`, without taking roots."""
    roots = max(0.0, 1 - min(most_a, most_b))
    ease = 1 - BENEFIT_WEIGHT * min(1.0, max(0.0, (most_a + most_b) / 2 - 1)) if eased else 1.0
    return min(1.0, (roots * roots) ** 2 + (shared * shared) ** 2) * (ease * ease) ** 2 > (limit * limit) ** 2


@njit(cache=True, nogil=True)
def bounds(
    codes, amounts, scale, below, per_water, soles, fixer, known, shared, table, a_sole, a_fixer, a_known,
    most, first, slack, limit, start, stop, step, out,
):  # fmt: skip
    """For every ``step``-th plant a K' that the real one is never below; ``most`` (2,) bounds both c.

    Where a part of the work puts it above ``limit`` the rest is left out and it is told as infinite. The
    ``first`` groups, of water near the surface, are looked at alone, as if b got all that it asks ``below``
    them: that turns most away.
    """
    for i in range(start, stop, step):
        eased, e = a_known and known[i], np.float64(shared[i])
        most_a, most_b = most[0], most[1]
        out[i] = np.inf
        if _above(most_a, most_b, e, eased, limit):
            continue
        if soles[i, 0] > 0:
            a, b, less = _most(codes[i, 0, :first], amounts[i, :first], table[0, :first])
            seen = min(most_b, (b * scale[i] + below[i] + less) / soles[i, 0] + slack)
            if _above(most_a, seen, e, eased, limit):
                continue
            a2, b2, less2 = _most(codes[i, 0, first:], amounts[i, first:], table[0, first:])
            most_a = min(most_a, (a + a2) / a_sole[0] + slack)
            most_b = min(most_b, ((b + b2) * scale[i] + (less + less2)) / soles[i, 0] + slack)
            if _above(most_a, most_b, e, eased, limit):
                continue
        if soles[i, 1] > 0 and not (a_fixer and fixer[i]):
            a, b, less = _most(codes[i, 1], amounts[i], table[1])
            if not a_fixer:
                most_a = min(most_a, a / a_sole[1] + slack)
            if not fixer[i]:
                most_b = min(most_b, (b * scale[i] * per_water[i] + less) / soles[i, 1] + slack)
        out[i] = _least_stress(most_a, most_b, e, eased)


@njit(cache=True)
def smallest(values, count):
    """Places of the ``count`` smallest values, in no order."""
    held = np.empty(count, dtype=np.int64)
    at = np.empty(count, dtype=values.dtype)
    filled = 0
    worst = np.argmax(at[:1])
    for i in range(len(values)):
        if filled < count:
            held[filled], at[filled] = i, values[i]
            filled += 1
            if filled == count:
                worst = np.argmax(at)
        elif values[i] < at[worst]:
            held[worst], at[worst] = i, values[i]
            worst = np.argmax(at)
    return held[:filled]


@njit(cache=True)
def below(values, limit):
    """Places of the values at or below a limit."""
    count = 0
    for value in values:
        count += value <= limit
    held = np.empty(count, dtype=np.int64)
    count = 0
    for i in range(len(values)):
        if values[i] <= limit:
            held[count] = i
            count += 1
    return held


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
def _week(water, nitrate, share, profile, water_a, nitrate_a, water_given, nitrate_given):
    """What a and b take of both goods in one week, and b alone: of water, then of nitrate.

    ``water``, ``nitrate``: what a full stand of b asks; of a what it asks in each layer. Division is what
    takes time: 1/(x y) serves both goods, as 1/x = y/(x y).
    """
    to_a, to_b, alone, to_a_too, to_b_too, alone_too = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    for z in range(LAYERS):
        full, given, a = water * profile[z], water_given[z], water_a[z]
        full_too, given_too, a_too = nitrate * profile[z], nitrate_given[z], nitrate_a[z]
        b, b_too = share * full, share * full_too
        most, most_too = max(a + b, given, TINY), max(a_too + b_too, given_too, TINY)
        per_both = 1.0 / (most * most_too)
        met, met_too = given * most_too * per_both, given_too * most * per_both
        to_a += a * met
        to_b += b * met
        alone += min(full, given)
        to_a_too += a_too * met_too
        to_b_too += b_too * met_too
        alone_too += min(full_too, given_too)
    return to_a, to_b, alone, to_a_too, to_b_too, alone_too


@njit(cache=True, fastmath=FAST, error_model="numpy")
def _roots(
    activity, shape, annual, asked, alone, supply, log_edges, share, growth, at_edges, profile, taken, sole
):
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
    drawn = -1.0
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
            active * shape[2], active * shape[3], share, profile, asked[0, w], asked[1, w], supply[0, w],
            supply[1, w],
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
            activity[i], shape[i], annual[i], a_asked, a_alone, supply, log_edges, shares[1], growth,
            at_edges, profile, taken, sole,
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
