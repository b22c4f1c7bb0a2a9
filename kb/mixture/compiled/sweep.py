"""The loops of `sweep`: tables of one plant, bounds of many, and those of the lowest bounds reckoned first.

Arrays are C-contiguous; goods are water (0) and nitrate (1); plants of a pair are a (0) and b (1). ``told``
is what `Query` tells of an index and of a (`Query._told_of_bounds`, `Query._told_of_near`).
"""

import numpy as np
from numba import njit

from kb.mixture.compiled.near import near
from kb.mixture.compiled.roots import per_unit
from kb.mixture.compiled.single import FAST
from kb.mixture.stress import BENEFIT_WEIGHT

COLUMNS = 4
"""Of a table: what a takes, what b misses, what b takes less, and nothing."""
SHIFT, MISSED, LESS = np.uint64(2), np.uint64(1), np.uint64(2)
FIRST = 8
"""Groups of cells that are looked at before any other: those in which a asks most."""
TRIED = 4096
"""So many plants, evenly from the list, tell which kinds of relation can be best."""
STEPS = 256
"""Bounds are sorted into so many steps."""
HIGHEST = 1e30
"""Any fourth power of a stress is below."""
TINY = np.float32(1e-30)
ZERO, ONE = np.float32(0.0), np.float32(1.0)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _group(good, weeks, layers, asked, supply, thickness, levels, most_a, most_b, taken, least):
    """Fill the last four, (m,), for one group of cells: `tables`."""
    most_a[:], most_b[:], taken[:], least[:] = ZERO, ZERO, ZERO, ZERO
    for w in range(weeks[0], weeks[1]):
        for z in range(layers[0], layers[1]):
            a, given, thick = np.float32(asked[good, w, z]), np.float32(supply[good, w, z]), thickness[z]
            enough = max(given, TINY)
            for level in range(len(levels)):
                b = levels[level] * thick
                met = given / max(a + b, enough)
                most_a[level] += a * met
                most_b[level] = max(most_b[level], met)
                taken[level] += b * met
                least[level] += b


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _rooted_group(
    weeks, layers, asked, supply, thickness, levels, hunger, per_a, most_a, most_b, taken, least
):  # fmt: skip
    """The same of nitrate, where b has roots of density ``levels`` of which a unit asks ``hunger``."""
    most_a[:], most_b[:], taken[:], least[:] = ZERO, ZERO, ZERO, ZERO
    for w in range(weeks[0], weeks[1]):
        for z in range(layers[0], layers[1]):
            a, given, thick = np.float32(asked[1, w, z]), np.float32(supply[1, w, z]), thickness[z]
            mine, rest = per_a * a, given - a
            for level in range(len(levels)):
                roots = levels[level] * thick
                b, both = hunger * roots, max(mine + roots, TINY)
                met = min(ONE, max(given / (hunger * both), rest / max(b, TINY)))
                most_a[level] += min(a, max(given * mine / both, given - b))
                most_b[level] = max(most_b[level], met)
                taken[level] += b * met
                least[level] += b


