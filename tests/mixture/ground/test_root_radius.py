"""Trees of which the radius of most roots is on record: palms, whose roots keep near the trunk."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.growth import grow, tree_at, tree_from_measure
from kb.mixture.ground.roots import (
    FOUR_FIFTHS_X,
    MOST_DRAW,
    crowding,
    draw_at,
    draw_in_ring,
    draw_of,
    planted_share,
    ring_draw,
    root_radius,
    sideways_draw,
)
from kb.mixture.profile import Profile
from kb.mixture.site import Arrangement, Site, Tree
from tests.mixture.profiles import SMALL_TREE, about
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}
COCONUT = PLANTS["cocos-nucifera"]
DISTANCES_M = np.linspace(0.3, 8, 78)
WET_MONTHS = (4, 5, 6, 7, 8, 9, 10, 11)
SITE = Site(latitude=8.0, last_frost_day=None, first_frost_day=None, wet_months=WET_MONTHS)


def palm(profile: Profile = COCONUT, height_m: float = 20.0) -> Tree:
    """A tall palm of the question in the guide (Proud 2005)."""
    tree, _ = tree_from_measure(profile, height_m=height_m, crown_radius_m=4, crown_base_m=14, stand="row")
    return tree


def test_the_curve_holds_four_fifths_where_the_record_says() -> None:
    """Coconut, grown: an effective root zone of 1.8 m (Circular Agricultural Systems 2022, article 8)."""
    tree = palm(height_m=COCONUT.height_m.likely)

    assert 0.8 == pytest.approx(float(planted_share(0, FOUR_FIFTHS_X)))
    assert 1.8 == pytest.approx(FOUR_FIFTHS_X * root_radius(tree))
    assert 0.8 == pytest.approx(float(planted_share(0, 1.8 / root_radius(tree))))


def test_a_palm_draws_hard_near_its_trunk_and_hardly_between_the_rows() -> None:
    """Its roots lie mostly within 2 m of the trunk (Reynolds 1988, FAO Paper 91, in Proud 2005)."""
    tree, by_size = palm(), replace(palm(), roots_80_m=None)
    draws = draw_of(tree, DISTANCES_M)

    assert (np.diff(draws) <= 1e-12).all()
    assert MOST_DRAW == pytest.approx(float(draws.max()), rel=0.02)
    assert float(draw_of(tree, 1.0)) >= float(draw_of(by_size, 1.0))
    assert float(draw_of(tree, 3.5)) < 0.1 < float(draw_of(by_size, 3.5))
    assert draw_in_ring(tree, 2.9, 4.1) < 0.1


def test_a_tree_without_such_a_record_draws_as_before() -> None:
    """By its crown, or by its height where it is narrow (`trade` 4.2)."""
    tree = tree_at(SMALL_TREE, None)
    x = DISTANCES_M / root_radius(tree)

    assert 1.0 == crowding(tree)
    assert sideways_draw(x) == pytest.approx(draw_of(tree, DISTANCES_M))
    assert ring_draw(1 / root_radius(tree), 2 / root_radius(tree)) == pytest.approx(draw_in_ring(tree, 1, 2))


def test_what_the_crown_uses_is_taken_from_where_the_roots_are() -> None:
    """Over all the ground a tree takes what it uses, however near its roots keep: roots of less use none."""
    near = replace(
        tree_at(SMALL_TREE, None), roots_80_m=0.9 * FOUR_FIFTHS_X * tree_at(SMALL_TREE, None).crown_radius_m
    )
    out_m = np.linspace(0.001, 20, 40001)
    whole = float(np.trapezoid(draw_of(near, out_m) * 2 * out_m, out_m)) / near.crown_radius_m**2

    assert 1.0 == pytest.approx(whole, abs=0.02)


def test_young_roots_reach_less_far_and_old_ones_no_farther_than_on_record() -> None:
    """A palm's roots start from one bole and do not move out as its stem lengthens (common practice)."""
    likely = COCONUT.height_m.likely
    young, tall = palm(height_m=0.8 * likely), palm(height_m=1.5 * likely)

    assert [0.8 * 1.8, 1.8] == pytest.approx([young.roots_80_m, tall.roots_80_m])
    assert 1.8 == pytest.approx(grow(young, COCONUT, 60).roots_80_m, rel=0.03)
    assert tree_at(replace(SMALL_TREE, root_spread_80_m=about(2.0)), None).roots_80_m == pytest.approx(2.0)


@pytest.mark.parametrize("crop", ["ananas-comosus", "zingiber-officinale", "musa-acuminata"])
def test_crops_between_tall_old_coconuts_do_well(crop: str) -> None:
    """Palms of 25 years and more are planted between, 2 m off them (Proud 2005, after Reynolds 1988)."""
    words = [
        judge_pair(
            COCONUT,
            PLANTS[crop],
            SITE,
            Arrangement("under", tree=palm(), distance_m=distance_m, side="E"),
            book=shipped()[1],
        )
        for distance_m in (1.0, 3.5)
    ]

    assert words[1].verdict in {"good", "workable"}
    assert words[0].score.likely < words[1].score.likely


def test_where_few_roots_of_a_tree_come_it_is_said_instead_of_the_depth_they_share() -> None:
    """Barley 4 m from young timber cherries meets few of their roots (common practice in alley cropping)."""
    cherry = PLANTS["prunus-avium"]
    tree, _ = tree_from_measure(cherry, height_m=4.5, crown_radius_m=1.2, crown_base_m=2, stand="row")
    texts = {
        distance_m: [
            reason.text
            for reason in judge_pair(
                cherry,
                PLANTS["hordeum-vulgare"],
                Site(latitude=48.0),
                Arrangement("under", tree=tree, distance_m=distance_m, side="E"),
                book=shipped()[1],
                draws=0,
            ).reasons
        ]
        for distance_m in (1.0, 4.0)
    }

    assert "Few roots of sweet cherry come as far out as barley stands." in texts[4.0]
    assert not any("of their root depth" in text for text in texts[4.0])
    assert not any("Few roots" in text for text in texts[1.0])


def test_one_distance_draws_as_many_do():
    """`draw_at` in plain numbers, `draw_of` in arrays: a tree by its size, and one whose roots keep close."""
    by_size = tree_at(SMALL_TREE, 12.0)
    for tree in (by_size, replace(by_size, roots_80_m=0.6 * by_size.crown_radius_m)):
        assert [draw_at(tree, float(each)) for each in DISTANCES_M] == pytest.approx(
            draw_of(tree, DISTANCES_M)
        )
