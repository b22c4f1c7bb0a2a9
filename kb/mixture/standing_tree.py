"""A tree as it stands, of the size it has here: its profile, and what it asks in all its variants.

Size moves its roots, height, crown and leaf area. Its year, and what else it asks of soil and light, are
those of its kind however old it is, and are kept with that.
"""

from dataclasses import replace

import numpy as np

from kb.mixture.growth import share_grown
from kb.mixture.profile import Estimate, Profile
from kb.mixture.roots import Deepening
from kb.mixture.season import seasons_of
from kb.mixture.share import Supply
from kb.mixture.site import Site, Tree
from kb.mixture.uncertainty import moves
from kb.mixture.variants import (
    Same,
    Variants,
    kept_root_factors,
    kept_stand,
    light_height,
    moved,
    on_ground,
    outline,
    root_depths,
)


def as_it_stands(profile: Profile, tree: Tree) -> Profile:
    """The tree's profile with the size it has here in place of the usual one of its kind."""
    return replace(
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
    return share_grown(profile, tree.planted_years)


def _moved_to(estimate: Estimate, likely: float) -> Estimate:
    times = likely / estimate.likely if estimate.likely > 0 else 1.0
    return Estimate(estimate.low * times, likely, estimate.high * times, estimate.origin, estimate.records)


def as_standing(
    standing: Profile, kind: Profile, site: Site, supply: Supply, *, draws: int, root_size: float
) -> Variants:
    """A tree in all its variants, as it stands; ``kind`` is its profile as on record, on its frame."""
    own = Same(kind)
    usual = kept_stand(own, seasons_of(site), None, draws, 1.0, Same(supply.edges))
    z = moves(draws, again=not kind.root_d95_m.known)
    d50, d95 = root_depths(standing, kept_root_factors(own, draws), root_size)
    height, base = outline(standing, z, 1.0)
    traits = replace(
        usual.traits,
        d50=d50,
        d95=d95,
        leaf_area_index=moved(standing.leaf_area_index, z, "leaf-area-index"),
        height=height,
        base=base,
        leaf_height=np.full(len(z), light_height(float(height[0]))),
    )
    whole = replace(
        usual,
        traits=traits,
        leaf_area=traits.leaf_area_index[:, None] * usual.year.leaf,
        roots=Deepening.of(d50, d95, usual.year.depth, supply.edges),
    )
    return on_ground(standing, whole, site.soil_depth_m, supply)
