"""Light through and near crowns: measured trees, and the table of the design's prototype."""

import numpy as np
import pytest
from scipy.optimize import brentq

from kb.mixture.light import near_tree as light
from kb.mixture.light.near_tree import light_near_tree
from kb.mixture.profile import Activity
from kb.mixture.season import activity_by_week
from kb.mixture.site import REFERENCE_SITE, Tree

SKY_THROUGH_CROWN = {
    "oak": (0.17, 0.50), "sycamore": (0.18, 0.54), "birch": (0.24, 0.54), "lombardy-poplar": (0.13, 0.50),
    "lime": (0.11, 0.54), "beech": (0.19, 0.47), "hawthorn": (0.22, 0.44), "alder": (0.24, 0.49),
    "ash": (0.22, 0.53), "horse-chestnut": (0.19, 0.52),
}  # fmt: skip
"""Share of sky seen through the crown, in leaf and bare. Wilkinson 1992, PhD thesis, Manchester
Metropolitan University, read second-hand (Tregenza and Sharples, algorithm 1.44). Evergreens apart."""

SUN_THROUGH_CROWN = {
    "Pyrus calleryana": (0.25, 0.57), "Acer rubrum": (0.31, 0.75), "Zelkova serrata": (0.39, 0.76),
    "Gymnocladus dioicus": (0.40, 0.85), "Gleditsia triacanthos": (0.44, 0.79),
}  # fmt: skip
"""Share of sunlight (380-1100 nm) let through, in leaf and bare: 1 - printed shade. Gardner and
Sydnor, J. Amer. Soc. Hort. Sci. (1984, the year from memory), read in the abstract. Not the same
quantity as the share of sky: the two are never averaged."""


def vertical(leaf: float, leaf_area_index: float) -> float:
    """The model's mean transmission straight down through a crown, over the ground it covers."""
    tree = Tree(10.0, 3.0, 2.0, leaf_area_index)
    east, north = (axis.ravel() for axis in np.meshgrid(*[np.linspace(-3, 3, 121)] * 2))
    inside = np.hypot(east, north) < 3
    places = np.stack([east, north, 0 * east], axis=1)[inside].astype(np.float32)
    path = light._path_in_dome(tree, places, np.array([[0.0, 0.0, 1.0]]), trunk_east_m=0.0)
    density = 1.5 * leaf_area_index / 8.0
    return float(np.exp(-0.5 * density * path * light.area_factor(np.array(leaf))).mean())


def test_the_leaf_of_the_dome_adds_up():
    """Volume of the half ellipsoid times leaf density is leaf area index times ground covered."""
    thin = 1e-3
    taken = (1 - vertical(1.0, thin)) / thin

    assert taken == pytest.approx(0.5 * 1.04, rel=0.01)


def test_a_crown_in_leaf_is_as_dense_as_photographed_ones():
    """Leaf area index 3 and 4: within the 0.11-0.24 of ten broad-leaved trees, or 0.05 of it.

    Those trees' leaf area was not measured; 3 to 4 is usual for such kinds (from memory).
    """
    lowest, highest = (f([v[0] for v in SKY_THROUGH_CROWN.values()]) for f in (min, max))

    assert lowest - 0.05 <= vertical(1.0, 4.0) <= highest
    assert lowest <= vertical(1.0, 3.0) <= highest + 0.05


def test_a_light_crown_in_leaf_lets_through_what_was_measured():
    """Leaf area index 1.5 to 2.5 gives the 0.25-0.44 of five small-leaved or airy street trees."""
    lowest, highest = (f([v[0] for v in SUN_THROUGH_CROWN.values()]) for f in (min, max))

    assert lowest <= vertical(1.0, 2.5) < vertical(1.0, 1.5) <= highest + 0.1


def bare_of_leafy(in_leaf: float, bare: float) -> float:
    """How much of what stops light in leaf is there when bare: of one tree, in the model's dome."""

    def depth(transmission: float) -> float:
        return float(brentq(lambda area: vertical(1.0, area) - transmission, 1e-3, 60.0))

    return depth(bare) / depth(in_leaf)


