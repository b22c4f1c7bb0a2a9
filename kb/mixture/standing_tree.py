"""A tree as it stands, of the size it has here: its profile, and what it asks in all its variants.

Size moves its roots, height, crown and leaf area. Its year, and what else it asks of soil and light, are
those of its kind however old it is, and are kept with that.
"""

from dataclasses import replace
from functools import lru_cache

import numpy as np

from kb.mixture.growth import share_grown
from kb.mixture.profile import Estimate, Profile, changed
from kb.mixture.roots import Deepening
from kb.mixture.season import FloatArray, seasons_of
from kb.mixture.share import Supply
from kb.mixture.site import Site, Tree
from kb.mixture.uncertainty import factors, moves
from kb.mixture.variants import (
    COLUMN,
    KEPT,
    Same,
    Variants,
    height_factors,
    kept_stand,
    light_height,
    on_ground,
    outline,
    root_depths,
    root_factors,
)


def as_it_stands(profile: Profile, tree: Tree) -> Profile:
    """The tree's profile with the size it has here in place of the usual one of its kind.

    Kept, since the same tree is asked for at several places beneath it.
    """
    return _as_it_stands(Same(profile), tree)


@lru_cache(maxsize=KEPT)
def _as_it_stands(own: Same[Profile], tree: Tree) -> Profile:
    profile = own.thing
    return changed(
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
    roots, tall, leafy = _factors(own, draws)
    d50, d95 = root_depths(standing, roots, root_size)
    height, base = outline(standing, tall, 1.0)
    traits = replace(
        usual.traits,
        d50=d50,
        d95=d95,
        leaf_area_index=standing.leaf_area_index.likely * leafy,
        height=height,
        base=base,
        leaf_height=np.full(len(height), light_height(float(height[0]))),
    )
    whole = replace(
        usual,
        traits=traits,
        leaf_area=traits.leaf_area_index[:, None] * usual.year.leaf,
        roots=Deepening.of(d50, d95, usual.year.depth, supply.edges),
    )
    return on_ground(standing, whole, site.soil_depth_m, supply)


@lru_cache(maxsize=KEPT)
def _factors(own: Same[Profile], draws: int) -> tuple[tuple[FloatArray, FloatArray], FloatArray, FloatArray]:
    """What D50 and D95, height and leaf area are multiplied by in every row."""
    profile, z = own.thing, moves(draws, again=not own.thing.root_d95_m.known)
    leaf = factors(profile.leaf_area_index, z[:, COLUMN["leaf-area-index"]])
    return root_factors(profile, z, draws), height_factors(profile, z), leaf
