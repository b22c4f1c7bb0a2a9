"""Compiled stress: from losses to K and K' of every row and plant at once (`stress.near_limit`).

Imported only by a service that stays up, as ``compiled.roots``. The same sums in the same order as the plain
twin, so it gives the same to the last bit.
"""

import numpy as np
from numba import njit


def rehearse():
    """Compile, or load what is kept, for the kinds of arrays that ``judged`` gives."""
    two, each, row = np.ones((1, 2)), np.ones(2), np.ones(1)
    each.setflags(write=False)  # as `judged` keeps them
    stressed(two, two, each, each, row, 0.7, 0.35)


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _fourth(part):
    square = part * part
    return square * square


@njit(cache=True, nogil=True, error_model="numpy")
def stressed(roots, light, pressure, carried, relief, enemy_weight, benefit_weight):
    """K and K' (rows, n) of losses (rows, n), where enemies press (n,), climbing brings and relief eases.

    ``carried`` (n,) and ``relief`` (rows,) come to the benefits of each.
    """
    rows, plants = roots.shape
    each, eased = np.empty((rows, plants)), np.empty((rows, plants))
    for row in range(rows):
        for i in range(plants):
            total = _fourth(roots[row, i]) + _fourth(light[row, i]) + _fourth(enemy_weight * pressure[i])
            each[row, i] = min(1.0, np.sqrt(np.sqrt(total)))
            benefit = min(max(carried[i] + relief[row], 0.0), 1.0)
            eased[row, i] = each[row, i] * (1 - benefit_weight * benefit)
    return each, eased
