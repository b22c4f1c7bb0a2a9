"""Compiled light near trees: the loop of `light` over places, rays and months, for many places.

The plain twin is in `light`. Imported only for a grid: the first call in a new environment compiles
for some seconds. Float32, a few parts in ten million from the twin; places are shared among the processors.
"""

import numpy as np
import numpy.typing as npt
from numba import njit

from kb.mixture.compiled.single import FAST, exp
from kb.mixture.in_parts import in_parts
from kb.mixture.light.sun import Sky
from kb.mixture.season import FloatArray

CHUNK = 512
"""Places taken together: many, since to hand a row of them on costs as much as a hundred exponentials."""
PART = 512
"""So many places are worth a thread of their own."""
ZERO, ONE = np.float32(0.0), np.float32(1.0)


@njit(cache=True, fastmath=FAST)
def _see_from(crown, places, first, count, seen):
    """Places (3, n) as the dome sees them, a half unit sphere: x, y, z, r2 - 1 into ``seen`` (4, CHUNK)."""
    east, north, radius, thick, base, _ = crown
    wide, high = ONE / radius, ONE / thick
    for i in range(count):
        x, y, z = (
            (places[0, first + i] - east) * wide,
            (places[1, first + i] - north) * wide,
            (places[2, first + i] - base) * high,
        )
        seen[0, i], seen[1, i], seen[2, i], seen[3, i] = x, y, z, x * x + y * y + z * z - ONE


@njit(cache=True, fastmath=FAST)
def _add_paths(seen, direction, crown, count, depth):
    """Add one crown's optical depth along one direction to the first of ``depth``."""
    radius, thick, extinction = crown[2], crown[3], crown[5]
    dx, dy, dz = direction[0] / radius, direction[1] / radius, direction[2] / thick
    a = dx * dx + dy * dy + dz * dz
    per_a, per_z = ONE / a, ONE / dz
    for i in range(count):
        half = seen[0, i] * dx + seen[1, i] * dy + seen[2, i] * dz
        root = np.sqrt(max(half * half - a * seen[3, i], ZERO))
        enters = max((-root - half) * per_a, -seen[2, i] * per_z, ZERO)
        depth[i] += extinction * max((root - half) * per_a - enters, ZERO)


@njit(cache=True, fastmath=FAST)
def _depths(seen, crowns, direction, count, depth):
    """Optical depth of all crowns along one direction into the first of ``depth``."""
    depth[:] = ZERO
    for crown in range(len(crowns)):
        _add_paths(seen[crown], direction, crowns[crown], count, depth)


@njit(cache=True, fastmath=FAST)
def _add_light(depth, factor, weight, count, light):
    """Add to the first of ``light`` what of a ray's ``weight`` passes."""
    for i in range(count):
        light[i] += weight * exp(depth[i] * factor)


@njit(cache=True, nogil=True, fastmath=FAST)
def _shares(
    places, crowns, sun, sun_month, sun_weight, area, sky, sky_weight, factors, out_sun, out_sky, start, stop
):  # fmt: skip
    """Beam by month (12, n) and sky by leaf factor (m, n), for some of the places (3, n)."""
    depth = np.empty(CHUNK, dtype=np.float32)
    seen = np.empty((len(crowns), 4, CHUNK), dtype=np.float32)
    beam = np.empty((len(out_sun), CHUNK), dtype=np.float32)
    overcast = np.empty((len(out_sky), CHUNK), dtype=np.float32)
    for first in range(start, stop, CHUNK):
        count = min(CHUNK, stop - first)
        for crown in range(len(crowns)):
            _see_from(crowns[crown], places, first, count, seen[crown])
        beam[:] = ZERO
        overcast[:] = ZERO
        for ray in range(len(sun)):
            _depths(seen, crowns, sun[ray], count, depth)
            month = sun_month[ray]
            _add_light(depth, area[month], sun_weight[ray], count, beam[month])
        for ray in range(len(sky)):
            _depths(seen, crowns, sky[ray], count, depth)
            for leaf in range(len(factors)):
                _add_light(depth, factors[leaf], sky_weight[ray], count, overcast[leaf])
        out_sun[:, first : first + count] = beam[:, :count]
        out_sky[:, first : first + count] = overcast[:, :count]


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
