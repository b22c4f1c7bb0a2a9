"""The score of a pair in single precision, for very many: `compiled.exact` within a hundred-thousandth.

A week's layers are 16 singles, and all weeks of a plant lie one after another, so one loop takes as many
cells at a time as the processor can. What is within `NEAR` of being wanted is reckoned again in doubles.
Sums, joined as the fourth root of fourth powers, pass on no more error than they get.
"""

import numpy as np
from numba import njit

from kb.mixture.compiled import least_got
from kb.mixture.compiled_single import FAST, exp, expm1
from kb.mixture.stress import BENEFIT_WEIGHT

LAYERS = 16
"""Those of the draws, with one more that is empty."""
STRIDE = 16
"""Weeks are taken in so many at a time: two strides of singles in most processors."""
WEEKS_HELD = 52 + STRIDE
"""A year's weeks with empty ones behind."""
NEAR = 1e-4
"""How far a score may be from the one in doubles; a test finds a tenth of it."""
HARDLY = np.float32(1e-18)
HIGHEST = np.float32(60.0)
"""A number whose exponential, as (d/D)^m, is below all roots, and whose square is still a single."""
LEAST_HELD = np.float32(1e-20)
"""With so few of its roots within the soil a plant is left to the doubles."""
LN_2 = np.float32(0.6931471805599453)
ZERO, ONE, QUARTER = np.float32(0.0), np.float32(1.0), np.float32(0.25)


