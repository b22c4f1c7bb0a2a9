"""Sowing weeks against the frosts and the cold of a place."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from kb.mixture.season import WEEKS, activity_by_week
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.sowing import frost_risk, sowing_note
from tests.mixture.judged import bed
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
    assert sowing_note(activity_by_week(TENDER.activity, free), "x", free) is None


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
