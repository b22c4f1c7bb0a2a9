"""A tree as it stands, of the size it has here: its profile, and what it asks in all its variants.

Size moves its roots, height, crown and leaf area. Its year, and what else it asks of soil and light, are
those of its kind however old it is, and are kept with that.
"""

from functools import lru_cache

import numpy as np

from kb.mixture import kernels
from kb.mixture.altered import altered
from kb.mixture.bodies.growth import share_grown
from kb.mixture.ground.root_draw import Asking, taken_alone
from kb.mixture.ground.roots import COMPILED, LEAST_RATIO, SHAPE, Deepening
from kb.mixture.ground.share import Supply
from kb.mixture.profile import Estimate, Profile
from kb.mixture.season import FloatArray, seasons_of
from kb.mixture.sharing.sizes import (
    LEAST_HEIGHT_M,
    base_share,
    height_factors,
    light_height,
    likely_depths,
    outline,
    root_depths,
    root_factors,
)
from kb.mixture.sharing.variants import KEPT, FullStand, Same, Variants, as_rows, kept_stand
from kb.mixture.site import Site, Tree
from kb.mixture.uncertainty import COLUMN, factors, moves

Moved = tuple[tuple[FloatArray, FloatArray], FloatArray, FloatArray]
"""What D50 and D95, height and leaf area are multiplied by in every row."""


def as_it_stands(profile: Profile, tree: Tree) -> Profile:
    """The tree's profile with the size it has here in place of the usual one of its kind.

    Kept, since the same tree is asked for at several places beneath it.
    """
    return _as_it_stands(Same(profile), tree)


@lru_cache(maxsize=KEPT)
def _as_it_stands(own: Same[Profile], tree: Tree) -> Profile:
    profile = own.thing
    return altered(
        profile,
        height_m=_moved_to(profile.height_m, tree.height_m),
        crown_base_m=_moved_to(profile.crown_base_m, tree.crown_base_m),
        crown_width_m=_moved_to(profile.crown_width_m, 2 * tree.crown_radius_m),
        leaf_area_index=_moved_to(profile.leaf_area_index, tree.leaf_area_index),
    )


def root_size(profile: Profile, tree: Tree) -> float:
    """How far a tree's roots have grown, 0-1: by its age, else by its height."""
    if tree.planted_years is None or profile.growth_form.value is None:
        return min(1.0, tree.height_m / profile.height_m.likely)
    return _grown(Same(profile), tree.planted_years)


@lru_cache(maxsize=KEPT)
def _grown(own: Same[Profile], age_years: float) -> float:
    """Kept: of a size that hangs on the age alone it is asked for trees of several heights."""
    return share_grown(own.thing, age_years)


def _moved_to(estimate: Estimate, likely: float) -> Estimate:
    times = likely / estimate.likely if estimate.likely > 0 else 1.0
    return Estimate(estimate.low * times, likely, estimate.high * times, estimate.origin, estimate.records)


def as_standing(
    standing: Profile, kind: Profile, site: Site, supply: Supply, *, draws: int, root_size: float
) -> Variants:
    """A tree in all its variants, as it stands; ``kind`` is its profile as on record, on its frame."""
    own = Same(kind)
    usual = kept_stand(own, seasons_of(site), None, draws, 1.0, Same(supply.edges))
    size = _grown_on(standing, usual, _factors(own, draws), (site.soil_depth_m, supply), root_size)
    height = size[1]
    return as_rows(standing, usual, size, np.full(len(height), light_height(float(height[0]))))


def _grown_on(
    standing: Profile, usual: FullStand, moved: Moved, ground: tuple[float, Supply], root_size: float
) -> tuple[FloatArray, ...]:
    """What its size moves, in all its variants, on soil so deep.

    D50, height, base of the leaves, leaf area, roots, and what a stand gets by itself of water and of
    nitrate. A compiled loop finds it where one is loaded, of a tree that nobody shears.
    """
    of_roots, tall, leafy = moved
    soil_depth_m, supply = ground
    loop = kernels.ready(COMPILED) if standing.kept_m is None else None
    if loop is not None:
        sizes = (
            standing.height_m.likely,
            LEAST_HEIGHT_M,
            base_share(standing),
            standing.leaf_area_index.likely,
        )
        depths = (*likely_depths(standing, root_size), LEAST_RATIO, SHAPE)
        courses = (usual.year.leaf, usual.water_course, usual.nitrate_course)
        on = (supply.edges, soil_depth_m, supply.water, supply.nitrate)
        found: tuple[FloatArray, ...] = loop.grown_tree(depths, sizes, (*of_roots, tall, leafy), courses, on)
        return found
    d50, d95 = root_depths(standing, of_roots, root_size)
    height, base = outline(standing, tall, 1.0)
    leaf_area = (standing.leaf_area_index.likely * leafy)[:, None] * usual.year.leaf
    roots = Deepening.of(d50, d95, usual.year.depth, supply.edges).in_soil(soil_depth_m)
    sole_water = taken_alone(Asking(usual.water_course, roots), supply.water)
    sole_nitrate = taken_alone(Asking(usual.nitrate_course, roots), supply.nitrate)
    return d50, height, base, leaf_area, roots, sole_water, sole_nitrate


@lru_cache(maxsize=KEPT)
def _factors(own: Same[Profile], draws: int) -> Moved:
    """What D50 and D95, height and leaf area are multiplied by in every row."""
    profile, z = own.thing, moves(draws, again=not own.thing.root_d95_m.known)
    leaf = factors(profile.leaf_area_index, z[:, COLUMN["leaf-area-index"]])
    return root_factors(profile, z, draws), height_factors(profile, z), leaf
