"""Lasting plants that are grown as the crop of one season."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from kb.mixture.weeks.as_grown import growth_by_week, leaf_by_week
from kb.mixture.weeks.year_crop import as_year_crop, of_one_year
from tests.mixture.base import shipped
from tests.mixture.profiles import EVERGREEN, chosen

SAVANNA = Site(latitude=-14.0, last_frost_day=None, first_frost_day=None, wet_months=(11, 12, 1, 2, 3))
"""One rainy season from November to March."""


@pytest.mark.parametrize(
    ("name", "by_record", "if_cleared"),
    [
        ("cassava", False, False),
        ("pigeon pea", False, False),
        ("Welsh onion", True, True),
        ("Jerusalem artichoke", True, True),
        ("lesser yam", True, True),
        ("chives", False, True),
        ("asparagus", False, True),
        ("banana", False, True),
        ("grape", False, False),
        ("apple", False, False),
        ("maize", False, False),
    ],
)
def test_which_lasting_plants_are_crops_of_one_season(name: str, by_record: bool, if_cleared: bool) -> None:
    """Lifted each year or ripe in the year of planting (tropical and vegetable handbooks: common practice).

    Grapes and apples are never cleared with a season, and asparagus is not cut in its first. Cassava and
    pigeon pea, which outlive their harvest, are on record as annual crops already.
    """
    found = shipped(name)

    assert (by_record, if_cleared) == (of_one_year(found), of_one_year(found, cleared=True))


def test_it_grows_from_nothing_to_its_harvest() -> None:
    """Cassava set in week 14 is lifted after 210 to 360 days (Allen et al. 1998, FAO 56, table 11)."""
    crop = as_year_crop(shipped("cassava"))
    growth, leaf = (course(crop, SAVANNA, sow_week=14) for course in (growth_by_week, leaf_by_week))

    assert 210 <= np.count_nonzero(growth) * 7 <= 360
    assert growth[13] < 0.2
    assert leaf[13] < leaf[16] < leaf[20]
    assert crop.annual


@pytest.mark.parametrize("name", ["cassava", "pigeon pea"])
def test_an_evergreen_that_is_grown_for_a_year_is_not_green_all_year(name: str) -> None:
    """Both are grown as annual crops (Ikeh 2023; Gangaiah, kharif crops): bare ground before and after."""
    found = shipped(name)

    assert ("annual", False) == (found.life_cycle.value, found.activity.evergreen)
    assert 0 < np.count_nonzero(growth_by_week(found, SAVANNA, sow_week=48)) < 50


def test_a_slow_starter_shades_less_than_a_bush_that_stands() -> None:
    """Pigeon pea sown with maize costs it little: it is slow for two months (intercropping handbooks)."""
    maize = shipped("maize")
    pea = replace(shipped("pigeon pea"), life_cycle=chosen("perennial"), activity=EVERGREEN, leaf=EVERGREEN)
    arrangement = Arrangement(setting="bed", share_a=0.6, share_b=0.4, sow_week_a=48, sow_week_b=48)
    bush, crop = (
        judge_pair(maize, one, SAVANNA, arrangement).loss[maize.id].light for one in (pea, as_year_crop(pea))
    )

    assert crop < bush


def test_an_evergreen_herb_that_is_cleared_has_a_season() -> None:
    """Nothing that is set and cleared stands all year: its growth begins with the week that is named."""
    crop = as_year_crop(shipped("banana"))
    growth = growth_by_week(crop, REFERENCE_SITE, sow_week=20)

    assert growth[19] < growth[25]
    assert 0.0 == growth.min()
