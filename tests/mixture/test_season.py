"""Weekly activity: the shape of a season, and how a site moves it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.profile import Activity
from kb.mixture.season import (
    MONTH_WEIGHTS,
    WEEKS,
    activity_by_week,
    autumn_sown,
    reference_frost_days,
    season_difference,
    season_overlap,
    through_winter,
)
from kb.mixture.site import REFERENCE_SITE, Site

MIRRORED = replace(REFERENCE_SITE, latitude=-51.0, last_frost_day=312.5, first_frost_day=105.5)
"""The reference site turned upside down: frost until early November, from mid-April."""


def season(start, full, decline, end, **changes) -> Activity:
    """An invented plant's season; corners are moments, so a printed last week counts one more."""
    return Activity(start, full, decline, end, evergreen=False, doubt_weeks=1, origin="recalled", **changes)


@st.composite
def seasons(draw, **changes) -> Activity:
    """Any season of corners in order round the year."""
    start = draw(st.floats(1, 52.9))
    gaps = [draw(st.floats(0, 17)) for _ in range(3)]
    corners = [1 + (start - 1 + sum(gaps[:n])) % WEEKS for n in range(4)]
    return season(*corners, **changes)


def test_activity_is_the_trapezoid_of_its_corners():
    """Weekly means of 10-14 rising, full to 30, falling to 34: worked by hand."""
    activity = activity_by_week(season(10, 14, 30, 34), REFERENCE_SITE)

    expected = np.zeros(WEEKS)
    expected[9:13] = [1 / 8, 3 / 8, 5 / 8, 7 / 8]
    expected[13:29] = 1
    expected[29:33] = [7 / 8, 5 / 8, 3 / 8, 1 / 8]
    np.testing.assert_allclose(expected, activity, atol=1e-12)


def test_a_season_may_wrap_round_the_new_year():
    """A crop from week 44 to 28 is alive at new year and gone in August."""
    activity = activity_by_week(season(44, 16, 25, 28), REFERENCE_SITE)

    assert activity[0] > 0.3
    assert activity[51] > 0.3
    assert 0 == activity[28:42].max()


def test_a_season_from_1_to_53_is_a_whole_year():
    """Corners a whole year apart mean always, not never."""
    np.testing.assert_allclose(np.ones(WEEKS), activity_by_week(season(1, 1, 53, 53), REFERENCE_SITE))


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        ((5, 11, 20, 24), (17, 21, 42, 47), 0.27),
        ((13, 16, 18, 19), (14, 26, 42, 50), 0.32),
        ((44, 16, 25, 28), (21, 28, 35, 39), 0.25),
        ((11, 16, 19, 21), (19, 24, 40, 44), 0.11),
    ],
    ids=["ramsons-beech", "radish-parsnip", "garlic-squash", "spinach-walnut"],
)
def test_overlaps_agree_with_the_worked_figures(one, other, expected):
    """Figures of the design's prototype (`trade` 4.5), whole weeks inclusive; within 0.03.

    Our own earlier code, not an outside source: it shows that the method is the same.
    """
    whole = [season(s, f, d + 1, e + 1) for s, f, d, e in (one, other)]
    a, b = (activity_by_week(each, REFERENCE_SITE) for each in whole)

    assert season_overlap(a, b) == pytest.approx(expected, abs=0.03)


def test_overlap_and_difference_at_their_ends():
    """The same season overlaps wholly; seasons apart do not; no season is never NaN."""
    spring, autumn = (
        activity_by_week(season(*c), REFERENCE_SITE) for c in ((10, 12, 15, 18), (30, 32, 35, 38))
    )
    never = np.zeros(WEEKS)

    assert season_overlap(spring, spring) == pytest.approx(1.0)
    assert 0.0 == season_difference(spring, spring)
    assert 0.0 == season_overlap(spring, autumn)
    assert 1.0 == season_difference(spring, autumn)
    assert 0.0 == season_overlap(never, spring)
    assert 0.0 == season_difference(never, never)


@given(seasons(), seasons(), st.integers(-60, 60))
@settings(max_examples=60, deadline=None)
def test_moving_both_calendars_by_the_same_weeks_changes_no_overlap(a, b, weeks):
    """Only where two seasons lie to each other matters, not where the year begins."""

    def moved(each: Activity) -> Activity:
        corners = (each.start, each.full, each.decline, each.end)
        return season(*(1 + (corner - 1 + weeks) % WEEKS for corner in corners))

    before = season_overlap(*(activity_by_week(each, REFERENCE_SITE) for each in (a, b)))
    after = season_overlap(*(activity_by_week(moved(each), REFERENCE_SITE) for each in (a, b)))

    assert after == pytest.approx(before, abs=1e-9)


@given(seasons(), st.floats(-40, 40), st.floats(-40, 40))
@settings(max_examples=60, deadline=None)
def test_the_south_is_the_north_rolled_by_half_a_year(activity, later_spring, later_autumn):
    """With frost dates mirrored, every plant's year is the northern one 26 weeks later."""
    north = replace(
        REFERENCE_SITE,
        last_frost_day=130 + later_spring,
        first_frost_day=288 + later_autumn,
    )
    south = replace(
        MIRRORED,
        last_frost_day=312.5 + later_spring,
        first_frost_day=105.5 + later_autumn,
    )

    np.testing.assert_allclose(
        np.roll(activity_by_week(activity, north), 26), activity_by_week(activity, south), atol=1e-9
    )


