"""Size by age, and trees from what was measured."""

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.bodies.growth import CURVES, grow, size_share, tree_at, tree_from_measure
from kb.mixture.light.ring_light import ring_light
from kb.mixture.profile import Activity, Choice, Estimate, Profile, Span
from kb.mixture.season import activity_by_week
from kb.mixture.site import REFERENCE_SITE, Tree
from tests.mixture.base import shipped


def estimate(likely: float) -> Estimate:
    return Estimate(likely, likely, likely, "assumed")


def tree_profile(*, height: float = 5.0, width: float = 4.5, base: float = 0.9, leaf: float = 2.5) -> Profile:
    """An invented fruit tree; only its outline and form matter here."""
    nothing, number = Choice(None, "assumed"), estimate(1.0)
    season = Activity(15, 21, 40, 45, evergreen=False, doubt_weeks=1, origin="assumed")
    return Profile(
        id="invented-tree", name="invented tree", scientific_name="Arbor inventa", genus="Arbor",
        family=nothing, growth_form=Choice("tree", "recalled"), life_cycle=Choice("perennial", "recalled"),
        root_form=nothing, root_d50_m=number, root_d95_m=number,
        height_m=estimate(height), crown_width_m=estimate(width), crown_base_m=estimate(base),
        leaf_area_index=estimate(leaf), extinction=number, activity=season, leaf=season,
        light_to_survive=number, light_to_crop_zero=number, light_to_crop_full=number,
        nitrogen_fixing=nothing, fixing_partner=nothing, nitrogen_demand_g_m2=number, water_use=number,
        soil_ph=Span(5, 7, "assumed"), moisture=Span(4, 6, "assumed"), spread=nothing, support_mode=nothing,
        reach_m=None, dug_depth_m=number, cover_days=None, sole_spacing_m=number, tender=nothing,
        on_a_stem=Choice("yes", "common-practice"),
    )  # fmt: skip


def wild_tree(*, evergreen: bool = False, survives: float = 0.25, height: float = 20.0) -> Profile:
    """One that nobody raised on a stem, that lives on this share of open light."""
    tree = tree_profile(height=height, width=0.6 * height, base=0.2 * height)
    leaf = replace(tree.leaf, evergreen=evergreen)
    lives_on = Estimate(survives, survives, survives, "cited")
    return replace(tree, on_a_stem=Choice(None, "assumed"), leaf=leaf, light_to_survive=lives_on)


def test_an_orchard_tree_has_two_fifths_of_its_crown_in_year_three():
    """The trade's own example (`trade` section 1: "year 3, 40 % of final crown"; common practice)."""
    assert size_share(3, growth_form="tree") == pytest.approx(0.40, abs=0.01)


@pytest.mark.parametrize(
    ("age", "height", "crown"),
    [(1.3, 0.15, 0.08), (5.2, 0.30, 0.23), (10.1, 0.38, 0.35), (16.4, 0.57, 0.53), (26.1, 0.62, 0.65),
     (44.2, 0.73, 0.78)],
)  # fmt: skip
def test_planted_trees_of_known_age_lie_near_the_curve(age, height, crown):
    """Measured city trees, McPherson et al. 2016, 10.2737/RDS-2016-0005, within 0.1.

    Means over up to 24 species (each with 30 trees or more) of the median height and crown in an
    age class, as shares of the species' 95th percentile, computed from the set by us. A usual tree
    ends at about 0.8 of that percentile (the oldest class has 0.73 and 0.78): that division is our
    reading. 95th percentile heights there are about 20 m, so that it ends at 16 m. City trees are set
    out as standards: those of up to four years are 2.5 to 4 m high there (medians of the kinds), so
    they are taken as four years older than a tree that is planted small.
    """
    usual_end, older = 0.8, 4.0

    share = size_share(age + older, growth_form="tree", final_height_m=20.0 * usual_end)

    assert share == pytest.approx((height + crown) / 2 / usual_end, abs=0.1)


