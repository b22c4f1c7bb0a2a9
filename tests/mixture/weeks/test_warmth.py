"""How warm a site is that tells its frosts and its winter: against towns, and what it changes for crops."""

import numpy as np
import pytest

from kb.mixture.season import reference_frost_days
from kb.mixture.site import Site
from kb.mixture.weeks.climate import weekly_warmth
from kb.mixture.weeks.warmth import warmth_by_week
from tests.mixture import base, judged

TOWNS = {
    "Minneapolis": (45.0, 125.0, 280.0, -28.0, -9.0, 23.0),
    "Winnipeg": (49.9, 145.0, 263.0, -35.0, -16.0, 20.0),
    "Budapest": (47.5, 110.0, 293.0, -15.0, 0.0, 22.0),
    "Stockholm": (59.3, 130.0, 278.0, -18.0, -3.0, 18.0),
    "Sapporo": (43.1, 120.0, 295.0, -15.0, -3.0, 22.0),
}
"""Latitude, last and first frost (day of the year), lowest of a winter; mean of January and of the summer,
degrees C: tables of climate, all from memory."""


@pytest.mark.parametrize(("town", "told"), TOWNS.items())
def test_frosts_and_a_winter_tell_a_continental_climate(town: str, told: tuple[float, ...]) -> None:
    """Within five degrees, where the latitude alone is off by up to twenty."""
    latitude, last, first, winter, january, summer = told
    here = warmth_by_week(
        Site(latitude=latitude, last_frost_day=last, first_frost_day=first, winter_min_c=winter)
    )

    assert abs(float(here.min()) - january) <= 5
    assert abs(float(here.max()) - summer) <= 5


@pytest.mark.parametrize("latitude", [35.0, 51.0, 60.0, -40.0])
def test_a_site_that_tells_nothing_is_as_warm_as_its_latitude(latitude: float) -> None:
    last, first = reference_frost_days(latitude)
    here = warmth_by_week(Site(latitude=latitude, last_frost_day=last, first_frost_day=first))

    assert np.array_equal(here, weekly_warmth(latitude))


@pytest.mark.parametrize("week", [1, 3, 6, 8])
@pytest.mark.parametrize("name", ["carrot", "spinach", "lettuce", "radish", "pea"])
def test_nothing_is_sown_outdoors_in_january_where_the_ground_is_frozen(name: str, week: int) -> None:
    """Minnesota sows its first hardy crops in the middle of April (extension practice)."""
    cold = Site(latitude=45.0, last_frost_day=140, first_frost_day=265, winter_min_c=-28.0)
    found = judged.bed(base.shipped(name), base.shipped("chives"), cold, sow_week_a=week)

    assert found.verdict != "good"
