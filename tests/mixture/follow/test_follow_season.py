"""When the second crop starts and how far it gets: young plants, early sowings, frost, years between."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture.answers.succession import judge_follow
from kb.mixture.follow.grown_after import FollowOn, timing
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.weeks.finishing import unfinished
from tests.mixture.follow.test_grown_after import FIRST, THEN, after
from tests.mixture.profiles import about, chosen, season

LEEKY = replace(THEN, id="leeky-crop", activity=season(17, 25, 43, 50), raising=chosen("planted-out", "r"))
"""A hardy crop of 33 weeks, like leeks in the ground from late April to December."""


def test_a_crop_of_the_seed_bed_is_set_out_as_young_plants() -> None:
    """`trade` 5.3, worked plan: leeks planted on 8 July (week 28) after a crop of the spring are good."""
    planted = after(b=LEEKY, sow_week_b=28, clear_week_a=27)
    sown = after(b=replace(LEEKY, raising=chosen("in-place")), sow_week_b=28, clear_week_a=27)

    assert "good" == planted.verdict
    assert any("set out as young plants" in reason.text for reason in planted.reasons)
    assert planted.loss[LEEKY.id].all < 0.1 < sown.loss[LEEKY.id].all
    assert not any("young plants" in reason.text for reason in sown.reasons)


@pytest.mark.parametrize(("week", "weeks_old"), [(16, 0.0), (20, 3.0), (26, 9.0), (30, 10.0), (51, 0.0)])
def test_young_plants_are_as_old_as_the_season_that_is_gone(week: float, weeks_old: float) -> None:
    """Up to ten weeks (leeks are set out 10 to 15 weeks old: common practice); out of season it is sown."""
    time = timing(FIRST, LEEKY, REFERENCE_SITE, FollowOn(sow_week_b=week))

    assert weeks_old == time.raised_weeks


WINTER = replace(THEN, id="winter-crop", activity=season(38, 44, 20, 30), tender=chosen("no"))
"""A hardy crop of 44 weeks, like rye from September to July."""
SUMMER = replace(
    LEEKY, id="summer-crop", activity=season(22, 28, 37, 42, end_driver="autumn-frost"), tender=chosen("yes")
)
"""A tender crop that is set out in late May and lives until the frosts, like tomatoes."""


@pytest.mark.parametrize("week", [33, 36, 37])
def test_a_start_shortly_before_the_season_is_early_and_loses_nothing(week: int) -> None:
    """Rape, rye and vetches are sown a month before and after the usual week: common practice."""
    asked = FollowOn(clear_week_a=30, sow_week_b=week)

    assert "good" == judge_follow(FIRST, WINTER, REFERENCE_SITE, asked).verdict
    assert 0.0 == timing(FIRST, WINTER, REFERENCE_SITE, asked).lost


MILD = replace(REFERENCE_SITE, latitude=38.0, last_frost_day=51.0, first_frost_day=339.0)
"""Frost from 5 December to 20 February, as near the coasts of the Mediterranean."""


@pytest.mark.parametrize("week", range(36, 53, 2))
def test_a_cereal_of_a_mild_autumn_loses_little_in_any_week(week: int) -> None:
    """October to December round the Mediterranean: common practice. It was lost by 85 % in November."""
    cereal = replace(WINTER, activity=season(41, 20, 31, 36))

    assert timing(FIRST, cereal, MILD, FollowOn(clear_week_a=34, sow_week_b=week)).lost < 0.1


def test_no_week_of_the_growing_season_costs_a_winter_crop_much_more_than_the_week_before() -> None:
    """A week of delay costs a week of growth: of 44 weeks no more than a tenth (by the length alone)."""
    lost = [
        timing(FIRST, WINTER, MILD, FollowOn(sow_week_b=week)).lost
        for week in (*range(36, 53), *range(1, 20))
    ]

    assert max(later - sooner for sooner, later in pairwise(lost)) < 0.1


def test_a_start_in_spring_is_late_for_a_winter_crop() -> None:
    """Rye sown in April for the harvest of July has lost most of its season: common practice."""
    assert timing(FIRST, WINTER, REFERENCE_SITE, FollowOn(sow_week_b=15)).lost > 0.4


@given(st.integers(1, 6))
def test_early_by_some_weeks_never_loses_the_season(weeks: int) -> None:
    """By definition: the weeks before a season are not the end of the one before."""
    for crop in (WINTER, LEEKY, SUMMER):
        start = (round(crop.activity.start) - weeks - 1) % 52 + 1
        assert 0.0 == timing(FIRST, crop, REFERENCE_SITE, FollowOn(sow_week_b=start)).lost


@pytest.mark.parametrize(
    ("week", "verdict", "word"),
    [(12, "avoid", "killing frost"), (20, "workable", "killing frost"), (22, "good", "keeps its season")],
)
def test_a_week_before_the_last_frost_is_held_against_it(week: int, verdict: str, word: str) -> None:
    """Last frost 10 May, spread 10 days: planted out not before 23 May (`trade` 5.3, worked plan)."""
    said = after(b=SUMMER, clear_week_a=8, sow_week_b=week)

    assert verdict == said.verdict
    assert any(word in reason.text for reason in said.reasons)
    if verdict != "good":
        assert not any("keeps its season" in reason.text for reason in said.reasons)
        assert [("season", "good")] == [(one.kind, one.verdict_if_met) for one in said.conditions]


@pytest.mark.parametrize(("week", "verdict"), [(30, "workable"), (34, "avoid"), (44, "avoid"), (50, "avoid")])
def test_a_tender_crop_set_out_late_is_no_older_for_it(week: int, verdict: str) -> None:
    """Young tomatoes are 8 weeks old in May and in August; 15 October ends both: common practice."""
    said = after(b=SUMMER, clear_week_a=29, sow_week_b=week)

    assert verdict == said.verdict
    assert 0.0 == timing(FIRST, SUMMER, REFERENCE_SITE, FollowOn(sow_week_b=week)).raised_weeks


def test_in_its_own_weeks_it_would_do_well() -> None:
    """What lifts the frost of autumn gives the season back too: the two words agree."""
    said = after(b=SUMMER, clear_week_a=29, sow_week_b=34)

    assert [("good", True)] == [
        (one.verdict_if_met, "starts in its own weeks, from week 22" in one.text) for one in said.conditions
    ]


def test_what_cannot_complete_before_the_frost_starts_next_year() -> None:
    """Ground free in week 29: a tomato waits for May (`trade` 5.3: tender, out by the first frost)."""
    said = after(b=SUMMER, clear_week_a=29)

    assert "good" == said.verdict
    assert any("starts in week 22 of the next year" in reason.text for reason in said.reasons)


@pytest.mark.parametrize("clear", [16, 17, 18, 40])
def test_years_between_move_the_start_and_free_the_ground(clear: int) -> None:
    """Cleared in the very week in which the second starts, three years on: the ground has long been free."""
    said = after(b=LEEKY, clear_week_a=clear, gap_years=3)
    time = timing(FIRST, LEEKY, REFERENCE_SITE, FollowOn(clear_week_a=clear, gap_years=3))

    assert "good" == said.verdict
    assert time.gap_weeks is not None
    assert 3 * 52 <= time.gap_weeks < 4 * 52 + 1


def test_a_promise_of_years_is_kept() -> None:
    """Kin, and the first cleared in the week of the second: what three years promise they give."""
    kin = replace(THEN, family=FIRST.family)
    said = after(b=kin, clear_week_a=20, sow_week_b=21)
    asked = after(b=kin, clear_week_a=20, gap_years=3)

    assert [asked.verdict] == [one.verdict_if_met for one in said.conditions if one.kind == "family"]
    assert "good" == asked.verdict


def test_one_year_is_not_years() -> None:
    """Words and numbers agree."""
    assert any("comes 1 year after" in reason.text for reason in after(gap_years=1).reasons)


def test_pots_keep_no_plant_for_more_than_half_its_season() -> None:
    """A crop of eight weeks is at most four weeks old when it is set out: common practice with lettuce."""
    quick = replace(LEEKY, activity=season(20, 23, 26, 28))

    assert 4.0 == timing(FIRST, quick, REFERENCE_SITE, FollowOn(sow_week_b=26)).raised_weeks


def test_where_the_base_cannot_say_how_it_is_raised_the_answer_does() -> None:
    """Not knowing is told (`trade` 4.14), and counts as sown."""
    unknown = replace(LEEKY, raising=chosen(None))
    said, sown = (
        after(b=each, sow_week_b=30) for each in (unknown, replace(LEEKY, raising=chosen("in-place")))
    )

    assert any("is not on record: it is taken as sown" in note for note in said.notes)
    assert said.loss[LEEKY.id] == sown.loss[LEEKY.id]
    assert not any("taken as sown" in note for note in sown.notes)


def test_a_crop_follows_in_its_own_season_where_it_can_complete_it() -> None:
    """Ground free at week 28, a hardy crop of 20 to 40: the week after the turn, not next year's 20."""
    time = timing(FIRST, replace(LEEKY, activity=season(24, 28, 40, 44)), REFERENCE_SITE, FollowOn())
    late = timing(FIRST, LEEKY, REFERENCE_SITE, FollowOn(clear_week_a=45))

    assert (28.0, 29.0, True) == (time.clear_week, time.start_week, time.in_season)
    assert time.lost < 0.05
    assert (17.0, False) == (late.start_week, late.in_season)
    assert "in week 17 of the next year" in after(b=LEEKY, clear_week_a=45).reasons[-1].text