@njit(cache=True, nogil=True)
def _growth(activity, out):
    """`roots.annual_growth` of (weeks,): 0.25 to 1, rising with activity from the start of the season."""
    weeks = len(activity)
    start, most, least = -1, ZERO, activity[0]
    for w in range(weeks):
        if start < 0 and activity[w] > 0 and activity[w - 1] == 0:
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
def _profile(at_edges, deeper, above, profile):
    """Shares by layer of roots from (d/D)^m at the lower edges and f^-m; what of them the soil holds.

    ``above`` (layers + 1,) is room to reckon in; its first is 0.
    """
    for z in range(LAYERS):
        above[z + 1] = -expm1(-LN_2 * at_edges[z] * deeper)
    whole = above[LAYERS]
    per_whole = ONE / max(whole, LEAST_HELD)
    for z in range(LAYERS):
        profile[z] = (above[z + 1] - above[z]) * per_whole
    return whole


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _cells(activity, shape, annual, log_edges, growth, at_edges, above, profile, cells):
    """Fill ``cells`` (weeks x layers) with activity times the share of roots; False where few are in soil."""
    log_d50, power, drawn = np.log(shape[0]), shape[1], ZERO
    for z in range(LAYERS):
        at_edges[z] = exp(min(power * (log_edges[z] - log_d50), HIGHEST))
    growth[:] = ONE
    if annual:
        _growth(activity, growth)
    for w in range(len(activity)):
        if activity[w] <= 0:
            continue
        if growth[w] != drawn:
            drawn = growth[w]
            if _profile(at_edges, exp(-power * np.log(drawn)), above, profile) < LEAST_HELD:
                return False
        for z in range(LAYERS):
            cells[w, z] = activity[w] * profile[z]
    return True


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _taken(cells, water, nitrate, share, water_a, nitrate_a, water_given, nitrate_given):
    """What a and b take of both goods in some weeks, and b alone: of water, then of nitrate.

    ``water``, ``nitrate``: what a full stand of b asks per cell; of a what it asks in each. 1/(x y) serves
    both goods, as 1/x = y/(x y).
    """
    to_a, to_b, alone, to_a_too, to_b_too, alone_too = ZERO, ZERO, ZERO, ZERO, ZERO, ZERO
    own, own_too = share * water, share * nitrate
    for c in range(len(cells)):
        cell, given, a, given_too, a_too = (
            cells[c],
            water_given[c],
            water_a[c],
            nitrate_given[c],
            nitrate_a[c],
        )
        most = max(a + own * cell, given, HARDLY)
        most_too = max(a_too + own_too * cell, given_too, HARDLY)
        per_both = ONE / (most * most_too)
        met, met_too = given * most_too * per_both, given_too * most * per_both
        to_a += a * met
        to_b += cell * met
        alone += min(water * cell, given)
        to_a_too += a_too * met_too
        to_b_too += cell * met_too
        alone_too += min(nitrate * cell, given_too)
    return to_a, own * to_b, alone, to_a_too, own_too * to_b_too, alone_too


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _roots(activity, shape, cells, asked, until, supply, share, taken, sole):
    """Uptake of a and b, ``taken`` (2 goods, 2), and of b in a stand of its own, ``sole`` (2,).

    ``until`` (2, weeks + 1) is what a has taken before each week where b is not there.
    """
    weeks, w = len(activity), 0
    taken[0, 0], taken[1, 0] = until[0, weeks], until[1, weeks]
    taken[0, 1], taken[1, 1], sole[0], sole[1] = 0.0, 0.0, 0.0, 0.0
    while w < weeks:
        if activity[w] <= 0:
            w += 1
            continue
        start = w
        while w < weeks and activity[w] > 0:
            w += 1
        some = slice(start * LAYERS, w * LAYERS)
        found = _taken(
            cells[some], shape[2], shape[3], share, asked[0, some], asked[1, some], supply[0, some],
            supply[1, some],
        )  # fmt: skip
        for good in range(2):
            taken[good, 0] += found[3 * good] - (until[good, w] - until[good, start])
            taken[good, 1] += found[3 * good + 1]
            sole[good] += found[3 * good + 2]


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _part(height, base, top, low):
    """The part of a crown's depth that a layer between two neighbouring edges holds."""
    return (top - low) / (height - base) if height >= top and base <= low else ZERO


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _worth(activity, own, seen, open_light, zero, full):
    """Loss of crop by light (`felt.light_felt`)."""
    worth, season, per_range = ZERO, ZERO, ONE / (full - zero)
    for week in range(len(activity)):
        depth = max(own[week], HARDLY)
        captured = seen[week] * depth / -expm1(-depth)
        left = open_light * min(captured, ONE)
        worth += activity[week] * min(max((left - zero) * per_range, ZERO), ONE)
        season += activity[week]
    return ONE - worth / season if season > 0 else ONE


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _dark(activity_a, leaf_a, a, share_a, activity_b, leaf_b, b, share_b, open_light, work):
    """Loss of crop by light of a and of b on shares of one bed, as `compiled_bed.lit`, in some weeks."""
    weeks = len(activity_a)
    own_a, own_b, light = work[0, :weeks], work[1, :weeks], work[2, :weeks]
    seen_a, seen_b = work[3, :weeks], work[4, :weeks]
    lower_top, higher_base = min(a[4], b[4]), max(a[5], b[5])
    second, third = max(lower_top, higher_base), min(lower_top, higher_base)
    highest, lowest = max(a[4], b[4]), min(a[5], b[5])
    for week in range(weeks):
        own_a[week] = a[6] * leaf_a[week]
        own_b[week] = b[6] * leaf_b[week]
        light[week], seen_a[week], seen_b[week] = ONE, ZERO, ZERO
    for top, low in ((highest, second), (second, third), (third, lowest)):
        part_a, part_b = _part(a[4], a[5], top, low), _part(b[4], b[5], top, low)
        if part_a == 0 and part_b == 0:
            continue
        of_a, of_b = share_a * part_a, share_b * part_b
        for week in range(weeks):
            layer = max(own_a[week] * of_a + own_b[week] * of_b, HARDLY)
            lost = -expm1(-layer)
            passed = light[week] * (lost / layer)
            seen_a[week] += passed * part_a
            seen_b[week] += passed * part_b
            light[week] *= ONE - lost
    return (
        _worth(activity_a, own_a, seen_a, open_light, a[7], a[8]),
        _worth(activity_b, own_b, seen_b, open_light, b[7], b[8]),
    )


