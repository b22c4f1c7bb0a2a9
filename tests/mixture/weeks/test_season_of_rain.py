"""Weekly activity between the tropics and at the ends of the earth: rain, highlands, any latitude."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.season import activity_by_week, driven_by_rain, rains_begin, reference_frost_days
from kb.mixture.site import REFERENCE_SITE, Site
from tests.mixture.test_season import season, seasons


def test_a_tropical_highland_may_have_frost_at_any_time_of_year():
    """Between the tropics no half of the year is winter: dates are taken as given, not refused."""
    highland = replace(REFERENCE_SITE, latitude=5.0, last_frost_day=20, first_frost_day=150)

    activity = activity_by_week(season(15, 21, 40, 45), highland)

    assert 0 < activity.max()
    assert 0 == activity[30:50].max()


SAVANNA = Site(latitude=14.0, last_frost_day=None, first_frost_day=None, wet_months=(6, 7, 8, 9))
"""An invented place with rain from June to September."""


@pytest.mark.parametrize(
    ("months", "day"),
    [
        ((6, 7, 8, 9), 152),  # 1 June
        ((3, 4, 5, 10, 11), 60),  # the long rains before the short ones: 1 March
        ((10, 11, 3, 4), 60),  # of equals the earliest in the year
        ((11, 12, 1, 2), 305),  # round the new year: 1 November
        ((), 1),
        (tuple(range(1, 13)), 1),
    ],
)
def test_the_rains_begin_with_the_longest_run_of_wet_months(months, day):
    """Days of the year by the calendar; rain all year begins nowhere."""
    assert day == rains_begin(replace(SAVANNA, wet_months=months))


def test_between_the_tropics_growth_waits_for_rain():
    """What waits for heat elsewhere starts on 1 June here, whatever its date in Europe; its length stays."""
    early, late = (season(start, start + 4, start + 16, start + 20) for start in (12, 21))

    here = [activity_by_week(plant, SAVANNA) for plant in (early, late)]

    np.testing.assert_allclose(here[0], here[1], atol=1e-9)
    assert 21 == int(np.flatnonzero(here[0])[0])
    assert here[0].sum() == pytest.approx(activity_by_week(early, REFERENCE_SITE).sum())
    assert 29 == int(np.flatnonzero(activity_by_week(early, SAVANNA, sow_week=30))[0])


def test_a_highland_with_frost_is_not_driven_by_rain():
    """Frost rules where there is any; so it does outside the tropics."""
    assert driven_by_rain(SAVANNA)
    assert not driven_by_rain(replace(SAVANNA, last_frost_day=20, first_frost_day=150))
    assert not driven_by_rain(replace(SAVANNA, latitude=30.0))


@given(seasons(), st.sampled_from([(6, 7, 8), (3, 4, 5, 10, 11), (12, 1, 2)]), st.booleans())
@settings(max_examples=40, deadline=None)
def test_the_rains_make_the_season_in_either_hemisphere(activity, months, chilled):
    """The same months of rain give the same season north and south: no calendar is turned over for it."""
    plant = replace(activity, start_driver="chill") if chilled else activity
    north, south = (
        activity_by_week(plant, replace(SAVANNA, latitude=latitude, wet_months=months))
        for latitude in (10.0, -10.0)
    )

    np.testing.assert_array_equal(north, south)
    assert np.all(np.isfinite(north))


@given(seasons(), st.floats(-90, 90), st.integers(0, 2))
@settings(max_examples=80, deadline=None)
def test_no_place_gives_a_season_that_is_no_number(activity, latitude, frosts):
    """From pole to pole, frost-free, with frost in every month, or as usual: 0 to 1, never NaN."""
    middle = 355.0 if latitude < 0 else 172.0
    last, first = reference_frost_days(latitude)
    site = (
        Site(latitude, None, None),
        Site(latitude, middle, middle, frost_every_month=True),
        Site(latitude, last, first),
    )[frosts]

    course = activity_by_week(activity, site)

    assert np.all((course >= 0) & (course <= 1))


BARE_IN_RAINS = replace(season(15, 20, 41, 45), start_driver="dry-season", end_driver="dry-season")


@pytest.mark.parametrize(
    ("months", "rains", "dry"),
    [((6, 7, 8, 9), slice(27, 38), slice(46, 52)), ((11, 12, 1, 2, 3), slice(0, 11), slice(20, 42))],
)
def test_a_tree_that_is_bare_in_the_rains_is_in_leaf_through_the_dry_season(months, rains, dry):
    """Winter thorn sheds its leaves with the rains and is green in the dry season (Winrock, NFTA 95-01).

    In the Sahel with rain from June, in Zambia from November; from five weeks after the rains it is full.
    """
    for latitude in (14.0, -15.0):
        leaf = activity_by_week(BARE_IN_RAINS, replace(SAVANNA, latitude=latitude, wet_months=months))

        assert 0 == leaf[rains].max()
        assert pytest.approx(1) == leaf[dry].min()


@pytest.mark.parametrize("months", [(), tuple(range(1, 13))])
def test_without_named_months_of_rain_nothing_says_when_such_a_tree_is_bare(months):
    """Not knowing is no good news: the usual season of its form stays, in leaf through the summer."""
    leaf = activity_by_week(BARE_IN_RAINS, replace(SAVANNA, wet_months=months))

    assert pytest.approx(1) == leaf[20:39].min()
