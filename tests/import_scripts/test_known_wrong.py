"""Values known to be wrong in the open sets (data notes 5): none stands in the shipped base as printed.

Each row names the set and the wrong value; what is right is said beside it where a source says so.
"""

import re
from decimal import Decimal

import pytest

from kb.model import PlantId, Record, TraitId
from kb.repository import open_repository

SNAPSHOT = open_repository(None).snapshot()


def of(plant: str, *traits: str) -> list[Record]:
    return [record for record in SNAPSHOT.plants[PlantId(plant)].records if record.trait in traits]


def numbers(records: list[Record]) -> set[Decimal]:
    return {n for record in records for n in (record.low, record.likely, record.high) if n is not None}


@pytest.mark.parametrize(
    ("plant", "trait", "wrong"),
    [
        ("vaccinium-myrtillus", "rooting-depth", "0.007"),  # GRooT 7704, 7719: one study twice
        ("medicago-sativa", "model-rooting-limit", "0.30"),  # MONICA: alfalfa
        ("calluna-vulgaris", "mature-height", "82.51"),  # BROT A15852: centimetres
        ("helichrysum-italicum", "mature-height", "39.13"),  # BROT: centimetres
        ("salvia-rosmarinus", "mature-height", "85.75"),  # BROT A15861: centimetres
        ("calluna-vulgaris", "mature-height", "12.387"),  # Lososova: averages a height in centimetres in
        ("helichrysum-italicum", "mature-height", "10.036"),  # Lososova
        ("cucurbita-pepo", "mature-height", "5.7"),  # Lososova: the length of the shoots
        ("ginkgo-biloba", "crown-width", "-1"),  # urban trees: the code of a missing crown
    ],
)
def test_no_record_holds_a_known_wrong_number(plant: str, trait: str, wrong: str) -> None:
    """The number is not on file, whoever prints it."""
    assert Decimal(wrong) not in numbers(of(plant, trait))


@pytest.mark.parametrize(
    ("plant", "most"),
    [("calluna-vulgaris", 2), ("helichrysum-italicum", 2), ("salvia-rosmarinus", 4)],
)
def test_small_shrubs_stay_small(plant: str, most: float) -> None:
    """Heights in centimetres kept as metres would make trees of them (BROT 2.0, Lososova et al. 2023)."""
    assert SNAPSHOT.profile(PlantId(plant)).height_m.likely < most


@pytest.mark.parametrize(
    ("plant", "trait", "wrong"),
    [
        ("araucaria-araucana", "growth-form", "climber-woody"),  # BIFlora: "vine"
        ("dryopteris-filix-mas", "family", "Polypodiaceae"),  # BIFlora; Dryopteridaceae elsewhere
        ("gleditsia-triacanthos", "nitrogen-fixation", "fixes"),  # a legume without nodules
        ("cercis-canadensis", "nitrogen-fixation", "fixes"),
        ("cercis-siliquastrum", "nitrogen-fixation", "fixes"),
        ("elaeagnus-commutata", "nitrogen-fixation", "does-not-fix"),  # Tyler 0; Werner Yes stands
    ],
)
def test_a_known_wrong_word_is_never_adopted(plant: str, trait: str, wrong: str) -> None:
    """The word may stand in a record, beside others; it is not the value in use."""
    assert wrong not in SNAPSHOT.adopted(PlantId(plant))[TraitId(trait)].concepts


def test_both_sides_of_a_disagreement_are_kept() -> None:
    """Elaeagnus commutata: Tyler 0, Werner Yes. Arbutus unedo: 3.5 m (BROT) and 0.3 m (GRooT), contested."""
    said = {concept for r in of("elaeagnus-commutata", "nitrogen-fixation") for concept in r.concepts}
    depths = numbers(of("arbutus-unedo", "rooting-depth"))

    assert {"fixes", "does-not-fix"} == said
    assert {Decimal("3.5"), Decimal("0.3")} <= depths
    assert "contested" == SNAPSHOT.adopted(PlantId("arbutus-unedo"))[TraitId("rooting-depth")].confidence


def test_yarrow_has_nothing_of_its_relative() -> None:
    """Tichy et al. file Achillea setacea under A. millefolium: refused without a decision."""
    assert [] == [
        r.id
        for r in of("achillea-millefolium", *SNAPSHOT.vocabulary.traits)
        if "setacea" in r.name_as_printed
    ]


