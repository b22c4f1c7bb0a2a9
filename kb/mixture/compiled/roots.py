"""Compiled sums of what roots take: the loops of ``root_draw`` over rows, layers and weeks.

Imported only by a service that stays up: the first call in a new environment compiles for some seconds
(kept in ``__pycache__`` afterwards). Doubles throughout; sums in another order than the plain twin's.
"""

import numpy as np
from numba import njit

TINY = 1e-300
FAST = {"reassoc", "contract", "nsz", "nnan"}


def rehearse():
    """Compile, or load what is kept, for the kinds of arrays that ``root_draw`` gives."""
    course, roots, supply, rows = np.ones((1, 2)), np.ones((1, 1, 1)), np.ones((1, 2)), np.arange(1)
    one(course, roots, rows, 1.0, supply)
    each = np.ones(1)
    two(course, roots, rows, 0.5, course, roots, rows, 0.5, supply)
    two_by_roots(course, roots, rows, 0.5, each, course, roots, rows, 0.5, each, supply)
    plant = (course, course, roots, each, each, each, each > 0, each)
    by_sun, kept = np.ones(2), rows.copy()
    for array in (by_sun, kept):
        array.setflags(write=False)  # as `climate` and `felt` keep them
    for some in (rows, kept):
        felt(plant, some, 0.5, plant, some, 0.5, supply, supply)
    felt_beneath(plant, kept, 0.5, 1.0, plant, kept, 0.5, supply, rows, by_sun, supply, supply)
    alike(course[0], roots[0], 0.5, course[0], roots[0], 0.5, supply[0])


@njit(cache=True, nogil=True)
def season(one, other):
    """The first week in which either is above 0, and the one after the last; the first alone for none."""
    first, last = 0, len(one)
    while first + 1 < last and one[first] <= 0 and other[first] <= 0:
        first += 1
    while last > first + 1 and one[last - 1] <= 0 and other[last - 1] <= 0:
        last -= 1
    return first, last


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _both_take(asks_a, roots_a, share_a, asks_b, roots_b, share_b, supply, first, evenly):
    """What each of two gets of a supply (layers, weeks); roots (layers, weeks or 1).

    Courses, and ``evenly``, all 1, are those from week ``first`` on.
    """
    a_grows, b_grows = roots_a.shape[1] > 1, roots_b.shape[1] > 1
    here = slice(first, first + len(asks_a))
    to_a, to_b = 0.0, 0.0
    for z in range(len(supply)):
        given = supply[z, here]
        part_a, weekly_a = (share_a, roots_a[z, here]) if a_grows else (share_a * roots_a[z, 0], evenly)
        part_b, weekly_b = (share_b, roots_b[z, here]) if b_grows else (share_b * roots_b[z, 0], evenly)
        for week in range(len(given)):  # min(1, given / asked) with no choice in it, so done in strides
            of_a = part_a * asks_a[week] * weekly_a[week]
            of_b = part_b * asks_b[week] * weekly_b[week]
            met = given[week] / max(of_a + of_b, given[week], TINY)
            to_a += of_a * met
            to_b += of_b * met
    return to_a, to_b