@pytest.mark.parametrize("site", [REFERENCE_SITE, MIRRORED, Site(latitude=5.0)])
def test_an_evergreen_is_active_all_year_wherever_it_stands(site):
    """0.9 to 1 in every week: shifting must not turn it deciduous (`computation-notes` 1.12)."""
    evergreen = replace(season(1, 1, 53, 53), evergreen=True)

    activity = activity_by_week(evergreen, site)

    assert 0.9 <= activity.min()
    assert 1.0 >= activity.max()


def test_an_evergreens_dip_is_in_the_winter_of_the_place():
    """January in the north, July in the south."""
    evergreen = replace(season(1, 1, 53, 53), evergreen=True)

    assert activity_by_week(evergreen, REFERENCE_SITE).argmin() in range(3)
    assert activity_by_week(evergreen, MIRRORED).argmin() in range(26, 29)


def test_spring_heat_moves_the_start_and_first_frost_the_end():
    """Three weeks less spring frost and a week more autumn: start -3 weeks, end +1."""
    warm = replace(REFERENCE_SITE, last_frost_day=130 - 21 * 365 / 364, first_frost_day=288 + 365 / 52)

    moved = activity_by_week(season(15, 21, 40, 45), warm)

    np.testing.assert_allclose(activity_by_week(season(12, 18, 41, 46), REFERENCE_SITE), moved, atol=1e-9)


@pytest.mark.parametrize("driver", ["day-length", "fixed"])
def test_frost_does_not_move_day_length_or_fixed_dates(driver):
    """A bulbing date follows the day's length, whatever the spring."""
    plant = season(15, 21, 40, 45, start_driver=driver, end_driver=driver)
    warm = replace(REFERENCE_SITE, last_frost_day=80, first_frost_day=330)

    np.testing.assert_array_equal(activity_by_week(plant, REFERENCE_SITE), activity_by_week(plant, warm))


def test_a_last_frost_before_new_year_moves_the_season_earlier_not_later():
    """Last frost on 26 December is 135 days earlier than 10 May, not 230 days later."""
    mild = replace(REFERENCE_SITE, last_frost_day=360, first_frost_day=350)

    activity = activity_by_week(season(25, 27, 40, 45, end_driver="fixed"), mild)

    first = int(np.flatnonzero(activity)[0])
    assert round(24 - 135 * 52 / 365) in (first, first + 1)


def test_a_place_without_frost_leaves_tender_crops_unlimited():
    """No frost date moves nothing, and a late sowing keeps its whole length."""
    frost_free = replace(REFERENCE_SITE, latitude=5.0, last_frost_day=None, first_frost_day=None)
    tender = season(21, 28, 35, 39)

    late = activity_by_week(tender, frost_free, sow_week=45)

    assert activity_by_week(tender, frost_free).sum() == pytest.approx(late.sum())
    assert late[51] > 0.9


@given(seasons(), st.floats(1, 52.99))
@settings(max_examples=60, deadline=None)
def test_sowing_later_holds_the_length(activity, sow_week):
    """An annual is moved whole: late sowing neither shortens nor lengthens it."""
    usual = activity_by_week(activity, REFERENCE_SITE)
    sown = activity_by_week(activity, REFERENCE_SITE, sow_week=sow_week)

    assert sown.sum() == pytest.approx(usual.sum(), abs=1e-9)


def test_sowing_at_the_usual_week_changes_nothing():
    """The sowing week is a week of the place, north and south."""
    annual = season(15, 21, 28, 31)

    np.testing.assert_allclose(
        activity_by_week(annual, REFERENCE_SITE),
        activity_by_week(annual, REFERENCE_SITE, sow_week=15),
        atol=1e-12,
    )
    np.testing.assert_allclose(
        activity_by_week(annual, MIRRORED), activity_by_week(annual, MIRRORED, sow_week=41), atol=1e-12
    )


def test_a_site_too_short_for_the_plant_gives_a_lower_or_no_season():
    """Slopes cut each other short, then nothing is left: zeros, never NaN."""
    plant = season(18, 24, 36, 42)
    short = replace(REFERENCE_SITE, last_frost_day=170, first_frost_day=220)
    none = replace(REFERENCE_SITE, last_frost_day=172, first_frost_day=172)

    peaks = [activity_by_week(plant, site).max() for site in (REFERENCE_SITE, short, none)]

    assert peaks[0] == pytest.approx(1.0)
    assert 0.3 < peaks[1] < 0.9
    assert 0.0 == activity_by_week(season(20, 24, 30, 34), none).max()


