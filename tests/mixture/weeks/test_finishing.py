"""Crops started late: what short days, cold and frost leave of them, by the calendar of handbooks."""

from dataclasses import replace
from functools import cache

import pytest

from kb.mixture.limits import ceiling_of
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.stress import verdict_of
from kb.mixture.weeks.as_grown import as_sown, growth_by_week, too_early_weeks
from kb.mixture.weeks.climate import weekly_radiation
from kb.mixture.weeks.damp import damp_from
from kb.mixture.weeks.finishing import growth_lost, unfinished
from kb.mixture.weeks.sowing import course_limits
from tests.mixture.base import shipped
from tests.mixture.profiles import about, chosen, invented, season

LONG = invented("long-crop", activity=season(14, 20, 30, 36), tender=chosen("no"), cycle_days=about(154))
"""A hardy crop of 22 weeks from April to August, like spring wheat."""


@cache
def lost(name: str, week: float) -> float:
    """Share of its growth that a plant of the base loses where it is started in this week."""
    found = unfinished(as_sown(shipped(name), REFERENCE_SITE, week), REFERENCE_SITE, week)
    return 0.0 if found is None else found.lost


@pytest.mark.parametrize(
    ("name", "week", "words"),
    [
        ("wheat", 13, {"good"}),
        ("wheat", 26, {"workable", "poor"}),
        ("wheat", 29, {"poor", "avoid"}),
        ("Brussels sprouts", 22, {"good"}),
        ("Brussels sprouts", 28, {"workable", "poor"}),
        ("Brussels sprouts", 34, {"poor", "avoid"}),
        ("carrot", 26, {"good"}),
        ("carrot", 34, {"poor", "avoid"}),
        ("dwarf bean", 27, {"good", "workable"}),
        ("dwarf bean", 32, {"poor", "avoid"}),
        ("maize", 28, {"workable", "poor"}),
        ("onion", 28, {"workable", "poor"}),
        ("lettuce", 31, {"good"}),
        ("lettuce", 33, {"good", "workable"}),
        ("radish", 35, {"good"}),
        ("turnip", 31, {"good"}),
    ],
)
def test_long_crops_lose_by_a_late_start_and_quick_ones_do_not(name: str, week: int, words: set[str]) -> None:
    """By the sowing calendars of British gardens (common practice).

    June for the last sprouts and carrots, early July for beans, August for lettuce, radish and turnips;
    spring wheat is sown by April.
    """
    assert verdict_of(lost(name, week)) in words


@pytest.mark.parametrize(("name", "week"), [("courgette", 16), ("maize", 16), ("tomato", 18)])
def test_a_long_season_holds_a_later_start(name: str, week: int) -> None:
    """From late March to November there is room for either: FAO-56 table 11 has one length at several dates.

    A crop that would bear until the frost is held to one cycle: squash of April is no worse than of March.
    """
    mild = replace(REFERENCE_SITE, latitude=39.0, last_frost_day=82.0, first_frost_day=336.0)
    found = unfinished(shipped(name), mild, week)

    assert found is not None
    assert (0.0, "") == (pytest.approx(found.cut, abs=1e-3), found.ended_by)
    assert found.lost < 0.1


def test_the_later_the_start_the_more_is_lost() -> None:
    """Days only get shorter after midsummer, so waiting never gains (Monteith 1977)."""
    found = [unfinished(LONG, REFERENCE_SITE, week) for week in range(15, 38)]
    shares = [one.lost for one in found if one is not None]

    assert 23 == len(shares)
    assert sorted(shares) == shares


def test_what_ends_it_is_named() -> None:
    """A tender crop by frost, a hardy one by the cold, an onion by the length of the day (`trade` 4.5)."""
    onion = replace(LONG, activity=season(14, 20, 30, 36, end_driver="day-length"))
    leafy = replace(LONG, activity=season(14, 20, 30, 36, end_driver="fixed"))
    ends = [
        growth_lost(found)
        for plant, week in ((replace(LONG, tender=chosen("yes")), 30), (leafy, 36), (onion, 26))
        if (found := unfinished(plant, REFERENCE_SITE, week)) is not None
    ]

    assert ends == [
        "short days and the first frost",
        "short days and the cold",
        "short days and its own end, which the length of the day sets",
    ]


def test_nothing_is_said_of_what_is_not_late_or_not_known() -> None:
    """In its weeks, before them, of unknown length, over winter, and where no frost comes: no loss."""
    winter = replace(LONG, activity=season(40, 14, 24, 30))
    no_frost = replace(REFERENCE_SITE, first_frost_day=None, last_frost_day=None)

    assert unfinished(LONG, REFERENCE_SITE, 14) is None
    assert unfinished(LONG, REFERENCE_SITE, 10) is None
    assert unfinished(replace(LONG, cycle_days=None), REFERENCE_SITE, 30) is None
    assert unfinished(winter, REFERENCE_SITE, 45) is None
    assert unfinished(LONG, no_frost, 30) is None


