"""Crops with two times of sowing: a named week chooses, a follow-on takes the one whose turn comes first.

Dates are of invented crops shaped on wheat: winter wheat is sown from late September to November, spring
wheat in March and April, both cut in August (FAO Irrigation and Drainage Paper 56, table 11, lists a crop of
October and one of March and April).
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.answers.succession import judge_follow
from kb.mixture.follow.grown_after import FollowOn, following_crop
from kb.mixture.judging.planting import Member, Planting
from kb.mixture.lists.candidates import rank_candidates
from kb.mixture.profile import Sown
from kb.mixture.season import WEEKS
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from kb.mixture.weeks.as_grown import as_sown, every_sowing, growth_by_week
from kb.mixture.weeks.sowing import sowings_note
from tests.mixture.judged import bed
from tests.mixture.profiles import chosen, invented, lasting, season

SPRING = season(13, 19, 28, 33, records=("record:corn.spring",))
AUTUMN = season(41, 16, 27, 33, records=("record:corn.autumn",))
CORN = invented(
    "corn-crop", activity=SPRING, leaf=SPRING, tender=chosen("no"), sowings=(Sown(AUTUMN, AUTUMN),)
)
ONLY_SPRING = replace(CORN, sowings=())
OTHER = lasting("other")
FIRST = invented("first-crop", activity=season(17, 22, 32, 38), tender=chosen("no"))


def test_a_crop_sown_in_its_other_season_is_not_refused_as_out_of_season() -> None:
    """Wheat of week 41 is winter wheat; a crop of the spring alone would grow through the cold."""
    assert "good" == bed(CORN, OTHER, sow_week_a=41).verdict
    assert "avoid" == bed(ONLY_SPRING, OTHER, sow_week_a=41).verdict


@pytest.mark.parametrize(("week", "chosen_year"), [(9, SPRING), (15, SPRING), (38, AUTUMN), (45, AUTUMN)])
def test_the_nearest_time_of_sowing_is_meant(week: int, chosen_year: object) -> None:
    assert chosen_year == as_sown(CORN, REFERENCE_SITE, week).activity


def test_half_a_year_away_the_same_weeks_are_the_same_crop() -> None:
    """In the south winter wheat is sown in April to June: week 15 is autumn there."""
    south = Site(latitude=-38.0, last_frost_day=270.0, first_frost_day=120.0)

    assert AUTUMN == as_sown(CORN, south, 16).activity
    assert SPRING == as_sown(CORN, south, 38).activity


def test_without_a_week_it_is_the_usual_crop_and_the_answer_says_so() -> None:
    answer = bed(CORN, OTHER)

    assert CORN is as_sown(CORN, REFERENCE_SITE, None)
    assert any("it is also sown from about week 41" in note for note in answer.notes)
    assert sowings_note(ONLY_SPRING, REFERENCE_SITE) is None


def test_a_planting_and_a_list_see_the_same_crop_as_a_pair() -> None:
    """One season for all questions: the words of pair, list and planting are those of the crop of week 41."""
    pair = bed(OTHER, CORN, sow_week_b=41)
    listed = rank_candidates(
        OTHER, (CORN,), REFERENCE_SITE, Arrangement(share_a=0.5, share_b=0.5, sow_week_b=41)
    )
    planting = judge_planting(Planting((Member(OTHER, 0.5), Member(CORN, 0.5, sow_week=41)), REFERENCE_SITE))

    assert pair.verdict == listed[0].verdict == planting.verdict
    assert pair.score == listed[0].score


def test_after_a_crop_of_summer_the_autumn_sowing_follows() -> None:
    """Winter wheat after potatoes or beans lifted in September: the commonest step of a rotation."""
    follows = following_crop(FIRST, CORN, REFERENCE_SITE, FollowOn())
    answer = judge_follow(FIRST, CORN, REFERENCE_SITE, FollowOn())

    assert AUTUMN == follows.activity
    assert "good" == answer.verdict
    assert any("judged as the crop that is sown from about week 41" in note for note in answer.notes)


def test_a_named_week_or_whole_years_between_keep_their_meaning() -> None:
    early = FollowOn(clear_week_a=10, sow_week_b=12)

    assert SPRING == following_crop(FIRST, CORN, REFERENCE_SITE, early).activity
    assert SPRING == following_crop(FIRST, CORN, REFERENCE_SITE, FollowOn(gap_years=2)).activity
    assert AUTUMN == following_crop(FIRST, CORN, REFERENCE_SITE, FollowOn(gap_weeks=4)).activity


@given(st.integers(1, 52), st.integers(0, 1))
def test_choosing_never_makes_or_loses_a_time_of_sowing(week: int, first: int) -> None:
    """Whichever stands first, the same set of years is left, and the same one is chosen for a week."""
    begun = every_sowing(CORN)[first]
    found = as_sown(begun, REFERENCE_SITE, week)

    assert {SPRING, AUTUMN} == {found.activity, *(sown.activity for sown in found.sowings)}
    assert found.activity == as_sown(CORN, REFERENCE_SITE, week).activity


@given(st.integers(1, WEEKS))
def test_a_named_week_is_when_it_starts(week: int) -> None:
    """Whichever crop is meant, it begins in the week that was said."""
    course = growth_by_week(as_sown(CORN, REFERENCE_SITE, week), REFERENCE_SITE, sow_week=week)
    begins = [after for before, after in pairwise((*range(WEEKS), 0)) if not course[before] and course[after]]

    assert [week - 1] == begins
    assert np.isfinite(course).all()
