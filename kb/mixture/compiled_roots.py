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
    two(course, roots, rows, 0.5, course, roots, rows, 0.5, supply)


@njit(cache=True, nogil=True, fastmath=FAST)
def _ask(course, roots, share, asked):
    """Fill ``asked`` (layers, weeks) from a course (weeks,) and roots (layers, weeks or 1)."""
    layers, weeks = asked.shape
    if roots.shape[1] == 1:
        for layer in range(layers):
            part = share * roots[layer, 0]
            for week in range(weeks):
                asked[layer, week] = part * course[week]
    else:
        for layer in range(layers):
            for week in range(weeks):
                asked[layer, week] = share * course[week] * roots[layer, week]


@njit(cache=True, nogil=True)
def season(one, other):
    """The first week in which either is above 0, and the one after the last; the first alone for none."""
    first, last = 0, len(one)
    while first + 1 < last and one[first] <= 0 and other[first] <= 0:
        first += 1
    while last > first + 1 and one[last - 1] <= 0 and other[last - 1] <= 0:
        last -= 1
    return first, last


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def two(course_a, roots_a, rows_a, share_a, course_b, roots_b, rows_b, share_b, supply):
    """What each of two gets (rows, 2) of a supply (layers, weeks)."""
    found, evenly = np.zeros((len(rows_a), 2)), np.ones(supply.shape[1])
    a_grows, b_grows = roots_a.shape[2] > 1, roots_b.shape[2] > 1
    for i in range(len(rows_a)):
        a, b = rows_a[i], rows_b[i]
        first, last = season(course_a[a], course_b[b])
        here = slice(first, last)
        asks_a, asks_b, even = course_a[a, here], course_b[b, here], evenly[here]
        to_a, to_b = 0.0, 0.0
        for z in range(len(supply)):
            given = supply[z, here]
            part_a, weekly_a = (
                (share_a, roots_a[a, z, here]) if a_grows else (share_a * roots_a[a, z, 0], even)
            )
            part_b, weekly_b = (
                (share_b, roots_b[b, z, here]) if b_grows else (share_b * roots_b[b, z, 0], even)
            )
            for week in range(len(given)):  # min(1, given / asked) with no choice in it, so done in strides
                of_a = part_a * asks_a[week] * weekly_a[week]
                of_b = part_b * asks_b[week] * weekly_b[week]
                met = given[week] / max(of_a + of_b, given[week], TINY)
                to_a += of_a * met
                to_b += of_b * met
        found[i, 0], found[i, 1] = to_a, to_b
    return found


@njit(cache=True, nogil=True, fastmath=FAST)
def one(course, roots, rows, share, supply):
    """What one gets (rows,) of a supply (layers, weeks) by itself."""
    found = np.zeros(len(rows))
    asked = np.empty_like(supply)
    for i in range(len(rows)):
        _ask(course[rows[i]], roots[rows[i]], share, asked)
        got = 0.0
        for layer in range(supply.shape[0]):
            for week in range(supply.shape[1]):
                got += min(asked[layer, week], supply[layer, week])
        found[i] = got
    return found
