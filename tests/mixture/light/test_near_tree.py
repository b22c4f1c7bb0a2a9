"""Light near a tree and in a bed: what must hold whatever the plants."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.light import near_tree as light
from kb.mixture.light import sun
from kb.mixture.light.near_tree import (
    bed_light,
    light_near_tree,
    light_near_tree_weekly,
    light_sufficiency,
    monthly_to_weekly,
)
from kb.mixture.light.ring_light import ring_light
from kb.mixture.season import WEEKS
from kb.mixture.site import REFERENCE_SITE, Site, Tree

APPLE = Tree(height_m=4.5, crown_radius_m=2.25, crown_base_m=1.35, leaf_area_index=2.5)
IN_LEAF = np.ones(WEEKS)
BARE = np.zeros(WEEKS)
JUNE, JULY, DECEMBER = 5, 6, 11

latitudes = st.floats(-66, 66)
places = st.floats(-12, 12)


@st.composite
def trees(draw) -> Tree:
    """Any tree from a bush to a walnut, in any stand."""
    height = draw(st.floats(0.5, 20))
    return Tree(
        height_m=height,
        crown_radius_m=draw(st.floats(0.2, 8)),
        crown_base_m=height * draw(st.floats(0, 0.8)),
        leaf_area_index=draw(st.floats(0.1, 8)),
        stand=draw(st.sampled_from(["lone", "row", "closed"])),
    )


def near(tree, leaf=IN_LEAF, *, latitude=51.0, east=0.0, north=0.0, height=0.0):
    return light_near_tree(tree, leaf, Site(latitude=latitude), east_m=east, north_m=north, height_m=height)


@given(trees(), latitudes, places, places, st.floats(0, 10))
@settings(max_examples=60, deadline=None)
def test_light_is_a_share_of_open_light(tree, latitude, east, north, height):
    """Above 0, at most 1, never NaN, in every month from pole to pole."""
    share = near(tree, latitude=latitude, east=east, north=north, height=height)

    assert (12,) == share.shape
    assert np.all((share > 0) & (share <= 1))


@given(trees(), latitudes, places, places, st.floats(0, 1), st.floats(0, 1), st.floats(1, 3))
@settings(max_examples=60, deadline=None)
def test_more_leaf_never_gives_more_light(tree, latitude, east, north, leaf, more, denser):
    """Neither leaves coming out nor a denser crown can brighten a place."""
    few, many = np.full(WEEKS, leaf * more), np.full(WEEKS, leaf)
    dense = replace(tree, leaf_area_index=tree.leaf_area_index * denser)
    share = near(tree, few, latitude=latitude, east=east, north=north)

    assert np.all(near(tree, many, latitude=latitude, east=east, north=north) <= share + 1e-6)
    assert np.all(near(dense, few, latitude=latitude, east=east, north=north) <= share + 1e-6)


@given(trees(), st.floats(10, 64), places, places)
@settings(max_examples=40, deadline=None)
def test_the_south_is_the_north_turned_over(tree, latitude, east, north):
    """Latitude, north and month mirrored give the same: within 0.03 over the year, 0.1 in a month.

    Not exactly: the 15th of a month and of the month half a year on differ by up to 1.5 degrees of
    declination, which can move the edge of a shadow over the place. A month in which the sun clears
    the horizon for different half-hours is left out.
    """
    leaf = np.clip(np.sin(np.pi * (np.arange(WEEKS) - 12) / 30), 0, 1)
    steps = [np.bincount(sun.sky_at(lat).sun_month, minlength=12) for lat in (latitude, -latitude)]
    alike = steps[0] == np.roll(steps[1], 6)

    northern = near(tree, leaf, latitude=latitude, east=east, north=north)[alike]
    southern = np.roll(near(tree, np.roll(leaf, 26), latitude=-latitude, east=east, north=-north), 6)[alike]

    assert alike.sum() >= 6
    np.testing.assert_allclose(northern, southern, atol=0.1)
    assert northern.mean() == pytest.approx(southern.mean(), abs=0.03)


@given(trees(), latitudes, places, places)
@settings(max_examples=40, deadline=None)
def test_east_and_west_are_alike(tree, latitude, east, north):
    """Morning and afternoon sun are taken as equal."""
    np.testing.assert_allclose(
        near(tree, latitude=latitude, east=east, north=north),
        near(tree, latitude=latitude, east=-east, north=north),
        atol=1e-5,
    )


@given(trees(), latitudes, st.floats(0, 2 * np.pi))
@settings(max_examples=40, deadline=None)
def test_far_from_a_lone_tree_the_ground_is_open(tree, latitude, bearing):
    """Beyond six heights from the crown's edge nothing is taken, in any direction or month."""
    lone = replace(tree, stand="lone")
    away = lone.crown_radius_m + 6 * lone.height_m

    share = near(lone, latitude=latitude, east=away * np.sin(bearing), north=away * np.cos(bearing))

    np.testing.assert_allclose(np.ones(12), share, atol=1e-3)