@njit(cache=True, nogil=True, inline="always")
def per_unit(hunger):
    """Roots to a demand of 1 where a unit of them asks ``hunger``; 0 where none asks."""
    return 1.0 / hunger if hunger > 0 else 0.0


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _both_take_by_roots(
    asks_a, roots_a, share_a, per_a, asks_b, roots_b, share_b, per_b, supply, first, evenly
):  # fmt: skip
    """`_both_take` where each length of root takes alike up to what its plant asks (`share`).

    ``per_a`` and ``per_b`` are the roots to a demand of 1.
    """
    a_grows, b_grows = roots_a.shape[1] > 1, roots_b.shape[1] > 1
    here = slice(first, first + len(asks_a))
    to_a, to_both = 0.0, 0.0
    for z in range(len(supply)):
        given = supply[z, here]
        part_a, weekly_a = (share_a, roots_a[z, here]) if a_grows else (share_a * roots_a[z, 0], evenly)
        part_b, weekly_b = (share_b, roots_b[z, here]) if b_grows else (share_b * roots_b[z, 0], evenly)
        for week in range(len(given)):  # a gets its roots' part, or what b leaves; b the rest
            of_a = part_a * asks_a[week] * weekly_a[week]
            of_b = part_b * asks_b[week] * weekly_b[week]
            mine = per_a * of_a
            part = given[week] * mine / max(mine + per_b * of_b, TINY)
            to_a += min(of_a, max(part, given[week] - of_b))
            to_both += min(of_a + of_b, given[week])
    return to_a, max(to_both - to_a, 0.0)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _shared_by_roots(
    course_a, roots_a, share_a, hunger_a, course_b, roots_b, share_b, hunger_b, supply, evenly
):  # fmt: skip
    """`_shared` of what goes by the roots."""
    first, last = season(course_a, course_b)
    here = slice(first, last)
    return _both_take_by_roots(
        course_a[here], roots_a, share_a, per_unit(hunger_a), course_b[here], roots_b, share_b,
        per_unit(hunger_b), supply, first, evenly[here],
    )  # fmt: skip


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _shared(course_a, roots_a, share_a, course_b, roots_b, share_b, supply, evenly):
    """What each of two gets of one good, in the weeks in which either asks for it."""
    first, last = season(course_a, course_b)
    here = slice(first, last)
    return _both_take(
        course_a[here], roots_a, share_a, course_b[here], roots_b, share_b, supply, first, evenly[here]
    )


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def two(course_a, roots_a, rows_a, share_a, course_b, roots_b, rows_b, share_b, supply):
    """What each of two gets (rows, 2) of a supply (layers, weeks)."""
    found, evenly = np.zeros((len(rows_a), 2)), np.ones(supply.shape[1])
    for i in range(len(rows_a)):
        a, b = rows_a[i], rows_b[i]
        found[i, 0], found[i, 1] = _shared(
            course_a[a], roots_a[a], share_a, course_b[b], roots_b[b], share_b, supply, evenly
        )
    return found


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def two_by_roots(
    course_a, roots_a, rows_a, share_a, hunger_a, course_b, roots_b, rows_b, share_b, hunger_b, supply
):  # fmt: skip
    """The same of what goes by the roots; ``hunger_a`` and ``hunger_b`` are those of the rows."""
    found, evenly = np.zeros((len(rows_a), 2)), np.ones(supply.shape[1])
    for i in range(len(rows_a)):
        a, b = rows_a[i], rows_b[i]
        found[i, 0], found[i, 1] = _shared_by_roots(
            course_a[a], roots_a[a], share_a, hunger_a[i], course_b[b], roots_b[b], share_b, hunger_b[i],
            supply, evenly,
        )  # fmt: skip
    return found


