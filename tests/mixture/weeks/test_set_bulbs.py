"""Garlic set through a mild winter, and what is sown instead.

Outside sources: Royal Horticultural Society, Garlic (quoted in a stored copy): cloves need one to two months
at 0 to 10 degrees C; common practice in Britain: from October until Christmas, in January at the latest.
"""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement
from kb.mixture.weeks.as_grown import growth_by_week
from kb.mixture.weeks.cold_weeks import small_for_winter
from kb.mixture.weeks.comes_up import set_as_bulb
from kb.mixture.weeks.sown_week import Put
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}


def in_week(week: int, plant: str = "allium-sativum", **site: float) -> PairAnswer:
    bed = Arrangement(share_a=0.5, share_b=0.5, sow_week_a=week)
    here = replace(REFERENCE_SITE, **site)
    return judge_pair(PLANTS[plant], PLANTS["daucus-carota"], here, bed, book=shipped()[1], draws=0)


@pytest.mark.parametrize("week", [40, 44, 48, 51])
def test_garlic_is_set_from_october_until_midwinter_where_winters_are_mild(week: int) -> None:
    """It brings its own store and wants the cold: no seedling that goes into the winter too small."""
    assert "good" == in_week(week).verdict


def test_garlic_of_january_is_late() -> None:
    """Still set then, with less time to grow (common practice): not good, and not the rot of seed."""
    found = in_week(3)

    assert "workable" == found.verdict
    assert any("bulbs stay smaller" in reason.text for reason in found.reasons)


def test_seed_and_frozen_ground_stay_as_they_were() -> None:
    """Rape of December is too small for the winter (`cold_weeks`); frozen ground takes no cloves."""
    assert "poor" == in_week(50, "brassica-napus").verdict
    garlic = PLANTS["allium-sativum"]
    for winter_min_c, held in ((-8.0, False), (-20.0, True)):
        site = replace(REFERENCE_SITE, winter_min_c=winter_min_c)
        usual = growth_by_week(garlic, site)
        assert held is (small_for_winter(garlic, usual, site, Put("set", 50)) is not None)


def test_only_garlic_is_set_as_a_bulb() -> None:
    """Onions are sown as often, leeks are planted out: neither is on record as set in its place."""
    assert ["allium-sativum"] == [plant.id for plant in PLANTS.values() if set_as_bulb(plant)]
