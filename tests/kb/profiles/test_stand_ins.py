"""What stands in for a missing record, beside what is taught of such plants."""

from dataclasses import replace
from decimal import Decimal

import pytest

from kb.mixture.profile import Estimate
from kb.model import PlantId, TraitId
from kb.profiles.defaults import FULL_IN_HALF_SHADE
from kb.repository import open_repository
from tests.kb.test_table import a_record, profile_of

NEEDLE_TREE = (a_record("leaf-retention", concept="evergreen"), a_record("family", concept="Taxaceae"))


def leaf_of_tree(light_share: str | None, *others: object, form: str = "tree") -> Estimate:
    """The leaf area index of a plant that lives on this share of open light."""
    light = () if light_share is None else (a_record("light-to-survive", light_share),)
    return profile_of(a_record("growth-form", concept=form), *light, *others).leaf_area_index  # type: ignore[arg-type]


def test_trees_that_bear_deep_shade_carry_most_leaf() -> None:
    """Forestry teaching: shade-bearers (beech) cast the deepest shade, light-demanders (birch) the least.

    `trade` 3.2 has 5-7 for beech, 3-4.5 for walnut, 2-3 for birch and 3-4 for hazel: each middle lies in or
    near the range of its class, and every interval is wide.
    """
    deep, half, light = (leaf_of_tree(share) for share in ("0.04", "0.12", "0.4"))

    assert deep.likely > half.likely > light.likely
    assert 4.5 <= deep.likely <= 7
    assert 3 <= half.likely <= 4.5
    assert 2 <= light.likely <= 3.5
    assert all(leaf.high / leaf.low > 2 and leaf.origin == "form" for leaf in (deep, half, light))
    assert all(leaf.records for leaf in (deep, half, light))


def test_needle_trees_of_deep_shade_are_the_densest() -> None:
    """Forestry teaching: fir, spruce and yew woods are darker than beech; pine woods are light."""
    deep, pine = (leaf_of_tree(share, *NEEDLE_TREE) for share in ("0.04", "0.4"))

    assert deep.likely > leaf_of_tree("0.04").likely
    assert pine.likely == leaf_of_tree("0.4").likely


def test_nothing_is_read_from_light_that_is_not_on_record_nor_of_shrubs() -> None:
    """Nothing known of it: the usual value of the form (`trade` 3.2), and no record behind it."""
    unknown, shrub = leaf_of_tree(None), leaf_of_tree("0.04", form="shrub")

    assert (unknown.likely, unknown.records) == (3.2, ())
    assert (shrub.likely, shrub.records) == (3.0, ())


def test_a_recorded_leaf_area_is_kept() -> None:
    """Records before stand-ins (`trade` 4.14)."""
    assert leaf_of_tree("0.04", a_record("leaf-area-index", "2.5")).likely == 2.5


