"""Plants of cold and of unknown climates between the tropics, where no frost comes: things to check.

That crops of cool seasons fail in the heat of the lowland tropics unless their kinds are bred for it, and
that temperate perennials want a winter's rest, stands in any handbook of tropical vegetables and fruit.
"""

from dataclasses import replace

import pytest

from kb.mixture.profile import Choice, Profile
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.winter import winter_limits
from tests.mixture.base import shipped
from tests.mixture.profiles import chosen, invented, lasting, season

LOWLAND = Site(latitude=5.0, last_frost_day=None, first_frost_day=None)
COLD = Choice("cold", "cited", ("record:hardy.flora",))
LISTED = Choice("yes", "cited", ("record:listed",))
TROPICAL = Choice("none", "common-practice")
LASTING = replace(lasting("lasting"), tender=chosen(None), winters=Choice(None, "assumed"))
CROP = replace(
    invented("crop", activity=season(14, 18, 28, 34)),
    tender=chosen("no", "r"),
    winters=Choice(None, "assumed"),
)


def held(plant: Profile, site: Site = LOWLAND) -> list[tuple[str, bool]]:
    """Ceiling of what is held against it, and whether that is a thing to check."""
    return [(limit.ceiling, limit.ask) for limit in winter_limits(plant, site)]


@pytest.mark.parametrize(
    "plant",
    [CROP, replace(CROP, tender=chosen(None)), replace(LASTING, winters=COLD, tropical_climate=LISTED)],
)
def test_what_no_one_says_of_the_heat_is_a_thing_to_check(plant: Profile) -> None:
    """A crop of the season may bear it; a tropical climate that is listed may be that of heights."""
    assert [("workable", True)] == held(plant)


@pytest.mark.parametrize("plant", [LASTING, replace(LASTING, winters=COLD)])
def test_lasting_plants_of_no_tropical_climate_are_poor_in_its_lowlands(plant: Profile) -> None:
    """Perennials of the north want a winter's rest (handbooks of tropical gardening).

    So they do in the south of Florida, where no month is below 18 degrees (Köppen's A; climate tables). High
    up, where nights are cool, they are a thing to check.
    """
    assert [("poor", True)] == held(plant)
    assert [("poor", True)] == held(plant, replace(LOWLAND, latitude=25.0))
    assert [] == held(plant, replace(LOWLAND, latitude=38.0))
    assert [("workable", True)] == held(plant, replace(LOWLAND, winter_min_c=8.0))


@pytest.mark.parametrize(
    "name", ["primrose", "ivy", "dog's-tooth violet", "Bath asparagus", "bluebell", "woodruff"]
)
def test_plants_of_temperate_woods_are_no_plants_for_a_mango(name: str) -> None:
    """They are of Europe's woods (Tyler et al. 2021 and floras); no list of tropical plants has them."""
    assert "poor" in {ceiling for ceiling, _ in held(shipped(name), replace(LOWLAND, latitude=10.0))}


@pytest.mark.parametrize("name", ["ginger", "turmeric", "taro", "pineapple", "banana", "cassava"])
def test_what_farmers_grow_there_is_asked_nothing(name: str) -> None:
    """Crops of humid lowlands (FAO ECOCROP lists Aw and Ar for each)."""
    assert [] == held(shipped(name), replace(LOWLAND, latitude=10.0))


def test_wild_annuals_of_cold_winters_are_poor_too() -> None:
    """Chickweed and red deadnettle are weeds of the cool season wherever they are (weed floras)."""
    assert {"poor"} == {c for name in ("chickweed", "red deadnettle") for c, _ in held(shipped(name))}


@pytest.mark.parametrize(
    "plant",
    [
        replace(LASTING, winters=TROPICAL),
        replace(LASTING, tender=chosen("yes", "r")),
        replace(CROP, tender=chosen("yes", "r")),
        replace(CROP, winters=TROPICAL),
    ],
)
def test_plants_of_warm_countries_are_asked_nothing(plant: Profile) -> None:
    """Cassava, cacao, maize and millet are crops of the lowland tropics."""
    assert [] == held(plant)


def test_a_place_with_frost_asks_nothing_of_heat() -> None:
    """At the reference site both are at home."""
    assert [] == [*held(LASTING, REFERENCE_SITE), *held(CROP, REFERENCE_SITE)]


def test_cool_weeks_or_cool_nights_are_enough_for_a_crop_of_the_season() -> None:
    """Wheat stands in the dry season at 20 degrees, and vegetables of the north high up (growers there)."""
    north = replace(LOWLAND, latitude=21.0)
    high = replace(LOWLAND, winter_min_c=8.0)

    assert [] == [*held(CROP, north), *held(CROP, high)]


def test_a_bud_that_needs_a_winter_is_told_once() -> None:
    """The stronger word of chill stands alone (apples in the lowland tropics: pomology)."""
    apple = replace(lasting("apple", activity=season(16, 20, 42, 45, start_driver="chill")), winters=COLD)

    assert [("poor", False)] == held(apple)


def test_a_plant_of_mild_winters_wants_cool_weeks() -> None:
    """Artichokes, bay and rosemary do high up, and less in the heat of the lowlands."""
    mild = replace(LASTING, winters=Choice("mild", "cited", ("r",)))

    assert [("workable", True)] == held(mild)
    assert [] == held(mild, replace(LOWLAND, winter_min_c=8.0))


@pytest.mark.parametrize(("winter", "ceiling"), [(-15.0, "good"), (-24.0, "good"), (-26.0, "workable")])
def test_not_knowing_is_no_good_news_where_winters_kill_many(winter: float, ceiling: str) -> None:
    """Of 239 plants of the base a fifth die at -25 degrees; a nursery lists none there without its zone."""
    cold = replace(REFERENCE_SITE, winter_min_c=winter)

    assert [(ceiling, True)] == held(LASTING, cold)