@njit(cache=True, nogil=True, fastmath=FAST, inline="always")
def take_alone(course, roots, share, supply, evenly):
    """What one gets of a supply (layers, weeks) by itself: course (weeks,), roots (layers, weeks or 1)."""
    first, last = season(course, course)
    here = slice(first, last)
    asks, even, got, grows = course[here], evenly[here], 0.0, roots.shape[1] > 1
    for z in range(len(supply)):
        given = supply[z, here]
        part, weekly = (share, roots[z, here]) if grows else (share * roots[z, 0], even)
        for week in range(len(given)):
            got += min(part * asks[week] * weekly[week], given[week])
    return got


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _relative(taken, own):
    """Uptake over that of a stand of its own; 1 where that is nothing."""
    return taken / own if own > 0 else 1.0


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def felt(plant_a, rows_a, share_a, plant_b, rows_b, share_b, water, nitrate):
    """What two on open ground feel of each other by roots (`felt.roots_felt`).

    A plant: what it asks of water and of nitrate (rows, weeks), its roots (rows, layers, weeks or 1), what a
    stand of it gets of both, the nitrogen it takes up, whether it fixes its own, and the nitrate that a unit
    of its roots asks (rows,). Losses of water,
    of nitrate and by roots (rows, 2), relief (rows,) and unmet nitrogen (rows, 2).
    """
    water_a, nitrate_a, roots_a, sole_water_a, sole_nitrate_a, nitrogen_a, fixer_a, hunger_a = plant_a
    water_b, nitrate_b, roots_b, sole_water_b, sole_nitrate_b, nitrogen_b, fixer_b, hunger_b = plant_b
    count, evenly = len(rows_a), np.ones(water.shape[1])
    dry, hungry, lost, unmet = (
        np.empty((count, 2)),
        np.empty((count, 2)),
        np.empty((count, 2)),
        np.empty((count, 2)),
    )
    relief = np.empty(count)
    for i in range(count):
        a, b = rows_a[i], rows_b[i]
        got_a, got_b = _shared(
            water_a[a], roots_a[a], share_a, water_b[b], roots_b[b], share_b, water, evenly
        )  # fmt: skip
        fed_a, fed_b = _shared_by_roots(
            nitrate_a[a], roots_a[a], share_a, hunger_a[a], nitrate_b[b], roots_b[b], share_b, hunger_b[b],
            nitrate, evenly,
        )  # fmt: skip
        drunk_a = _relative(got_a, share_a * sole_water_a[a])
        drunk_b = _relative(got_b, share_b * sole_water_b[b])
        eaten_a = max(drunk_a, 1.0) if fixer_a[a] else _relative(fed_a, share_a * sole_nitrate_a[a])
        eaten_b = max(drunk_b, 1.0) if fixer_b[b] else _relative(fed_b, share_b * sole_nitrate_b[b])
        found_a, found_b = min(drunk_a, eaten_a), min(drunk_b, eaten_b)
        dry[i, 0], dry[i, 1] = max(0.0, 1 - drunk_a), max(0.0, 1 - drunk_b)
        hungry[i, 0], hungry[i, 1] = max(0.0, 1 - eaten_a), max(0.0, 1 - eaten_b)
        lost[i, 0], lost[i, 1] = max(0.0, 1 - found_a), max(0.0, 1 - found_b)
        relief[i] = max(0.0, (found_a + found_b) / 2 - 1)
        unmet[i, 0] = max(0.0, share_a * nitrogen_a[a] - fed_a)
        unmet[i, 1] = max(0.0, share_b * nitrogen_b[b] - fed_b)
    return dry, hungry, lost, relief, unmet


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _asked_in(light, by_sun, course, asked):
    """What is asked in this light (weeks,), into ``asked``; gives the part of it all that this is."""
    whole, least = 0.0, 0.0
    for week in range(len(course)):
        asked[week] = course[week] * (1 - by_sun[week] * (1 - min(light[week], 1.0)))
        whole += course[week]
        least += asked[week]
    return least / whole if whole > 0 else least


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def felt_beneath(
    tree, rows_a, share_a, planted, plant, rows_b, share_b, through, which, by_sun, water, nitrate
):  # fmt: skip
    """The same of a tree and what grows beneath it, which asks water as its shade lets it.

    ``through`` (n, weeks) is the light at n heights, ``which`` (variants,) of them the plant has, and
    ``by_sun`` (weeks,) the part of its need that goes with it (`asked_beneath.water_asked`). What the tree
    loses is told against the tree alone on its share of that same ground, and weighs by the part ``planted``
    of its roots; nothing is gained together.
    """
    water_a, nitrate_a, roots_a, _, _, nitrogen_a, fixer_a, hunger_a = tree
    water_b, nitrate_b, roots_b, sole_water_b, sole_nitrate_b, nitrogen_b, fixer_b, hunger_b = plant
    count, evenly = len(rows_a), np.ones(water.shape[1])
    dry, hungry, lost, unmet = (
        np.empty((count, 2)),
        np.empty((count, 2)),
        np.empty((count, 2)),
        np.empty((count, 2)),
    )
    # A variant of one stands with many of the other's: what hangs on it alone is reckoned once.
    alone_water, alone_nitrate = np.full(len(water_a), -1.0), np.full(len(water_a), -1.0)
    asked, part = np.empty(water_b.shape), np.full(len(water_b), -1.0)
    for i in range(count):
        a, b = rows_a[i], rows_b[i]
        if alone_water[a] < 0:
            alone_water[a] = take_alone(water_a[a], roots_a[a], share_a, water, evenly)
            alone_nitrate[a] = take_alone(nitrate_a[a], roots_a[a], share_a, nitrate, evenly)
        if part[b] < 0:
            part[b] = _asked_in(through[which[b]], by_sun, water_b[b], asked[b])
        got_a, got_b = _shared(
            water_a[a], roots_a[a], share_a, asked[b], roots_b[b], share_b, water, evenly
        )  # fmt: skip
        fed_a, fed_b = _shared_by_roots(
            nitrate_a[a], roots_a[a], share_a, hunger_a[a], nitrate_b[b], roots_b[b], share_b, hunger_b[b],
            nitrate, evenly,
        )  # fmt: skip
        drunk_a = _relative(got_a, alone_water[a])
        drunk_b = _relative(got_b, share_b * sole_water_b[b] * part[b])
        eaten_a = max(drunk_a, 1.0) if fixer_a[a] else _relative(fed_a, alone_nitrate[a])
        eaten_b = max(drunk_b, 1.0) if fixer_b[b] else _relative(fed_b, share_b * sole_nitrate_b[b])
        dry[i, 0], dry[i, 1] = planted * max(0.0, 1 - drunk_a), max(0.0, 1 - drunk_b)
        hungry[i, 0], hungry[i, 1] = planted * max(0.0, 1 - eaten_a), max(0.0, 1 - eaten_b)
        lost[i, 0] = planted * max(0.0, 1 - min(drunk_a, eaten_a))
        lost[i, 1] = max(0.0, 1 - min(drunk_b, eaten_b))
        unmet[i, 0] = max(0.0, share_a * nitrogen_a[a] - fed_a)
        unmet[i, 1] = max(0.0, share_b * nitrogen_b[b] - fed_b)
    return dry, hungry, lost, np.zeros(count), unmet


