"""The shipped records, as the importers left them, held against the data notes (data.md)."""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal

import pytest

from kb.model import CITED, Plant, PlantId, Record, Source, SourceKey, TraitId
from kb.repository import open_repository
from kb.vocabulary_store import load_vocabulary

RECALLED_WARNINGS = "recalled-warnings"
WIDER = frozenset({"group", "genus", "family", "clade"})
"""What a condition "scope" says of words that hold for more than the plant."""

PHENOLOGY = (
    "growth-window",
    "leaf-window",
    "flowering-window",
    "harvest-window",
    "cycle-length",
    "flowering-class-1-15",
)


@pytest.fixture(scope="module")
def plants() -> Mapping[PlantId, Plant]:
    return open_repository(None).snapshot().plants


@pytest.fixture(scope="module")
def sources() -> Mapping[SourceKey, Source]:
    return open_repository(None).snapshot().sources


def every(plants: Mapping[PlantId, Plant]) -> Iterator[Record]:
    for plant in plants.values():
        yield from plant.records


def records(plants: Mapping[PlantId, Plant], plant: str, trait: str, source: str = "") -> list[Record]:
    return [
        record
        for record in plants[PlantId(plant)].records
        if record.trait == trait and record.source.startswith(source)
    ]


def has(plants: Mapping[PlantId, Plant], plant: Plant, *traits: str) -> bool:
    """Whether a plant, or one above it, has a record of one of these traits."""
    while True:
        if any(record.trait in traits for record in plant.records):
            return True
        if plant.parent is None:
            return False
        plant = plants[plant.parent]


def test_every_taxon_has_family_growth_form_and_life_cycle(plants: Mapping[PlantId, Plant]) -> None:
    """Who a plant is kin to, how it is built and how long it lives is on record for each."""
    for trait in ("family", "growth-form", "life-cycle"):
        assert [] == [plant.id for plant in plants.values() if not has(plants, plant, trait)]


def test_plants_are_built_as_gardeners_grow_them() -> None:
    """Common practice, where the classes of floras mislead (marked as such in the records)."""
    snapshot = open_repository(None).snapshot()
    expected = {
        "rubus-idaeus": "cane",
        "rubus-spectabilis": "cane",
        "fragaria-x-ananassa": "herb",
        "vitis-vinifera": "climber-woody",
        "salvia-rosmarinus": "subshrub",
        "thymus-serpyllum": "subshrub",
        "corylus-avellana": "shrub",
        "ribes-sanguineum": "shrub",
        "prunus-serotina": "tree",
        "phyllostachys-nigra": "graminoid",
    }

    assert {plant: (form,) for plant, form in expected.items()} == {
        plant: snapshot.adopted(PlantId(plant))[TraitId("growth-form")].concepts for plant in expected
    }


def test_at_least_150_taxa_are_complete_for_a_first_answer(plants: Mapping[PlantId, Plant]) -> None:
    """Issue 3, point 3: family, height, light, nitrogen fixation and a first phenology."""
    complete = [
        plant.id
        for plant in plants.values()
        if has(plants, plant, "family")
        and has(plants, plant, "mature-height")
        and has(plants, plant, "light-indicator-1-9", "light-to-survive")
        and has(plants, plant, "nitrogen-fixation")
        and has(plants, plant, *PHENOLOGY)
    ]

    assert 150 <= len(complete)


def test_records_hold_what_their_trait_allows(plants: Mapping[PlantId, Plant]) -> None:
    """Traits exist, concepts belong to their scheme, numbers lie in the allowed range, low below high."""
    vocabulary = load_vocabulary()
    wrong = []
    for record in every(plants):
        trait = vocabulary.traits[record.trait]
        numbers = [value for value in (record.low, record.likely, record.high) if value is not None]
        if trait.kind == "concept":
            known = vocabulary.concepts[trait.scheme or ""]
            wrong += [record.id for concept in record.concepts if concept not in known]
        elif (
            not numbers
            or (trait.allowed and not all(trait.allowed[0] <= n <= trait.allowed[1] for n in numbers))
            or (trait.kind == "number" and numbers != sorted(numbers))
        ):
            wrong.append(record.id)

    assert [] == wrong


def test_every_record_says_where_it_was_read(
    plants: Mapping[PlantId, Plant], sources: Mapping[SourceKey, Source]
) -> None:
    """Source on file with citation and licence, locator, printed words and name; none is empty."""
    for record in every(plants):
        assert record.source in sources
        assert record.locator.strip()
        assert record.verbatim.strip()
        assert record.name_as_printed.strip()
    for source in sources.values():
        assert source.citation.strip()
        assert source.licence.strip()


