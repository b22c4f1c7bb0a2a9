"""Compiled: what a tree of another size or place and a plant beneath it feel, all in one loop.

The same steps as those of a place and its plants, one after another, by the likely values: light of the ring,
water that is left there, roots of the tree, and what each takes from the other. The plain way is
`place.place_under`, `standing_tree` and `felt`, and the tests hold this to it. Imported only by a service
that stays up, as ``compiled_roots``.
"""

import numpy as np
from numba import njit

from kb.mixture.compiled_bed import beneath
from kb.mixture.compiled_exponential import FAST
from kb.mixture.compiled_ring import MONTHS, shares
from kb.mixture.compiled_roots import felt_beneath
from kb.mixture.compiled_soil import growing, scarce


def rehearse():
    """Compile, or load what is kept, for the kinds of arrays that ``ring_terms`` and ``other_trees`` give."""
    one, weeks, weekly = np.ones(1), np.ones(52), np.ones((1, 52))
    month, diffuse, by_sun, demand = np.zeros(1, dtype=np.int64), np.ones(MONTHS), np.ones(52), np.ones(52)
    for array in (by_sun, demand):
        array.setflags(write=False)  # as `climate` keeps them
    seen, crowns = (np.ones((3, 1)), one, one, one, one), np.ones((1, 6))
    fixer, deep, roots = one > 2, np.array([0.0, 1.0]), np.ones((1, 1, 1))
    rooted = (weekly, weekly, roots, one, one, one, fixer, one)
    ring = ((one, crowns), (1.0, 0.0, 0.5), (1.0, True, 1.2, 0.2))
    site = (
        (seen, month, seen, diffuse),
        (np.ones(MONTHS), np.ones((MONTHS, 52)), by_sun, weeks),
        (demand, np.ones((52, 2)), np.arange(52), weeks, np.ones((52, 2))),
        ((1.0, 0.5, 1.0), 1.0, 0.1, 0.9, weeks, 2.0),
    )
    ground(*ring, *site)
    felt(
        *ring,
        (1.0, 1.0, 1.0),
        *site,
        (deep, 1.0, weekly, weekly, 1.5, 1.0),
        (0.5, 1.0),
        (weekly, weekly, one, fixer, one, one),
        (rooted, (weekly, weekly, one, one, one, one, one, one), 0.0),
    )


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _weekly(ring, height_m, crown, sky, area, to_week):
    """Light (weeks,) at a height in the ring (`ring_light.ring_light`, `light.monthly_to_weekly`)."""
    radii, crowns = ring
    sun_seen, sun_month, sky_seen, diffuse = sky
    leaf_index, closed, extinction = crown
    monthly, weekly = (
        shares(radii, height_m, crowns, sun_seen, sun_month, sky_seen, diffuse, area),
        np.zeros(52),
    )
    for month in range(MONTHS):
        light = monthly[month]
        if closed > 0:
            light = (1 - closed) * light + closed * np.exp(-extinction * leaf_index * area[month])
        for week in range(len(weekly)):
            weekly[week] += min(light, 1.0) * to_week[month, week]
    return weekly


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _left(light, by_sun, leaf, at, weather, soil):
    """The part (weeks,) of the water of open ground that is left here, and its scarcity (`crown_ground`)."""
    draw, beneath_crown, most, interception = at
    demand, rain, starts, weekly_demand, weekly_rain = weather
    store, times, least, scarcest, scarcity, watered = soil
    asked, left, scarce_here = np.empty(len(light)), np.empty(len(light)), np.empty(len(light))
    for week in range(len(light)):
        need = 1 - by_sun[week] * (1 - min(light[week], 1.0))
        asked[week] = min(draw * leaf[week] + need, most)
    omega = scarce(demand, asked, rain, starts, weekly_demand, weekly_rain, store, times, least, scarcest)
    for week in range(len(light)):
        scarce_here[week] = omega[week].sum() / omega.shape[1]
        here = min(scarce_here[week], watered)
        left[week] = min((1 - here) / here * scarcity[week] / (1 - scarcity[week]), 1.0)
        if beneath_crown:
            left[week] *= 1 - interception * leaf[week]
    return left, scarce_here


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def ground(ring, crown, at, sky, year, weather, soil):
    """Light on the ground of a ring, how scarce water is there, and what part of it is left, (weeks,) each.

    The terms are those of `ring_terms`.
    """
    area, to_week, by_sun, leaf = year
    light = _weekly(ring, 0.0, crown, sky, area, to_week)
    left, scarce_here = _left(light, by_sun, leaf, at, weather, soil)
    return light, scarce_here, left


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _rooted(depths, edges, soil_depth_m, shape):
    """Roots (1, layers, 1) of a tree in this soil (`roots.Deepening`), of its D50 and D95."""
    d50, d95 = depths
    power, at_edges = shape / np.log(d95 / d50), np.empty((1, len(edges)))
    for edge in range(len(edges)):
        at_edges[0, edge] = (min(edges[edge], soil_depth_m) / d50) ** power
    return growing(at_edges, np.ones((1, 1)), soil_depth_m >= edges[-1])


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def felt(ring, crown, at, spot, sky, year, weather, soil, ground, depths, tree, plant):
    """What both feel by roots and by light there, and the ground of the ring as `ground` finds it.

    By roots as `compiled_roots.felt_beneath`, by light as `compiled_bed.beneath`, of one row; the latter says
    too whether the plant reaches into the crown. All is put together in `other_trees`: the ring and its
    crowns; leaf area, share of closed stands and extinction of the crown; the tree's draw there; the shares
    of both; sun and sky; by month and by week what leaf and light of the year are reckoned with; the weather,
    the store of the soil, its layers.
    """
    area, to_week, by_sun, leaf = year
    edges, soil_depth_m, water, nitrate, shape, open_light = ground
    share, rest, planted = spot
    water_a, nitrate_a, nitrogen_a, fixer_a, hunger_a, base_a = tree
    rooted_b, lit_b, leaf_height_m = plant
    first = np.zeros(1, dtype=np.int64)
    light = _weekly(ring, 0.0, crown, sky, area, to_week)
    left, scarce_here = _left(light, by_sun, leaf, at, weather, soil)
    here, through = np.empty(water.shape), np.empty((1, len(light)))
    for layer in range(len(water)):
        for week in range(len(left)):
            here[layer, week] = water[layer, week] * left[week]
    through[0] = light if leaf_height_m == 0.0 else _weekly(ring, leaf_height_m, crown, sky, area, to_week)
    roots_a = _rooted(depths, edges, soil_depth_m, shape)
    rooted_a = (water_a, nitrate_a, roots_a, base_a, base_a, nitrogen_a, fixer_a, hunger_a)
    by_roots = felt_beneath(
        rooted_a, first, share, planted, rooted_b, first, rest, through, first, by_sun, here, nitrate
    )
    by_light = beneath(water_a, base_a, first, lit_b, first, through, first, open_light)
    return by_roots, by_light, (light, scarce_here, left)