@njit(cache=True, nogil=True, fastmath=FAST)
def one(course, roots, rows, share, supply):
    """What one gets (rows,) of a supply (layers, weeks) by itself."""
    found, evenly = np.zeros(len(rows)), np.ones(supply.shape[1])
    for i in range(len(rows)):
        found[i] = take_alone(course[rows[i]], roots[rows[i]], share, supply, evenly)
    return found


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def alike(course_a, roots_a, share_a, course_b, roots_b, share_b, scarcity):
    """How far two want the same (`share.sharing`).

    Courses and ``scarcity`` (weeks,), roots (layers, weeks or 1).
    """
    a_grows, b_grows = roots_a.shape[1] > 1, roots_b.shape[1] > 1
    whole_a, whole_b, both = 0.0, 0.0, 0.0
    for z in range(len(roots_a)):
        for week in range(len(scarcity)):
            of_a = share_a * course_a[week] * roots_a[z, week if a_grows else 0]
            of_b = share_b * course_b[week] * roots_b[z, week if b_grows else 0]
            whole_a += of_a * scarcity[week]
            whole_b += of_b * scarcity[week]
            both += min(of_a, of_b) * scarcity[week]
    least = min(whole_a, whole_b)
    return min(1.0, both / least) if least > 0 else 0.0
