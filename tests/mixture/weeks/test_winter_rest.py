"""Growth of evergreen herbs and grasses in cold weeks, held to when grass grows in the United Kingdom."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture.season import reference_frost_days
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.as_grown import growth_by_week, leaf_by_week
from kb.mixture.weeks.climate import weekly_warmth
from tests.mixture.base import shipped


def at(latitude: float) -> Site:
    last, first = reference_frost_days(latitude)
    return replace(REFERENCE_SITE, latitude=latitude, last_frost_day=last, first_frost_day=first)


@pytest.mark.parametrize("grass", ["timothy", "perennial ryegrass"])
def test_grass_grows_between_a_mean_of_five_degrees_in_spring_and_of_eight_in_autumn(grass: str) -> None:
    """Broad and Hough 1993 (Grass Forage Sci. 48: 26-37, abstract): 5 and 8 C define start and end best."""
    growth, warmth = growth_by_week(shipped(grass), REFERENCE_SITE), weekly_warmth(REFERENCE_SITE.latitude)
    grows = np.flatnonzero(growth > 0.5)

    assert 5.0 == pytest.approx(warmth[grows[0]], abs=0.6)
    assert 8.0 == pytest.approx(warmth[grows[-1]], abs=0.8)
    assert 0.2 > growth[:4].max()
    assert 0.9 <= growth[12:42].min()


def test_its_leaf_stays_and_wood_grows_on() -> None:
    """`trade` 4.5: leaf 0.9 to 1 all year; FAO-56 table 12: conifers have 1.0 of reference all year."""
    assert 0.9 <= leaf_by_week(shipped("timothy"), REFERENCE_SITE).min()
    assert 0.9 <= growth_by_week(shipped("Scots pine"), REFERENCE_SITE).min()


def test_it_is_there_in_every_week_and_grows_longer_towards_the_equator() -> None:
    """No week is without it; at 35 degrees, 14 C in January, winter stops nothing; the south is mirrored."""
    weeks = [growth_by_week(shipped("timothy"), at(latitude)) for latitude in (58.0, 51.0, 45.0, 35.0)]
    seasons = [int((growth > 0.5).sum()) for growth in weeks]

    assert all(growth.min() > 0 for growth in weeks)
    assert sorted(seasons) == seasons
    assert 52 == seasons[-1]
    assert 0.2 > growth_by_week(shipped("timothy"), at(-51.0))[26:30].max()