@pytest.mark.parametrize("form", sorted(CURVES))
def test_size_rises_from_planting_to_its_end(form):
    """Every form grows every year, starts above nothing and ends at 1."""
    shares = [size_share(age, growth_form=form) for age in (0, 1, 2, 5)]

    assert 0 < shares[0] < shares[1] < shares[2] <= shares[3] <= 1
    assert size_share(300, growth_form=form) == pytest.approx(1.0)


def test_a_taller_tree_takes_longer():
    """A 20 m tree is at a smaller share of its size in year 10 than a 5 m one."""
    shares = [size_share(10, growth_form="tree", final_height_m=height) for height in (5, 20)]

    assert shares[0] > shares[1] + 0.2


def test_evergreens_of_lands_with_a_winter_take_longer():
    """`tests/reference/height_at_age.csv`; those of the tropics, and what is no tree or shrub, do not."""
    tropical = replace(wild_tree(evergreen=True), winters=Choice("none", "common-practice"))

    heights = [tree_at(one, 10).height_m for one in (wild_tree(evergreen=True), wild_tree(), tropical)]

    assert heights[0] < 0.75 * heights[1]
    assert heights[2] == heights[1]
    assert size_share(1, growth_form="herb", evergreen=True) == size_share(1, growth_form="herb")


def test_a_tree_that_stands_free_keeps_its_low_branches_while_young():
    """Common practice: young trees in the open are clothed to the ground; in a closed stand they are not."""
    young, old = tree_at(wild_tree(), 12), tree_at(wild_tree(survives=0.4), 40)
    closed, _ = tree_from_measure(wild_tree(), age_years=12, stand="closed")

    assert young.crown_base_m == pytest.approx(0.05 * young.height_m)
    assert old.crown_base_m == pytest.approx(4.0)
    assert closed.crown_base_m == pytest.approx(0.4 * closed.height_m)


@pytest.mark.parametrize(
    ("evergreen", "survives", "low"), [(False, 0.04, True), (True, 0.15, True), (True, 0.4, False)]
)
def test_what_bears_its_own_shade_keeps_them_for_good(evergreen, survives, low):
    """Common practice: lone beech, holly and yew are leafy near the ground, pines and palms bare."""
    tree = tree_at(wild_tree(evergreen=evergreen, survives=survives), None)

    assert low is (tree.crown_base_m < 0.1 * tree.height_m)


@pytest.mark.parametrize(
    ("stock", "years", "low", "high"),
    [
        ("malus-domestica.on-m9", 0, 1.0, 1.8),
        ("malus-domestica.on-mm106", 0, 1.0, 1.8),
        ("malus-domestica.on-m9", 3.5, 2.0, 2.5),
        ("malus-domestica.on-m9", 7, 2.5, 3.0),
        ("prunus-avium.on-gisela-5", 0, 1.0, 1.8),
        ("malus-domestica.on-m27", 0, 0.5, 1.2),
    ],
)
def test_grafted_trees_are_set_out_as_maidens_and_fill_their_space(stock, years, low, high):
    """Orchard practice: maidens of 1 to 1.8 m; a spindle on M9 is 2 to 2.5 m high in years three and four.

    One on M27 ends below 2 m and is set out shorter.
    """
    assert low <= tree_at(shipped(stock), years).height_m <= high


@pytest.mark.parametrize("stock", ["malus-domestica.on-m9", "malus-domestica.on-m25", "prunus-avium.on-colt"])
def test_a_grafted_tree_grows_on_as_one_of_its_age(stock):
    """Looking ahead from a tree of three years gives the tree of eight; none is smaller than it was."""
    plant = shipped(stock)
    grown, eight = grow(tree_at(plant, 3), plant, 5), tree_at(plant, 8)
    heights = [tree_at(plant, age).height_m for age in range(30)]

    assert (grown.height_m, grown.crown_radius_m) == pytest.approx((eight.height_m, eight.crown_radius_m))
    assert heights == sorted(heights)


