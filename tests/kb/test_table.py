"""Profiles: what is known comes with its records, what is not comes labelled as what it is."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture.profile import Profile
from kb.model import Basis, Plant, PlantId, Record, SourceKey, TraitId
from kb.repository import open_repository
from kb.snapshot import Snapshot
from kb.vocabulary_store import load_vocabulary

BASE = Plant(
    id=PlantId("inventa-prima"),
    scientific_name="Inventa prima",
    authority=None,
    rank="species",
    according_to=SourceKey("invented"),
    parent=None,
    groups=(),
)


def a_record(
    trait: str,
    value: str | tuple[str, str] | None = None,
    concept: str | None = None,
    *,
    basis: Basis = "read-in-source",
    plant: str = "inventa-prima",
) -> Record:
    """Give an invented record: one number, a pair of ends, or a concept."""
    low, high = value if isinstance(value, tuple) else (None, None)
    return Record(
        id=f"{plant}.{trait}.invented",
        plant=PlantId(plant),
        trait=TraitId(trait),
        low=Decimal(low) if low else None,
        likely=Decimal(value) if isinstance(value, str) else None,
        high=Decimal(high) if high else None,
        concepts=(concept,) if concept else (),
        number_kind="range" if low else "single",
        conditions=(),
        verbatim="invented",
        name_as_printed="Inventa prima",
        source=SourceKey("invented"),
        locator="p. 1",
        basis=basis,
        standing="proposed",
        entered_by="tests",
        entered_on=date(2026, 11, 25),
    )


def profile_of(*records: Record, others: tuple[Plant, ...] = ()) -> Profile:
    """Give the profile of the invented plant with these records."""
    plant = replace(BASE, records=records)
    plants = {p.id: p for p in (plant, *others)}
    return Snapshot("test", plants, {}).profile(plant.id)


def test_a_known_value_carries_its_records() -> None:
    """A cited height comes with the IRI of its record."""
    profile = profile_of(a_record("mature-height", "2.0"))

    assert "cited" == profile.height_m.origin
    assert (
        "https://w3id.org/traitbed/record.inventa-prima.mature-height.invented",
    ) == profile.height_m.records


def test_nothing_known_gives_wide_labelled_intervals() -> None:
    """A plant without one record still has a profile, and every value says that it is assumed."""
    profile = profile_of()

    for estimate in (profile.root_d95_m, profile.height_m, profile.light_to_survive, profile.water_use):
        assert not estimate.known
        assert estimate.low < estimate.likely < estimate.high
        assert () == estimate.records
    assert profile.family.value is None
    assert profile.nitrogen_fixing.value is None


@pytest.mark.parametrize(
    ("organ", "groups", "dug"),
    [
        ("tuber", ("perennial-vegetable",), (0.2, "form")),
        ("storage-root", ("tropical-crop",), (0.25, "form")),
        ("tuber", ("flower",), (0.0, "assumed")),
        ("tuber", ("perennial-vegetable", "nut-tree"), (0.0, "assumed")),
        ("rhizome", ("perennial-vegetable",), (0.0, "assumed")),
        ("taproot-store", ("perennial-vegetable",), (0.0, "assumed")),
    ],
)
def test_tubers_and_storage_roots_of_food_crops_are_dug(
    organ: str, groups: tuple[str, ...], dug: tuple[float, str]
) -> None:
    """Oca, yacon and cassava are dug; mint, artichokes and winter aconite are not (common practice)."""
    plant = replace(BASE, records=(a_record("storage-organ", concept=organ),), groups=groups)
    depth = Snapshot("test", {plant.id: plant}, {}).profile(plant.id).dug_depth_m

    assert dug == (depth.likely, depth.origin)


def test_a_recorded_harvest_decides_how_deep_is_dug() -> None:
    """Runner beans store in their roots and are picked: the record says so."""
    records = (a_record("storage-organ", concept="storage-root"), a_record("harvest-disturbance", "0.05"))
    plant = replace(BASE, records=records, groups=("annual-vegetable",))
    depth = Snapshot("test", {plant.id: plant}, {}).profile(plant.id).dug_depth_m

    assert (0.05, "cited") == (depth.likely, depth.origin)


def test_memory_says_that_it_is_memory() -> None:
    """A recalled value is used where nothing is cited, under its own label."""
    assert "recalled" == profile_of(a_record("mature-height", "2.0", basis="recalled")).height_m.origin


def test_an_unknown_depth_borrows_from_its_genus() -> None:
    """Cited depths of other plants of the genus give an interval labelled as such."""
    other = replace(
        BASE,
        id=PlantId("inventa-altera"),
        records=(a_record("effective-rooting-depth", ("0.8", "1.2"), plant="inventa-altera"),),
    )

    depth = profile_of(others=(other,)).root_d95_m

    assert "genus" == depth.origin
    assert (0.8 * 1.2) ** 0.5 == pytest.approx(depth.likely)
    assert depth.high / depth.low > 5


def test_an_unknown_spread_is_taken_as_its_genus_spreads() -> None:
    """Most of the genus over-runs its neighbours: so may this one, and the profile says how it knows."""
    others = tuple(
        replace(
            BASE,
            id=PlantId(f"inventa-{name}"),
            records=(a_record("spread", None, concept, plant=f"inventa-{name}"),),
        )
        for name, concept in (("altera", "invades"), ("tertia", "invades"), ("quarta", "clump"))
    )

    spread = profile_of(others=others).spread

    assert ("invades", "genus") == (spread.value, spread.origin)
    assert profile_of().spread.value is None


def its_genus(*spreads: str, form: str = "herb") -> tuple[Plant, ...]:
    """Other plants of the invented genus, each of this form and spreading so."""
    found = []
    for number, spread in enumerate(spreads):
        plant = f"inventa-alia{number}"
        records = (
            a_record("spread", None, spread, plant=plant),
            a_record("growth-form", None, form, plant=plant),
        )
        found.append(replace(BASE, id=PlantId(plant), records=records))
    return tuple(found)


HERB = a_record("growth-form", None, "herb")


@pytest.mark.parametrize(
    "own",
    [("life-cycle", "annual"), ("root-form", "tap"), ("root-form", "primary-root"), ("root-form", "bulb")],
)
def test_its_own_records_rule_out_what_its_genus_does(own: tuple[str, str]) -> None:
    """Crimson clover, an annual with a primary root (CLO-PLA: no clonal growth), is no white clover."""
    trait, value = own
    runners = its_genus("runs", "runs", "clump")

    assert "runs" == profile_of(HERB, others=runners).spread.value
    assert profile_of(HERB, a_record(trait, None, value), others=runners).spread.value is None


def test_a_root_form_that_runs_as_well_rules_nothing_out() -> None:
    """White clover has a tap root and stolons (Archer 1989): its kin's runners may be its own."""
    both = replace(a_record("root-form", None, "stolon"), concepts=("stolon", "tap"))

    assert "runs" == profile_of(HERB, both, others=its_genus("runs", "runs")).spread.value


