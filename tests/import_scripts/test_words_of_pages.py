"""Facts whose words, places or bounds had not been those of the page or table, read again on 2026-11-27."""

import re
from collections.abc import Mapping
from decimal import Decimal

import pytest

from kb.ids import SourceKey
from kb.model import Record
from kb.repository import open_repository


@pytest.fixture(scope="module")
def shipped() -> Mapping[str, Record]:
    plants = open_repository(None).snapshot().plants.values()
    return {record.id: record for plant in plants for record in plant.records}


@pytest.mark.parametrize(
    ("record", "words"),
    [
        ("arctostaphylos-uva-ursi.crown-width", "2-4' wide or more"),
        ("arctostaphylos-uva-ursi.mature-height", '6-12" tall'),
        ("lindera-benzoin.flowering-window", "flowers yellow in March-April"),
        ("lindera-benzoin.harvest-window", "red fruit September-October"),
        ("lindera-benzoin.mature-height", "slow grower to 15'"),
        ("prunus-americana.crown-width", "20'-35' wide spread"),
        ("prunus-americana.mature-height", "20'-35'"),
        ("prunus-serotina.crown-width", "35'-50' wide spread"),
        ("prunus-serotina.flowering-window", "flowers May- early June"),
        ("vaccinium-angustifolium.flowering-window", "flowers white in May-June"),
        ("vaccinium-angustifolium.harvest-window", "blue fruit in August-"),
        ("vaccinium-angustifolium.mature-height", "slow grower to 2'"),
    ],
)
def test_a_guide_is_quoted_in_its_own_units(shipped: Mapping[str, Record], record: str, words: str) -> None:
    """NYC Parks (2014): feet and inches stand as marks there, and "or more" is not left out."""
    assert words == shipped[f"{record}.nycparks-native-2014"].verbatim


def test_a_width_or_more_says_so(shipped: Mapping[str, Record]) -> None:
    """NYC Parks (2014), bearberry: the upper end of its width is no bound."""
    width = shipped["arctostaphylos-uva-ursi.crown-width.nycparks-native-2014"]

    assert width.note is not None
    assert width.note.endswith('the upper end is "or more"')


def test_a_range_that_is_cut_off_has_a_start_only(shipped: Mapping[str, Record]) -> None:
    """NYC Parks (2014), lowbush blueberry: "blue fruit in August-", the month of the end is lost."""
    fruit = shipped["vaccinium-angustifolium.harvest-window.nycparks-native-2014"]

    assert (Decimal("31.3"), None, "single") == (fruit.low, fruit.high, fruit.number_kind)


def test_a_guide_of_the_united_kingdom_is_not_told_of_a_part(shipped: Mapping[str, Record]) -> None:
    """AHDB (2021): "UK Partnership for Crop Nutrient Management"; England and Wales are not printed."""
    guide = [record for record in shipped.values() if record.source == "rb209-section6-2021"]
    windows = [record for record in guide if record.trait == "growth-window"]

    assert {"UK"} == {dict(record.conditions)["place"] for record in windows}
    assert 19 == len(windows)


def test_what_may_be_is_not_told_as_what_is(shipped: Mapping[str, Record]) -> None:
    """University of Maryland Extension, strawberries: nine tenths of the roots "may be" in six inches."""
    depth = shipped["fragaria-x-ananassa.effective-rooting-depth.umd-strawberry"]

    assert "90% of the roots may be located in the top 6 inches" == depth.verbatim
    assert "second paragraph" in depth.locator


def test_experiments_of_several_sites_are_not_told_of_one(shipped: Mapping[str, Record]) -> None:
    """Stalham and Allen, potato: "Cambridge University Farm and two other sites"."""
    depth = shipped["solanum-tuberosum.rooting-depth.stalham-allen"]

    assert dict(depth.conditions)["detail"].endswith("Cambridge University Farm and two other sites")


@pytest.mark.parametrize(
    ("source", "address"),
    [
        ("slobg", "https://www.slobg.org/"),
        ("umn-trees", "https://trees.umn.edu/"),
        ("crfg-fruit-facts", "https://crfg.org/homepage/library/fruitfacts/"),
        (
            "iastate-iowa-trees",
            "https://naturalresources.extension.iastate.edu/forestry/iowa_trees/trees/",
        ),
        ("illinois-weeds-north-central", "http://www.aces.uiuc.edu/vista/html_pubs/WEEDS/"),
        ("usda-plants-text-mobot", "http://prod.eol.org/pages/"),
    ],
)
def test_a_source_of_many_pages_has_the_address_that_holds_them(source: str, address: str) -> None:
    """Yarrow had the page of sweet laurel, pawpaw that of white pine; the locator names the page."""
    assert address == open_repository(None).snapshot().sources[SourceKey(source)].identifier


