"""Crops of the cool weeks sown into the heat of warmer places."""

from dataclasses import replace

import pytest

from kb.mixture.as_grown import growth_by_week
from kb.mixture.profile import Profile
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.sowing import course_limits
from tests.mixture.judged import bed
from tests.mixture.profiles import chosen, invented, lasting, season

SPRING = season(13, 15, 20, 23, end_driver="fixed")
LETTUCE = invented("lettucelike", tender=chosen("no"), activity=SPRING, leaf=SPRING)
WARM = Site(latitude=34.0, last_frost_day=30.0, first_frost_day=345.0)


def ceilings(plant: Profile, site: Site, week: float) -> list[str]:
    """What a named week of sowing holds against it for the heat."""
    course = growth_by_week(plant, site, sow_week=week)
    return [limit.ceiling for limit in course_limits(plant, course, site) if "far warmer" in limit.text]


def test_salads_sown_into_a_hot_summer_bolt_or_fail() -> None:
    """Lettuce and spinach rest in summer (Mediterranean growing calendars): autumn to spring are their weeks.

    The answer names its own weeks, which lift it, and is no surer than the stand-in lets it be.
    """
    answer = bed(LETTUCE, lasting("other"), WARM, sow_week_a=26)

    assert "poor" == answer.verdict
    assert answer.limiting is not None
    assert "far warmer" in answer.limiting.text
    assert "sure" != answer.sureness.word
    assert any("in its own weeks" in condition.text for condition in answer.conditions)


@pytest.mark.parametrize("week", [6.0, 8.0, 10.0])
def test_spring_sowings_of_the_south_are_not_called_hot(week: float) -> None:
    """Salads are sown from winter to early spring at 34 degrees (Mediterranean growing calendars)."""
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