@njit(cache=True, nogil=True, error_model="numpy")
def tables(asked, supply, thickness, layer_groups, week_groups, levels, share, hunger_a, hungers):
    """What a density of roots of b in a group of cells leaves, at best, for a and for b itself.

    ``asked``, ``supply`` (2, weeks, layers) of a on its share of the ground; ``levels`` (2, m) of b's
    density on its ``share``, per m of depth: what it asks of water, and its roots, a unit of which asks one
    of ``hungers`` (h,) of nitrate, one of a's ``hunger_a``. Gives (2, groups, h x m, 4) float32, of water the
    first m alone: the most that a takes there,
    the least share of its demand that b misses in every cell, what b's least demand takes less than the
    rest would give it (below 0, per share), and nothing; all of it 0 where a asks nothing. Also the groups in
    which a asks anything, those of most first, (2, groups), and how many there are (2,).
    """
    layers, weeks, count = len(layer_groups) - 1, len(week_groups) - 1, levels.shape[1]
    found = np.zeros((2, layers * weeks, len(hungers) * count, COLUMNS), dtype=np.float32)
    per_a, asks = np.float32(per_unit(hunger_a)), hungers.astype(np.float32)
    order, held = np.zeros((2, layers * weeks), dtype=np.uint64), np.zeros(2, dtype=np.int64)
    level_of, thick, by = levels.astype(np.float32), thickness.astype(np.float32), np.float32(1 / share)
    most_a, most_b = np.empty(count, dtype=np.float32), np.empty(count, dtype=np.float32)
    taken, least = np.empty(count, dtype=np.float32), np.empty(count, dtype=np.float32)
    for good in range(2):
        for place in range(layers * weeks):
            zone, season = place // weeks, place % weeks
            from_, to = week_groups[season], week_groups[season + 1]
            top, bottom = layer_groups[zone], layer_groups[zone + 1]
            if asked[good, from_:to, top:bottom].max() <= 0:
                continue
            group = found[good, place]
            for step in range(len(asks) if good else 1):
                if good:
                    _rooted_group(
                        (from_, to), (top, bottom), asked, supply, thick, level_of[1], asks[step], per_a,
                        most_a, most_b, taken, least,
                    )  # fmt: skip
                else:
                    _group(
                        good, (from_, to), (top, bottom), asked, supply, thick, level_of[0], most_a, most_b,
                        taken, least,
                    )  # fmt: skip
                for level in range(count):
                    at_level = step * count + level
                    group[at_level, 0] = most_a[level]
                    group[at_level, 1] = ONE - most_b[level]
                    group[at_level, 2] = min(taken[level] - least[level] * most_b[level], ZERO) * by
            at = held[good]
            while at > 0 and found[good, np.int64(order[good, at - 1]), 0, 0] < group[0, 0]:
                order[good, at] = order[good, at - 1]
                at -= 1
            order[good, at] = place
            held[good] += 1
    return found, order, held


@njit(cache=True, nogil=True, error_model="numpy")
def most_of(table, order, held, share, sole, fixer, slack):
    """What a takes with nobody beside it in all groups but the `FIRST` (2,), and the most that c can be (2,).

    Of ``order`` ``held`` (2,) groups count. The most is of a and of any plant: what a takes with nobody
    beside it over what its share of a stand takes, ``sole`` (2,), and 1 over b's ``share``, with ``slack``.
    """
    left, most = np.zeros(2), np.full(2, 1 / share + slack)
    for good in range(2):
        whole = 0.0
        for at in range(held[good]):
            taken = table[good, np.int64(order[good, at]), 0, 0]
            whole += taken
            if at >= FIRST:
                left[good] += taken
        got = whole / sole[good] if sole[good] > 0 else 1.0
        if good == 0:
            most[0] = got + slack
        elif not fixer:
            most[0] = min(most[0], got + slack)
    return left, most


@njit(cache=True, nogil=True)
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


@njit(cache=True, nogil=True, inline="always")
def _fourth(x):
    return (x * x) * (x * x)


@njit(cache=True, nogil=True, inline="always")
def _eased(most_a, most_b, eased):
    """What is left of a stress where both gain together, if that counts."""
    return 1 - BENEFIT_WEIGHT * min(1.0, max(0.0, (most_a + most_b) / 2 - 1)) if eased else 1.0


@njit(cache=True, nogil=True, inline="always")
def _least_fourth(most_a, most_b, enemies, eased):
    """The fourth power of a K' that no pair with c up to these is below; ``enemies`` in fourth powers."""
    roots = max(0.0, 1 - min(most_a, most_b))
    return min(1.0, _fourth(roots) + enemies) * _fourth(_eased(most_a, most_b, eased))


