"""Hedges that nobody cuts: the stronger grows out of the weaker."""

from dataclasses import replace

import pytest

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.uncut_hedge import OUTGROWN, even_row, height_at
from kb.mixture.judging.planting import Member, Planting
from kb.mixture.profile import Profile
from kb.mixture.results import Condition
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import about, chosen, lasting, woody

TALL, LOW = woody("tall-shrub", "shrub", 6.0), woody("low-shrub", "shrub", 4.5)
TREE = woody("row-tree", "tree", 15.0)


def asked(a: Profile, b: Profile, **changes) -> list[Condition]:
    """What the answer says of cutting."""
    answer = judge_pair(a, b, REFERENCE_SITE, Arrangement("hedge", 0.5, 0.5, **changes), draws=0)
    return [found for found in answer.conditions if found.given == "pruned"]


def test_an_uncut_hedge_of_unequal_kinds_is_a_condition() -> None:
    """Elder in a thorn hedge (hedge-laying manuals: what outgrows the thorn leaves gaps, cutting holds it).

    Taken for granted and said; said to be done, it is met.
    """
    (free,), (cut,) = asked(TALL, LOW), asked(TALL, LOW, given=frozenset({"pruned"}))

    assert ("the hedge is cut every year", None, True) == (free.text, free.met, cut.met)
    assert ("good", "workable") == (free.verdict_if_met, free.verdict_if_unmet)


@pytest.mark.parametrize(
    "other",
    [replace(LOW, height_m=about(5.5)), replace(LOW, height_m=about(4.5, "form")), lasting("a-herb")],
    ids=["as tall", "of unknown height", "a herb"],
)
def test_equals_and_herbs_ask_for_no_cutting(other: Profile) -> None:
    """Nothing outgrows its like (hedge-laying manuals); what is not on record is not held against a hedge."""
    assert [] == asked(TALL, other)


def test_a_forest_tree_left_to_grow_shades_the_hedge_out() -> None:
    """Sycamore, ash or beech in thorn (hedge-laying manuals: neglected hedges turn into lines of trees).

    Poor uncut; cut, it stands as any other kind does, since no pace of single kinds is on record.
    """
    (free,) = asked(woody("forest-tree", "tree", 30.0), LOW)

    assert ("good", "poor") == (free.verdict_if_met, free.verdict_if_unmet)


def test_a_tree_is_slow_at_first_and_outgrows_a_shrub_later() -> None:
    """Planted trees of known age (McPherson et al. 2016): a tree is slow at first."""
    early, late = ((height_at(TREE, years), height_at(LOW, years)) for years in (3, 20))

    assert early[0] / early[1] < OUTGROWN < late[0] / late[1]
    assert asked(TREE, LOW)
    assert not asked(replace(TREE, growth_form=chosen(None)), LOW)


def test_a_row_of_kinds_alike_in_vigour_opens_with_that() -> None:
    """Hawthorn and hazel keep pace (hedge-laying manuals): no depth of roots makes a hedge good."""
    alike = replace(LOW, id="alike", name="alike", height_m=about(4.8), family=chosen("Alikeae"))
    answer = judge_pair(LOW, alike, REFERENCE_SITE, Arrangement("hedge", share_a=0.5, share_b=0.5))

    assert answer.saying.partition(". ")[2].casefold().startswith("alike and low shrub are alike in vigour")
    assert even_row(LOW, TALL) is None
    assert even_row(LOW, replace(alike, height_m=about(4.8, "form"))) is None


def test_what_is_asked_for_two_reasons_is_said_once() -> None:
    """A rose in the row and unequal shrubs both ask for yearly cutting: one line (style: say it once)."""
    rose = woody(
        "rose", "shrub", 2.0, support_mode=chosen("scrambler"), reach_m=about(3.0), family=chosen("Roseae")
    )
    members = tuple(Member(plant, 0.3) for plant in (TALL, LOW, rose))
    answer = judge_planting(Planting(members, REFERENCE_SITE, frozenset(), setting="hedge"), draws=0)

    assert 1 == sum("cut every year" in condition.text for condition in answer.conditions)