@given(st.integers(1, 52), st.floats(1, 52), st.floats(4, 40), st.sampled_from(["planted-out", "in-place"]))
def test_the_week_chosen_is_free_in_season_and_completed(
    clear: int, first: float, weeks: float, raising: str
) -> None:
    """By definition: after the turn of the ground, less than its length after its start, hardly a loss."""
    activity = season(first, *((first + part * weeks - 1) % 52 + 1 for part in (0.25, 0.8, 1.0)))
    crop = replace(LEEKY, activity=activity, raising=chosen(raising))
    time = timing(FIRST, crop, REFERENCE_SITE, FollowOn(clear_week_a=clear))

    if time.in_season:
        assert time.gap_weeks is not None
        assert 3 / 7 <= time.gap_weeks <= 2
        assert time.lost < 0.05


def test_a_tender_crop_that_waits_for_the_frosts_is_told() -> None:
    """Nobody named its week, so the one taken is said with its risk (`trade` 5.3: 10 %)."""
    early = replace(THEN, activity=season(12, 18, 30, 36), tender=chosen("yes"))
    usual, stated = after(b=early, clear_week_a=45), after(b=early, clear_week_a=45, sow_week_b=12)

    assert any("from week 19 (not from week 12" in note for note in usual.notes)
    assert not any("growing from week" in note for note in stated.notes)


