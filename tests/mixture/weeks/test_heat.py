"""Crops of the cool weeks sown into the heat of warmer places."""

from dataclasses import replace

import pytest

from kb.mixture.profile import Profile, Span
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.as_grown import growth_by_week
from kb.mixture.weeks.hot_weeks import warm_note
from kb.mixture.weeks.sowing import course_limits
from tests.mixture.judged import bed
from tests.mixture.profiles import chosen, invented, lasting, season

SPRING = season(13, 15, 20, 23, end_driver="fixed")
LETTUCE = invented("lettucelike", tender=chosen("no"), activity=SPRING, leaf=SPRING)
WARM = Site(latitude=30.0, last_frost_day=30.0, first_frost_day=345.0)
MILD = Site(latitude=37.0, last_frost_day=74.0, first_frost_day=344.0)


def ceilings(plant: Profile, site: Site, week: float) -> list[str]:
    """What a named week of sowing holds against it for the heat."""
    course = growth_by_week(plant, site, sow_week=week)
    return [limit.ceiling for limit in course_limits(plant, course, site) if "bolt or fail" in limit.text]


def test_salads_sown_into_a_hot_summer_bolt_or_fail() -> None:
    """Lettuce and spinach rest in summer (Mediterranean growing calendars): autumn to spring are their weeks.

    The answer names its own weeks, which lift it, and is no surer than the stand-in lets it be.
    """
    answer = bed(LETTUCE, lasting("other"), WARM, sow_week_a=26)

    assert "poor" == answer.verdict
    assert answer.limiting is not None
    assert "bolt or fail" in answer.limiting.text
    assert "sure" != answer.sureness.word
    assert any("in its own weeks" in condition.text for condition in answer.conditions)


@pytest.mark.parametrize("week", [6.0, 8.0, 10.0])
def test_spring_sowings_of_the_south_are_not_called_hot(week: float) -> None:
    """Salads are sown from winter to early spring at 30 degrees (Mediterranean growing calendars)."""
    assert [] == ceilings(LETTUCE, WARM, week)


@pytest.mark.parametrize("latitude", [51.0, 48.0, -51.0])
def test_no_week_of_a_cool_summer_is_called_hot(latitude: float) -> None:
    """Salads are sown all summer in the north (vegetable handbooks)."""
    turned = 182.5 if latitude < 0 else 0.0
    site = replace(
        REFERENCE_SITE,
        latitude=latitude,
        last_frost_day=(130 + turned) % 365,
        first_frost_day=(288 + turned) % 365,
    )

    assert [] == [week for week in range(1, 53) if ceilings(LETTUCE, site, float(week))]


@pytest.mark.parametrize(
    "changes",
    [
        {"tender": chosen("yes")},
        {"tender": chosen(None)},
        {"activity": season(13, 20, 30, 36)},
        {"activity": season(40, 45, 22, 26)},
    ],
    ids=["frost kills it", "not known", "grown in the hottest weeks", "stands over winter"],
)
def test_only_what_keeps_clear_of_the_hottest_weeks_is_judged(changes) -> None:
    """Beans and sunflowers stand through any summer (vegetable handbooks): no limit shows in their weeks."""
    assert [] == ceilings(replace(LETTUCE, **changes), WARM, 26.0)


def test_where_the_rains_make_the_seasons_no_week_is_hotter() -> None:
    """Near the equator the warmth hardly changes with the weeks (climate tables of the tropics)."""
    rains = Site(latitude=7.0, last_frost_day=None, first_frost_day=None, wet_months=(4, 5, 6))

    assert [] == ceilings(LETTUCE, rains, 26.0)


@pytest.mark.parametrize(("week", "warm"), [(10.0, False), (14.0, False), (26.0, True), (30.0, True)])
def test_grown_in_cool_weeks_is_no_limit_of_heat(week: float, warm: bool) -> None:
    """Lettuce: any time of the year at 37.7 degrees in cooler places (Alameda County Master Gardeners).

    Its months go up to 24 °C (Maynard & Hochmuth 1997, Knott's Handbook); that they are warm for it is said.
    """
    lettuce = replace(LETTUCE, warmth_c=Span(7.2, 23.9, "cited", ("record:warmth",)))
    course = growth_by_week(lettuce, MILD, sow_week=week)
    note = warm_note(lettuce, course, MILD)

    assert [] == ceilings(lettuce, MILD, week)
    assert warm == (note is not None)
    assert note is None or "24 °C" in note


def test_the_class_on_record_is_the_limit() -> None:
    """By its definition: weeks above the highest month on record are too hot, those below it are not."""
    less, more = (
        replace(LETTUCE, warmth_c=Span(5.0, high, "cited", ("record:warmth",))) for high in (20.0, 30.0)
    )

    assert ["poor"] == ceilings(less, MILD, 26.0)
    assert [] == ceilings(more, WARM, 26.0)
    course = growth_by_week(less, MILD, sow_week=26.0)
    assert {("record:warmth",)} == {limit.records for limit in course_limits(less, course, MILD)}
