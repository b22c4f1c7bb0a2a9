"""Sowing weeks against the frosts and the cold of a place."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from kb.mixture.follow.grown_after import FollowOn, timing
from kb.mixture.judging.crowd import year_at
from kb.mixture.limits import ceiling_of
from kb.mixture.season import WEEKS, activity_by_week
from kb.mixture.sharing.place import place_in_bed
from kb.mixture.sharing.subject import prepare
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.weeks.as_grown import growth_by_week, leaf_by_week, start_day, waits_days
from kb.mixture.weeks.cold_weeks import cold_tubers
from kb.mixture.weeks.sowing import course_limits, frost_risk, sowing_note
from kb.mixture.weeks.sown_week import Put
from tests.mixture.base import shipped
from tests.mixture.judged import HALVES, bed
from tests.mixture.profiles import chosen, invented, lasting, season

TENDER = invented(
    "tender-crop",
    activity=season(19, 25, 34, 39),
    leaf=season(19, 25, 34, 39),
    tender=chosen("yes", "record:tender"),
)
HARDY = invented("hardy-crop", tender=chosen("no"))
OTHER = lasting("other")


def test_the_share_of_years_is_that_of_the_normal_distribution():
    """Sown at the start of week 17, up two weeks later, on day 126: last frost 130, SD 10.

    Against scipy's normal distribution: P(frost after day 126.3).
    """
    activity = activity_by_week(TENDER.activity, REFERENCE_SITE, sow_week=17)

    risk = frost_risk(activity, REFERENCE_SITE)

    assert risk is not None
    up = 16 * 365 / 52 + 14
    assert risk.spring == pytest.approx(norm.sf(up, 130, 10), abs=1e-6)


def test_a_tender_crop_sown_before_the_frosts_are_over_is_refused():
    """Week 12: a killing frost in nearly every year; week 18: about 1 year in 4; week 20 is as usual."""
    early, later, usual = (bed(TENDER, OTHER, sow_week_a=week) for week in (12, 18, 20))

    assert "avoid" == early.verdict
    assert early.limiting is not None
    assert "nearly every year" in early.limiting.text
    assert "season" == early.limiting.kind
    assert "workable" == later.verdict
    assert "good" == usual.verdict


def test_a_tender_crop_sown_too_late_is_ended_by_frost():
    """Sown in week 36 most of its season lies behind the first frost of mid October."""
    answer = bed(TENDER, OTHER, sow_week_a=36)

    assert "avoid" == answer.verdict
    assert answer.limiting is not None
    assert "first frost ends" in answer.limiting.text


def test_a_hardy_crop_does_not_grow_in_the_cold():
    """Sown in week 46 it would have to grow through winter, far from its usual weeks from 16."""
    answer = bed(HARDY, OTHER, sow_week_a=46)

    assert "avoid" == answer.verdict
    assert answer.limiting is not None
    assert "sown in week 46, would" in answer.limiting.text
    assert "too cold" in answer.limiting.text
    assert "good" == bed(HARDY, OTHER, sow_week_a=18).verdict


def test_a_short_summer_leaves_too_little_season():
    """Frost from 1 June to 20 August leaves a quarter of it; from 24 May to 17 September six tenths."""
    shortest = replace(REFERENCE_SITE, last_frost_day=152, first_frost_day=232)
    shorter = replace(REFERENCE_SITE, last_frost_day=144, first_frost_day=260)

    refused, held = (bed(TENDER, OTHER, site=site) for site in (shortest, shorter))

    assert "avoid" == refused.verdict
    assert refused.limiting is not None
    assert "of the season in which it ripens" in refused.limiting.text
    assert "workable" == held.verdict
    unmoved = replace(HARDY, activity=replace(HARDY.activity, end_driver="fixed"))
    assert "good" == bed(unmoved, OTHER, site=shorter).verdict


def test_the_usual_weeks_are_told_not_judged():
    """What growers do is no fault: the frosts it meets stand in a note, with their spread."""
    usual = bed(TENDER, OTHER)

    assert "good" == usual.verdict
    assert any("in ten" in note and "10 days either way" in note for note in usual.notes)
    free = replace(REFERENCE_SITE, last_frost_day=None, first_frost_day=None)
    assert sowing_note(TENDER, activity_by_week(TENDER.activity, free), free) is None


EARLY = replace(TENDER, activity=season(13, 19, 30, 36), leaf=season(14, 19, 30, 36))
"""A window from where the frosts end six weeks sooner."""


def test_a_tender_crop_waits_for_the_frosts():
    """`trade` 5.3: the 10 % risk is mean + 1.28 SD (scipy); up 14 days after it is sown. 130 + 12.8 - 14.

    Its 23 weeks are kept up to the first frost (day 288): 18.4 weeks on it would end in week 42.4.
    """
    safe = norm.isf(0.1, 130, 10) - 14

    assert safe == pytest.approx(start_day(EARLY, REFERENCE_SITE))
    usual = growth_by_week(EARLY, REFERENCE_SITE)
    assert [19, 42] == [int(np.flatnonzero(usual)[0]) + 1, int(np.flatnonzero(usual)[-1]) + 1]
    assert int(np.flatnonzero(leaf_by_week(EARLY, REFERENCE_SITE))[0]) + 1 == 20
    risk = frost_risk(usual, REFERENCE_SITE, sown_day=start_day(EARLY, REFERENCE_SITE))
    assert risk is not None
    assert risk.spring == pytest.approx(0.1)


def test_its_end_stops_at_the_first_frost_or_at_its_own():
    """Seven weeks later, to week 41 would be to 48: it ends on day 288 (week 42.03); one to 45 ends at 45."""
    ends = []
    for end in (41, 45):
        late = replace(EARLY, activity=season(12, 19, 34, end))
        ends.append(int(np.flatnonzero(growth_by_week(late, REFERENCE_SITE))[-1]) + 1)

    assert [42, 44] == ends


@pytest.mark.parametrize(
    "unmoved",
    [
        replace(EARLY, tender=chosen("no")),
        replace(EARLY, tender=chosen(None)),
        replace(EARLY, life_cycle=chosen("perennial")),
        replace(EARLY, activity=season(22, 26, 34, 40)),
    ],
    ids=["hardy", "unknown", "lasting", "late enough"],
)
def test_what_is_not_known_to_be_sown_into_frost_does_not_wait(unmoved):
    """Hardy and half-hardy crops go out in their own weeks: common practice."""
    expected = activity_by_week(unmoved.activity, REFERENCE_SITE)

    np.testing.assert_array_equal(expected, growth_by_week(unmoved, REFERENCE_SITE))


def test_a_stated_week_is_judged_as_stated():
    """Only the usual weeks wait; week 12 meets the frosts of nearly every year (normal distribution)."""
    expected = activity_by_week(EARLY.activity, REFERENCE_SITE, sow_week=12)

    np.testing.assert_array_equal(expected, growth_by_week(EARLY, REFERENCE_SITE, sow_week=12))
    assert "avoid" == bed(EARLY, OTHER, sow_week_a=12).verdict
    assert "good" == bed(EARLY, OTHER).verdict


def test_the_note_says_that_it_waits():
    """In words, with both weeks (common practice: what is changed is told)."""
    usual, stated = bed(EARLY, OTHER).notes, bed(EARLY, OTHER, sow_week_a=12).notes

    assert any("from week 19 (not from week 13, as its dates say" in note for note in usual)
    assert any("about 1 year in ten" in note for note in usual)
    assert not any("as its dates say" in note for note in stated)


def test_every_question_sees_the_same_weeks():
    """A pair, a list and a follow-on start the crop in one week (worked above: 19)."""
    pair = prepare(EARLY, place_in_bed(REFERENCE_SITE, HALVES), draws=0).likely.activity[0]
    listed = year_at(EARLY, REFERENCE_SITE).activity[0]
    follows = timing(HARDY, EARLY, REFERENCE_SITE, FollowOn())

    np.testing.assert_array_equal(pair, listed)
    assert [19, 19] == [int(np.flatnonzero(pair)[0]) + 1, follows.start_week]


@given(st.floats(60, 160), st.floats(230, 330), st.floats(0, 40), st.floats(1, 52.9))
@settings(max_examples=80, deadline=None)
def test_the_wait_is_short_and_mirrored(last, first, spread, start):
    """Any window and dates: at most a year, the same half a year on in the south, none without frost."""
    assume(abs((start - 1) * 365 / 52 - first) > 1e-6)
    crop = replace(TENDER, activity=season(start, start, start, start + 10, start_driver="fixed"))
    north = replace(REFERENCE_SITE, last_frost_day=last, first_frost_day=first, frost_sd_days=spread)
    south = replace(
        north,
        latitude=-51.0,
        last_frost_day=(last + 182.5 - 1) % 365 + 1,
        first_frost_day=(first + 182.5 - 1) % 365 + 1,
    )
    free = replace(north, last_frost_day=None, first_frost_day=None)

    wait = waits_days(crop, north)
    assert 0 <= wait <= 365
    assert (wait - waits_days(crop, south) + 182.5) % 365 == pytest.approx(182.5, abs=1e-6)
    assert waits_days(crop, free) == 0


@given(st.floats(60, 160), st.floats(230, 330), st.floats(0, 40), st.floats(1, 52.9), st.booleans())
@settings(max_examples=80, deadline=None)
def test_risks_are_shares_and_a_mirror_changes_nothing(last, first, spread, week, south):
    """Never NaN, 0 to 1, for any frost dates; sown half a year later in the south the same risk."""
    moved = 182.5 if south else 0.0
    site = replace(
        REFERENCE_SITE,
        latitude=-51.0 if south else 51.0,
        last_frost_day=(last + moved - 1) % 365 + 1,
        first_frost_day=(first + moved - 1) % 365 + 1,
        frost_sd_days=spread,
    )
    north = replace(REFERENCE_SITE, last_frost_day=last, first_frost_day=first, frost_sd_days=spread)
    sown = 1 + (week - 1 + (26 if south else 0)) % WEEKS

    here = frost_risk(activity_by_week(TENDER.activity, site, sow_week=sown), site)
    there = frost_risk(activity_by_week(TENDER.activity, north, sow_week=week), north)

    assert here is not None
    assert there is not None
    assert 0 <= here.spring <= 1
    assert 0 <= here.autumn <= 1
    np.testing.assert_allclose([there.spring, there.autumn], [here.spring, here.autumn], atol=1e-6)


def test_frost_kills_a_young_plant_from_the_day_it_is_set_out():
    """Set out on day 127 (week 19), three days before the mean last frost of day 130, SD 10 (scipy's normal).

    Sown in that week it is up two weeks later, when frost is past in nine years of ten (`trade` 5.3).
    """
    early = replace(TENDER, activity=season(22, 28, 37, 42))
    course = growth_by_week(early, REFERENCE_SITE, sow_week=19)

    sown = course_limits(early, course, REFERENCE_SITE)
    set_out = course_limits(early, course, REFERENCE_SITE, set_out_week=19)

    tenths = round(10 * norm.sf((18 * 365 / 52 - 130) / 10))
    assert () == sown
    assert ["avoid"] == [limit.ceiling for limit in set_out]
    assert (
        f"set out in week 19, meets a killing frost after it is up in about {tenths} years" in set_out[0].text
    )


def test_weeks_that_stand_in_refuse_no_sowing_in_autumn() -> None:
    """Winter salads and corn poppies are sown from August to October: common practice.

    Of a crop whose weeks are not on record that is asked for, not refused.
    """
    unknown = replace(HARDY, id="unknown-crop", activity=replace(HARDY.activity, origin="form", records=()))

    known, asked = (bed(crop, OTHER, sow_week_a=41) for crop in (HARDY, unknown))

    assert "avoid" == known.verdict
    assert "workable" == asked.verdict
    assert "sure" != asked.sureness.word
    assert any("not on record, nor are its weeks" in reason.text for reason in asked.reasons)


@pytest.mark.parametrize(("week", "word"), [(3, "poor"), (9, "workable"), (14, None)])
def test_tubers_lie_in_cold_ground(week: int, word: str | None) -> None:
    """Potatoes are planted from late March on in England, in ground of 7 to 10 °C (potato handbooks)."""
    put = Put("sown", week)
    limit = cold_tubers(shipped("potato"), REFERENCE_SITE, put)

    assert word == (None if limit is None else limit.ceiling)
    assert cold_tubers(shipped("onion"), REFERENCE_SITE, put) is None


def test_crimson_clover_is_no_crop_of_december() -> None:
    """It is sown at the end of August for a cut in May in Germany (Pieper), in Italy in October."""
    clover = shipped("crimson clover")
    words = [
        ceiling_of(
            course_limits(clover, growth_by_week(clover, REFERENCE_SITE, sow_week=week), REFERENCE_SITE)
        )
        for week in (36.0, 48.0)
    ]

    assert ["good", "poor"] == words
