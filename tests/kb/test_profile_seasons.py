"""Profiles of crops: their seasons and sowings, and what a wild plant's classes say of them."""

from dataclasses import replace

import pytest

from kb.adoption.places import of_the_rains
from kb.model import PlantId, Record, SourceKey
from kb.repository import open_repository
from tests.kb.test_table import a_record, profile_of


def test_a_crop_that_stands_over_winter_grows_up_in_spring() -> None:
    """Autumn-sown rape, rye and garlic are full grown in weeks 14 to 16 (`trade` 4.5, table of dates).

    Kale that is cut in January did its growing in autumn, and so did what is set out in July and picked until
    April (Ministry of Agriculture 1945, Allotment & Garden Guide).
    """
    rye = profile_of(a_record("life-cycle", None, "annual"), a_record("growth-window", ("39", "30"))).activity
    kale = profile_of(a_record("life-cycle", None, "annual"), a_record("growth-window", ("31", "3"))).activity

    assert 13 <= rye.full <= 17
    assert 24 <= rye.decline <= 28
    assert 34 <= kale.full <= 41
    picked = profile_of(
        a_record("life-cycle", None, "biennial"), a_record("growth-window", ("28.9", "18"))
    ).activity
    assert 34 <= picked.full <= 41
    assert 12 <= picked.decline <= picked.end <= 19


def test_a_second_time_of_sowing_is_a_year_of_its_own() -> None:
    """Faba beans of November and of May: FAO-56 table 11 prints both for Europe."""
    sown = [
        replace(
            a_record("growth-window", weeks), id=f"inventa-prima.growth-window.{n}", source=SourceKey(f"s{n}")
        )
        for n, weeks in enumerate((("46.4", "27.9"), ("46.4", "19.3"), ("20.1", "33.0")))
    ]
    annual = profile_of(a_record("life-cycle", None, "annual"), *sown)
    lasting = profile_of(a_record("life-cycle", None, "perennial"), *sown)

    assert 46.4 == pytest.approx(annual.activity.start)
    assert [20.1] == [pytest.approx(other.activity.start) for other in annual.sowings]
    assert () == lasting.sowings


def test_a_crop_of_one_season_is_not_bound_by_the_wild_light_class() -> None:
    """A light class of 9 is no reason to refuse an annual light of 40 %: its crop light decides."""
    annual = profile_of(
        a_record("life-cycle", None, "annual"),
        a_record("light-indicator-1-9", "9"),
        a_record("light-to-crop", ("0.1", "0.7")),
    )

    assert 0.1 == pytest.approx(annual.light_to_survive.likely)


def test_a_plant_of_deep_shade_is_not_taken_to_crop_as_a_garden_herb() -> None:
    """Wood sorrel (light class 1) grows in full leaf on the floor of a closed beech wood (floras)."""
    floor = profile_of(a_record("light-indicator-1-9", "1"))
    mates = profile_of(a_record("light-indicator-1-9", "4"))

    assert (0.08, False) == (pytest.approx(floor.light_to_crop_full.likely), floor.light_to_crop_full.known)
    assert floor.light_to_crop_zero.likely == pytest.approx(floor.light_to_survive.likely)
    assert floor.light_to_crop_full.low < floor.light_to_crop_full.likely < floor.light_to_crop_full.high
    assert 0.25 <= mates.light_to_crop_full.likely, "no less than of ramsons, ivy and yew, known, of class 4"


def test_a_class_of_shade_tells_the_light_that_a_herb_is_found_in() -> None:
    """Ellenberg et al. (2001): 1 "seldom more than 30 %", 5 "rarely in full light", in summer; 3 between.

    A share of its own outweighs the class; crops of one season and trees are not bound by it.
    """
    herb = a_record("growth-form", None, "herb")
    deep, shade, mates = (profile_of(herb, a_record("light-indicator-1-9", n)) for n in ("1", "3", "4"))
    own = profile_of(herb, a_record("light-indicator-1-9", "1"), a_record("light-to-scorch", "0.6"))
    tree = profile_of(a_record("growth-form", None, "tree"), a_record("light-indicator-1-9", "3"))
    crop = profile_of(herb, a_record("life-cycle", None, "annual"), a_record("light-indicator-1-9", "3"))

    assert deep.most_light is not None
    assert (0.3, True) == (pytest.approx(deep.most_light.low), deep.most_light.found)
    assert shade.most_light is not None
    assert 0.3 < shade.most_light.low < shade.most_light.high < 1.0
    assert own.most_light is not None
    assert (0.6, False) == (pytest.approx(own.most_light.low), own.most_light.found)
    assert (mates.most_light, tree.most_light, crop.most_light) == (None, None, None)