def test_a_bare_crown_stops_as_much_of_what_it_stops_in_leaf_as_was_measured():
    """Bare to leafy, tree by tree: the model's share is the mean of five trees' sunlight, within 0.01.

    Leaf area cancels, so this needs none. By the sky seen through ten other trees it is higher
    (mean 0.38); every one of the fifteen is above the 0.154 of the design's judgement.
    """
    by_sun = [bare_of_leafy(*pair) for pair in SUN_THROUGH_CROWN.values()]
    by_sky = [bare_of_leafy(*pair) for pair in SKY_THROUGH_CROWN.values()]
    model = float(light.area_factor(np.array(0.0)) / light.area_factor(np.array(1.0)))

    assert np.mean(by_sun) == pytest.approx(model, abs=0.01)
    assert np.mean(by_sky) == pytest.approx(0.376, abs=0.01)
    assert min(*by_sun, *by_sky) > 0.16 / 1.04


def test_a_bare_crown_agrees_with_measured_sunlight():
    """Leaf area index 2.5 to 4, bare: within the 0.57-0.85 of five trees' sunlight."""
    lowest, highest = (f([v[1] for v in SUN_THROUGH_CROWN.values()]) for f in (min, max))

    for leaf_area_index in (2.5, 4.0):
        assert lowest <= vertical(0.0, leaf_area_index) <= highest


def test_a_bare_crown_is_lighter_than_photographs_say():
    """Does not agree: 0.44-0.54 of the sky is seen through bare crowns; the model passes 0.07-0.2 more.

    Its bare crowns follow measured sunlight, which passes more than the sky that is seen. Winter light
    under a tree is therefore an upper figure, until winter transmission is a record of the plant
    (`computation-notes` 1.10). This test fails when the model comes nearer, so that this note cannot
    outlive the gap.
    """
    photographed = np.mean([v[1] for v in SKY_THROUGH_CROWN.values()])

    for leaf_area_index in (2.5, 4.0):
        assert 0.05 < vertical(0.0, leaf_area_index) - photographed < 0.25


APPLE = Tree(4.5, 2.25, 1.35, 2.5)
WALNUT = Tree(16.0, 6.5, 2.4, 4.0)
HAZEL = Tree(4.5, 2.25, 0.45, 3.5)
BEECH = Tree(23.0, 6.5, 3.0, 6.0, "closed")
LEAF = {APPLE: (15, 21, 41, 46), WALNUT: (19, 24, 41, 45), HAZEL: (13, 19, 43, 47), BEECH: (17, 21, 43, 48)}


@pytest.mark.parametrize(
    ("tree", "north", "june", "july", "august"),
    [
        (APPLE, 0.8, 48, 49, 50),
        (APPLE, -0.8, 58, 59, 66),
        (APPLE, 2.2, 63, 62, 60),
        (APPLE, -2.2, 85, 85, 84),
        (APPLE, 4.0, 95, 95, 89),
        (WALNUT, 2.0, 32, 32, 33),
        (WALNUT, 6.5, 55, 55, 52),
        (WALNUT, -6.5, 81, 81, 81),
        (HAZEL, 0.8, 23, 23, 23),
        (BEECH, 3.0, 10, 10, 11),
    ],
)
def test_summer_light_is_that_of_the_design_table(tree, north, june, july, august):
    """% of open light at 51 N, metres north (south negative): `trade` 4.4, within 3 points (4 in August).

    Figures of the design's prototype, not measurements. It does not print the crown bases: 1.35, 2.4 and
    0.45 m were chosen to fit, one per tree, and beech's size is ours. Its winter figures carry a horizon
    counted on one side only (`computation-notes` 1.8) and are not compared.
    """
    leaf = Activity(*map(float, LEAF[tree]), evergreen=False, doubt_weeks=1, origin="recalled")
    share = light_near_tree(
        tree, activity_by_week(leaf, REFERENCE_SITE), REFERENCE_SITE, east_m=0.0, north_m=north
    )

    np.testing.assert_allclose(np.array([june, july]), 100 * share[5:7], atol=3)
    assert 100 * share[7] == pytest.approx(august, abs=4)