@pytest.mark.parametrize(
    ("genus", "taken"),
    [
        (its_genus("invades", "invades", "runs", "runs"), "runs"),
        (its_genus("runs", "clump"), "clump"),
        (its_genus("runs"), None),
        (its_genus("runs", "runs", form="shrub"), None),
    ],
    ids=["the milder of equals", "one runs, one does not", "one alone", "of another form"],
)
def test_an_unknown_is_not_read_as_the_worst_of_its_genus(
    genus: tuple[Plant, ...], taken: str | None
) -> None:
    """Cornelian cherry, a tree, is not taken to run since dwarf cornel, a herb, does (common practice)."""
    spread = profile_of(HERB, others=genus).spread

    assert taken == spread.value
    assert not spread.known


def test_an_unknown_height_is_that_of_its_genus_and_form() -> None:
    """Moso bamboo is no grass of 0.7 m beside black bamboo of 8 m (doubt: `trade` 4.14)."""
    tall = replace(
        BASE,
        id=PlantId("inventa-alta"),
        records=(
            a_record("growth-form", None, "graminoid", plant="inventa-alta"),
            a_record("mature-height", "8.0", plant="inventa-alta"),
        ),
    )
    height = profile_of(a_record("growth-form", None, "graminoid"), others=(tall,)).height_m

    assert (8.0, "genus") == (height.likely, height.origin)
    assert height.low < 5
    assert height.high > 12
    assert 1 > profile_of(a_record("growth-form", None, "graminoid")).height_m.likely


@pytest.mark.parametrize(
    ("records", "organ"),
    [
        ((a_record("root-form", None, "stolon"),), "stolon"),
        ((a_record("root-form", None, "fibrous-shallow"), a_record("storage-organ", None, "tuber")), "tuber"),
        ((a_record("growth-form", None, "tree"),), "suckering"),
        ((HERB,), None),
    ],
)
def test_by_what_it_comes_up_elsewhere(records: tuple[Record, ...], organ: str | None) -> None:
    """Root form and storage organ name the organ; trees that spread sucker (common practice)."""
    assert organ == profile_of(*records).travels_by.value


def test_a_group_inherits_from_its_species_and_keeps_the_basis() -> None:
    """What a cultivar group lacks comes from the species, with the species' basis."""
    child = replace(BASE, id=PlantId("inventa-prima.alba-group"), parent=BASE.id, rank="cultivarGroup")
    parent = replace(BASE, records=(a_record("mature-height", "2.0", basis="recalled"),))
    snapshot = Snapshot("test", {p.id: p for p in (parent, child)}, {})

    assert BASE.id == snapshot.adopted(child.id)[TraitId("mature-height")].inherited_from
    assert "recalled" == snapshot.profile(child.id).height_m.origin


def test_a_known_floor_lifts_a_guessed_depth() -> None:
    """A core that ended in roots at 2 m keeps the guess from lying above it."""
    record = replace(a_record("rooting-depth", None), low=Decimal(2), number_kind="floor")

    depth = profile_of(record).root_d95_m

    assert not depth.known
    assert depth.low >= 2