def test_a_short_cycle_is_held_against_no_long_window() -> None:
    """Turnips may be sown from April to August: their window is long, each crop takes two months."""
    quick = replace(LONG, cycle_days=about(56))
    late = [unfinished(plant, REFERENCE_SITE, 30) for plant in (quick, LONG)]

    assert [one.lost < 0.2 for one in late if one is not None] == [True, False]


def test_summer_is_too_early_for_what_stands_over_winter() -> None:
    """Wheat of July is late spring wheat: winter wheat is sown from mid-September (common practice)."""
    wheat = shipped("wheat")
    starts = {week: round(as_sown(wheat, REFERENCE_SITE, week).activity.start) for week in (20, 28, 36, 48)}

    assert {20: 14, 28: 14, 36: 41, 48: 41} == starts


def test_what_stands_over_winter_has_its_weeks() -> None:
    """Rye in July is too far on for the winter; in late August or December it is not (common practice)."""
    rye = shipped("rye")
    early = [round(too_early_weeks(rye, REFERENCE_SITE, week)) for week in (27, 33, 49)]

    assert [True, False, False] == [weeks > 0 for weeks in early]
    limits = course_limits(rye, growth_by_week(rye, REFERENCE_SITE, sow_week=27), REFERENCE_SITE)
    assert [("workable", True)] == [(one.ceiling, "before its time" in one.text) for one in limits]


def test_the_further_before_its_time_the_worse() -> None:
    """Rye of late June stands a quarter of a year too long before winter; of late July it is green fodder."""
    rye = replace(shipped("rye"), activity=season(44, 14, 25, 30))
    courses = (growth_by_week(rye, REFERENCE_SITE, sow_week=week) for week in (30, 37, 40))
    words = [[one.ceiling for one in course_limits(rye, course, REFERENCE_SITE)] for course in courses]

    assert [["poor"], ["workable"], []] == words


def test_broad_beans_of_october_are_autumn_sown_where_spring_sowings_begin_before_midwinter() -> None:
    """Sown from October to December round the Mediterranean (common practice)."""
    mild = replace(REFERENCE_SITE, latitude=38.0, last_frost_day=51.0, first_frost_day=339.0)

    assert 46 == int(as_sown(shipped("broad bean"), mild, 40).activity.start)


def test_a_late_start_is_a_limit_with_its_reason() -> None:
    """The word follows the share that is lost, by the bands of the verdict (`computation-notes` 3)."""
    late, own = (
        course_limits(LONG, growth_by_week(LONG, REFERENCE_SITE, sow_week=week), REFERENCE_SITE)
        for week in (29, 14)
    )

    assert () == own
    assert [("poor", "season", True)] == [
        (one.ceiling, one.kind, "of its growth to short days and the first frost" in one.text) for one in late
    ]


def test_the_sun_of_the_reference_site() -> None:
    """About 18 MJ/m2 a day in June and 2 in December in south-east England (station normals, from memory)."""
    north, south = weekly_radiation(51.0), weekly_radiation(-51.0)

    assert 17 < north[23:27].mean() < 20
    assert 1.5 < north[49:52].mean() < 3
    assert abs(north[24] - south[50]) < 1.5


def ripe(name: str, week: float) -> str:
    crop = as_sown(shipped(name), REFERENCE_SITE, week)
    course = growth_by_week(crop, REFERENCE_SITE, sow_week=week)
    return ceiling_of(course_limits(crop, course, REFERENCE_SITE))


@pytest.mark.parametrize(
    ("name", "week", "word"),
    [
        ("wheat", 14, "good"),
        ("wheat", 24, "poor"),
        ("barley", 15, "good"),
        ("barley", 24, "workable"),
        ("oat", 24, "workable"),
        ("oat", 29, "poor"),
        ("lentil", 24, "workable"),
        ("sunflower", 17, "good"),
        ("sunflower", 29, "poor"),
        ("quinoa", 16, "good"),
        ("quinoa", 28, "workable"),
    ],
)
def test_grain_that_is_sown_in_summer_does_not_ripen_in_time(name: str, week: float, word: str) -> None:
    """Spring cereals are drilled in March and April in Britain, quinoa and sunflowers in April and May.

    By AHDB's crop reports and growers' guides (from memory); what comes up in summer is cut green or late.
    """
    assert word == ripe(name, week)


def test_nothing_dries_from_the_middle_of_september_on() -> None:
    """Rothamsted: 54 mm of rain in September, and more than twice the air's demand in October.

    Britain's grain is cut by the middle of September (AHDB harvest reports, from memory). No damp where the
    winter is dry.
    """
    start = damp_from(REFERENCE_SITE)
    south = damp_from(replace(REFERENCE_SITE, latitude=-51.0, last_frost_day=313.0, first_frost_day=106.0))

    assert start in {36, 37, 38}
    assert south is not None
    assert 25 <= (south - start) % 52 <= 27
    assert damp_from(Site(latitude=23.0, wet_months=(6, 7, 8, 9))) is None


def test_the_later_the_less_of_what_ripens_by_warmth() -> None:
    """Warmer weeks hurry it, and it has less light for it (Monteith 1977)."""
    losses = [lost("barley", week) for week in (14, 17, 20, 23, 26)]

    assert sorted(losses) == losses
    assert losses[-1] > losses[0] + 0.2
