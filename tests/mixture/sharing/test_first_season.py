"""How crops stand in the season they are grown for: before they flower, trailing, sown late, as covers."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.site import REFERENCE_SITE, Arrangement
from kb.mixture.weeks.as_grown import growth_by_week
from kb.mixture.weeks.sowing import course_limits
from tests.mixture.base import shipped


@pytest.mark.parametrize(("name", "height_m"), [("carrot", 0.3), ("onion", 0.4), ("parsnip", 0.4)])
def test_a_biennial_is_as_tall_as_it_is_in_its_first_year(name: str, height_m: float) -> None:
    """Allen et al. 1998, FAO-56, table 12: carrots 0.3 m, onions 0.3 to 0.5, parsnips 0.4."""
    assert height_m == pytest.approx(shipped(name).height_m.likely, abs=0.011)


@pytest.mark.parametrize("name", ["trailing squash", "melon", "watermelon"])
def test_trailing_vines_hold_their_blades_up(name: str) -> None:
    """Blades on upright stalks over a stem on the ground (common practice)."""
    vine = shipped(name)

    assert vine.crown_base_m.likely == pytest.approx(vine.height_m.likely / 2)


def test_trailing_leaves_shade_low_crops() -> None:
    """Squash that runs over onions from July costs them light (common practice); lying leaves would not."""
    squash, onion = shipped("trailing squash"), shipped("onion")
    low = replace(squash.crown_base_m, low=0.0, likely=0.0, high=0.001)
    lying = replace(squash, crown_base_m=low)
    stands = Arrangement(setting="bed", share_a=0.6, share_b=0.5, sow_week_a=22, sow_week_b=13)
    lost, spared = (
        judge_pair(one, onion, REFERENCE_SITE, stands).loss[onion.id].light for one in (squash, lying)
    )

    assert lost > 0.05
    assert lost > spared


def ends(course: np.ndarray) -> int:
    """The last week (1-52) in which it grows."""
    return int(np.flatnonzero((course > 0) & (np.roll(course, -1) == 0))[0]) + 1


@pytest.mark.parametrize(("name", "week"), [("onion", 15), ("onion", 18), ("leek", 22), ("garlic", 46)])
def test_a_late_start_does_not_put_off_what_day_length_ends(name: str, week: int) -> None:
    """Bulbs ripen with the length of the day, whenever they were set (`trade` 4.5)."""
    crop = shipped(name)
    own = growth_by_week(crop, REFERENCE_SITE)
    late = growth_by_week(crop, REFERENCE_SITE, sow_week=week)

    assert ends(own) == pytest.approx(ends(late), abs=1)
    assert late.sum() < own.sum()


@pytest.mark.parametrize("name", ["subterranean clover", "crimson clover", "hairy vetch"])
def test_a_cover_sown_in_spring_is_no_lost_crop(name: str) -> None:
    """Undersown in May it covers the ground to the autumn (Theunissen et al. 1995: a trial of just that)."""
    clover = shipped(name)
    course = growth_by_week(clover, REFERENCE_SITE, sow_week=20)

    assert () == course_limits(clover, course, REFERENCE_SITE)


@pytest.mark.parametrize("name", ["rye", "garlic"])
def test_a_crop_that_needs_its_winter_is_still_too_early(name: str) -> None:
    """Winter cereals and garlic sown in May come to nothing as crops of grain and bulbs (common practice)."""
    crop = shipped(name)
    course = growth_by_week(crop, REFERENCE_SITE, sow_week=22)

    assert "yes" != crop.covers.value
    assert course_limits(crop, course, REFERENCE_SITE)