@pytest.mark.parametrize("latitude", [30.0, 51.0, 65.0, -30.0, -51.0, -65.0])
def test_the_side_away_from_the_sun_is_darker(latitude):
    """North of the tree in the northern hemisphere, south of it in the southern."""
    towards_pole = 2.2 if latitude > 0 else -2.2

    shaded, sunny = (near(APPLE, latitude=latitude, north=side * towards_pole) for side in (1, -1))

    assert shaded.mean() + 0.05 < sunny.mean()


@pytest.mark.parametrize("latitude", [51.0, 58.0, 65.0, 70.0, -65.0])
def test_open_ground_reads_one_however_low_the_sun(latitude):
    """The horizon is cut above and below alike (`computation-notes` 1.8: .54 at 58 N was wrong)."""
    np.testing.assert_allclose(np.ones(12), near(APPLE, latitude=latitude, north=200.0), atol=1e-6)


def test_without_sun_only_the_sky_counts():
    """65 N in December: diffuse light alone, so the same on the north and the south side."""
    north, south = (near(APPLE, latitude=65.0, north=side)[DECEMBER] for side in (1.5, -1.5))

    assert north == pytest.approx(south, abs=1e-5)
    assert 0.1 < north < 0.9


def test_a_bare_crown_lets_through_more_than_one_in_leaf():
    """But less than nothing at all: branches stay."""
    bare, leafy = near(APPLE, BARE)[JUNE], near(APPLE)[JUNE]

    assert leafy + 0.2 < bare < 1


def test_above_the_crown_there_is_no_shade():
    """From inside the crown up it grows lighter, and above the top the whole sky is free."""
    heights = np.array([1.5, 3.0, 4.6])

    shares = near(APPLE, height=heights)[:, JULY]

    assert shares[0] < shares[1] < shares[2]
    assert shares[2] == pytest.approx(1.0)


def test_neighbours_darken():
    """A row takes more than a lone tree, a closed stand still more, where two crowns touch."""
    stands = [near(replace(APPLE, stand=stand), east=2.25)[JULY] for stand in ("lone", "row", "closed")]

    assert stands[0] > stands[1] + 0.05
    assert stands[1] > stands[2] + 0.02


def test_places_are_answered_all_at_once_as_one_by_one():
    """A grid larger than one batch gives what each place gives by itself."""
    east, north = np.meshgrid(np.linspace(-6, 6, 41), np.linspace(-6, 6, 37))

    grid = near(APPLE, east=east, north=north)

    assert (37, 41, 12) == grid.shape
    for row, column in ((0, 0), (18, 20), (36, 40), (30, 7)):
        alone = near(APPLE, east=east[row, column], north=north[row, column])
        np.testing.assert_allclose(alone, grid[row, column], atol=1e-5)


@pytest.mark.parametrize(("east", "north"), [(0.0, 0.8), (0.0, -2.2), (0.0, 4.0), (3.0, 0.0), (2.5, 2.5)])
def test_the_sky_is_sampled_finely_enough(monkeypatch, east, north):
    """Ten times as many directions move no month by more than 0.02."""
    usual = near(APPLE, east=east, north=north)
    monkeypatch.setattr(sun, "_SKY_BANDS", 24)
    monkeypatch.setattr(sun, "_SKY_SECTORS", 64)
    monkeypatch.setattr(sun, "_STEP_HOURS", 0.05)
    sun.sky_at.cache_clear()

    fine = near(APPLE, east=east, north=north)

    sun.sky_at.cache_clear()
    np.testing.assert_allclose(fine, usual, atol=0.02)