def test_a_whole_week_lasts_to_its_end() -> None:
    """Weeks 15 to 45 end when week 45 ends; a date between weeks is a moment already."""
    whole = profile_of(a_record("growth-window", ("15", "45"))).activity
    dated = profile_of(a_record("growth-window", ("15.5", "45.5"))).activity

    assert (15.0, 46.0) == (pytest.approx(whole.start), pytest.approx(whole.end))
    assert (15.5, 45.5) == (pytest.approx(dated.start), pytest.approx(dated.end))


@given(
    st.lists(
        st.sampled_from(
            [
                a_record("mature-height", "2.0"),
                a_record("growth-form", None, "tree"),
                a_record("growth-form", None, "fern"),
                a_record("effective-rooting-depth", ("0.2", "0.3")),
                a_record("root-depth-50", "0.9"),
                a_record("root-form", None, "bulb"),
                a_record("leaf-retention", None, "evergreen"),
                a_record("growth-window", ("44", "16")),
                a_record("flowering-window", None),
                a_record("crown-base", "9.0"),
            ]
        ),
        max_size=6,
        unique_by=lambda record: record.trait,
    )
)
def test_every_mix_of_knowledge_gives_a_sound_profile(records: list[Record]) -> None:
    """D50 < D95, crown base below the top, corners in the year, whatever is known (`trade` 3.4)."""
    profile = profile_of(*records)

    assert 1.59 < profile.root_d95_m.likely / profile.root_d50_m.likely < 8.01
    assert profile.crown_base_m.likely < profile.height_m.likely
    for week in (
        profile.activity.start,
        profile.activity.full,
        profile.activity.decline,
        profile.activity.end,
    ):
        assert 1 <= week <= 54


def test_every_rule_named_in_the_vocabulary_exists() -> None:
    """No trait names an adoption rule that nobody wrote."""
    from kb.adopt import FEEDS, RULES  # noqa: PLC0415 - the tables under test

    vocabulary = load_vocabulary()

    assert {trait.adoption for trait in vocabulary.traits.values()} <= set(RULES)
    assert {*FEEDS, *(scale for scales in FEEDS.values() for scale in scales)} <= set(vocabulary.traits)


def test_a_handbook_depth_and_dug_roots_are_pooled() -> None:
    """Carrot: Zr 0.5-1.0 m (FAO-56 table 22) beside deeper roots found: between, nearer what was found."""
    handbook = profile_of(a_record("effective-rooting-depth", ("0.5", "1.0"))).root_d95_m
    found = profile_of(a_record("rooting-depth", "2.0")).root_d95_m
    both = profile_of(
        a_record("effective-rooting-depth", ("0.5", "1.0")), a_record("rooting-depth", "2.0")
    ).root_d95_m

    assert handbook.likely < both.likely < found.likely
    assert both.likely > (handbook.likely * found.likely) ** 0.5
    assert (min(handbook.low, found.low), max(handbook.high, found.high)) == (both.low, both.high)
    assert {*handbook.records, *found.records} == set(both.records)


def test_a_recalled_middle_depth_does_not_bend_a_cited_profile() -> None:
    """Beside a cited depth of 95 % of the roots, a middle depth from memory gives way to the form's share."""
    profile = profile_of(
        a_record("effective-rooting-depth", ("0.5", "0.7")),
        a_record("root-depth-50", "0.36", basis="recalled"),
    )

    assert profile.root_d50_m.likely < 0.36 * profile.root_d95_m.likely
    assert "cited" == profile_of(a_record("root-depth-50", "0.2")).root_d50_m.origin


def test_a_shrub_crop_is_as_high_as_it_is_kept() -> None:
    """Coffee: 2.5 m managed (FAO-56 table 12) beside 15 ft left alone (US plant characteristics)."""
    adopted = open_repository(None).snapshot().adopted(PlantId("coffea-arabica"))[TraitId("mature-height")]
    words = {weighed.record: weighed.counted_as for weighed in adopted.weighed}

    assert 2.5 == adopted.likely
    assert "when left alone" in words["coffea-arabica.mature-height.usda-plants-characteristics"]


def test_a_crop_sown_each_year_is_as_high_as_it_is_grown() -> None:
    """Lettuce .3 m (FAO-56 table 12), cut before the stalk of .66 m of floras (Lososova et al. 2023)."""
    adopted = open_repository(None).snapshot().adopted(PlantId("lactuca-sativa"))[TraitId("mature-height")]
    words = {weighed.record: weighed.counted_as for weighed in adopted.weighed}

    assert adopted.likely == pytest.approx(0.3, abs=0.02)
    assert "when left alone" in words["lactuca-sativa.mature-height.floraveg-height"]


def test_a_crops_height_is_kept_beside_a_floras() -> None:
    """The height under management is the mean of what crop tables print, None without them."""
    wild = a_record("mature-height", "4.0")
    grown = [
        replace(
            a_record("mature-height", height),
            id=f"inventa-prima.mature-height.invented.{i}",
            conditions=(("as", "managed crop"),),
        )
        for i, height in enumerate(("0.3", "0.5"))
    ]
    height = profile_of(wild, *grown).grown_height_m

    assert height is not None
    assert (0.3, 0.4, 0.5) == (height.low, height.likely, height.high)
    assert profile_of(wild).grown_height_m is None
