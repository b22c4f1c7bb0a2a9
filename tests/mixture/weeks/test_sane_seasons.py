"""Courses and sequences that a grower would laugh at, each found by a review of November 2026.

What is true is common practice and common knowledge unless a source is named beside it.
"""

import numpy as np
import pytest

from kb.mixture.follow.grown_after import FollowOn, timing
from kb.mixture.limits import ceiling_of
from kb.mixture.season import reference_frost_days
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.as_grown import growth_by_week, leaf_by_week
from kb.mixture.weeks.winter import winter_limits
from kb.model import TraitId
from kb.profiles.yearly_course import WOOD
from tests.mixture import base, judged


def at_latitude(latitude: float) -> Site:
    last, first = reference_frost_days(latitude)
    return Site(latitude=latitude, last_frost_day=last, first_frost_day=first)


@pytest.mark.parametrize("name", ["apple", "hazel", "beech", "walnut", "grape", "ash", "rowan"])
@pytest.mark.parametrize("latitude", [35.0, 38.0, 45.0])
def test_trees_that_drop_their_leaves_stand_bare_in_winter_everywhere(name: str, latitude: float) -> None:
    """Apples in the Adige valley (46.5 N) bloom in the middle of April (Laimburg), in Kent about 1 May."""
    leaf = leaf_by_week(base.shipped(name), at_latitude(latitude))

    assert int(np.count_nonzero(leaf)) <= 44
    assert not leaf[:5].any()


def half_evergreen(plant: str) -> bool:
    """Whether it keeps part of its leaf in winter."""
    told = base.base().adopted(plant).get(TraitId("leaf-retention"))
    return told is not None and "semi-evergreen" in told.concepts


def test_no_wood_that_drops_its_leaves_keeps_them_all_year_in_the_south() -> None:
    """Every tree, shrub, cane and woody climber of the base, at 35 N: bare for some weeks, most for eight.

    Italian alder, honeysuckle and elder are in leaf for 38 to 42 weeks at 51 N already. What is half
    evergreen (jasmine, the creeping bramble) keeps part of its leaf all winter, and thins out instead.
    """
    site = at_latitude(35.0)
    bare = {
        plant.id: int(np.count_nonzero(leaf_by_week(plant, site)))
        for plant in base.base().profiles()
        if plant.growth_form.value in WOOD
        and not (plant.leaf.evergreen or plant.annual)
        and not half_evergreen(plant.id)
    }

    assert len(bare) > 200
    assert {} == {plant: weeks for plant, weeks in bare.items() if weeks >= 50}
    assert sum(weeks > 44 for weeks in bare.values()) <= 3


@pytest.mark.parametrize("name", ["tomato", "maize", "lettuce"])
def test_ground_without_frost_has_no_later_spring(name: str) -> None:
    """The Canaries against a place at the same latitude with frosts about midwinter."""
    never = Site(latitude=28.0, last_frost_day=None, first_frost_day=None)
    plant = base.shipped(name)
    free, frosty = (growth_by_week(plant, site) for site in (never, at_latitude(28.0)))

    assert int(np.argmax(free > 0)) <= int(np.argmax(frosty > 0)) + 1


@pytest.mark.parametrize(
    ("name", "sown", "weeks"),
    [
        ("turnip", 16, (5, 14)),
        ("radish", 14, (4, 8)),
        ("common bean", 30, (8, 13)),
        ("tomato", 26, (10, 17)),
        ("garlic", 17, (8, 16)),
        ("lettuce", 20, (6, 16)),
    ],
)
def test_a_crop_leaves_the_ground_when_it_is_ready_or_frozen(
    name: str, sown: float, weeks: tuple[float, float]
) -> None:
    """FAO-56 table 11 and seed packets; the first frost of the reference site falls in week 42."""
    found = timing(
        base.shipped(name), base.shipped("chives"), REFERENCE_SITE, FollowOn(sow_week_a=sown)
    ).clear_week

    assert found is not None
    assert weeks[0] <= (found - sown) % 52 <= weeks[1]


@pytest.mark.parametrize(("name", "week"), [("pepper", 26), ("pumpkin", 29), ("melon", 29), ("maize", 30)])
def test_what_frost_ends_before_it_is_ready_is_not_good(name: str, week: int) -> None:
    """At 51 N peppers and pumpkins are set out by the middle of June."""
    found = judged.bed(base.shipped(name), base.shipped("chives"), sow_week_a=week)

    assert found.verdict != "good"
    assert any(reason.kind == "season" for reason in found.reasons)


@pytest.mark.parametrize(("week", "word"), [(35, "good"), (50, "poor")])
def test_what_stands_over_winter_can_be_sown_too_late(week: int, word: str) -> None:
    """Rape is drilled from the middle of August; the end of September is very late (seed trade's advice)."""
    found = judged.bed(base.shipped("rapeseed"), base.shipped("chives"), sow_week_a=week)

    assert word == found.verdict


def test_winter_cold_is_asked_of_crops_that_stand_over_winter() -> None:
    """Winter wheat bears some -20 degrees, without snow; vetch about -12."""
    cold = Site(latitude=45.0, last_frost_day=130, first_frost_day=275, winter_min_c=-30.0)
    found = judged.bed(base.shipped("hairy vetch"), base.shipped("chives"), cold, sow_week_a=36)

    assert any(condition.kind == "hardiness" for condition in found.conditions)


@pytest.mark.parametrize("straw", ["wheat", "barley", "oat"])
def test_no_straw_carries_cucumbers(straw: str) -> None:
    """Vetches climb straw; cucumbers take a trellis or the ground."""
    found = judged.bed(base.shipped(straw), base.shipped("cucumber"))

    assert not any("carries" in reason.text and "does not" not in reason.text for reason in found.reasons)


@pytest.mark.parametrize(("winter_c", "word"), [(-20.0, "good"), (-30.0, "workable"), (-45.0, "poor")])
def test_not_knowing_how_much_cold_a_plant_bears_is_no_good_news(winter_c: float, word: str) -> None:
    """Of 239 lasting plants of the base on record 82 % bear -25 degrees, 18 % -38 (measured, in `winter`)."""
    unknown = base.shipped("carob")
    assert unknown.hardiness_c is None or not unknown.hardiness_c.known

    limits = winter_limits(unknown, Site(latitude=50.0, winter_min_c=winter_c))

    assert word == ceiling_of(limits)