def test_families_are_spelt_as_families() -> None:
    """Tyler et al. print "Elaegnaceae": every family on file is one of the vocabulary."""
    known = SNAPSHOT.vocabulary.concepts["family"]
    found = {
        concept
        for plant in SNAPSHOT.plants.values()
        for record in plant.records
        if record.trait == "family"
        for concept in record.concepts
    }

    assert "Elaeagnaceae" in found
    assert set() == found - set(known)


def test_no_crown_is_nothing_or_less() -> None:
    """Urban tree set: 12 heights, 12 crowns and 541 ages are -1 for missing."""
    sizes = [n for p in SNAPSHOT.plants for n in numbers(of(p, "crown-width", "mature-height"))]

    assert min(sizes) > 0


@pytest.mark.parametrize(
    ("plant", "trait", "printed", "other"),
    [
        ("crataegus-monogyna", "leaf-window", "mean date 10 Mar", "first leaf"),
        ("crataegus-monogyna", "flowering-window", "mean date 11 May", "first flower"),
        ("galanthus-nivalis", "flowering-window", "mean date 17 Jan", "first flower"),
        ("castanea-sativa", "leaf-window", "mean date 19 Apr", "first leaf"),
    ],
)
def test_leaf_and_flower_of_the_norfolk_series_are_the_right_way_round(
    plant: str, trait: str, printed: str, other: str
) -> None:
    """The copy swaps its codes; what the family recorded is listed elsewhere.

    Woodland Trust, Nature's Calendar, Marsham's 27 indications of spring: first flowers of snowdrop, wood
    anemone, hawthorn and turnip, first leaves of thirteen trees.
    """
    held = [r for r in of(plant, "leaf-window", "flowering-window") if r.source == "nectar-marsham"]

    (record,) = (r for r in held if r.condition("detail") == printed)
    assert (trait, other) == (record.trait, record.condition("event"))


def test_no_fern_flowers() -> None:
    """Two phenology tables give dates for ferns among their first flowers."""
    ferns = [p for p in SNAPSHOT.plants.values() if "fern" in str(SNAPSHOT.profile(p.id).growth_form.value)]

    assert {"matteuccia-struthiopteris", "dryopteris-filix-mas"} <= {fern.id for fern in ferns}
    assert [] == [r.id for fern in ferns for r in fern.records if r.trait == "flowering-window"]


def test_no_tree_is_a_herb_by_the_british_and_irish_table() -> None:
    """It prints "Herb" beside "phanerophyte" for beech, downy birch, holly and Spanish broom."""
    trees = ("fagus-sylvatica", "betula-pubescens", "ilex-aquifolium", "spartium-junceum")
    forms = {(r.plant, concept) for tree in trees for r in of(tree, "growth-form") for concept in r.concepts}

    assert {plant for plant, _ in forms} == set(trees)
    assert "herb" not in {concept for _, concept in forms}


OURS = ("common name)", "not printed", "for the group)", "by us)", " row)", "same site")


def test_names_as_printed_and_conditions_hold_no_remark_of_ours() -> None:
    """A name is the printed one, and a condition stands on its own: remarks go to the note."""
    assert [] == [
        record.id
        for plant in SNAPSHOT.plants.values()
        for record in plant.records
        if any(words in f"{record.name_as_printed} {dict(record.conditions)}" for words in OURS)
    ]


LIMIT = re.compile(r"\b(to|maximum|exceed|reach)", re.IGNORECASE)


def test_a_width_is_a_maximum_only_where_its_words_say_so() -> None:
    """Sweet bay, "20-30 ft. high, 20 ft. wide", is a size; pomegranate, "spread to 15ft", a bound."""
    (bay,) = [record for record in of("laurus-nobilis", "crown-width") if record.source == "slobg"]
    assert (bay.number_kind, bay.likely, bay.high) == ("single", Decimal("6.096"), None)
    assert [] == [
        record.id
        for plant in SNAPSHOT.plants.values()
        for record in plant.records
        if (record.trait, record.number_kind, record.entered_by)
        == ("crown-width", "maximum", "importer readings")
        and not LIMIT.search(record.verbatim or "")
    ]


OF_OTHERS = re.compile(r"\b(after|reporting|reported)\b")
"""A year in brackets that is of another work: "after Mouterde P (1966)"."""


def test_a_source_has_the_year_that_its_citation_prints() -> None:
    """SWAT+ stood without a year beside "et al. (2017)"; no credit has an empty pair of brackets."""
    sources = SNAPSHOT.sources.values()

    assert [] == [source.key for source in sources if "()" in f"{source.credit} {source.citation}"]
    assert [] == [
        source.key
        for source in sources
        if not source.year
        and re.search(r"\((1[89]|20)\d\d\)", source.citation)
        and not OF_OTHERS.search(source.citation)
    ]
