"""A lasting plant set on the ground of another: replant trouble, and the week in which it is planted.

Expectations: Browne et al. 2013, California Agriculture 67(3): 128-138 (replant disease of almond and stone
fruit); PNW Plant Disease Management Handbook, Cherry and Apple - Replant Disease.
"""

import pytest

from kb.mixture.answers.succession import judge_follow
from kb.mixture.follow.grown_after import FollowOn
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}


def follows(first: str, then: str, **asked: object) -> PairAnswer:
    said = FollowOn(**asked)  # type: ignore[arg-type]
    return judge_follow(PLANTS[first], PLANTS[then], REFERENCE_SITE, said, book=shipped()[1], draws=0)


@pytest.mark.parametrize("weeks", [{}, {"clear_week_a": 44, "sow_week_b": 48}])
@pytest.mark.parametrize(
    ("first", "then"),
    [
        ("prunus-domestica", "prunus-avium"),
        ("prunus-persica", "prunus-armeniaca"),
        ("prunus-avium", "prunus-avium"),
        ("malus-domestica", "pyrus-communis"),
    ],
)
def test_replant_trouble_is_said_with_and_without_a_week(
    first: str, then: str, weeks: dict[str, int]
) -> None:
    """In the same hole the same winter it grows poorly; fresh soil or another place is the way out."""
    said = follows(first, then, **weeks)

    assert said.verdict in {"poor", "avoid"}
    assert "replant disease" in said.saying
    assert any("fresh soil" in one.text for one in said.conditions)


def test_a_tree_of_another_family_has_no_such_trouble() -> None:
    """A walnut where a plum stood shares no replant disease with it."""
    said = follows("prunus-domestica", "juglans-regia", clear_week_a=44, sow_week_b=48)

    assert not any("replant" in reason.text for reason in said.reasons)


def test_the_week_of_planting_is_told_and_counts() -> None:
    """It says how long the ground is free: planted before the first is cleared it is too soon."""
    later, before = (
        follows("juglans-regia", "prunus-avium", clear_week_a=44, sow_week_b=week) for week in (48, 42)
    )

    assert any("planted 4 weeks later" in reason.text for reason in later.reasons)
    assert any("lasts for years: its week" in note for note in later.notes)
    assert ("poor", "season") == (before.verdict, before.limiting.kind if before.limiting else None)
