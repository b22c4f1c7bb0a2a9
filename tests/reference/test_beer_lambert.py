"""Beer-Lambert: light under an even canopy is e^(-k LAI) (`data.md` section 6: computed figures)."""

import numpy as np
import pytest

from kb.mixture.light.near_tree import bed_light, light_near_tree
from kb.mixture.site import Site, Tree

FIGURES = [
    (0.5, 1, 0.606531),
    (0.5, 2, 0.367879),
    (0.5, 3, 0.223130),
    (0.5, 6, 0.049787),
    (0.62, 3, 0.155673),
]
"""k, leaf area index, share of light left."""


@pytest.mark.parametrize(("k", "leaf_area", "left"), FIGURES)
def test_a_low_plant_under_an_even_canopy(k, leaf_area, left):
    """A thin plant wholly beneath a full canopy gets the share the law gives, to six figures."""
    relative = bed_light(
        np.array([[leaf_area], [0.0]], dtype=float),
        np.array([2.0, 0.3]),
        np.array([0.5, 0.0]),
        np.array([k, 0.5]),
        np.array([1.0, 0.0]),
    )

    assert relative[1, 0] == pytest.approx(left, abs=5e-7)


@pytest.mark.parametrize("layers", [2, 5])
@pytest.mark.parametrize(("k", "leaf_area", "left"), FIGURES)
def test_a_canopy_cut_in_layers_is_the_same_canopy(k, leaf_area, left, layers):
    """Cut into layers of unequal thickness, each a plant of its own, it lets through as much."""
    edges = 0.5 + 1.5 * (np.arange(layers + 1) / layers) ** 2
    part = np.diff(edges) / 1.5
    relative = bed_light(
        np.append(leaf_area * part, 0.0)[:, None],
        np.append(edges[1:], 0.3),
        np.append(edges[:-1], 0.0),
        np.full(layers + 1, k),
        np.append(np.ones(layers), 0.0),
    )

    assert relative[-1, 0] == pytest.approx(left, abs=5e-7)


@pytest.mark.parametrize(("k", "leaf_area", "left"), [row for row in FIGURES if row[0] == 0.5])
def test_a_closed_stand(k, leaf_area, left):
    """Under the middle of vast low crowns, four fifths of the light are the law's, one fifth a lone tree's.

    Leaf area index chosen so that leaves and wood together (1.04 of it) are the table's.
    """
    wide = Tree(10.0, 4.0, 2.0, leaf_area / 1.04, "closed")
    lone = Tree(10.0, 4.0, 2.0, leaf_area / 1.04, "lone")
    closed, alone = (
        light_near_tree(tree, np.ones(52), Site(), east_m=0.0, north_m=0.0)[6] for tree in (wide, lone)
    )

    assert (closed - 0.2 * alone) / 0.8 == pytest.approx(left, abs=1e-6)
    assert 0.5 == k
