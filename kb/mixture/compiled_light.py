"""Compiled light near trees: the loop of `light` over places, rays and months, for many places.

The plain twin is in `light`. Imported only for a grid: the first call in a new environment compiles
for some seconds. Float32, a few parts in ten million from the twin; places are shared among the processors.
"""

import numpy as np
import numpy.typing as npt
from numba import njit

from kb.mixture.compiled_single import FAST, exp
from kb.mixture.in_parts import in_parts
from kb.mixture.season import FloatArray
from kb.mixture.sun import Sky

CHUNK = 256
PART = 512
"""So many places are worth a thread of their own."""


@njit(cache=True, fastmath=FAST)
def _add_paths(places, direction, crown, depth):
    """Add one crown's optical depth along one direction to ``depth``; places (3, n)."""
    east, north, radius, thick, base, extinction = crown
    wide, high = np.float32(1.0) / radius, np.float32(1.0) / thick
    dx, dy, dz = direction[0] * wide, direction[1] * wide, direction[2] * high
    a = dx * dx + dy * dy + dz * dz
    per_a, per_z = np.float32(1.0) / a, np.float32(1.0) / dz
    zero, one = np.float32(0.0), np.float32(1.0)
    for i in range(depth.size):
        x, y, z = (places[0, i] - east) * wide, (places[1, i] - north) * wide, (places[2, i] - base) * high
        half = x * dx + y * dy + z * dz
        root = np.sqrt(max(half * half - a * (x * x + y * y + z * z - one), zero))
        enters = max((-root - half) * per_a, -z * per_z, zero)
        depth[i] += extinction * max((root - half) * per_a - enters, zero)


@njit(cache=True, nogil=True, fastmath=FAST)
def _shares(
    places, crowns, sun, sun_month, sun_weight, area, sky, sky_weight, factors, out_sun, out_sky, start, stop
):  # fmt: skip
    """Beam by month (12, n) and sky by leaf factor (m, n), for some of the places (3, n)."""
    depth = np.empty(CHUNK, dtype=np.float32)
    for first in range(start, stop, CHUNK):
        last = min(first + CHUNK, stop)
        some = places[:, first:last]
        count = some.shape[1]
        here = depth[:count]
        for ray in range(len(sun)):
            here[:] = 0.0
            for crown in range(len(crowns)):
                _add_paths(some, sun[ray], crowns[crown], here)
            month, weight = sun_month[ray], sun_weight[ray]
            factor = area[month]
            light = out_sun[month, first:last]
            for i in range(count):
                light[i] += weight * exp(here[i] * factor)
        for ray in range(len(sky)):
            here[:] = 0.0
            for crown in range(len(crowns)):
                _add_paths(some, sky[ray], crowns[crown], here)
            weight = sky_weight[ray]
            for leaf in range(len(factors)):
                factor = factors[leaf]
                light = out_sky[leaf, first:last]
                for i in range(count):
                    light[i] += weight * exp(here[i] * factor)


def shares(crowns: FloatArray, area: FloatArray, sky: Sky, places: npt.NDArray[np.float32]) -> FloatArray:
    """Shares (places, 12) of open light among crowns.

    ``crowns`` (k, 6): trunk east and north, radius, depth and base of the crown, m; optical depth per m
    of way in full leaf, below 0. ``area`` (12,) of the leaf; ``places`` (n, 3) m.
    """
    area32 = area.astype(np.float32)
    factors, month_factor = np.unique(area32, return_inverse=True)
    count = len(places)
    beam = np.zeros((len(area32), count), dtype=np.float32)
    overcast = np.zeros((len(factors), count), dtype=np.float32)
    told = (
        np.ascontiguousarray(places.T, dtype=np.float32),
        crowns.astype(np.float32),
        sky.sun.astype(np.float32),
        sky.sun_month,
        sky.sun_weight.astype(np.float32),
        area32,
        sky.sky.astype(np.float32),
        sky.sky_weight.astype(np.float32),
        factors,
        beam,
        overcast,
    )
    in_parts(count, PART, lambda start, stop: _shares(*told, start, stop))
    found: FloatArray = (beam + overcast[month_factor] * sky.diffuse[:, None]).T.astype(np.float64)
    return found