@njit(cache=True, nogil=True)
def _season(activity):
    """The first active week, and the one after the last; the first alone where there is none."""
    first, last = 0, len(activity)
    while first + 1 < last and activity[first] <= 0:
        first += 1
    while last > first + 1 and activity[last - 1] <= 0:
        last -= 1
    return first, last


@njit(cache=True, nogil=True)
def _norm(x, y, z):
    """The fourth root of the sum of fourth powers, at most 1."""
    x, y, z = x * x, y * y, z * z
    return min(1.0, np.sqrt(np.sqrt(x * x + y * y + z * z)))


@njit(cache=True, nogil=True, error_model="numpy")
def near(
    chosen, activity, leaf, shape, fixer, known, annual, shared, a_asked, a_until, a_course, a_leaf, a_shape,
    a_sole, a_fixer, a_known, supply, log_edges, open_light, shares, limit,
):  # fmt: skip
    """K' of the chosen plants beside a, within `NEAR`, in singles; -inf where only doubles can tell.

    Arrays as `compiled.exact` has them, but in float32: ``a_asked``, ``supply`` (2, weeks x layers);
    ``a_until`` (2, weeks + 1) in doubles; ``a_course``, ``a_leaf`` (`WEEKS_HELD`,). A plant that is above
    ``limit`` before light is told as infinite: light only adds.
    """
    out, weeks = np.empty(len(chosen)), activity.shape[1]
    taken, sole = np.empty((2, 2)), np.empty(2)
    growth, cells = np.empty(weeks, dtype=np.float32), np.zeros((weeks, LAYERS), dtype=np.float32)
    flat = cells.reshape(-1)
    at_edges, profile = np.empty(LAYERS, dtype=np.float32), np.zeros(LAYERS, dtype=np.float32)
    above = np.zeros(LAYERS + 1, dtype=np.float32)
    course, leaves = np.zeros(WEEKS_HELD, dtype=np.float32), np.zeros(WEEKS_HELD, dtype=np.float32)
    work = np.empty((5, WEEKS_HELD), dtype=np.float32)
    first_a, last_a = _season(a_course)
    relative = np.empty(2)
    share_a, share_b, light_here = np.float32(shares[0]), np.float32(shares[1]), np.float32(open_light)
    for at in range(len(chosen)):
        i = chosen[at]
        if not _cells(activity[i], shape[i], annual[i], log_edges, growth, at_edges, above, profile, cells):
            out[at] = -np.inf
            continue
        _roots(activity[i], shape[i], flat, a_asked, a_until, supply, share_b, taken, sole)
        relative[0] = least_got(taken[:, 0], a_sole, shares[0], a_fixer)
        relative[1] = least_got(taken[:, 1], sole, shares[1], fixer[i])
        relief = max(0.0, (relative[0] + relative[1]) / 2 - 1) if a_known and known[i] else 0.0
        eased = 1 - BENEFIT_WEIGHT * min(1.0, relief)
        of_a, of_b, enemies = max(0.0, 1 - relative[0]), max(0.0, 1 - relative[1]), np.float64(shared[i])
        if _norm(max(of_a, of_b), enemies, 0.0) * eased > limit:
            out[at] = np.inf
            continue
        first, last = _season(activity[i])
        first, last = min(first, first_a), max(last, last_a)
        course[first:weeks], leaves[first:weeks] = activity[i, first:], leaf[i, first:]
        some = slice(first, first + -(-(last - first) // STRIDE) * STRIDE)
        dark_a, dark_b = _dark(
            a_course[some], a_leaf[some], a_shape, share_a, course[some], leaves[some], shape[i], share_b,
            light_here, work,
        )  # fmt: skip
        felt = max(_norm(of_a, np.float64(dark_a), enemies), _norm(of_b, np.float64(dark_b), enemies))
        out[at] = felt * eased
    return out
