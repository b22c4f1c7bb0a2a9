"""Promises of root depth, its growth, and a tree's draw sideways."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture.ground.roots import (
    DRAW_EDGES_M,
    LAYER_EDGES_M,
    annual_growth,
    cumulative_share,
    depth_overlap,
    depth_scale,
    growing_profile,
    planted_share,
    profile_by_layer,
    ring_draw,
    root_radius,
    sideways_draw,
)
from kb.mixture.season import activity_by_week
from kb.mixture.site import REFERENCE_SITE, Tree
from tests.mixture.profiles import season

DEPTHS = st.tuples(st.floats(0.02, 3), st.floats(1.3, 10)).map(lambda pair: (pair[0], pair[0] * pair[1]))
SOILS = st.floats(0.02, 4)


@given(depths=DEPTHS, soil=SOILS)
def test_layers_hold_all_roots_and_none_below_the_soil(depths: tuple[float, float], soil: float) -> None:
    """Shares are 0-1, sum to 1, and are 0 in every layer that lies wholly below the soil."""
    shares = profile_by_layer(*depths, soil_depth_m=soil)

    assert np.all((shares >= 0) & (shares <= 1 + 1e-12))
    assert pytest.approx(1.0, abs=1e-9) == shares.sum()
    assert np.all(shares[LAYER_EDGES_M[:-1] >= soil] == 0)


@given(one=DEPTHS, other=DEPTHS, soil=SOILS)
def test_overlap_is_a_share_the_same_both_ways_and_whole_with_itself(
    one: tuple[float, float], other: tuple[float, float], soil: float
) -> None:
    """Depth overlap lies in 0-1, does not depend on the order, and is 1 for a plant with itself."""
    p, q = (profile_by_layer(*depths, soil_depth_m=soil) for depths in (one, other))

    assert 0 <= depth_overlap(p, q) <= 1 + 1e-9
    assert depth_overlap(q, p) == depth_overlap(p, q)
    assert pytest.approx(1.0, abs=1e-9) == depth_overlap(p, p)


def test_what_lies_deeper_joins_the_last_layer() -> None:
    """Deep roots are not scaled up into the layers above: the top layer keeps its share."""
    shares = profile_by_layer(0.40, 2.20 * 1.5)

    assert float(cumulative_share(0.02, 0.40, 3.30)) == pytest.approx(float(shares[0]))
    assert shares[-1] > 10 * shares[-2]


def test_shallow_soil_brings_two_systems_together() -> None:
    """As the soil gets shallower, two root systems come to overlap wholly (`trade` 4.16)."""
    overlaps = [
        depth_overlap(
            profile_by_layer(0.1, 0.35, soil_depth_m=soil), profile_by_layer(0.3, 1.3, soil_depth_m=soil)
        )
        for soil in (2.2, 0.6, 0.25, 0.02)
    ]

    assert sorted(overlaps) == overlaps
    assert pytest.approx(1.0, abs=0.01) == overlaps[-1]


@given(depths=DEPTHS, soil=SOILS)
def test_coarse_layers_are_sums_of_fine_ones(depths: tuple[float, float], soil: float) -> None:
    """Where a coarse and a fine edge coincide, the same share of roots lies above it."""
    fine = np.cumsum(profile_by_layer(*depths, soil_depth_m=soil))
    coarse = np.cumsum(profile_by_layer(*depths, soil_depth_m=soil, edges=DRAW_EDGES_M))
    for edge, share in zip(DRAW_EDGES_M[1:], coarse, strict=True):
        at = np.flatnonzero(np.isclose(LAYER_EDGES_M, edge))
        if at.size:
            assert fine[at[0] - 1] == pytest.approx(share, abs=1e-9)


def test_an_annual_reaches_its_depth_with_its_cover() -> None:
    """Roots start at a quarter of their depth, are full in full cover, and stay until the end."""
    activity = activity_by_week(season(14, 22, 30, 36), REFERENCE_SITE)
    growth = annual_growth(activity)

    assert growth[13] < 0.35
    assert growth[21:35] == pytest.approx(1.0, abs=0.05)
    assert np.all(np.diff(growth[13:35]) >= -1e-12)


def test_growth_over_the_new_year_is_growth_all_the_same() -> None:
    """A season from autumn to summer rises from its own start, not from January."""
    spring, autumn = (
        annual_growth(
            activity_by_week(season(*corners, end_driver="fixed", start_driver="fixed"), REFERENCE_SITE)
        )
        for corners in ((10, 20, 25, 30), (44, 2, 7, 12))
    )

    assert spring == pytest.approx(np.roll(autumn, 18), abs=1e-9)


def test_growth_by_weeks_agrees_with_scaled_depths() -> None:
    """A week's profile is that of the depths scaled to it."""
    growth = np.array([[0.25, 0.6, 1.0]])
    by_week = growing_profile(np.array([0.2]), np.array([0.8]), growth, soil_depth_m=0.5, edges=LAYER_EDGES_M)
    for week, scale in enumerate(growth[0]):
        expected = profile_by_layer(0.2, 0.8, soil_depth_m=0.5, scale=scale)
        assert expected == pytest.approx(by_week[0, :, week], abs=1e-12)


def test_the_sideways_draw_of_the_notes() -> None:
    """Figures of `computation-notes` 1.1, and the whole integrates to 1 over the ground."""
    x = np.array([0.25, 0.5, 1.0, 1.5, 2.0])
    fine = np.linspace(0, 8, 80001)

    assert pytest.approx([1.25, 0.76, 0.29, 0.10, 0.03], abs=0.02) == sideways_draw(x).tolist()
    assert pytest.approx(1.0, abs=1e-3) == float(np.trapezoid(sideways_draw(fine) * 2 * fine, fine))
    assert sideways_draw(0.0) == sideways_draw(0.1), "it does not fall to nothing at the trunk"
    assert np.all(np.diff(sideways_draw(fine)) <= 1e-12)


def test_the_planted_shares_of_the_notes() -> None:
    """A ring 1.2 m wide holds .74 of a young tree's roots (radius 1 m, at 0.8 m), .32 at a mature edge."""
    assert float(planted_share(0.2, 1.4)) == pytest.approx(0.74, abs=0.01)
    assert float(planted_share(1.6 / 2.25, 2.8 / 2.25)) == pytest.approx(0.32, abs=0.005)
    assert float(planted_share(0, 1.985)) == pytest.approx(0.95, abs=0.001)


def test_a_narrow_ring_draws_as_its_middle() -> None:
    """The mean over a ring goes over into the curve itself."""
    assert ring_draw(0.999, 1.001) == pytest.approx(0.8 * np.exp(-1), abs=1e-3)
    assert ring_draw(0.5, 1.2) > ring_draw(1.2, 2.0)


def test_young_and_narrow_trees() -> None:
    """Young roots are shallower, never under 0.4; a narrow tree roots wider than its crown."""
    assert depth_scale(0.0) == 0.4
    assert depth_scale(0.25) == 0.5
    assert depth_scale(1.0) == 1.0
    assert root_radius(Tree(10, 1, 2, 3)) == 4.0
    assert root_radius(Tree(4, 2, 1, 3)) == 2.0


def test_depths_that_cannot_be_are_refused() -> None:
    """D95 above D50 is not a root system."""
    with pytest.raises(ValueError, match="D50"):
        cumulative_share(0.1, 0.5, 0.4)
