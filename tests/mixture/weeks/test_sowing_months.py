"""The months in which vegetables are sown, as calendars print them, in a bed and after another crop.

Lengths of season follow the latitude alone, so only the month is held, by its middle week.
"""

import pytest

from kb.mixture.follow.follow_season import Season
from kb.mixture.limits import ceiling_of
from kb.mixture.results import Verdict
from kb.mixture.season import reference_frost_days
from kb.mixture.site import Site
from kb.mixture.stress import verdict_of
from kb.mixture.weeks.as_grown import as_sown, growth_by_week
from kb.mixture.weeks.sowing import course_limits
from tests.mixture.base import base

WORDS: tuple[Verdict, ...] = ("good", "workable", "poor", "avoid")
MIDDLE_WEEK = (2, 7, 11, 15, 20, 24, 28, 33, 37, 42, 46, 50)

ALAMEDA = {
    "lettuce": range(1, 12),
    "beetroot": range(1, 9),
    "carrot": range(2, 9),
    "swiss chard": range(1, 10),
    "kale": range(6, 13),
    "broccoli": (2, 3, 7, 8, 9),
    "cauliflower": (2, 3, 7, 8, 9),
    "cabbage": (2, 3, 7, 8, 9),
    "pea": (2, 3),
    "common bean": (5, 6, 7),
}
"""Latitude 37.7: Alameda County Master Gardeners (University of California), Planting Recommendations for
West of the Hills, "When to plant" (a stored copy at docslib.org, 3978725). Beets and chard
are sown all year; what is sown there in autumn stands through the winter and is cut in spring, another season
than the one on record, and not held here. Beans are common practice."""
WILLAMETTE = {
    "common bean": (5, 6, 7),
    "beetroot": range(3, 7),
    "broccoli": range(4, 9),
    "carrot": range(3, 8),
    "kale": range(5, 8),
    "lettuce": range(4, 9),
    "pea": range(3, 6),
    "radish": range(3, 10),
    "spinach": (4, 9),
}
"""Latitude 45: dates of Oregon State University Extension for the mid-Willamette Valley, as printed in the
Statesman Journal of 4 March 2016 ("Know when to plant what in veggie garden")."""
NORTH_WEST = {
    "lettuce": range(4, 8),
    "radish": range(4, 9),
    "spinach": (4, 5, 8),
    "carrot": range(4, 7),
    "beetroot": range(5, 8),
    "turnip": range(4, 9),
    "kohlrabi": range(4, 8),
    "pea": range(4, 7),
    "broad bean": (3, 4),
    "swiss chard": range(4, 8),
    "coriander": range(5, 8),
    "lamb's lettuce": (8, 9),
    "endive": (6, 7),
    "pak choi": (6, 7),
    "buckwheat": (6, 7),
}
"""Latitude 53, from Ireland to the Netherlands: common practice of sowing in the open."""
SOUTH_SCANDINAVIA = {
    "lettuce": range(5, 8),
    "radish": range(5, 9),
    "carrot": (5, 6),
    "beetroot": (5, 6),
    "turnip": range(5, 8),
    "pea": (5, 6),
    "broad bean": (4, 5),
    "common bean": (6,),
    "courgette": (6,),
    "buckwheat": (6,),
    "potato": (5,),
}
"""Latitude 56, Denmark and southern Scotland: common practice of sowing in the open."""
SOWN = [
    (latitude, name, month)
    for latitude, table in (
        (37.7, ALAMEDA),
        (45.0, WILLAMETTE),
        (53.0, NORTH_WEST),
        (56.0, SOUTH_SCANDINAVIA),
    )
    for name, months in table.items()
    for month in months
]
STANDS_OVER_WINTER = [(44.0, "pea", 11), (44.0, "broad bean", 11), (51.0, "garlic", 11), (44.0, "wheat", 11)]
"""Winter pea and wheat of south-western France (Bedoussac & Justes 2010); the others common practice."""
IN_WINTER = [
    (latitude, name, month)
    for latitude in (51.0, 56.0)
    for name in ("lettuce", "radish", "turnip", "carrot", "beetroot", "kohlrabi", "swiss chard", "coriander")
    for month in (10, 11, 12)
]


def words(latitude: float, name: str, month: int) -> tuple[Verdict, Verdict]:
    """What is said of the middle week of a month: in a bed, and on ground that is free."""
    last, first = reference_frost_days(latitude)
    site = Site(latitude=latitude, last_frost_day=last, first_frost_day=first)
    week = MIDDLE_WEEK[month - 1]
    plant = as_sown(base().profile(base().resolve(name)), site, week)
    bed = ceiling_of(course_limits(plant, growth_by_week(plant, site, sow_week=week), site))
    season = Season.of(plant, site, 0.0, 0.0)
    after = max(verdict_of(season.lost(week)), ceiling_of(season.limits(week)), key=WORDS.index)
    return bed, after


@pytest.mark.parametrize(("latitude", "name", "month"), [*SOWN, *STANDS_OVER_WINTER])
def test_crops_are_not_refused_in_the_months_in_which_they_are_sown(
    latitude: float, name: str, month: int
) -> None:
    """In a bed and after another crop alike; a month may be one of the last, with some loss."""
    assert {*words(latitude, name, month)} <= {"good", "workable"}


@pytest.mark.parametrize(("latitude", "name", "month"), IN_WINTER)
def test_nothing_quick_is_sown_as_winter_begins(latitude: float, name: str, month: int) -> None:
    """Common practice: from the middle of October on nothing that is not to stand over winter is sown."""
    assert "good" not in words(latitude, name, month)


@pytest.mark.parametrize("name", ["leek", "celery", "pea", "kale", "brussels sprouts", "endive", "garlic"])
def test_nothing_is_sown_into_frozen_ground_long_before_its_weeks(name: str) -> None:
    """Common practice: seed rots in cold ground, young plants stand still. It was good in January."""
    assert "good" not in words(51.0, name, 1)


@pytest.mark.parametrize(
    ("latitude", "name", "week"),
    [(53.0, "pea", 13), (55.5, "pea", 13), (55.5, "pea", 14), (53.0, "broad bean", 8), (55.5, "barley", 12)],
)
def test_spring_corn_and_pulses_are_drilled_in_the_last_cold_weeks(
    latitude: float, name: str, week: int
) -> None:
    """A week or two of cold is borne: it was held against peas.

    Peas are best drilled from the end of March to the start of April, spring beans any time after 14
    February (the growers' organisation PGRO, in Farmers Weekly, "PGRO says pulse sowing conditions more
    important than date"); barley as common practice.
    """
    last, first = reference_frost_days(latitude)
    site = Site(latitude=latitude, last_frost_day=last, first_frost_day=first)
    plant = as_sown(base().profile(base().resolve(name)), site, week)

    assert ceiling_of(course_limits(plant, growth_by_week(plant, site, sow_week=week), site)) == "good"
