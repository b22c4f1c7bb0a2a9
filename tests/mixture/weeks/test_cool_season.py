"""Crops of the cool season at warm places: when they are sown there, and what heat costs them."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture.limits import ceiling_of
from kb.mixture.profile import Span
from kb.mixture.season import reference_frost_days
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.as_grown import growth_by_week
from kb.mixture.weeks.cool_season import cool_start, lost_to_heat
from kb.mixture.weeks.sowing import course_limits
from tests.mixture.base import shipped

MONSOON = Site(latitude=23.0, last_frost_day=None, first_frost_day=None, wet_months=(6, 7, 8, 9))
LOWLAND = Site(latitude=8.0, last_frost_day=None, first_frost_day=None, wet_months=(4, 5, 6, 7))
PULSE = replace(
    shipped("chickpea"),
    warmth_c=Span(15.0, 25.0, "cited", ("record:best",)),
    warmth_grows_c=Span(7.0, 35.0, "cited", ("record:grows",)),
)


def left(name: str, week: int, site: Site) -> str:
    """The best word that its week of sowing leaves it there."""
    crop = shipped(name)
    course = growth_by_week(crop, site, sow_week=float(week))
    return ceiling_of(course_limits(crop, course, site))


def started(name: str, site: Site) -> int:
    course = growth_by_week(shipped(name), site)
    grows = course > 0
    return int(np.flatnonzero(grows & ~np.roll(grows, 1))[0]) + 1


@pytest.mark.parametrize(
    "name", ["wheat", "barley", "chickpea", "pea", "potato", "lettuce", "spinach", "cabbage"]
)
def test_crops_of_the_cool_season_follow_the_monsoon(name: str) -> None:
    """Wheat, gram and potatoes are rabi crops of India, sown from October to December.

    By the crop calendars of FAO and of India's ministry of agriculture (from memory); rain comes from June to
    September.
    """
    assert 40 <= started(name, MONSOON) <= 52


@pytest.mark.parametrize("name", ["rice", "sorghum", "pearl millet", "pigeon pea", "groundnut", "maize"])
def test_crops_of_the_rains_start_with_them(name: str) -> None:
    """Kharif crops of India, sown with the monsoon in June and July (the same calendars)."""
    assert started(name, MONSOON) in {22, 23}


@pytest.mark.parametrize("name", ["wheat", "potato", "lettuce", "spinach", "kale", "carrot", "radish"])
def test_sown_into_the_monsoon_they_fail_and_after_it_they_do_not(name: str) -> None:
    """The rabi season again; lettuce and spinach bolt in the rains (handbooks of tropical vegetables)."""
    assert "poor" == left(name, 28, MONSOON)
    assert "good" == left(name, 46, MONSOON)


@pytest.mark.parametrize(("name", "week", "latitude"), [
    ("cabbage", 24, 25.0), ("carrot", 24, 25.0), ("kale", 28, 25.0), ("parsnip", 24, 28.0),
    ("lettuce", 28, 35.0), ("spinach", 28, 35.0),
])  # fmt: skip
def test_summers_of_the_subtropics_are_too_hot_for_them(name: str, week: int, latitude: float) -> None:
    """Florida sows vegetables of the cool season from September to February (its extension, from memory)."""
    last, first = reference_frost_days(latitude)
    site = Site(latitude=latitude, last_frost_day=last, first_frost_day=first)

    assert "poor" == left(name, week, site)
    assert left(name, 44 if latitude < 30 else 38, site) in {"good", "workable"}


@pytest.mark.parametrize("name", ["kale", "spinach", "turnip", "Brussels sprouts"])
def test_lowlands_without_a_cool_month_are_too_hot_in_their_own_weeks(name: str) -> None:
    """Vegetables of the north are grown high up between the tropics (handbooks of tropical vegetables)."""
    crop = shipped(name)
    found = course_limits(crop, growth_by_week(crop, LOWLAND), LOWLAND)
    high = replace(LOWLAND, winter_min_c=8.0)

    assert "poor" == ceiling_of(found)
    assert {f"{crop.name} is grown high up, in the cool"} == {limit.lift for limit in found}
    assert () == course_limits(crop, growth_by_week(crop, high), high)


def test_beyond_the_tropic_the_rains_count_where_they_are_told() -> None:
    """Wheat follows the monsoon at 28 degrees north as well, where no frost comes (rabi crops of India)."""
    told = replace(MONSOON, latitude=28.0)

    assert cool_start(shipped("wheat"), told) is not None
    assert cool_start(shipped("wheat"), replace(told, wet_months=())) is None
    assert cool_start(shipped("wheat"), REFERENCE_SITE) is None


@pytest.mark.parametrize("name", ["wheat", "lettuce", "potato"])
def test_the_south_is_the_north_half_a_year_later(name: str) -> None:
    """By definition of the calendar: 26 weeks."""
    south = replace(MONSOON, latitude=-23.0, wet_months=(12, 1, 2, 3))
    north, other = cool_start(shipped(name), MONSOON), cool_start(shipped(name), south)

    assert north is not None
    assert other is not None
    assert abs((north - other) % 52 - 26) <= 1


@pytest.mark.parametrize(
    ("warmth", "lost"), [(20.0, 0.0), (25.0, 0.0), (30.0, 0.5), (35.0, 1.0), (40.0, 1.0)]
)
def test_heat_costs_a_straight_share(warmth: float, lost: float) -> None:
    """The upper limb of the EcoCrop model (Ramirez-Villegas et al. 2013), worked by hand for 25 and 35 °C."""
    assert lost_to_heat(PULSE, np.array([warmth])) == pytest.approx(lost)
