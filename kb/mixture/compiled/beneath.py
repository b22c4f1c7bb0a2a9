"""Compiled: what trees of other sizes or places and a plant beneath them feel, all in one loop.

The same steps as those of a place and its plants, one ring after another, by the likely values: light of the
ring, water that is left there, roots of the tree, and what each takes from the other. The plain way is
`place.place_under`, `standing_tree` and `felt`, and the tests hold this to it. Imported only by a service
that stays up, as ``compiled.roots``.
"""

import numpy as np
from numba import njit

from kb.mixture.compiled.bed import beneath
from kb.mixture.compiled.exponential import FAST
from kb.mixture.compiled.ring import MONTHS, shares
from kb.mixture.compiled.roots import felt_beneath
from kb.mixture.compiled.soil import growing, scarce


def rehearse():
    """Compile, or load what is kept, for the kinds of arrays that ``ring_terms`` and ``other_trees`` give."""
    one, weeks, weekly = np.ones(1), np.ones(52), np.ones((1, 52))
    month, diffuse, by_sun, demand = np.zeros(1, dtype=np.int64), np.ones(MONTHS), np.ones(52), np.ones(52)
    for array in (by_sun, demand):
        array.setflags(write=False)  # as `climate` keeps them
    seen, domes = (np.ones((3, 1)), one, one, one, one), np.ones((1, 6))
    fixer, deep, roots = one > 2, np.array([0.0, 1.0]), np.ones((1, 1, 1))
    rooted = (weekly, weekly, roots, one, one, one, fixer, one)
    site = (
        (seen, month, seen, diffuse),
        (np.ones(MONTHS), np.ones((MONTHS, 52)), by_sun, weeks),
        (demand, np.ones((52, 2)), np.arange(52), weeks, np.ones((52, 2))),
        ((1.0, 0.5, 1.0), 1.0, 0.1, 0.9, weeks, 2.0),
    )
    ground((one, domes), (1.0, 0.0, 0.5), (1.0, True, 1.2, 0.2), *site)
    felt(
        (one[None], domes[None]),
        (one, 0.0, 0.5),
        (one, fixer, 1.2, 0.2),
        (1.0, one),
        *site,
        (deep, 1.0, weekly, weekly, 1.5, 1.0),
        (one / 2, one, one),
        (weekly, weekly, one, fixer, one),
        (rooted, (weekly, weekly, one, one, one, one, one, one), 0.0),
    )


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy")
def _weekly(ring, height_m, crown, sky, area, to_week):
    """Light (weeks,) at a height in the ring (`ring_light.ring_light`, `near_tree.monthly_to_weekly`)."""
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
def felt(rings, crowns, at, spots, sky, year, weather, soil, ground, depths, tree, plant):
    """What both feel by roots and by light in each of n rings, and the ground of each as `ground` finds it.

    By roots (n, 2) as `compiled.roots.felt_beneath`, by light (n, 2) as `compiled.bed.beneath`, of one row;
    the latter says too whether the plant reaches into the crown (n,). All is put together in `other_trees`:
    radii and crowns of the rings; leaf area, share of closed stands and extinction of the crowns; the tree's
    draw there; the share of the plant, and what it takes of each tree's ground; sun and sky; by month and by
    week what leaf and light of the year are reckoned with; the weather, the store of the soil, its layers;
    how deep each tree roots and where its leaves begin. Light, scarcity and what is left are (n, weeks).
    """
    radii, domes = rings
    leaf_index, closed, extinction = crowns
    draw, beneath_crown, most, interception = at
    rest, planted = spots
    area, to_week, by_sun, leaf = year
    edges, soil_depth_m, water, nitrate, shape, open_light = ground
    d50, d95, base = depths
    water_a, nitrate_a, nitrogen_a, fixer_a, hunger_a = tree
    rooted_b, lit_b, leaf_height_m = plant
    count, weeks, first = len(radii), len(leaf), np.zeros(1, dtype=np.int64)
    light, scarce_here, left = np.empty((count, weeks)), np.empty((count, weeks)), np.empty((count, weeks))
    dry, hungry, lost, unmet = (
        np.empty((count, 2)),
        np.empty((count, 2)),
        np.empty((count, 2)),
        np.empty((count, 2)),
    )
    shaded, dark, tall = np.empty((count, 2)), np.empty((count, 2)), np.empty(count, dtype=np.bool_)
    here, through = np.empty(water.shape), np.empty((1, weeks))
    for i in range(count):
        ring, crown = (radii[i], domes[i]), (leaf_index[i], closed, extinction)
        light[i] = _weekly(ring, 0.0, crown, sky, area, to_week)
        drawn = (draw[i], beneath_crown[i], most, interception)
        left[i], scarce_here[i] = _left(light[i], by_sun, leaf, drawn, weather, soil)
        for layer in range(len(water)):
            for week in range(weeks):
                here[layer, week] = water[layer, week] * left[i, week]
        through[0] = (
            light[i] if leaf_height_m == 0.0 else _weekly(ring, leaf_height_m, crown, sky, area, to_week)
        )
        roots_a, base_a = _rooted((d50[i], d95[i]), edges, soil_depth_m, shape), base[i : i + 1]
        rooted_a = (water_a, nitrate_a, roots_a, base_a, base_a, nitrogen_a, fixer_a, hunger_a)
        by_roots = felt_beneath(
            rooted_a, first, draw[i], planted[i], rooted_b, first, rest, through, first, by_sun, here, nitrate
        )
        dry[i], hungry[i], lost[i], unmet[i] = by_roots[0][0], by_roots[1][0], by_roots[2][0], by_roots[4][0]
        losses, darks, tall[i] = beneath(water_a, base_a, first, lit_b, first, through, first, open_light)
        shaded[i], dark[i] = losses[0], darks[0]
    return (dry, hungry, lost, unmet), (shaded, dark), tall, (light, scarce_here, left)
