"""What hangs on the size of a tree that is known by its age alone."""

from dataclasses import replace

import pytest

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.growth import tree_at
from kb.mixture.bodies.size_doubt import moved_with, of_size, other_sizes, size_doubt
from kb.mixture.judging.planting import Member, Overhead, Planting
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import COVER, SMALL_TREE

TREE = tree_at(SMALL_TREE, 8)


def test_a_word_that_hangs_on_the_size_is_doubted():
    """Trees of one kind and age differ (`tests/reference/height_at_age.csv`): a sixth lie beyond each end."""
    sizes = other_sizes(TREE, "good")
    found = size_doubt(TREE, "good", {"smaller": "good", "larger": "poor"})

    assert sizes["smaller"].height_m < TREE.height_m < sizes["larger"].height_m

    assert found is not None
    assert ("poor",) == found.words
    assert found.share == pytest.approx(1 / 6)
    assert "by age alone; measure it" in found.note
    assert "poor if it is" in found.note


def test_a_measured_tree_and_a_word_that_stays_leave_none():
    """A measured tree is not judged again (`trade` 3.2: the site value wins)."""
    assert other_sizes(replace(TREE, by_age=False), "good") == {}
    assert other_sizes(None, "good") == {}
    assert size_doubt(None, "good", {}) is None
    assert size_doubt(TREE, "good", {"smaller": "good", "larger": "good"}) is None


def test_what_stands_at_the_edge_moves_with_it():
    """The edge of a larger crown is farther out; a distance that was said stays (common practice)."""
    larger = of_size(TREE, 2.0)

    assert moved_with(TREE, larger, TREE.crown_radius_m) == larger.crown_radius_m
    assert moved_with(TREE, larger, 0.7) == 0.7
    assert moved_with(TREE, larger, None) is None


@pytest.mark.parametrize("distance", [0.4, 1.0, 1.6, 2.2, 2.8])
def test_pairs_and_plantings_doubt_it_alike(distance):
    """`interface`: one question, one answer: a pair and a planting of the same two say the same of it."""
    site = replace(REFERENCE_SITE, moisture=4.5)
    pair = judge_pair(
        SMALL_TREE, COVER, site, Arrangement("under", share_b=1.0, distance_m=distance, tree=TREE), draws=20
    )
    planting = Planting((Member(COVER, 1.0, distance_m=distance),), site, overhead=Overhead(SMALL_TREE, TREE))
    whole = judge_planting(planting, draws=20)

    told = [[note for note in one.notes if "by age alone" in note] for one in (pair, whole)]

    assert told[0] == told[1]
    assert not told[0] or "sure" != pair.sureness.word
