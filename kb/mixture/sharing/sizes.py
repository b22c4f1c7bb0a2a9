"""Sizes of a plant in all its variants: depths of roots, height, base of the leaves, and of its light."""

import numpy as np

from kb.mixture.bodies.growth import share_grown
from kb.mixture.ground.roots import LEAST_RATIO, depth_scale
from kb.mixture.light.hedge_light import CLOTHED_M
from kb.mixture.profile import Profile
from kb.mixture.season import FloatArray
from kb.mixture.uncertainty import COLUMN, depth_factors, factors

LEAF_AT = 0.7
"""A plant's leaf is taken at this share of its height where it stands under a tree (`trade` 4.4)."""
LIGHT_HEIGHTS_M = (0.0, 0.5, 1.0, 2.0, 4.0)
"""Light beneath a crown is reckoned at these heights; a leaf takes the next below it."""
LEAST_HEIGHT_M = 0.01
MOST_BASE = 0.9
"""The base of the leaves lies at most so high, as a share of the height."""


def light_height(height_m: float) -> float:
    """The height (m) at which a plant this tall gets its light under a tree."""
    leaf = LEAF_AT * height_m
    return max(height for height in LIGHT_HEIGHTS_M if height <= leaf)


def size_at(profile: Profile, age_years: float | None) -> float:
    """Share of its final size at an age; 1 where no age is given, and for annuals, which have none."""
    if age_years is None or profile.annual or profile.growth_form.value is None:
        return 1.0
    return share_grown(profile, age_years)


def root_factors(profile: Profile, z: FloatArray, draws: int) -> tuple[FloatArray, FloatArray]:
    """What D50 and D95 are multiplied by in every row: moved together."""
    column = z[:, COLUMN["effective-rooting-depth"]]
    return depth_factors(profile.root_d50_m, column, draws), depth_factors(profile.root_d95_m, column, draws)


def root_depths(
    profile: Profile, moved: tuple[FloatArray, FloatArray], size: float
) -> tuple[FloatArray, FloatArray]:
    """D50 and D95 (m); a young woody plant's are shallower."""
    likely_d50, likely_d95 = likely_depths(profile, size)
    d50 = likely_d50 * moved[0]
    return d50, np.maximum(likely_d95 * moved[1], d50 * LEAST_RATIO)


def likely_depths(profile: Profile, size: float) -> tuple[float, float]:
    """The likely D50 and D95 (m) at a size."""
    scale = depth_scale(size) if profile.woody else 1.0
    return profile.root_d50_m.likely * scale, profile.root_d95_m.likely * scale


def height_factors(profile: Profile, z: FloatArray) -> FloatArray:
    """What its height is multiplied by in every row."""
    return factors(profile.height_m, z[:, COLUMN["mature-height"]])


def outline(profile: Profile, moved: FloatArray, size: float) -> tuple[FloatArray, FloatArray]:
    """Height, ``moved`` in every row, and base of the leaves (m); shears keep a hedge clothed to its foot."""
    tall = profile.height_m.likely * size * moved
    height = np.maximum(tall, LEAST_HEIGHT_M)
    if profile.kept_m is None:
        return height, height * base_share(profile)
    height = np.minimum(height, profile.kept_m)
    return height, np.minimum(height * base_share(profile), CLOTHED_M)


def base_share(profile: Profile) -> float:
    """Share of its height below its leaves."""
    return min(MOST_BASE, max(0.0, profile.crown_base_m.likely / profile.height_m.likely))
