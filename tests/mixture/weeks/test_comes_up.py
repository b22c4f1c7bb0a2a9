"""From sowing to the first leaf, and what a late frost does to it."""

from dataclasses import replace

import pytest

from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.season import COMES_UP_DAYS
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.weeks.as_grown import growth_by_week
from kb.mixture.weeks.comes_up import days_to_come_up, set_as_tuber
from kb.mixture.weeks.sowing import course_limits
from tests.mixture.profiles import about, chosen, invented, season

SEED = invented(
    "tender-seed", activity=season(20, 24, 36, 41, end_driver="autumn-frost"), tender=chosen("yes", "r")
)
TUBER = replace(SEED, id="tuber-crop", root_form=chosen("tuber"), raising=chosen("in-place", "r"))
TUBER = replace(TUBER, dug_depth_m=about(0.25))
MID_APRIL, MAY = 98.0, 129.0
"""Days from the turn of the year: 9 April, and 10 May."""


def limits(plant: Profile, week: float) -> tuple[Limit, ...]:
    """What holds against a start in this week at the reference site."""
    return course_limits(plant, growth_by_week(plant, REFERENCE_SITE, sow_week=week), REFERENCE_SITE)


def test_potatoes_of_april_are_up_after_four_to_five_weeks() -> None:
    """Maincrop potatoes of mid-April show in mid-May (vegetable handbooks: common practice)."""
    assert 28 <= days_to_come_up(TUBER, 51.0, MID_APRIL) <= 37
    assert days_to_come_up(TUBER, 51.0, MAY) < days_to_come_up(TUBER, 51.0, MID_APRIL)


def test_seed_lies_longer_in_cold_ground() -> None:
    """Two weeks after the last frosts (`season.COMES_UP_DAYS`), longer in April, with an end to waiting."""
    assert days_to_come_up(SEED, 51.0, MAY) == pytest.approx(COMES_UP_DAYS, abs=1)
    assert days_to_come_up(SEED, 51.0, MID_APRIL) > 18
    assert 42 == days_to_come_up(SEED, 60.0, 10.0)


def test_frost_sets_a_tuber_back_and_kills_a_seedling() -> None:
    """Potatoes cut by a May frost grow again; beans and maize do not (vegetable handbooks)."""
    set_back, killed = limits(TUBER, 13), limits(SEED, 15)

    assert [("workable", True)] == [(one.ceiling, "sprouts again" in one.text) for one in set_back]
    assert [("avoid", True)] == [(one.ceiling, "killing frost" in one.text) for one in killed]


def test_earthing_up_does_for_a_late_frost_and_not_for_a_month_of_them() -> None:
    """Potatoes of mid-April are earthed up over their first shoots (vegetable handbooks)."""
    april, february = limits(TUBER, 16), limits(TUBER, 7)

    assert [(True, True)] == [(one.small, "earthed up" in (one.lift or "")) for one in april]
    assert [("workable", False)] == [(one.ceiling, one.lifted) for one in february]


def test_only_what_is_known_to_be_set_as_a_tuber_sprouts_again() -> None:
    """Runner beans have tubers and are sown, sweet potatoes are set as slips (common practice)."""
    sown_bean = replace(TUBER, dug_depth_m=about(0.0))
    slips = replace(TUBER, raising=chosen(None))

    assert [True, False, False, False] == [set_as_tuber(each) for each in (TUBER, SEED, sown_bean, slips)]


def test_a_crop_of_the_year_with_its_store_in_tubers_is_set_as_they_are() -> None:
    """Oca, mashua and ulluco are planted as tubers each spring, as potatoes (Lost Crops of the Incas, 1989).

    What lasts is not set each year, and what is planted out as a young plant is no tuber.
    """
    oca = replace(SEED, stores_in=chosen("tuber", "r"), dug_depth_m=about(0.2))
    lasting = replace(oca, life_cycle=chosen("perennial", "r"))
    young_plant = replace(oca, raising=chosen("planted-out", "r"))
    storage_root = replace(oca, stores_in=chosen("storage-root", "r"))

    assert [True, False, False, False] == [
        set_as_tuber(each) for each in (oca, lasting, young_plant, storage_root)
    ]