@pytest.mark.parametrize("palm", ["cocos-nucifera", "phoenix-dactylifera"])
def test_a_palm_has_its_width_before_its_stem(palm):
    """Common practice: palms stand as tufts of full leaves for 3 to 6 years before a stem shows."""
    plant = shipped(palm)
    tree, _ = tree_from_measure(plant, height_m=3.0)

    assert 2 * tree_at(plant, 6).crown_radius_m > 0.85 * plant.crown_width_m.likely
    assert tree_at(plant, 6).height_m < 0.25 * plant.height_m.likely
    assert 2 * tree.crown_radius_m > 0.8 * plant.crown_width_m.likely


@pytest.mark.parametrize(
    ("plant", "years", "low", "high"),
    [
        ("moringa-oleifera", 1, 2.2, 3.5),
        ("leucaena-leucocephala", 1, 2.0, 4.4),
        ("gliricidia-sepium", 2, 3.5, 5.5),
        ("carica-papaya", 1, 1.5, 3.0),
    ],
)
def test_pioneers_of_the_tropics_are_quick(plant, years, low, high):
    """Metres in their first years, where others gain half a metre.

    Moringa 2.2 and 2.8 m in a season (Korsor et al. 2019); leucaena up to 4.4 m in 32 weeks (Tropical
    Agriculture 71(2)); gliricidia over 2 m a year (Elevitch and Francis 2006); papaya fruits from 1.5 m in a
    year (Singh-Dhaliwal et al. 1963), its upper end from memory.
    """
    assert low <= tree_at(shipped(plant), years).height_m <= high


@pytest.mark.parametrize("evergreen", [False, True])
def test_the_more_shade_a_kind_bears_the_lower_it_is_clothed(evergreen):
    """Forestry teaching: live crowns are longest in tolerant kinds. Kinds that differ a little do so here.

    Chestnut (0.10 of open light) stood bare to a fifth of its height, where large-leaved lime (0.055) had
    branches to the ground.
    """
    lives_on = [0.01 * 1.1**step for step in range(45)]
    bases = [tree_at(wild_tree(evergreen=evergreen, survives=light), None).crown_base_m for light in lives_on]

    assert bases == sorted(bases)
    assert (0.05 * 20, 0.2 * 20) == (pytest.approx(bases[0]), pytest.approx(bases[-1]))
    assert max(later - now for now, later in itertools.pairwise(bases)) < 0.025 * 20


def test_big_kinds_that_bear_shade_cast_it():
    """Round the trunk of lone chestnut, lime and horse chestnut June is darker than under walnut and birch.

    Common teaching of forestry (shade-bearers cast shade); none of the first lets through half.
    """
    inner = {plant: _june_light(shipped(plant)) for plant in SHADE + SUN}

    assert max(inner[plant] for plant in SHADE) < min(inner[plant] for plant in SUN)
    assert max(inner[plant] for plant in SHADE) < 0.4


SHADE = (
    "castanea-sativa",
    "tilia-cordata",
    "tilia-platyphyllos",
    "aesculus-hippocastanum",
    "fagus-sylvatica",
)
SUN = ("juglans-regia", "betula-pendula", "gleditsia-triacanthos", "robinia-pseudoacacia")


def _june_light(profile: Profile) -> float:
    tree, leaf = tree_at(profile, None), activity_by_week(profile.leaf, REFERENCE_SITE)
    near, far = 0.1 * tree.crown_radius_m, 0.5 * tree.crown_radius_m
    return float(ring_light(tree, leaf, REFERENCE_SITE, from_m=near, to_m=far, side="N")[5])