@njit(cache=True, nogil=True, fastmath={"contract", "nsz"}, error_model="numpy")
def bounds(
    chosen, limit, low, codes, amounts, scale, whole, per_water, soles, fixer, known, shared, kin, table,
    order, held, left, most, a_sole, a_fixer, a_known, own, like, slack, steps, count,
):  # fmt: skip
    """Fill ``low``: of each chosen plant a K' that the real one is never below, in fourth powers.

    Where a part of it is above ``limit``, a fourth power too, it is told as `HIGHEST`. A group that is not
    looked at counts as if neither missed anything there: a takes what it takes with nobody beside it,
    ``left``, b all that it asks. Of the levels of a table there are ``count`` for each of the ``steps`` (n,).
    """
    groups = np.uint64(amounts.shape[1])
    code_of, amount_of, levels_of = codes.reshape(-1), amounts.reshape(-1), table.reshape(-1)
    order_of = order.reshape(-1)
    per_group = np.uint64(table.shape[2] * COLUMNS)
    for k in range(len(chosen)):
        i = np.uint64(chosen[k])
        if kin[i, 0] == own:
            low[k] = _fourth(like)
            continue
        eased, enemies = a_known and known[i], _fourth(np.float64(shared[i]))
        most_a, most_b = most[0], most[1]
        least = _least_fourth(most_a, most_b, enemies, eased)
        for good in range(2):
            sole = np.float64(soles[i, good])
            if sole <= 0 or (good == 1 and a_fixer and fixer[i]) or least > limit:
                continue
            unit, asks = np.float64(scale[i]), np.float64(whole[i])
            if good == 1:
                unit, asks = unit * per_water[i], asks * per_water[i]
            tells_a = a_sole[good] > 0 and not (good == 1 and a_fixer)
            tells_b = not (good == 1 and fixer[i])
            taken, missed, less, by_a, by_b = ZERO, ZERO, ZERO, most_a, most_b
            start, stop, rest = 0, min(FIRST, held[good]), left[good]
            of_codes, of_amounts = (i + i + np.uint64(good)) * groups, i * groups
            of_order, from_level = np.uint64(good) * groups, np.uint64(steps[i] * count if good == 1 else 0)
            while start < stop:
                for at in range(start, stop):
                    g = order_of[of_order + np.uint64(at)]
                    level = from_level + np.uint64(code_of[of_codes + g])
                    cell = (of_order + g) * per_group + (level << SHIFT)
                    taken += levels_of[cell]
                    missed += np.float32(amount_of[of_amounts + g]) * levels_of[cell + MISSED]
                    less += levels_of[cell + LESS]
                if tells_a:
                    by_a = min(most_a, (taken + rest) / a_sole[good] + slack)
                if tells_b:
                    by_b = min(most_b, (asks - missed * unit + less) / sole + slack)
                least = _least_fourth(by_a, by_b, enemies, eased)
                start, stop, rest = stop, held[good] if least <= limit else 0, 0.0
            most_a, most_b = by_a, by_b
        low[k] = least if least <= limit else HIGHEST