MEDITERRANEAN = replace(REFERENCE_SITE, latitude=38.0, last_frost_day=51.0, first_frost_day=339.0)
"""Frost from 5 December to 20 February, as near the coasts of the Mediterranean."""
SOUTHERN = replace(REFERENCE_SITE, latitude=-34.0, last_frost_day=227.0, first_frost_day=161.0)
"""Frost from 10 June to 15 August, as inland of the Cape and in southern Australia."""
GRAIN = season(41, 20, 31, 36)
"""A cereal of October, in full leaf by mid-May, ripe in August at the reference site, like winter wheat."""
BULB = season(40, 13, 22, 26, end_driver="day-length")
"""A bulb of early October, ripe by the length of the day at the end of June, like garlic."""


@pytest.mark.parametrize("activity", [GRAIN, BULB], ids=["cereal", "garlic"])
@pytest.mark.parametrize(("site", "sown"), [(MEDITERRANEAN, (44, 50)), (SOUTHERN, (18, 25))])
def test_a_mild_site_sows_later_in_autumn_and_reaps_earlier(activity, site, sown):
    """Wheat and garlic of November round the Mediterranean, of May and June in the south: common practice.

    The calendars of dryland cereals and of garlic; by the last frost of spring they began in July.
    """
    grows = activity_by_week(activity, site) > 0
    starts = int(np.flatnonzero(grows & ~np.roll(grows, 1))[0]) + 1
    south = 26 if site.southern else 0

    assert sown[0] <= starts <= sown[1]
    reaped = (int(np.flatnonzero(grows & ~np.roll(grows, -1))[0]) + 1 - south) % WEEKS
    assert 23 <= reaped <= 27
    assert activity_by_week(activity, site).max() == pytest.approx(1.0)


def test_what_is_sown_in_late_summer_moves_with_the_first_frost():
    """Chinese cabbage of July in England is sown in late August and September in the south of Europe."""
    autumn_crop = season(28, 34, 41, 44, end_driver="fixed")

    here, there = (activity_by_week(autumn_crop, site) for site in (REFERENCE_SITE, MEDITERRANEAN))

    assert 27 == int(np.flatnonzero(here)[0])
    assert 34 == int(np.flatnonzero(there)[0])
    assert there.sum() == pytest.approx(here.sum(), rel=0.15)


def test_a_crop_that_the_same_autumn_ends_waits_for_spring_heat():
    """A late summer crop, as buckwheat after a harvest, is bound by heat at both ends (`trade` 4.5)."""
    catch_crop, spring_crop = season(28, 31, 36, 38), season(20, 31, 36, 38)

    assert [False, False, True] == [autumn_sown(each) for each in (catch_crop, spring_crop, GRAIN)]


def test_a_winter_crop_leaves_the_ground_free_before_its_next_sowing():
    """Winter cereals of Scandinavia are cut in August and sown in late August and September."""
    cold = replace(REFERENCE_SITE, latitude=60.0, last_frost_day=160.0, first_frost_day=255.0)
    grows = activity_by_week(GRAIN, cold) > 0

    assert 51 >= np.count_nonzero(grows) >= 44
    assert not grows[34]


@given(st.floats(0, 400), st.floats(0, 400), st.floats(-100, 40), st.floats(-60, 60))
@settings(max_examples=60, deadline=None)
def test_a_winter_moves_its_dates_in_their_order(one, other, spring, autumn):
    """Of two dates the earlier stays so: the winter is drawn together or out, never turned round."""
    site = replace(REFERENCE_SITE, last_frost_day=130.0 + spring, first_frost_day=288.0 + autumn)
    first, then = sorted((one, other))

    assert first + through_winter(site, first) <= then + through_winter(site, then) + 1e-9


def test_northern_frost_dates_in_the_south_are_refused():
    """Else every calendar would silently lie half a year wrong."""
    wrong = replace(REFERENCE_SITE, latitude=-35.0)

    with pytest.raises(ValueError, match=r"leaves out midsummer .* last frost day 248\.5"):
        activity_by_week(season(15, 21, 40, 45), wrong)


def test_reference_frost_days_follow_the_hemisphere():
    """The dates to assume where none is given; none between the tropics."""
    assert (130.0, 288.0) == reference_frost_days(51.0)
    assert (312.5, 105.5) == reference_frost_days(-51.0)
    assert (None, None) == reference_frost_days(-10.0)


def test_reference_frost_days_follow_the_latitude():
    """Hopkins (1918): four days for a degree of latitude, later in spring and earlier in autumn.

    New York State at 43 degrees north: last frost in April to May, first in October to November.
    """
    assert (98.0, 320.0) == reference_frost_days(43.0)
    assert (166.0, 252.0) == reference_frost_days(60.0)
    assert reference_frost_days(30.0) == reference_frost_days(25.0)
    assert reference_frost_days(60.0) == reference_frost_days(80.0)


def test_month_weights_give_the_mean_of_each_month():
    """Rows sum to 1, every day of the year is used once, January begins with week 1."""
    np.testing.assert_allclose(np.ones(12), MONTH_WEIGHTS.sum(axis=1))
    days = MONTH_WEIGHTS * np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])[:, None]
    np.testing.assert_allclose(np.full(WEEKS, 365 / 52), days.sum(axis=0))
    assert 0 < MONTH_WEIGHTS[0, 0]
    assert 0 == MONTH_WEIGHTS[0, 5]
