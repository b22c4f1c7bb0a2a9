"""The ground round a tree against the balance of FAO-56: drier than open ground, as far as energy goes."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.growth import tree_at
from kb.mixture.ground.crown_ground import MOST_DRAW, crown_ground
from kb.mixture.ground.share import INTERCEPTION, IRRIGATED
from kb.mixture.ground.water import scarcity_by_week, scarcity_drawn
from kb.mixture.sharing.place import open_soil, place_for
from kb.mixture.site import REFERENCE_SITE, Arrangement, Tree
from tests.mixture.profiles import SMALL_TREE
from tests.mixture.real import shipped

LEAF = np.where((np.arange(52) >= 16) & (np.arange(52) < 44), 1.0, 0.0)
SUMMER = slice(22, 40)
NOBODY: frozenset[str] = frozenset()


def left(draw: float, light: float, *, beneath: bool = False, given: frozenset[str] = NOBODY) -> np.ndarray:
    """Share of the open ground's water that is left, week by week."""
    supply = open_soil(REFERENCE_SITE, fine=False, given=given)
    ground = crown_ground(
        REFERENCE_SITE, draw=draw, leaf=LEAF, light=np.where(LEAF > 0, light, 1.0), beneath=beneath
    )
    return ground.leaves(supply, given).water[0] / supply.water[0]


def test_one_cover_draws_as_open_ground_does() -> None:
    """The open site is followed under one short full cover (FAO-56 eq. 82-88): the same draw and water."""
    assert scarcity_by_week(REFERENCE_SITE) == pytest.approx(
        scarcity_drawn(REFERENCE_SITE, np.ones(52)), abs=1e-12
    )


def test_two_covers_leave_less_and_no_more_than_energy_allows() -> None:
    """More draw never leaves more; beyond Kc max (FAO-56 eq. 72) none is drawn, so that it levels off."""
    courses = [left(draw, 0.4) for draw in (0.2, 0.5, 0.8, 1.5)]
    for more, less in pairwise(courses):
        assert np.all(less <= more + 1e-12)
    assert courses[0][SUMMER].mean() > courses[2][SUMMER].mean()
    assert courses[2] == pytest.approx(courses[3])
    assert MOST_DRAW == 1.2
    assert 0.75 < courses[3][SUMMER].min() < 1.0


def test_beneath_the_crown_the_rain_it_keeps_is_missing_too() -> None:
    """`computation-notes` 1.6: interception, inside the crown alone."""
    outside, beneath = left(0.5, 0.6), left(0.5, 0.6, beneath=True)
    assert outside * (1 - INTERCEPTION * LEAF) == pytest.approx(beneath)


def test_watering_makes_up_for_what_the_tree_has_drawn() -> None:
    """On watered ground no week is scarcer than a third, under a tree as in the open (`share`)."""
    assert np.all(left(0.8, 0.4, given=frozenset({IRRIGATED})) >= left(0.8, 0.4) - 1e-12)


def test_asking_again_with_water_is_what_the_condition_promised() -> None:
    """What is promised with water is what asking again with it gives, under a tree too (house rule)."""
    profiles, book = shipped()
    found = {profile.id: profile for profile in profiles}
    here = Arrangement("under", tree=Tree(20.0, 4.3, 6.0, 4.9), distance_m=4.0)
    dry, wet = (
        judge_pair(
            found["acer-saccharinum"],
            found["lactuca-sativa"],
            REFERENCE_SITE,
            replace(here, given=given),
            draws=0,
            book=book,
        )
        for given in (NOBODY, frozenset({IRRIGATED}))
    )
    promised = [c.verdict_if_met for c in dry.conditions if c.given == IRRIGATED]

    assert promised
    assert {wet.verdict} == set(promised)


def test_all_sides_of_a_ring_share_one_store() -> None:
    """The ring is planted all round: the side that is asked for moves the light and not the soil's store."""
    tree = tree_at(SMALL_TREE, None)
    north, whole = (
        place_for(SMALL_TREE, REFERENCE_SITE, Arrangement("under", tree=tree, distance_m=1.2, side=side))
        for side in ("N", None)
    )
    assert np.array_equal(north.coarse.here.water, whole.coarse.here.water)