def test_pages_of_plants_are_not_found_at_the_page_of_another_plant(shipped: Mapping[str, Record]) -> None:
    """A source of pages whose address names a plant holds that plant's genus only."""
    snapshot = open_repository(None).snapshot()
    genera: dict[SourceKey, set[str]] = {}
    for key, source in snapshot.sources.items():
        address = re.sub("[^a-z]+", "-", (source.identifier or "").lower())
        named = {plant.split("-")[0] for plant in snapshot.plants if plant in address}
        if named and re.search(r"\b(pages|sheets)\b", source.citation):
            genera[key] = named

    assert [] == [
        record.id
        for record in shipped.values()
        if record.plant.split("-")[0] not in genera.get(record.source, {record.plant.split("-")[0]})
    ]


@pytest.mark.parametrize(
    ("record", "words"),
    [
        ("on-b9.mature-height.horne-creek-rootstocks", "6-10 ft, depending on pruning"),
        ("on-m7.mature-height.horne-creek-rootstocks", "14-16 ft, depending on pruning"),
        ("on-mm111.mature-height.horne-creek-rootstocks", "15-25 ft, depending on pruning"),
        ("mature-height.horne-creek-rootstocks.2", "12-14 ft, depending on pruning"),
        ("on-seedling.mature-height.extension-org-apples", "a height of about 30 feet"),
        ("on-seedling.crown-width.extension-org-apples", "a crown diameter of about 30 feet"),
    ],
)
def test_what_bounds_a_size_of_an_apple_is_kept(
    shipped: Mapping[str, Record], record: str, words: str
) -> None:
    """Horne Creek Farm, Rootstock Information, and eXtension, Understanding Apple Tree Size."""
    assert words == shipped[f"malus-domestica.{record}"].verbatim


@pytest.mark.parametrize(
    ("stock", "words"),
    [
        ("5", "Gisela 5® = Gi 148-2 about 50-55% of Mazz."),
        ("12", "Gisela 12® = Gi 195-2 about 70-75% of Mazz."),
        ("6", "Gisela 6® = Gi 148-1 about 90-95% of Mazz."),
    ],
)
def test_a_trial_is_told_as_preliminary(shipped: Mapping[str, Record], stock: str, words: str) -> None:
    """NC-140, western sweet cherry: "preliminary results (7 seasons)", of sites of which one is in Canada."""
    vigour = shipped[f"prunus-avium.on-gisela-{stock}.stock-vigour.nc140-cherry"]

    assert words == vigour.verbatim
    assert "western trials; preliminary results (7 seasons)" == dict(vigour.conditions)["detail"]


def test_leaf_area_names_the_stands_as_the_table_does(shipped: Mapping[str, Record]) -> None:
    """Iio et al. (2014), columns Vegetation_status and Country: two plantations of osier in Estonia."""
    told = {
        record.plant: dict(record.conditions)
        for record in shipped.values()
        if record.source == "iio-2014-lai"
    }
    status = {plant: dict(re.findall(r"([a-z ]+?) (\d+)", said["stand"])) for plant, said in told.items()}

    assert 27 == len(told)
    assert ("Estonia", "plantation") == (told["salix-viminalis"]["place"], told["salix-viminalis"]["stand"])
    assert ("USA", "natural") == (told["morella-cerifera"]["place"], told["morella-cerifera"]["stand"])
    assert [] == [
        plant
        for plant, counts in status.items()
        if (counts and sum(map(int, counts.values())) != int(told[plant]["n"]))
        or not {part.strip(", ") for part in re.split(r"\d+", told[plant]["stand"])}
        <= {"natural", "plantation", "not described", ""}
    ]


def test_how_a_crop_is_grown_is_no_part_of_its_place(shipped: Mapping[str, Record]) -> None:
    """Panels and trees over a crop stand beside the place (the sites of one root set are printed whole)."""
    assert [] == [
        record.id
        for record in shipped.values()
        if record.source != "groot"
        and re.search(r"\bunder\b|plantation", dict(record.conditions).get("place", ""))
    ]


