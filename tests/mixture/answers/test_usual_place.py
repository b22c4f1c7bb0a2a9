"""Under a tree without a distance: where a plant is taken to stand, and the word nearer the trunk."""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.results import PairAnswer
from kb.mixture.sharing.place import AT_TRUNK_M, place_for, usual_distance
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import EVERGREEN, SMALL_TREE, SMALL_TREE_HERE, about, invented

DENSE = replace(SMALL_TREE_HERE, leaf_area_index=6.0)
DARK_TREE = replace(SMALL_TREE, leaf=EVERGREEN)
SUN = invented("sun", light_to_crop_zero=about(0.3), light_to_crop_full=about(0.75), water_use=about(0.3))


def told(light_full: float) -> tuple[PairAnswer, PairAnswer]:
    """The answer at the crown edge, and with what the ground nearer the trunk says."""
    plant = replace(SUN, light_to_crop_zero=about(0.6 * light_full), light_to_crop_full=about(light_full))
    given = frozenset({"irrigated", "fed"})
    arrangement = Arrangement("under", tree=DENSE, distance_m=DENSE.crown_radius_m, given=given)
    asked = (DARK_TREE, plant, REFERENCE_SITE, arrangement)
    return judge_pair(*asked, draws=0), judge_pair(*asked, draws=0, at_edge=True)


def test_a_darker_word_nearer_the_trunk_is_said():
    """`trade` J1: an answer that ignores distance fails; the light of 4.4 falls towards the trunk."""
    edge, both = told(0.7)

    assert both.verdict == edge.verdict
    assert both.saying.startswith(edge.saying)
    assert "crown edge, 2.2 m from the trunk" in both.saying
    assert "halfway to it, at 1.1 m, the word is" in both.saying


def test_nothing_is_added_where_the_word_is_the_same():
    """`style`: no sentence that tells nothing."""
    edge, both = told(0.05)

    assert both == edge


def test_under_touching_crowns_there_is_no_edge():
    """`trade` 4.4 reads its closed beech wood at 3 m of 6.5; a wood's floor is under crowns."""
    distance_m, where = usual_distance(replace(SMALL_TREE_HERE, stand="closed"))

    assert distance_m == pytest.approx(0.5 * SMALL_TREE_HERE.crown_radius_m)
    assert "crowns touch" in where


def test_what_climbs_by_its_roots_stands_at_the_trunk():
    """Common practice: pepper is set at the foot of its post; its roots run out under the post's crown."""
    at_trunk = Arrangement("under", tree=SMALL_TREE_HERE, at_trunk=True, share_b=0.4)
    place = place_for(SMALL_TREE, REFERENCE_SITE, at_trunk)

    assert (place.from_m, place.to_m) == (0.0, SMALL_TREE_HERE.crown_radius_m)
    assert place.at_m == AT_TRUNK_M
    assert place.share_b == 0.4
    edge = place_for(SMALL_TREE, REFERENCE_SITE, Arrangement("under", tree=SMALL_TREE_HERE))
    assert place.light is not None
    assert edge.light is not None
    assert place.light(0.5).mean() < edge.light(0.5).mean()


def test_the_place_without_a_distance_is_the_one_that_is_said():
    """`interface`: every default made visible."""
    place = place_for(SMALL_TREE, REFERENCE_SITE, Arrangement("under", tree=SMALL_TREE_HERE))

    assert (place.from_m, place.to_m) == pytest.approx((1.65, 2.85))
    assert any("the edge of the crown, 2.2 m" in note for note in place.notes)
