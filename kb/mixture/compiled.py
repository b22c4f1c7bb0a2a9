"""Compiled inner loops: each has a plain numpy twin that the tests hold it against.

Imported only where many plants or places are asked for at once: the first call in a new environment
compiles for some seconds (kept in ``__pycache__`` afterwards), which no single question may pay.
Arrays are C-contiguous; goods are water (0) and nitrate (1); plants of a pair are a (0) and b (1).
"""

import numpy as np
from numba import njit

from kb.mixture.stress import BENEFIT_WEIGHT

TINY = 1e-300
SMALLEST = 2.2250738585072014e-308


@njit(cache=True)
def tables(asked, supply, thickness, layer_groups, week_groups, levels):
    """What a density of roots of b in a group of cells leaves, at best, for a and for b itself.

    ``asked``, ``supply`` (2, layers, weeks) of a on its share of the ground; ``levels`` (2, m) of b's
    density, per m of depth. Gives (2, groups, m, 4) float32: the most that a takes there, the largest
    share that b is given of its demand in any cell, what b's least demand takes less than that share
    would give it (below 0), and nothing.
    """
    layers, weeks, count = len(layer_groups) - 1, len(week_groups) - 1, levels.shape[1]
    found = np.zeros((2, layers * weeks, count, 4), dtype=np.float32)
    for good in range(2):
        for zone in range(layers):
            for season in range(weeks):
                for level in range(count):
                    most_a, most_b, taken, least = 0.0, 0.0, 0.0, 0.0
                    for z in range(layer_groups[zone], layer_groups[zone + 1]):
                        b = levels[good, level] * thickness[z]
                        for w in range(week_groups[season], week_groups[season + 1]):
                            a = asked[good, z, w]
                            met = min(1.0, supply[good, z, w] / max(a + b, TINY))
                            most_a += a * met
                            most_b = max(most_b, met)
                            taken += b * met
                            least += b
                    found[good, zone * weeks + season, level, 0] = most_a
                    found[good, zone * weeks + season, level, 1] = most_b
                    found[good, zone * weeks + season, level, 2] = taken - least * most_b
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
def _least_stress(most_a, most_b, shared, eased):
    """K' that no pair with c up to these is below; ``eased``: what they gain together counts."""
    roots = max(0.0, 1 - min(most_a, most_b))
    felt = min(1.0, np.sqrt(np.sqrt(roots**4 + shared**4)))
    relief = max(0.0, (most_a + most_b) / 2 - 1) if eased else 0.0
    return felt * (1 - BENEFIT_WEIGHT * min(1.0, relief))


@njit(cache=True, nogil=True)
def bounds(
    codes, amounts, scale, per_water, soles, fixer, known, shared, table, a_sole, a_fixer, a_known, most,
    slack, limit, step, out,
):  # fmt: skip
    """For every ``step``-th plant a K' that the real one is never below; ``most`` (2,) bounds both c.

    Where a part of the work puts it above ``limit`` the rest is left out: it is above all the same.
    """
    for i in range(0, len(out), step):
        eased = a_known and known[i]
        most_a, most_b = most[0], most[1]
        found = _least_stress(most_a, most_b, shared[i], eased)
        if found <= limit and soles[i, 1] > 0 and not (a_fixer and fixer[i]):
            a, b, less = _most(codes[i, 1], amounts[i], table[1])
            if not a_fixer:
                most_a = min(most_a, a / a_sole[1] + slack)
            if not fixer[i]:
                most_b = min(most_b, (b * scale[i] * per_water[i] + less) / soles[i, 1] + slack)
            found = _least_stress(most_a, most_b, shared[i], eased)
        if found <= limit and soles[i, 0] > 0:
            a, b, less = _most(codes[i, 0], amounts[i], table[0])
            most_a = min(most_a, a / a_sole[0] + slack)
            most_b = min(most_b, (b * scale[i] + less) / soles[i, 0] + slack)
            found = _least_stress(most_a, most_b, shared[i], eased)
        out[i] = found


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
    high = 0.0
    for step in range(weeks):
        w = (start + step) % weeks
        high = max(high, activity[w])
        out[w] = 0.25 + 0.75 * high / most


@njit(cache=True, fastmath={"reassoc", "contract", "nsz", "nnan"})
def _closed(edges, soil, reached, out):
    """Shares by layer from shares above each lower edge, closed to 1 (`roots.growing_profile`)."""
    last = len(reached)
    if soil >= edges[last]:
        reached[last - 1] = 1.0
    whole = reached[last - 1]
    before = 0.0
    for z in range(last):
        out[z] = (reached[z] - before) / whole if whole > SMALLEST else (1.0 if z == 0 else 0.0)
        before = reached[z]