def test_weeks_follow_the_months():
    """Mid-month weeks have the month's value, the turn of the year lies between its neighbours."""
    monthly = near(APPLE, np.repeat([0.0, 1.0], 26), north=1.0)

    weekly = light_near_tree_weekly(APPLE, np.repeat([0.0, 1.0], 26), REFERENCE_SITE, east_m=0, north_m=1)

    np.testing.assert_array_equal(monthly_to_weekly(monthly), weekly)
    assert weekly[28] == pytest.approx(monthly[JULY], abs=0.03)
    assert min(monthly[0], monthly[11]) <= weekly[51] <= max(monthly[0], monthly[11])
    np.testing.assert_allclose(np.ones(WEEKS), monthly_to_weekly(np.ones(12)))


def test_a_ring_is_the_mean_of_its_places():
    """A side's ring lies between its darkest and lightest place, and N is darker than S."""
    ring = {
        side: ring_light(APPLE, IN_LEAF, REFERENCE_SITE, from_m=1.5, to_m=3.0, side=side)
        for side in ("N", "E", "S", "W", None)
    }

    assert ring["N"][JULY] < ring["E"][JULY] < ring["S"][JULY]
    assert ring["E"] == pytest.approx(ring["W"], abs=1e-5)
    quarters = np.mean([ring[side] for side in "NESW"], axis=0)
    np.testing.assert_allclose(quarters, ring[None], atol=0.03)
    inner, outer = near(APPLE, north=1.5)[JULY], near(APPLE, north=3.0)[JULY]
    assert min(inner, outer) <= ring["N"][JULY] <= max(inner, outer)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"crown_base_m": 4.5}, "crown base"),
        ({"crown_base_m": -0.1}, "crown base"),
        ({"crown_radius_m": 0.0}, "radius above 0"),
        ({"leaf_area_index": float("nan")}, "leaf area index"),
    ],
)
def test_a_tree_that_cannot_be_is_refused(change, words):
    """With the numbers given."""
    with pytest.raises(ValueError, match=words):
        near(replace(APPLE, **change))


@pytest.mark.parametrize(("from_m", "to_m"), [(2.0, 2.0), (3.0, 1.0), (-1.0, 1.0)])
def test_a_ring_without_ground_is_refused(from_m, to_m):
    """With the distances given."""
    with pytest.raises(ValueError, match="a ring needs 0 <= from < to"):
        ring_light(APPLE, IN_LEAF, REFERENCE_SITE, from_m=from_m, to_m=to_m)


@st.composite
def beds(draw, smallest=2):
    """Leaf areas, heights, bases, extinctions and shares of 2-6 plants over three weeks."""
    n = draw(st.integers(smallest, 6))
    leaf = np.array([[draw(st.one_of(st.just(0.0), st.floats(0.01, 8))) for _ in range(3)] for _ in range(n)])
    heights = np.array([draw(st.floats(0.1, 3)) for _ in range(n)])
    bases = heights * np.array([draw(st.floats(0, 0.9)) for _ in range(n)])
    extinctions = np.array([draw(st.floats(0.4, 0.8)) for _ in range(n)])
    shares = np.array([draw(st.floats(0.0, 1.0)) for _ in range(n)])
    return leaf, heights, bases, extinctions, shares


