"""How long crops take where rains make the seasons, and stand-in seasons within the cycle on record."""

import numpy as np
import pytest

from kb.mixture.season import reference_frost_days
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.as_grown import growth_by_week
from tests.mixture.base import shipped

GUINEA = Site(latitude=7.0, last_frost_day=None, first_frost_day=None, wet_months=(4, 5, 6, 7, 8, 9, 10))


def weeks(name: str, site: Site) -> int:
    """In how many weeks it grows."""
    return int(np.count_nonzero(growth_by_week(shipped(name), site)))


@pytest.mark.parametrize(
    ("name", "days"), [("cowpea", (70, 110)), ("maize", (100, 140)), ("common bean", (70, 115))]
)
def test_no_cool_summer_draws_a_crop_out_in_the_tropics(name: str, days: tuple[float, float]) -> None:
    """Cowpea of 75 to 90 days in Ghana (Trop. Agric. 73(3)); maize 125-140, beans 90-110 (FAO-56, t. 11)."""
    assert days[0] <= 7 * (weeks(name, GUINEA) - 1) <= days[1]
    assert weeks(name, GUINEA) <= weeks(name, REFERENCE_SITE)


@pytest.mark.parametrize(("name", "most_days"), [("sunn hemp", 90), ("finger millet", 130), ("cumin", 135)])
def test_a_stand_in_season_is_no_longer_than_the_crop_takes(name: str, most_days: float) -> None:
    """Sunn hemp gives its bulk in 60 to 90 days (NRCS); small millets and cumin ripen in four months."""
    crop = shipped(name)

    assert not crop.activity.known
    assert 7 * (weeks(name, REFERENCE_SITE) - 1) <= most_days


FAO56_TABLE_11 = {
    "maize": (125, 150),
    "lettuce": (75, 105),
    "spinach": (60, 65),
    "radish": (35, 40),
    "potato": (125, 145),
    "cucumber": (105, 130),
    "pea": (90, 100),
    "sunflower": (130, 130),
    "common bean": (75, 95),
    "aubergine": (130, 140),
    "tomato": (145, 180),
}
"""Days from sowing or setting out to the end of harvest, grown in the Mediterranean, in California or in arid
regions: Allen et al. 1998, FAO-56, table 11 (total of the stages, least and most of these regions)."""


def at_latitude(latitude: float) -> Site:
    last, first = reference_frost_days(latitude)
    return Site(latitude=latitude, last_frost_day=last, first_frost_day=first)


@pytest.mark.parametrize(("name", "days"), FAO56_TABLE_11.items())
def test_a_long_summer_does_not_draw_a_crop_out(name: str, days: tuple[float, float]) -> None:
    """By more than half: our windows are those of growers, who pick on and let stand what is ready."""
    grown = 7 * (weeks(name, at_latitude(38.0)) - 1)

    assert 0.7 * days[0] <= grown <= 1.5 * days[1]


@pytest.mark.parametrize("latitude", [35.0, 40.0, 45.0, 56.0, 59.0])
@pytest.mark.parametrize("name", ["radish", "lettuce", "spinach", "pea", "barley", "carrot"])
def test_a_hardy_crop_takes_as_long_in_an_early_spring_as_in_a_late_one(name: str, latitude: float) -> None:
    """Usual practice: radishes are ready in four to six weeks in Scotland as in Spain."""
    assert abs(weeks(name, at_latitude(latitude)) - weeks(name, REFERENCE_SITE)) <= 1