@pytest.mark.parametrize(("least_light", "most_light"), [(0.0, 0.07), (0.07, 0.2), (0.2, 1.0)])
def test_the_steps_are_those_of_the_measured_trees(least_light: float, most_light: float) -> None:
    """City trees measured one by one (McPherson et al. 2016): by class of shade, their medians."""
    snapshot = open_repository().snapshot()
    shades = {
        profile.id: profile.light_to_survive.likely
        for profile in snapshot.profiles()
        if profile.growth_form.value == "tree" and profile.light_to_survive.known
    }
    measured = [
        float(record.likely)
        for plant, light in shades.items()
        for record in snapshot.plants[plant].records
        if (record.trait, record.source) == ("leaf-area-index", "urban-trees")
        and record.likely is not None
        and least_light < light <= most_light
    ]
    middle = sorted(measured)[len(measured) // 2]

    assert middle == pytest.approx(leaf_of_tree(str(most_light)).likely, abs=0.3)


CLINGER = (a_record("growth-form", concept="climber-woody"), a_record("support-mode", concept="root-clinger"))


def test_what_climbs_by_roots_needs_the_light_of_the_inside_of_a_wood() -> None:
    """Teaching of climbing plants: root-climbers (ivy) are of the inside of woods, tendrils of the edge.

    The class is that of `kb/adoption/indicators.py` for shade-tolerant plants.
    """
    clinger = profile_of(*CLINGER)
    tendril = profile_of(CLINGER[0], a_record("support-mode", concept="tendril"))

    assert clinger.light_to_survive.likely <= 0.05 < tendril.light_to_survive.likely
    assert 0.25 <= clinger.light_to_crop_full.likely <= 0.5 < tendril.light_to_crop_full.likely
    assert not clinger.light_to_crop_full.known
    assert clinger.light_to_crop_full.records


def test_a_climber_of_shade_borrows_from_its_class() -> None:
    """A climber said to be shade-tolerant needs less than a garden herb; of a tree the scale bounds nothing.

    `trade` 3.3: listed shade tolerance of seedlings and the light of a crop differ.
    """
    shade = a_record("shade-tolerance-3", concept="tolerant")
    climber = profile_of(CLINGER[0], shade)
    tree = profile_of(a_record("growth-form", concept="tree"), shade)

    assert climber.light_to_crop_full.likely < 0.5
    assert tree.light_to_crop_full.likely == 0.75


def test_light_on_record_is_kept_of_a_clinger() -> None:
    """Records before stand-ins (`trade` 4.14)."""
    known = profile_of(*CLINGER, a_record("light-to-survive", "0.3"))

    assert known.light_to_survive.likely == 0.3


def test_a_herb_of_half_shade_does_without_full_sun() -> None:
    """Ellenberg's class 5 is half shade, rarely in full light; a herb of class 6 stands in as of a garden.

    A class of trees tells of young ones (Hill et al. 2004, on their table of light values).
    """
    half, open_ground = (a_record("light-indicator-1-9", number) for number in ("5", "6"))
    herb = a_record("growth-form", concept="herb")

    assert profile_of(half, herb).light_to_crop_full.likely == pytest.approx(0.6)
    assert not profile_of(half, herb).light_to_crop_full.known
    assert profile_of(open_ground, herb).light_to_crop_full.likely == pytest.approx(0.75)
    assert profile_of(
        half, a_record("growth-form", concept="tree")
    ).light_to_crop_full.likely == pytest.approx(0.75)
    known = profile_of(half, herb, a_record("light-to-crop", ("0.1", "0.7")))
    assert known.light_to_crop_full.likely == pytest.approx(0.7)


def test_no_plant_of_half_shade_with_its_light_on_record_needs_more() -> None:
    """The base itself: of plants of class 5 or less with their light to crop on record, the most is 0.6."""
    snapshot = open_repository().snapshot()
    classes = {
        p.id: snapshot.adopted(PlantId(p.id)).get(TraitId("light-indicator-1-9")) for p in snapshot.profiles()
    }
    known = [
        profile.light_to_crop_full.likely
        for profile in snapshot.profiles()
        if profile.light_to_crop_full.known
        and (found := classes[profile.id]) is not None
        and found.likely is not None
        and found.likely <= 5
    ]

    assert len(known) >= 14
    assert max(known) == pytest.approx(FULL_IN_HALF_SHADE[1])


def test_a_spring_herb_of_half_shade_needs_no_more_than_a_woodland_herb() -> None:
    """`trade` 4.4: woodland herbs crop in full at .15 to .25 of open light.

    Wood anemones flower in worked hazel coppice (Wildlife Trust for Hampshire and the Isle of Wight, Pamber
    Forest): up before the trees are in leaf, down by midsummer. One whose leaf stands all summer stays a herb
    of half shade, and so does one whose light class says open ground.
    """
    herb, lasts = a_record("growth-form", concept="herb"), a_record("life-cycle", concept="perennial")
    half, open_ground = (a_record("light-indicator-1-9", number) for number in ("5", "7"))
    spring, summer = (a_record("leaf-window", ends) for ends in (("10", "23"), ("10", "38")))

    found = profile_of(herb, lasts, half, spring).light_to_crop_full
    assert found.likely == pytest.approx(0.25)
    assert not found.known
    assert "leaf-window" in " ".join(found.records)
    assert profile_of(herb, lasts, half, summer).light_to_crop_full.likely == pytest.approx(0.6)
    assert profile_of(herb, lasts, open_ground, spring).light_to_crop_full.likely == pytest.approx(0.75)


def test_a_stand_in_of_leaf_area_is_no_less_than_what_is_told_at_least() -> None:
    """Sweet potato, trials of 1980-1983: most kept a leaf area index above five until harvest."""
    floor = replace(a_record("leaf-area-index"), low=Decimal(5), number_kind="floor")
    leaf = profile_of(a_record("growth-form", concept="herb"), floor).leaf_area_index

    assert (leaf.low, leaf.likely, leaf.origin, leaf.records) == (5.0, 5.0, "form", (floor.iri,))
    assert leaf.high == 6.25


def test_extinction_is_that_on_record_and_else_that_of_the_kind_of_cover() -> None:
    """Zhang et al. 2014: cropland 0.62; onion by its light at Wellesbourne about 0.36 (its records)."""
    herb = a_record("growth-form", concept="herb")
    known = profile_of(herb, a_record("light-extinction", "0.36")).extinction
    usual = profile_of(herb).extinction

    assert (known.likely, known.origin) == (0.36, "cited")
    assert (usual.likely, usual.origin, usual.records) == (0.62, "form", ())