@pytest.mark.parametrize(
    ("record", "cultivar"),
    [
        ("brassica-oleracea.capitata-group.light-to-crop.wolff-coltman-1990", "Tastie Hybrid"),
        ("brassica-rapa.pekinensis-group.light-to-crop.wolff-coltman-1990", "WR-55 Days"),
        ("lactuca-sativa.light-to-crop.wolff-coltman-1990-five-crops", "Green Mignonette"),
        ("solanum-melongena.shade-tolerance-3.wolff-coltman-1990-five-crops", "Waimanalo Long"),
        ("glycine-max.shade-tolerance-3.wolff-coltman-1990-five-crops", "Kahala"),
        ("arachis-hypogaea.shade-tolerance-3.wolff-coltman-1990-five-crops", "Jumbo Virginia"),
        ("ipomoea-batatas.shade-tolerance-3.wolff-coltman-1990-five-crops", "Waimanalo Red"),
        ("glycine-max.light-to-crop.eriksen-whitney-1984", "Kahala"),
        ("capsicum-annuum.light-to-crop.kabir-2020-pepper-shade", "Bayonet"),
    ],
)
def test_a_trial_of_one_cultivar_names_it(shipped: Mapping[str, Record], record: str, cultivar: str) -> None:
    """The abstracts of Wolff and Coltman (1990), Eriksen and Whitney, and Kabir et al. (2020)."""
    assert cultivar == dict(shipped[record].conditions)["cultivar"]


@pytest.mark.parametrize(("volume", "year"), [("1", "1972"), ("2", "1976"), ("3", "1976")])
def test_a_volume_has_its_own_year(volume: str, year: str) -> None:
    """Hess, Landolt and Hirzel: "1972, ... Band 1", "1976, ... Band 2" and "Band 3", as Plazi prints them."""
    source = open_repository(None).snapshot().sources[SourceKey(f"hess-landolt-hirzel-{volume}")]

    assert year == source.year
    assert f"({year})" in source.citation


def test_a_treatment_is_found_by_its_number(shipped: Mapping[str, Record]) -> None:
    """Plazi: a page of Info Flora has no page number, but the persistent identifier of its treatment."""
    pages = [record for record in shipped.values() if record.source == "info-flora-plazi"]

    assert 8 == len(pages)
    assert [] == [r.id for r in pages if not re.search(r"treatment [0-9A-F]{8}(-[0-9A-F]{4}){3}-", r.locator)]


@pytest.mark.parametrize(
    ("record", "treatment"),
    [
        ("quercus-robur.rooting-depth.groot.9", "water manipulation. drought"),
        ("quercus-robur.rooting-depth.groot.8", "water manipulation. well-watered"),
        (
            "prunus-avium.rooting-depth.groot",
            "water manipulation. drought / water manipulation. well-watered",
        ),
    ],
)
def test_what_was_done_to_a_potted_tree_is_told(
    shipped: Mapping[str, Record], record: str, treatment: str
) -> None:
    """Liese et al. (2018) in GRooT, GRooTID 10383-10386: one oak of each pair was kept dry."""
    assert treatment == shipped[record].condition("treatment")
    assert "Liese et al 2018" == shipped[record].condition("study")


def test_the_yield_of_the_market_is_not_told_of_the_whole_crop(shipped: Mapping[str, Record]) -> None:
    """AHDB (2021), Table 6.27: the uptake is of the whole crop, "Fresh market yield" of what is sold."""
    white = shipped["brassica-oleracea.capitata-group.nitrogen-uptake.rb209-section6-2021.1"]

    assert ("110 t/ha", None) == (white.condition("fresh-market-yield"), white.condition("yield"))


def test_a_habit_of_the_genus_is_said_of_the_group(shipped: Mapping[str, Record]) -> None:
    """BROT 2.0: Davis (1965) has "genus property" as comment on ten leaf habits."""
    davis = [
        record
        for record in shipped.values()
        if record.source == "brot2" and record.condition("study") == "Davis1965"
    ]
    told = [record for record in davis if record.condition("scope") == "group"]

    assert 10 == len(told)
    assert {"leaf-retention"} == {record.trait for record in told}


def test_words_do_not_break_off_inside_a_bracket(shipped: Mapping[str, Record]) -> None:
    """What a bracket holds (the other plant's figure, the other level) stands with what it explains."""
    assert [] == [
        record.id for record in shipped.values() if record.verbatim.count("(") != record.verbatim.count(")")
    ]


def test_a_misprint_of_a_name_hides_no_row(shipped: Mapping[str, Record]) -> None:
    """RSIP as copied (xylem_root): Polygonum bistoria 0.77 and 0.47, Polygonum bistorta 0.4461."""
    bistort = shipped["bistorta-officinalis.rooting-depth.rsip-2022"]

    assert (Decimal("0.77"), "maximum", "3") == (
        bistort.likely,
        bistort.number_kind,
        bistort.condition("n"),
    )