@njit(cache=True, fastmath={"reassoc", "contract", "nsz", "nnan"})
def _roots(activity, shape, annual, asked, alone, supply, edges, soil, share, taken, sole):
    """Uptake of a and b, ``taken`` (2 goods, 2), and of b in a stand of its own, ``sole`` (2,)."""
    weeks, layers = len(activity), len(edges) - 1
    growth, powers, reached, profile = np.ones(weeks), np.empty(layers), np.empty(layers), np.empty(layers)
    if annual:
        _growth(activity, growth)
    d50, power = np.float64(shape[0]), np.float64(shape[1])
    for z in range(layers):
        powers[z] = -np.log(2.0) * (min(edges[z + 1], soil) / d50) ** power
    taken[:] = 0.0
    sole[:] = 0.0
    drawn = -1.0
    for w in range(weeks):
        active = np.float64(activity[w])
        if active <= 0:
            taken[0, 0] += alone[0, w]
            taken[1, 0] += alone[1, w]
            continue
        if growth[w] != drawn:
            drawn = growth[w]
            deeper = drawn**-power
            for z in range(layers):
                reached[z] = 1 - np.exp(powers[z] * deeper)
            _closed(edges, soil, reached, profile)
        for good in range(2):
            asks = active * shape[2 + good]
            a_takes, b_takes, stand = 0.0, 0.0, 0.0
            for z in range(layers):
                full = asks * profile[z]
                given, a, b = supply[good, w, z], asked[good, w, z], share * full
                met = min(1.0, given / max(a + b, TINY))
                a_takes += a * met
                b_takes += b * met
                stand += min(full, given)
            taken[good, 0] += a_takes
            taken[good, 1] += b_takes
            sole[good] += stand


@njit(cache=True)
def _mean_left(depth):
    return -np.expm1(-depth) / depth if depth > 0 else 1.0


@njit(cache=True)
def _dark(courses, leaves, shapes, shares, open_light, dark):
    """Losses of crop by light, ``dark`` (2,): `share.captured_light` of two plants, week by week."""
    edges = np.empty(4)
    for i in range(2):
        edges[2 * i], edges[2 * i + 1] = shapes[i, 4], shapes[i, 5]
    edges.sort()
    parts = np.zeros((3, 2))
    for step in range(3):
        top, low = edges[3 - step], edges[2 - step]
        for i in range(2):
            if shapes[i, 4] >= top and shapes[i, 5] <= low:
                parts[step, i] = (top - low) / (shapes[i, 4] - shapes[i, 5])
    worth, season = np.zeros(2), np.zeros(2)
    for w in range(courses.shape[1]):
        if courses[0, w] <= 0 and courses[1, w] <= 0:
            continue
        one, other = shapes[0, 6] * leaves[0, w], shapes[1, 6] * leaves[1, w]
        light, seen_one, seen_other = 1.0, 0.0, 0.0
        for step in range(3):
            layer = shares[0] * one * parts[step, 0] + shares[1] * other * parts[step, 1]
            passed = light * _mean_left(layer)
            seen_one += passed * parts[step, 0]
            seen_other += passed * parts[step, 1]
            light *= np.exp(-layer)
        for i in range(2):
            seen = seen_one if i == 0 else seen_other
            left = open_light * min(1.0, seen / _mean_left(one if i == 0 else other))
            enough = (left - shapes[i, 7]) / (shapes[i, 8] - shapes[i, 7])
            worth[i] += courses[i, w] * min(1.0, max(0.0, enough))
            season[i] += courses[i, w]
    for i in range(2):
        dark[i] = 1 - worth[i] / season[i] if season[i] > 0 else 1.0


@njit(cache=True, nogil=True)
def exact(
    chosen, activity, leaf, shape, fixer, known, annual, shared, a_asked, a_alone, a_course, a_leaf, a_shape,
    a_sole, a_fixer, a_known, supply, edges, soil, open_light, shares, limit,
):  # fmt: skip
    """K' of the chosen plants beside a: the formula of `index.stress`, plant by plant.

    Columns of ``shape`` as `index.SHAPE_COLUMNS`; ``a_asked``, ``supply`` (2, weeks, layers). A plant
    that is above ``limit`` before light is told as infinite: light only adds.
    """
    weeks = activity.shape[1]
    out = np.empty(len(chosen))
    taken, sole, dark, relative = np.empty((2, 2)), np.empty(2), np.empty(2), np.empty(2)
    courses, leaves, shapes = np.empty((2, weeks)), np.empty((2, weeks)), np.empty((2, a_shape.size))
    courses[0], leaves[0], shapes[0] = a_course, a_leaf, a_shape
    for at in range(len(chosen)):
        i = chosen[at]
        _roots(
            activity[i], shape[i], annual[i], a_asked, a_alone, supply, edges, soil, shares[1], taken, sole
        )
        for plant in range(2):
            own = shares[plant] * (a_sole[0] if plant == 0 else sole[0])
            water = taken[0, plant] / own if own > 0 else 1.0
            own = shares[plant] * (a_sole[1] if plant == 0 else sole[1])
            nitrate = taken[1, plant] / own if own > 0 else 1.0
            if a_fixer if plant == 0 else fixer[i]:
                nitrate = max(water, 1.0)
            relative[plant] = min(water, nitrate)
        relief = max(0.0, (relative[0] + relative[1]) / 2 - 1) if a_known and known[i] else 0.0
        eased = 1 - BENEFIT_WEIGHT * min(1.0, relief)
        enemies = np.float64(shared[i]) ** 4
        least = (max(0.0, 1 - min(relative[0], relative[1])) ** 4 + enemies) ** 0.25
        if min(1.0, least) * eased > limit:
            out[at] = np.inf
            continue
        courses[1], leaves[1], shapes[1] = activity[i], leaf[i], shape[i]
        _dark(courses, leaves, shapes, shares, open_light, dark)
        most = 0.0
        for plant in range(2):
            felt = (max(0.0, 1 - relative[plant]) ** 4 + dark[plant] ** 4 + enemies) ** 0.25
            most = max(most, min(1.0, felt))
        out[at] = most * eased
    return out
