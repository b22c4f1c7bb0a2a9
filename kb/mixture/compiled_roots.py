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


@njit(cache=True, nogil=True, fastmath=FAST)
def two(course_a, roots_a, rows_a, share_a, course_b, roots_b, rows_b, share_b, supply):
    """What each of two gets (rows, 2) of a supply (layers, weeks)."""
    found = np.zeros((len(rows_a), 2))
    all_a, all_b, met = np.empty_like(supply), np.empty_like(supply), np.empty(supply.shape[1])
    for i in range(len(rows_a)):
        _ask(course_a[rows_a[i]], roots_a[rows_a[i]], share_a, all_a)
        _ask(course_b[rows_b[i]], roots_b[rows_b[i]], share_b, all_b)
        to_a, to_b = 0.0, 0.0
        for layer in range(supply.shape[0]):
            a, b, given = all_a[layer], all_b[layer], supply[layer]
            for week in range(len(met)):  # min(1, given / asked) with no choice in it, so done in strides
                met[week] = given[week] / max(a[week] + b[week], given[week], TINY)
            for week in range(len(met)):
                to_a += a[week] * met[week]
                to_b += b[week] * met[week]
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
