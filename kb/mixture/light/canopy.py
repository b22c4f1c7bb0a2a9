"""Light in a bed: leaves of several plants mixed in one canopy, and whether it is enough."""

import itertools

import numpy as np

from kb.mixture.season import FloatArray


def bed_light(
    leaf_areas: FloatArray,
    heights: FloatArray,
    bases: FloatArray,
    extinctions: FloatArray,
    shares: FloatArray,
) -> FloatArray:
    """Light each plant captures as a share of what it captures in a stand of its own (n, weeks).

    ``leaf_areas`` (n, weeks) is leaf area index in a full stand of that plant; ``heights`` and
    ``bases`` (n,) in m; ``extinctions`` (n,) per leaf area; ``shares`` (n,) of the ground, which
    may sum to more than 1. At most 1; a plant without leaf gets the value for very little leaf.

    The canopy is cut at every top and base. From above, in a layer of thickness dz plant i has
    x_i = k_i L_i s_i dz/(h_i - b_i); with X the sum it captures I (1 - e^-X) x_i/X and I e^-X goes
    on (`computation-notes` 4). Exact for leaf spread evenly; biased where heights differ much inside
    a layer (Barillot 2011, as cited there).
    """
    leaf = np.asarray(leaf_areas, dtype=float)
    tops, lows = np.asarray(heights, dtype=float), np.asarray(bases, dtype=float)
    if not np.all(tops > lows):
        plant = int(np.argmin(tops - lows))
        raise ValueError(
            f"plant {plant + 1} of the bed: its leaves must reach from a base below its height "
            f"(base {lows[plant]:g} m, height {tops[plant]:g} m)"
        )
    own_depth = extinctions[:, None] * leaf
    ground_depth = own_depth * shares[:, None]
    edges = np.unique(np.concatenate([tops, lows]))[::-1]
    light = np.ones(leaf.shape[1])
    seen = np.zeros_like(leaf)
    for top, low in itertools.pairwise(edges):
        inside = (tops >= top) & (lows <= low)
        part = np.where(inside, (top - low) / (tops - lows), 0.0)
        layer = (ground_depth * part[:, None]).sum(axis=0)
        seen += light * _mean_left(layer) * part[:, None]
        light = light * np.exp(-layer)
    # seen is capture_i / (s_i k_i L_i): dividing by the sole stand's ratio avoids 0/0 where s or L is 0.
    relative: FloatArray = np.minimum(seen / _mean_left(own_depth), 1.0)
    return relative


def light_sufficiency(relative_light: FloatArray, activity: FloatArray, zero: float, full: float) -> float:
    """E, 0-1: how far the light of its active weeks lets the plant crop.

    ``relative_light`` and ``activity`` (52,). Below ``zero`` a week's light is worth nothing, from
    ``full`` on it does not limit; in between it rises straight (`trade` 4.4). A plant without an
    active week uses no light: 0.
    """
    if not full > zero:
        raise ValueError(f"full crop light ({full:g}) must be above the light of no crop ({zero:g})")
    weight = float(activity.sum())
    if weight <= 0:
        return 0.0
    enough = np.clip((relative_light - zero) / (full - zero), 0.0, 1.0)
    return float((activity * enough).sum()) / weight


def _mean_left(depth: FloatArray) -> FloatArray:
    """(1 - e^-x)/x: mean light over an even layer of optical depth x; 1 at x = 0."""
    safe = np.where(depth > 0, depth, 1.0)
    mean: FloatArray = np.where(depth > 0, -np.expm1(-safe) / safe, 1.0)
    return mean