@given(beds(), st.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_the_order_of_plants_does_not_matter(bed, random):
    """Listed in any order, each plant gets the same light (2e-15 in the design's trial)."""
    order = list(range(len(bed[1])))
    random.shuffle(order)

    np.testing.assert_allclose(
        bed_light(*bed)[order], bed_light(*(part[order] for part in bed)), rtol=1e-13, atol=4e-15
    )


@given(beds())
@settings(max_examples=60, deadline=None)
def test_splitting_a_plant_in_two_equal_halves_changes_nothing(bed):
    """Two halves of a plant are that plant."""
    leaf, heights, bases, extinctions, shares = bed
    halved = shares.copy()
    halved[0] /= 2
    parts = (leaf, heights, bases, extinctions)

    split = bed_light(*(np.concatenate([part, part[:1]]) for part in parts), np.append(halved, halved[0]))

    np.testing.assert_allclose(bed_light(*bed), split[:-1], rtol=1e-13, atol=4e-15)
    np.testing.assert_allclose(split[0], split[-1], rtol=1e-13)


@given(beds(smallest=3))
@settings(max_examples=60, deadline=None)
def test_adding_a_plant_never_raises_anothers_light(bed):
    """With the shares of the others held."""
    without = bed_light(*(part[:-1] for part in bed))

    assert np.all(bed_light(*bed)[:-1] <= without + 1e-12)


@given(beds(smallest=1))
@settings(max_examples=60, deadline=None)
def test_clones_that_fill_the_ground_lose_nothing(bed):
    """Like with like: each gets what it gets in a stand of its own (`computation-notes` 1.11)."""
    leaf, heights, bases, extinctions, shares = bed
    n = len(shares)
    parts = (np.repeat(part[:1], n, axis=0) for part in (leaf, heights, bases, extinctions))

    relative = bed_light(*parts, (shares + 0.01) / (shares + 0.01).sum())

    np.testing.assert_allclose(np.ones((n, 3)), relative, atol=1e-13)


@given(beds())
@settings(max_examples=60, deadline=None)
def test_no_more_light_is_caught_than_comes(bed):
    """The captures of all plants sum to at most the light above, and each is at most its sole stand's."""
    leaf, _, _, extinctions, shares = bed

    relative = bed_light(*bed)
    captured = relative * shares[:, None] * (1 - np.exp(-extinctions[:, None] * leaf))

    assert np.all((relative >= 0) & (relative <= 1))
    assert np.all(captured.sum(axis=0) <= 1 + 1e-12)


def test_a_tall_plant_over_a_low_one_worked_by_hand():
    """Maize 2 m over squash 0.4 m, no leaf in common: squash gets e^(-.6 x 4 x .5) of its light.

    With half the ground each: maize above all is worth 0.5 of its leaf in one layer.
    """
    relative = bed_light(
        np.array([[4.0], [3.0]]), np.array([2.0, 0.4]), np.array([0.5, 0.0]), np.array([0.6, 0.6]),
        np.array([0.5, 0.5]),
    )  # fmt: skip

    maize = min((1 - np.exp(-1.2)) / (0.5 * (1 - np.exp(-2.4))), 1.0)
    squash = np.exp(-1.2) * (1 - np.exp(-0.9)) / (0.5 * (1 - np.exp(-1.8)))
    np.testing.assert_allclose(np.array([[maize], [squash]]), relative, rtol=1e-12)


def test_a_plant_without_leaf_height_is_refused():
    """A base above the top is named, by its place in the bed."""
    with pytest.raises(ValueError, match=r"plant 2 of the bed.*base 0.5 m, height 0.5 m"):
        bed_light(np.ones((2, 1)), np.array([1.0, 0.5]), np.array([0.0, 0.5]), np.ones(2), np.ones(2))


def test_sufficiency_counts_light_in_the_weeks_of_growth():
    """Half light, crop light 0.1 to 0.9: f = 0.5; darkness outside the season does not matter."""
    activity = np.where(np.arange(WEEKS) < 20, 1.0, 0.0)
    light_by_week = np.where(np.arange(WEEKS) < 20, 0.5, 0.0)

    assert light_sufficiency(light_by_week, activity, 0.1, 0.9) == pytest.approx(0.5)
    assert 1.0 == light_sufficiency(np.ones(WEEKS), activity, 0.1, 0.9)
    assert 0.0 == light_sufficiency(np.full(WEEKS, 0.05), activity, 0.1, 0.9)


def test_sufficiency_is_never_nan():
    """No active week gives 0; a crop light that is no range is refused."""
    assert 0.0 == light_sufficiency(np.ones(WEEKS), np.zeros(WEEKS), 0.1, 0.9)
    with pytest.raises(ValueError, match=r"\(0.4\) must be above .* \(0.5\)"):
        light_sufficiency(np.ones(WEEKS), np.ones(WEEKS), 0.5, 0.4)


def test_what_the_contract_names_is_here():
    """light.py is the one door to the light of beds, trees and sun; the mean of a ring is `ring_light`."""
    assert sorted(light.__all__) == light.__all__
    assert all(hasattr(light, name) for name in light.__all__)
