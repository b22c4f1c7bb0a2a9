"""What a question tells of its one plant and of the ground, made ready for `compiled` and `compiled.near`."""

import numpy as np
from numba import njit

from kb.mixture.compiled.doubles import LAYERS, demands
from kb.mixture.compiled.near import WEEKS_HELD

HARDLY = 1e-18
"""Stands for none in single precision where a division needs some."""


@njit(cache=True, nogil=True, error_model="numpy")
def subject(activity, leaf, shape, annual, extinction, log_edges, supply, share):
    """One plant on its ``share`` of the ground: for doubles, and for singles.

    ``activity``, ``leaf`` (weeks,), ``shape`` as `index.SHAPE_COLUMNS`, ``extinction`` its column;
    ``supply`` (2, layers, weeks). For doubles: what it asks and what the ground gives (2, weeks, layers),
    what it takes with nobody beside it (2, weeks), what a stand of it takes (2,), and activity, leaf and
    shape. For singles, as `compiled.near.near` says: asked, until, light, season, shape, supply and edges.
    """
    weeks, layers = len(activity), supply.shape[1]
    asked = demands(activity, shape, annual, log_edges)
    given, apart, sole = np.zeros((2, weeks, LAYERS)), np.zeros((2, weeks)), np.zeros(2)
    until = np.zeros((2, weeks + 1))
    asked_cells = np.zeros((2, WEEKS_HELD * LAYERS), dtype=np.float32)
    given_cells = np.ones((2, WEEKS_HELD * LAYERS), dtype=np.float32)
    for good in range(2):
        for w in range(weeks):
            for z in range(layers):
                given[good, w, z] = supply[good, z, w]
            for z in range(LAYERS):
                sole[good] += min(asked[good, w, z], given[good, w, z])
                asked[good, w, z] *= share
                apart[good, w] += min(asked[good, w, z], given[good, w, z])
                asked_cells[good, w * LAYERS + z] = asked[good, w, z]
                given_cells[good, w * LAYERS + z] = max(given[good, w, z], HARDLY)
            until[good, w + 1] = until[good, w] + apart[good, w]
    light = np.zeros((3, WEEKS_HELD), dtype=np.float32)
    first, last, active = 0, 1, 0.0
    for w in range(weeks):
        depth = max(np.float64(shape[extinction]) * np.float64(leaf[w]), HARDLY)
        light[0, w], light[1, w], light[2, w] = activity[w], depth, depth / -np.expm1(-depth)
        if activity[w] > 0:
            first = w if active <= 0 else first
            last = w + 1
            active += activity[w]
    doubles = (
        asked, apart, activity.astype(np.float64), leaf.astype(np.float64), shape.astype(np.float64), sole
    )  # fmt: skip
    singles = (
        asked_cells, until, light, (first, last, active), shape, given_cells, log_edges.astype(np.float32)
    )  # fmt: skip
    return doubles, given, singles