def test_the_trade_notes_are_never_cited(plants: Mapping[PlantId, Plant]) -> None:
    """Common practice and recollection carry their own basis, and nothing else does."""
    assert set() == {r.id for r in every(plants) if (r.source == "trade-notes") == (r.basis in CITED)}


def test_pots_and_cores_are_floors(plants: Mapping[PlantId, Plant]) -> None:
    """0.60 m and 0.155 m of the root-trait set (Freschet 2018, Ravenek 2016) are never depths."""
    pots = [
        record
        for record in every(plants)
        if record.source == "groot"
        and record.condition("study") in {"Freschet et al 2018", "Ravenek et al 2016"}
    ]

    assert pots
    assert {"floor"} == {record.number_kind for record in pots}
    assert all(record.likely is None and record.high is None for record in pots)


def test_white_clover(plants: Mapping[PlantId, Plant]) -> None:
    """data.md 2: one pot study "at least 0.60 m"; model 1.0; no berseem, no aggregate, no plot."""
    (pot,) = records(plants, "trifolium-repens", "rooting-depth", "groot")
    assert (Decimal("0.6"), "floor", "36") == (pot.low, pot.number_kind, pot.condition("rows"))
    assert [Decimal("1.0")] == [r.likely for r in records(plants, "trifolium-repens", "model-rooting-limit")]
    assert [] == records(plants, "trifolium-repens", "effective-rooting-depth", "fao56")
    (berseem,) = records(plants, "trifolium-alexandrinum", "effective-rooting-depth", "fao56")
    assert (Decimal("0.6"), Decimal("0.9")) == (berseem.low, berseem.high)


def test_cabbage(plants: Mapping[PlantId, Plant]) -> None:
    """data.md 2: Zr 0.5-0.8 (broccoli 0.4-0.6); models 0.6 and 2.40; early cabbage over 1.0, a floor."""
    cabbage, broccoli = "brassica-oleracea.capitata-group", "brassica-oleracea.italica-group"
    (zr,) = records(plants, cabbage, "effective-rooting-depth", "fao56")
    (other,) = records(plants, broccoli, "effective-rooting-depth", "fao56")
    assert (Decimal("0.5"), Decimal("0.8")) == (zr.low, zr.high)
    assert (Decimal("0.4"), Decimal("0.6")) == (other.low, other.high)
    limits = {r.likely for r in records(plants, cabbage, "model-rooting-limit")}
    assert {Decimal("0.6"), Decimal("2.4")} == limits
    floors = [r for r in records(plants, cabbage, "rooting-depth", "thorup2001") if r.number_kind == "floor"]
    assert [Decimal("1.00")] == [r.low for r in floors]


def test_apple(plants: Mapping[PlantId, Plant]) -> None:
    """data.md 2: Zr 1.0-2.0 as a group row; 1.524, 1.8288, 3.048 (Sweet 1933); 3.3528 (1979)."""
    (zr,) = records(plants, "malus-domestica", "effective-rooting-depth", "fao56")
    assert (Decimal("1.0"), Decimal("2.0"), "group") == (zr.low, zr.high, zr.condition("scope"))
    dug = {
        (r.condition("study"), r.likely) for r in records(plants, "malus-domestica", "rooting-depth", "groot")
    }
    assert {
        ("Sweet 1933", Decimal("1.524")),
        ("Sweet 1933", Decimal("1.8288")),
        ("Sweet 1933", Decimal("3.048")),
        ("Sprackling and Read 1979", Decimal("3.3528")),
    } == dug


def test_walnut(plants: Mapping[PlantId, Plant]) -> None:
    """data.md 2: Zr 1.7-2.4, model 2.0; the 4.7 m of GRooTID 5933 (Germon et al. 2016) are of hybrids."""
    (zr,) = records(plants, "juglans-regia", "effective-rooting-depth", "fao56")
    seen = {(r.source, r.likely) for r in records(plants, "juglans-regia", "rooting-depth")}
    assert (Decimal("1.7"), Decimal("2.4")) == (zr.low, zr.high)
    assert {("rsip-2022", Decimal("2.6")), ("zeneli-walnut", Decimal("3.7"))} == seen
    assert [Decimal("2.0")] == [r.likely for r in records(plants, "juglans-regia", "model-rooting-limit")]


