"""Light in a ring of what is alike by symmetry: the mean over all its places is the reference."""

from typing import get_args

import numpy as np
import pytest

from kb.mixture import kernels
from kb.mixture.light.near_tree import light_near_tree
from kb.mixture.light.ring_light import COMPILED, ring_light
from kb.mixture.season import FloatArray
from kb.mixture.site import Side, Site, Stand, Tree

LEAF: FloatArray = np.clip(1.5 * np.sin(np.linspace(0.0, 3.1, 52)), 0.0, 1.0)
BEARING = {"N": 0.0, "E": 90.0, "S": 180.0, "W": 270.0}
CASES = [
    (stand, latitude, side, ring, height)
    for stand in get_args(Stand)
    for latitude in (51.0, -38.0, 5.0, 66.0)
    for side in (None, *get_args(Side))
    for ring in ((1.4, 2.6), (0.0, 0.6), (4.0, 9.0))
    for height in (0.0, 2.0)
]


def tree_of(stand: Stand) -> Tree:
    return Tree(4.0, 2.0, 1.0, 2.0, stand)


def over_all_places(
    tree: Tree, site: Site, side: Side | None, ring: tuple[float, float], height: float
) -> FloatArray:
    """Three circles of equal area, sixteen bearings or five on a side, one by one."""
    inner, outer = ring
    radii = [np.sqrt(inner**2 + (outer**2 - inner**2) * part / 6) for part in (1, 3, 5)]
    degrees = np.arange(16) * 22.5 if side is None else BEARING[side] + np.array([-36, -18, 0, 18, 36])
    places = [(radius, np.radians(bearing)) for radius in radii for bearing in degrees]
    east = np.array([radius * np.sin(bearing) for radius, bearing in places])
    north = np.array([radius * np.cos(bearing) for radius, bearing in places])
    shares = light_near_tree(tree, LEAF, site, east_m=east, north_m=north, height_m=height)
    mean: FloatArray = shares.mean(axis=0)
    return mean


@pytest.mark.parametrize(("stand", "latitude", "side", "ring", "height"), CASES)
def test_a_ring_is_the_mean_of_its_places(
    stand: Stand,
    latitude: float,
    side: Side | None,
    ring: tuple[float, float],
    height: float,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Trees alone, in rows and in closed stands, in both hemispheres; places are reckoned in singles."""
    monkeypatch.setattr(kernels, "_READY", {})
    tree, site = tree_of(stand), Site(latitude=latitude)

    found = ring_light(tree, LEAF, site, from_m=ring[0], to_m=ring[1], side=side, height_m=height)

    assert over_all_places(tree, site, side, ring, height) == pytest.approx(found, abs=3e-7)
    assert found.max() <= 1.0


def test_both_ways_find_the_same_ring(monkeypatch: pytest.MonkeyPatch) -> None:
    """Compiled or plain, of all these trees and rings."""
    found: list[list[FloatArray]] = []
    for warmed in (False, True):
        monkeypatch.setattr(kernels, "_READY", {})
        if warmed:
            kernels.warm(COMPILED)
        found.append(
            [
                ring_light(
                    tree_of(stand),
                    LEAF,
                    Site(latitude=latitude),
                    from_m=ring[0],
                    to_m=ring[1],
                    side=side,
                    height_m=height,
                )
                for stand, latitude, side, ring, height in CASES
            ]
        )

    assert np.array(found[0]) == pytest.approx(np.array(found[1]), abs=1e-13)