@njit(cache=True, nogil=True)
def kinds(start, stop, step, known, shared, most, a_known):
    """The fourth power of the least K' that its relation to a leaves each plant, of every ``step``-th."""
    eased = np.float32(_fourth(_eased(most[0], most[1], a_known)))
    roots = np.float32(_fourth(max(0.0, 1 - min(most[0], most[1]))))
    found = np.empty((stop - start + step - 1) // step, dtype=np.float32)
    for at in range(len(found)):
        i = np.uint64(start + at * step)
        found[at] = min(ONE, roots + _fourth(shared[i])) * (eased if known[i] else ONE)
    return found


@njit(cache=True, nogil=True)
def promising(sample, look, told):
    """Places of the lowest ``look`` bounds among about ``sample`` plants, taken evenly from the list.

    Where enough plants are of the relation to a that can be best, kin and gain, they are taken from those.
    """
    count = len(told[7])
    step = max(1, count // TRIED)
    kind = kinds(0, count, step, told[7], told[8], told[14], told[17])
    least, among = kind.min(), 0
    for value in kind:
        among += value <= least
    if among < look:
        least, among = HIGHEST, len(kind)
    each, passed = max(1, among // max(sample, look)), 0
    some = np.empty(len(kind) + 1, dtype=np.int64)
    for at in range(len(kind)):  # without a branch: which plants are of a kind cannot be foreseen
        some[passed] = at * step
        passed += kind[at] <= least
    some = some[:passed:each].copy()
    low = np.empty(len(some))
    bounds(some, HIGHEST, low, *told)
    return np.sort(some[smallest(low, look)])


@njit(cache=True, nogil=True)
def smallest(values, count):
    """Places of the ``count`` smallest values, in no order."""
    held, at = np.empty(count, dtype=np.int64), np.empty(count, dtype=values.dtype)
    filled, worst = 0, 0
    for i in range(len(values)):
        if filled < count:
            held[filled], at[filled] = i, values[i]
            filled += 1
            if filled == count:
                worst = int(np.argmax(at))
        elif values[i] < at[worst]:
            held[worst], at[worst] = i, values[i]
            worst = int(np.argmax(at))
    return held[:filled]


@njit(cache=True, nogil=True)
def under(start, stop, limit, but, places, low, told):
    """Fill ``places`` and ``low`` from ``start`` on: plants to ``stop`` whose bounds are at most ``limit``.

    Bounds and limit in fourth powers; those at places ``but``, which rise, are left out. Gives their number.
    """
    found = start
    kind = kinds(start, stop, 1, told[7], told[8], told[14], told[17])
    for at in range(len(kind)):
        places[found] = start + at
        found += kind[at] <= limit
    count = found - start
    bounds(places[start:found], limit, low[start:found], *told)
    passed, found = np.searchsorted(but, start), start
    for at in range(start, start + count):
        while passed < len(but) and but[passed] < places[at]:
            passed += 1
        if low[at] <= limit and not (passed < len(but) and but[passed] == places[at]):
            places[found], low[found] = places[at], low[at]
            found += 1
    return found - start


@njit(cache=True, nogil=True)
def _kept(values, best):
    """Put values among the ``best``, which rise; what only doubles can tell is not there."""
    for value in values:
        if value == -np.inf or value >= best[-1]:
            continue
        at = len(best) - 1
        while at > 0 and best[at - 1] > value:
            best[at] = best[at - 1]
            at -= 1
        best[at] = value


@njit(cache=True, nogil=True)
def _by_steps(low, limit):
    """Places in ``low`` by rising steps of its roots; one step where there is no limit."""
    step = np.zeros(len(low), dtype=np.int64)
    if len(low) and limit < HIGHEST:
        least = np.sqrt(low.min())
        per = STEPS / max(np.sqrt(limit) - least, 1e-300)
        for k in range(len(low)):
            step[k] = int(min(STEPS - 1.0, (np.sqrt(low[k]) - least) * per))
    ends = np.zeros(STEPS + 1, dtype=np.int64)
    for k in range(len(low)):
        ends[step[k] + 1] += 1
    ends = np.cumsum(ends)
    order = np.empty(len(low), dtype=np.int64)
    for k in range(len(low)):
        order[ends[step[k]]] = k
        ends[step[k]] += 1
    return order


@njit(cache=True, nogil=True)
def first_limit(places, best, told):
    """K' of some plants in singles, put among the ``best``."""
    found, _ = near(places, HIGHEST, *told)
    _kept(found, best)
    return found


@njit(cache=True, nogil=True)
def lowest_first(places, low, looked, found, best, within, slack, at_once, told):
    """Places that the best can be at, reckoned in singles from the lowest bounds on; and how many were.

    ``places`` with ``low``, their bounds in fourth powers; ``looked`` those with ``found`` already. Only what
    is within twice ``within`` of the last of the ``best`` is given.
    """
    order = _by_steps(low, _fourth(best[-1] + within + slack))
    kept, values = np.empty(len(places) + len(looked), dtype=np.int64), np.empty(len(places) + len(looked))
    kept[: len(looked)], values[: len(looked)] = looked, found
    filled, start = len(looked), 0
    some = np.empty(at_once, dtype=np.int64)
    while start < len(order):
        limit, here = _fourth(best[-1] + within + slack), 0
        while start < len(order) and here < at_once:
            k = order[start]
            if low[k] <= limit:
                some[here] = places[k]
                here += 1
            start += 1
        reckoned, _ = near(some[:here], best[-1] + 2 * within, *told)
        _kept(reckoned, best)
        kept[filled : filled + here], values[filled : filled + here] = some[:here], reckoned
        filled += here
    return kept[:filled][values[:filled] <= best[-1] + 2 * within], filled


@njit(cache=True, nogil=True)
def sweep(count, sample, look, within, slack, at_once, bounds_told, near_told):
    """`promising`, `first_limit`, `under` and `lowest_first` of a list that one processor takes alone."""
    best = np.full(count, np.inf)
    looked = promising(sample, look, bounds_told)
    found = first_limit(looked, best, near_told)
    size = len(bounds_told[7])
    places, low = np.empty(size, dtype=np.int64), np.empty(size)
    limit = _fourth(best[-1] + within + slack)
    some = under(0, size, limit, looked, places, low, bounds_told)
    return lowest_first(places[:some], low[:some], looked, found, best, within, slack, at_once, near_told)