@pytest.mark.parametrize(
    ("plant", "trait", "source", "expected"),
    [
        ("asparagus-officinalis", "effective-rooting-depth", "fao56", ("1.2", None, "1.8")),
        ("fragaria-x-ananassa", "effective-rooting-depth", "fao56", ("0.2", None, "0.3")),
        ("juglans-nigra", "rooting-depth", "groot", (None, "3.3528", None)),
        ("ginkgo-biloba", "crown-width", "urban-trees", (None, "16.18", None)),
        ("ginkgo-biloba", "mature-height", "urban-trees", (None, "21.96", None)),
        ("castanea-dentata", "hardiness", "globtherm", (None, None, "-35.7")),
        ("acca-sellowiana", "hardiness", "globtherm", (None, None, "-12.5")),
        ("fagus-sylvatica", "light-indicator-1-9", "biflora-plantatt", (None, "3", None)),
        ("taxus-baccata", "light-indicator-1-7", "tyler2021", (None, "3", None)),
        ("corylus-avellana", "flowering-class-1-15", "tyler2021", (None, "1", None)),
        ("hedera-helix", "flowering-class-1-15", "tyler2021", (None, "15", None)),
    ],
)
def test_values_checked_in_their_sources(
    plants: Mapping[PlantId, Plant],
    plant: str,
    trait: str,
    source: str,
    expected: tuple[str | None, str | None, str | None],
) -> None:
    """data.md 6, "trait values (R)": read in the source or its data."""
    numbers = {(r.low, r.likely, r.high) for r in records(plants, plant, trait, source)}

    assert tuple(None if text is None else Decimal(text) for text in expected) in numbers


def test_ramsons_leaf_season(plants: Mapping[PlantId, Plant]) -> None:
    """data.md 6: PhenObs Allium ursinum, median day 52.5 (n 44) and 154."""
    (window,) = records(plants, "allium-ursinum", "leaf-window", "phenobs")

    assert "median LeafUnf 52.5 (n 44), SenOn 154" in window.verbatim.replace("154.0", "154")


def test_contradictions_are_kept_side_by_side(plants: Mapping[PlantId, Plant]) -> None:
    """data.md 5: silverberry fixes (Werner) and does not (Tyler); strawberry tree 3.5 and 0.3 m."""
    said = {(r.source, r.concepts) for r in records(plants, "elaeagnus-commutata", "nitrogen-fixation")}
    depths = {(r.source, r.likely) for r in records(plants, "arbutus-unedo", "rooting-depth")}

    assert {("werner-nfix", ("fixes",)), ("tyler2021", ("does-not-fix",))} <= said
    assert {("brot2", Decimal("3.5")), ("groot", Decimal("0.3"))} <= depths


def test_ferns_have_no_time_of_flowering(plants: Mapping[PlantId, Plant]) -> None:
    """No source's class or date of spores may stand as one of flowers, nor a window be made of it."""
    ferns = [
        plant
        for plant in plants.values()
        if any(r.trait == "growth-form" and "fern" in r.concepts for r in plant.records)
    ]

    assert 3 == len(ferns)
    assert [] == [r.id for plant in ferns for r in plant.records if r.trait.startswith("flowering-")]


def test_a_tap_root_with_side_roots_is_a_tap_root(plants: Mapping[PlantId, Plant]) -> None:
    """That the side roots take over with age is said by no cited source, so it is only recalled."""
    said = [r for r in every(plants) if r.trait == "root-form" and "tap-then-spreading" in r.concepts]

    assert [] == [r.id for r in said if r.basis in CITED]
    assert [("tap",)] == [r.concepts for r in records(plants, "juglans-regia", "root-form", "zeneli-walnut")]


def test_what_one_name_says_of_several_species_is_told_of_the_group(plants: Mapping[PlantId, Plant]) -> None:
    """The same words under one name ("cucurbits", "Oranges and Lemons") are no measurement of any of them."""
    together: dict[tuple[str, ...], list[Record]] = {}
    for r in every(plants):
        if r.basis in CITED:
            together.setdefault((r.source, r.trait, r.verbatim, r.name_as_printed.casefold()), []).append(r)
    shared = [rows for rows in together.values() if len({r.plant.partition(".")[0] for r in rows}) > 1]

    assert len(shared) > 50
    assert [] == [r.id for rows in shared for r in rows if r.condition("scope") not in WIDER]


