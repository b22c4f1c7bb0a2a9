"""Compiled light in a ring round a tree: the loops of ``ring_light`` over places, rays and crowns.

Imported only by a service that stays up, as ``compiled.roots``. Doubles throughout; sums in another order
than the plain twin's.
"""

import numpy as np
from numba import njit

from kb.mixture.compiled.exponential import FAST, LEAST, exp

MONTHS = 12


def rehearse():
    """Compile, or load what is kept, for the kinds of arrays that ``ring_light`` gives."""
    one, month = np.ones(1), np.zeros(1, dtype=np.int64)
    seen, crowns = (np.ones((3, 1)), one, one, one, one), np.ones((1, 6))
    shares(one, 0.0, crowns, seen, month, seen, np.ones(MONTHS), np.ones(MONTHS))


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _entered(height_m, crowns, directions):
    """What is divided by for each crown and ray, once for all places at a height: (crowns, 2, rays).

    1 over the square of the ray's step, in crown radii and depths, and where it passes the base, in steps.
    """
    found = np.empty((len(crowns), 2, directions.shape[1]))
    for crown in range(len(crowns)):
        wide, high = 1.0 / crowns[crown, 2], 1.0 / crowns[crown, 3]
        z = (height_m - crowns[crown, 4]) * high
        for ray in range(directions.shape[1]):
            dx, dy, dz = directions[0, ray] * wide, directions[1, ray] * wide, directions[2, ray] * high
            found[crown, 0, ray] = 1.0 / (dx * dx + dy * dy + dz * dz)
            found[crown, 1, ray] = max(-z / dz, 0.0)
    return found


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _add_depths(place, crowns, directions, entered, depth):
    """Optical depth in full leaf, below 0, of each ray to a place, into ``depth``."""
    depth[:] = 0.0
    east, north, up = directions[0], directions[1], directions[2]
    for crown in range(len(crowns)):
        trunk_east, trunk_north, radius, thick, base, extinction = crowns[crown]
        wide, high = 1.0 / radius, 1.0 / thick
        x, y, z = (place[0] - trunk_east) * wide, (place[1] - trunk_north) * wide, (place[2] - base) * high
        c = x * x + y * y + z * z - 1.0
        for ray in range(len(depth)):
            dx, dy, dz = east[ray] * wide, north[ray] * wide, up[ray] * high
            a = dx * dx + dy * dy + dz * dz
            half = x * dx + y * dy + z * dz
            root, per = np.sqrt(max(half * half - a * c, 0.0)), entered[crown, 0, ray]
            enters = max((-root - half) * per, entered[crown, 1, ray])
            depth[ray] += extinction * max((root - half) * per - enters, 0.0)


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def shares(radii, height_m, crowns, sun_seen, sun_month, sky_seen, diffuse, area):
    """Shares of open light by month (12,): `ring_light._shares`."""
    found = np.zeros(MONTHS)
    directions, weight, east, north, counts = sun_seen
    rays = len(weight)
    entered = _entered(height_m, crowns, directions)
    depth, left, factor = np.empty(rays), np.zeros(rays), np.empty(rays)
    for ray in range(rays):
        factor[ray] = area[sun_month[ray]]
    for radius in radii:
        for at in range(len(counts)):
            place = (radius * east[at], radius * north[at], height_m)
            _add_depths(place, crowns, directions, entered, depth)
            part = counts[at] / len(radii)
            for ray in range(rays):
                left[ray] += part * exp(max(depth[ray] * factor[ray], LEAST))
    for ray in range(rays):
        found[sun_month[ray]] += weight[ray] * left[ray]
    sky_directions, sky_weight, sky_east, sky_north, sky_counts = sky_seen
    passed = np.zeros(MONTHS)
    depth, entered = np.empty(len(sky_weight)), _entered(height_m, crowns, sky_directions)
    for radius in radii:
        for at in range(len(sky_counts)):
            place = (radius * sky_east[at], radius * sky_north[at], height_m)
            _add_depths(place, crowns, sky_directions, entered, depth)
            part = sky_counts[at] / len(radii)
            for month in range(MONTHS):
                passed[month] += part * _of_sky(depth, sky_weight, area, month)
    for month in range(MONTHS):  # months with the same leaf see the same sky: reckoned once
        found[month] += passed[_like(area, month)] * diffuse[month]
    return found


@njit(cache=True, nogil=True)
def _like(area, month):
    """The first month with as much leaf."""
    first = 0
    while area[first] != area[month]:
        first += 1
    return first


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def _of_sky(depth, weight, area, month):
    """Light of the sky that passes in a month; 0 where an earlier month has as much leaf."""
    light = 0.0
    if _like(area, month) == month:
        for ray in range(len(depth)):
            light += weight[ray] * exp(max(depth[ray] * area[month], LEAST))
    return light
