"""Tall lasting herbs beneath a tree that is picked: labour that comes every year (`trade` 4.17 d)."""

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement, Tree
from tests.mixture.base import base, shipped

ORCHARD = Tree(4.5, 2.0, 1.0, 2.5)


def beneath(tree: str, herb: str, distance_m: float) -> PairAnswer:
    under = Arrangement("under", tree=ORCHARD, distance_m=distance_m)
    return judge_pair(shipped(tree), shipped(herb), REFERENCE_SITE, under, book=base().enemy_book)


def said_of_cutting(answer: PairAnswer) -> list[str]:
    return [reason.text for reason in answer.reasons if "cut back every year to pick" in reason.text]


def test_comfrey_beneath_an_apple_is_workable_since_it_has_to_be_cut() -> None:
    """`trade` T11: a grower says "workable, cut it"; recurring labour caps (`computation-notes` 3)."""
    answer = beneath("apple", "symphytum-x-uplandicum", 2.25)

    assert answer.verdict == "workable"
    assert said_of_cutting(answer)
    assert any("beyond the crown" in condition.text for condition in answer.conditions)


@pytest.mark.parametrize(
    ("tree", "herb", "distance_m"),
    [
        ("apple", "symphytum-x-uplandicum", 3.5),  # outside the crown
        ("apple", "allium-ursinum", 1.5),  # low
        ("apple", "zea-mays", 2.0),  # of one season
        ("apple", "ribes-rubrum", 2.0),  # picked itself
        ("acer-pseudoplatanus", "symphytum-x-uplandicum", 2.0),  # nobody picks the tree
    ],
)
def test_nothing_is_said_of_others(tree: str, herb: str, distance_m: float) -> None:
    """Common practice: they are in nobody's way, or are cut by themselves."""
    assert said_of_cutting(beneath(tree, herb, distance_m)) == []