@pytest.mark.parametrize(
    ("plant", "trait", "source"),
    [
        ("betula-pendula", "rooting-depth", "fr-archaeo"),
        ("betula-pendula", "root-form", "fr-archaeo"),
        ("cucumis-sativus", "soil-reaction", "usu-veg-guide-cucurbits"),
        ("phaseolus-lunatus", "soil-reaction", "vce-426-402"),
        ("amaranthus-cruentus", "flowering-window", "jefferson-institute-amaranth"),
        ("ribes-uva-crispa", "root-form", "cce-schuyler-2015-ribes"),
    ],
)
def test_birch_cucurbits_and_beans_are_groups(
    plants: Mapping[PlantId, Plant], plant: str, trait: str, source: str
) -> None:
    """Sample 10: the table prints "Birch", the pages speak of cucurbits, beans, grain amaranths, Ribes."""
    assert ["group"] == [r.condition("scope") for r in records(plants, plant, trait, source)]


def test_the_tree_table_keeps_what_it_prints(plants: Mapping[PlantId, Plant]) -> None:
    """Sample 10: "Peashrub, Siberian ... 6-14 6-12"; no unit beside the figures, no place in the table."""
    rows = [r for r in every(plants) if r.source == "plains-tree-table-2002"]
    said = {(r.trait, r.name_as_printed, r.verbatim) for r in rows if r.plant == "caragana-arborescens"}

    assert 17 == len(rows)
    assert {
        ("spread", "Peashrub, Siberian", "Root or Basal Suckers N"),
        ("mature-height", "Peashrub, Siberian", "6-14"),
        ("crown-width", "Peashrub, Siberian", "6-12"),
    } == said
    assert set() == {pair for r in rows for pair in r.conditions}


def test_a_unit_that_a_heading_prints_is_not_in_the_words_kept(plants: Mapping[PlantId, Plant]) -> None:
    """Sample 10: "Rooting depths (m)" heads the table, its cells hold "0.3 - 0.5" (onion) and no unit."""
    rows = [r for r in every(plants) if r.source == "iasri-t2-2012"]

    assert 9 == len(rows)
    assert [] == [r.id for r in rows if not re.fullmatch(r"\d\.\d [-–] \d\.\d", r.verbatim)]


def test_known_wrong_values_are_nowhere(plants: Mapping[PlantId, Plant]) -> None:
    """data.md 5: 0.007 m, 0.046 m, 82.51 m, 12.387 m, MONICA's 0.30 m: no record holds them."""
    heights = [r.likely for r in records(plants, "calluna-vulgaris", "mature-height") if r.likely is not None]
    roots = [
        r.likely
        for p in ("vaccinium-myrtillus", "solidago-virgaurea")
        for r in records(plants, p, "rooting-depth")
    ]

    assert max(heights) < 2
    assert not {Decimal("0.007"), Decimal("0.046")} & set(roots)
    assert [] == records(plants, "medicago-sativa", "model-rooting-limit", "monica")
    assert [] == [r.id for r in every(plants) if r.trait == "crown-width" and (r.likely or 1) < 0]


def test_cautions_are_sourced_and_name_the_look_alikes(
    plants: Mapping[PlantId, Plant], sources: Mapping[SourceKey, Source]
) -> None:
    """Issue 3: at least 40 cautions; ramsons' look-alikes, rhubarb blades, raw beans among them."""
    cautions = [caution for plant in plants.values() for caution in plant.cautions]

    assert 40 <= len(cautions)
    assert all(caution.source in sources for caution in cautions)
    assert set() == {c.id for c in cautions if (c.source == RECALLED_WARNINGS) != (c.basis == "recalled")}
    assert all(c.basis in CITED for c in cautions if c.source != RECALLED_WARNINGS)
    assert all(caution.place and caution.as_of for caution in cautions if caution.kind == "prohibited")
    lookalikes = [
        c.lookalike or "" for c in plants[PlantId("allium-ursinum")].cautions if c.kind == "lookalike"
    ]
    assert any("Colchicum" in name for name in lookalikes)
    assert plants[PlantId("rheum-rhabarbarum")].cautions
    assert plants[PlantId("phaseolus-vulgaris")].cautions


def test_no_cited_caution_reassures(plants: Mapping[PlantId, Plant]) -> None:
    """Data notes, section 3: nothing may reassure (word list of this test; printed words may)."""
    calming = re.compile(
        r"of concern|no treatment|low risk|not particularly|non-?toxic|not (?:toxic|poisonous)|harmless"
        r"|\bsafe\b|no (?:severe|case)|toxic only|removed from",
        re.IGNORECASE,
    )

    assert [] == [
        (caution.id, found[0])
        for plant in plants.values()
        for caution in plant.cautions
        for found in calming.finditer(f"{caution.text} {caution.part or ''} {caution.group or ''}")
    ]
