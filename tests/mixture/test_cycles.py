"""How long crops take where rains make the seasons, and stand-in seasons within the cycle on record."""

import numpy as np
import pytest

from kb.mixture.as_grown import growth_by_week
from kb.mixture.site import REFERENCE_SITE, Site
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