def test_the_crop_light_of_open_ground_and_a_known_one_stay() -> None:
    """Fruit bushes that live on in shade crop in sun: tolerance of shade bounds nothing (`trade` 3.3)."""
    usual = profile_of().light_to_crop_full.likely
    shade = a_record("light-indicator-1-9", "1")

    assert usual == profile_of(a_record("light-indicator-1-9", "7")).light_to_crop_full.likely
    assert usual == profile_of(a_record("shade-tolerance-1-5", "5")).light_to_crop_full.likely
    assert 0.6 == pytest.approx(
        profile_of(shade, a_record("light-to-crop", ("0.1", "0.6"))).light_to_crop_full.likely
    )


def test_the_usual_ph_does_not_contradict_a_class_of_acid_or_lime() -> None:
    """Cloudberry (class 1.5 of 9) grows in bogs, lesser calamint (9) on chalk; a class is no pH (floras)."""
    scale = "reaction-indicator-1-9"
    acid, middle, lime = (profile_of(a_record(scale, number)) for number in ("1.5", "6", "9"))

    assert (acid.soil_ph.low < 4, acid.soil_ph.high > 7) == (True, True)
    assert (5.5, 7.5) == (middle.soil_ph.low, middle.soil_ph.high)
    assert (lime.soil_ph.low, lime.soil_ph.high > 8) == (5.5, True)
    assert not any(plant.soil_ph.known for plant in (acid, middle, lime))
    assert acid.reaction_class is not None
    assert (1.5, True) == (acid.reaction_class.likely, acid.reaction_class.known)


def test_a_wild_class_of_reaction_does_not_bind_a_crop_of_one_season() -> None:
    """Classes say where wild plants hold their own; serradella is sown on farm land (common practice)."""
    sown = profile_of(a_record("reaction-indicator-1-9", "3"), a_record("life-cycle", None, "annual"))

    assert sown.reaction_class is None
    assert (5.5, 7.5) == (sown.soil_ph.low, sown.soil_ph.high)


def test_bare_in_the_rains_is_narrower_than_deciduous() -> None:
    """A page that calls winter thorn deciduous does not contradict the ones that say when it is bare."""
    form, both = a_record("growth-form", None, "tree"), ("deciduous", "bare-in-rains")
    said = [
        replace(
            a_record("leaf-retention", None, word),
            id=f"inventa-prima.leaf-retention.{n}",
            source=SourceKey(f"s{n}"),
        )
        for n, word in enumerate((both[0], *both))
    ]
    profile = profile_of(form, *said)

    assert ("dry-season", True) == (profile.leaf.start_driver, profile.leaf.known)
    assert profile.activity == profile.leaf


def test_a_calendar_of_the_rains_is_no_season_here_but_one_of_a_temperate_place_is() -> None:
    """Sesame of Kerala is sown in August (KAU): at 51 N a season that nobody grows; its days stand.

    What is said of the whole year names no week, and a place between the tropics counts only as a place.
    """
    annual, days = a_record("life-cycle", None, "annual"), a_record("cycle-length", "105")

    def seen(place: str, weeks: tuple[str, str], source: str) -> Record:
        window = a_record("growth-window", weeks)
        return replace(
            window,
            id=f"inventa-prima.growth-window.{source}",
            source=SourceKey(source),
            conditions=(("place", place),),
        )

    kerala = seen("Kerala, India", ("31.3", "52.9"), "kerala")
    georgia = seen("Georgia, United States", ("22", "38"), "georgia")
    alone = profile_of(annual, days, kerala).activity
    both = profile_of(annual, days, kerala, georgia).activity
    all_year = profile_of(annual, seen("Hawaii", ("1", "52.9"), "hawaii")).activity

    assert ("form", 12.0) == (alone.origin, alone.start)
    assert 105 / 7 == pytest.approx(alone.end - alone.start, abs=0.1)
    assert ("cited", 22.0) == (both.origin, both.start)
    assert "cited" == all_year.origin


def test_the_calendar_of_the_rains_stays_on_record_with_its_reason() -> None:
    """Nothing is dropped: the window of Kerala is weighed with nothing beside one of New York."""
    sesame = open_repository().snapshot().plants[PlantId("sesamum-indicum")]
    (window,) = [record for record in sesame.records if record.trait == "growth-window"]

    assert of_the_rains(window)
    assert not of_the_rains(replace(window, conditions=(("place", "New York"),)))
    assert not of_the_rains(replace(window, conditions=()))