def test_a_measured_or_recorded_base_is_kept():
    """`trade` 3.2, crown base: the site value wins; so does a record of the kind."""
    recorded = replace(wild_tree(), crown_base_m=Estimate(2, 3, 4, "cited", ("record",)))

    measured, _ = tree_from_measure(wild_tree(), crown_base_m=1.7, age_years=12)

    assert measured.crown_base_m == 1.7
    assert tree_at(recorded, 25).crown_base_m == pytest.approx(3.0)


def test_a_size_by_age_alone_says_so_and_a_measured_one_does_not():
    """`interface`: every default made visible."""
    by_age, notes = tree_from_measure(wild_tree(), age_years=12)
    measured, other = tree_from_measure(wild_tree(), age_years=12, height_m=5.0)

    assert by_age.by_age
    assert "by age alone" in notes[0]
    assert "measure it" in notes[0]
    assert not measured.by_age
    assert not any("by age alone" in note for note in other)


def test_bad_ages_and_forms_are_refused():
    """With what was wrong and what is possible."""
    with pytest.raises(ValueError, match="0 or more, not -1"):
        size_share(-1, growth_form="tree")
    with pytest.raises(ValueError, match="'moss'; known forms: tree, shrub"):
        size_share(1, growth_form="moss")
    with pytest.raises(ValueError, match="grow must be 0 or more, not -2"):
        grow(tree_at(tree_profile(), 4), tree_profile(), -2)


def test_an_unaged_tree_is_full_grown():
    """No age means the size the profile gives."""
    expected = Tree(5.0, 2.25, 0.9, 2.5, "lone", None)

    assert expected == tree_at(tree_profile(), None)


def test_a_young_tree_is_smaller_in_every_way():
    """At year 3: 0.4 of height and crown, leaves lower and fewer."""
    tree = tree_at(tree_profile(base=1.5), 3)

    assert tree.height_m == pytest.approx(2.0, abs=0.05)
    assert tree.crown_radius_m == pytest.approx(0.9, abs=0.03)
    assert tree.crown_base_m == pytest.approx(0.4 * tree.height_m)
    assert tree.leaf_area_index == pytest.approx(2.5 * 0.64, abs=0.03)
    assert 3 == tree.planted_years


def test_a_tree_of_which_only_the_height_is_known():
    """A 6 m apple: crown in the kind's proportion, established, and every assumption named."""
    tree, notes = tree_from_measure(tree_profile(), height_m=6.0)

    assert Tree(6.0, pytest.approx(2.7), 0.9, 2.5, "lone", None) == tree
    assert 4 == len(notes)
    for word, note in zip(("crown radius 2.7", "lowest leaves", "leaf area", "age"), notes, strict=True):
        assert note.startswith(word)


def test_a_tree_of_which_only_the_crown_is_known():
    """The height follows in proportion."""
    tree, notes = tree_from_measure(tree_profile(), crown_radius_m=2.7, stand="row", age_years=12)

    assert tree.height_m == pytest.approx(6.0)
    assert ("row", 12) == (tree.stand, tree.planted_years)
    assert notes[0].startswith("height 6.0 m: from its crown")


def test_what_was_measured_is_kept_and_needs_no_note():
    """A fully measured tree assumes nothing."""
    measured = {"height_m": 6.0, "crown_radius_m": 2.0, "crown_base_m": 1.2, "leaf_area_index": 1.8}

    tree, notes = tree_from_measure(tree_profile(), **measured, age_years=20)

    assert Tree(6.0, 2.0, 1.2, 1.8, "lone", 20, ends_m=6.0) == tree
    assert () == notes


def test_a_tree_of_which_only_the_age_is_known():
    """Everything comes from the curve, and the notes say so."""
    tree, notes = tree_from_measure(tree_profile(), age_years=3)

    assert tree_at(tree_profile(), 3) == tree
    assert "3 years after planting" in notes[0]