@pytest.mark.parametrize(
    ("use", "words"),
    [("harvested", "leaves the ground about"), ("dug-in", "is dug in about"), ("mown", "is mown down about")],
)
def test_how_the_first_ends_is_said(use: str, words: str) -> None:
    """A green manure is dug in, it does not leave: common practice."""
    said = after(b=LEEKY, use_a=use)

    assert any(words in reason.text for reason in said.reasons)


@pytest.mark.parametrize("week", range(14, 34, 2))
def test_what_follows_loses_no_less_than_in_a_bed(week: int) -> None:
    """One crop, one week, one loss: growth goes with the light of its weeks (Monteith 1977, `finishing`)."""
    crop = replace(THEN, id="known-crop", activity=season(14, 20, 30, 36), cycle_days=about(120))
    in_bed = unfinished(crop, REFERENCE_SITE, week)
    time = timing(FIRST, crop, REFERENCE_SITE, FollowOn(clear_week_a=week - 1, sow_week_b=week))

    assert time.lost >= (0.0 if in_bed is None else in_bed.lost)


def test_weeks_of_autumn_bring_less_than_weeks_of_summer() -> None:
    """Twelve weeks from mid-July end in October: a third and more of June's light is missing by then."""
    crop = replace(THEN, id="known-crop", activity=season(16, 20, 28, 32), cycle_days=about(84))
    plain = replace(crop, id="unknown-crop", cycle_days=None)
    lost = [
        timing(FIRST, one, REFERENCE_SITE, FollowOn(clear_week_a=28, sow_week_b=29)).lost
        for one in (crop, plain)
    ]

    assert lost[0] > lost[1] + 0.05