@pytest.mark.parametrize(
    ("measures", "words"),
    [
        ({"height_m": 0.0}, "height must be above 0"),
        ({"height_m": 4.0, "crown_radius_m": -1.0}, "crown radius must be above 0"),
        ({"height_m": 4.0, "leaf_area_index": math.nan}, "leaf area index must be above 0"),
        ({"height_m": 4.0, "crown_base_m": 4.5}, "give a lower base or a taller tree"),
    ],
)
def test_measures_that_cannot_be_are_refused(measures, words):
    """What is wrong, with the number given."""
    with pytest.raises(ValueError, match=words):
        tree_from_measure(tree_profile(), **measures)


@given(st.floats(0, 60), st.floats(0, 40), st.floats(2, 25), st.floats(0.1, 3))
@settings(max_examples=60, deadline=None)
def test_growing_a_tree_is_the_same_as_a_tree_grown(age, years, height, base):
    """From age a, y years on: the tree of age a + y; on a stem or not."""
    orchard = tree_profile(height=height, base=min(base, 0.5 * height))

    for profile in (orchard, replace(orchard, on_a_stem=Choice(None, "assumed"))):
        grown, expected = grow(tree_at(profile, age), profile, years), tree_at(profile, age + years)
        for field in ("height_m", "crown_radius_m", "crown_base_m", "leaf_area_index", "planted_years"):
            assert getattr(grown, field) == pytest.approx(getattr(expected, field), rel=1e-9)


@given(st.floats(0.3, 12), st.floats(0, 40), st.one_of(st.none(), st.floats(0, 60)))
@settings(max_examples=60, deadline=None)
def test_no_tree_ever_shrinks(height, years, age):
    """In height, crown, base or leaf, whatever its size for its kind."""
    tree, _ = tree_from_measure(tree_profile(), height_m=height, age_years=age)

    grown = grow(tree, tree_profile(), years)

    assert grown.height_m >= tree.height_m
    assert grown.crown_radius_m >= tree.crown_radius_m
    assert grown.crown_base_m >= tree.crown_base_m
    assert grown.leaf_area_index >= tree.leaf_area_index - 1e-12


def test_a_measured_small_tree_grows_to_the_size_of_its_kind():
    """Age unknown: it is put on the curve where its height is; a tall one stays as it is."""
    small, _ = tree_from_measure(tree_profile(), height_m=2.0)
    tall, _ = tree_from_measure(tree_profile(), height_m=6.0)

    assert grow(small, tree_profile(), 60).height_m == pytest.approx(5.0, abs=0.01)
    assert tall == grow(tall, tree_profile(), 60)


def test_a_tree_on_a_dwarfing_stock_stays_small():
    """Its age known, ten years and 2 m: full-grown it is 2.5 m, not 5."""
    dwarf, _ = tree_from_measure(tree_profile(), height_m=2.0, age_years=10)

    assert grow(dwarf, tree_profile(), 60).height_m == pytest.approx(2.5, abs=0.05)


def test_an_unknown_form_grows_as_a_tree():
    """What is asked to grow here stands over other plants, so a tree is the likeliest."""
    formless = replace(tree_profile(), growth_form=Choice(None, "assumed"))

    assert tree_at(tree_profile(), 4) == tree_at(formless, 4)


def test_it_is_said_what_a_leaf_area_rests_on():
    """`interface`: every default made visible; a usual figure says of whom it is usual."""

    def said(leaf: Estimate) -> str:
        _, notes = tree_from_measure(replace(tree_profile(), leaf_area_index=leaf))
        return next(note for note in notes if note.startswith("leaf area index"))

    assert "on record for the kind" in said(Estimate(2, 3, 4, "cited", ("record",)))
    assert "not on record for invented tree" in said(Estimate(2, 3, 4, "form"))
    assert "usual for trees in general" in said(Estimate(2, 3, 4, "form"))
    assert "bear as much shade themselves" in said(Estimate(2, 3, 4, "form", ("light record",)))
