"""Where addresses of sources lead: to the work, or to a copy that is said to be one."""

import re
from collections.abc import Mapping
from urllib.parse import urlsplit

import pytest

from kb.ids import SourceKey
from kb.model import Source
from kb.repository import open_repository

COPIES = re.compile(
    r"docslib|studylib|studyres|docsbay|docest|vdocument|fdocuments|dokumen|abcdocz|azpdf|doczz|businessdocbox|"
    r"slideblast|slidepub|slideshare|yumpu|issuhub|anyflip|scribd|pdfkul|coek\.info|researcher\.life|acemap|scilit|"
    r"daneshyari|globalauthorid|aminer|radarciencia|eurekamag|medworm|globethesis|isindexing|allrefer|what-when-how|"
    r"chestofbooks|bitlit|clyx|afripics|blogspot\.com/20\d\d/\d\d/.*poison|zetatalk|knigalit|rulit|paperexplained"
)
"""Hosts that print what others have written: sites of shared documents, aggregators of abstracts, mirrors."""


CPPIS = (
    "https://www.cbif.gc.ca/eng/species-bank/canadian-poisonous-plants-information-system/"
    "introduction/?id=1370403266264"
)


@pytest.fixture(scope="module")
def sources() -> Mapping[SourceKey, Source]:
    return open_repository(None).snapshot().sources


def host(address: str) -> str:
    return urlsplit(address).netloc.removeprefix("www.").rstrip(".")


def test_a_copy_is_never_told_as_the_page_itself(sources: Mapping[SourceKey, Source]) -> None:
    """A source whose address is on a site of copies names that site in how it was read, and no page."""
    copies = [source for source in sources.values() if COPIES.search(host(source.identifier or ""))]

    assert len(copies) > 100
    assert [] == [source.key for source in copies if host(source.identifier or "") not in source.how_read]
    assert [] == [
        source.key for source in copies if re.search(r"excerpt of the page|whole page", source.how_read)
    ]


def test_an_official_address_is_not_that_of_the_copy(sources: Mapping[SourceKey, Source]) -> None:
    """Where the text read was a copy, the place of the copy stands beside the address of the work."""
    beside = re.compile(r"the text read is an? (?:anonymous )?copy at ([^/\s;]+)")
    read = {source: found[1] for source in sources.values() if (found := beside.search(source.how_read))}

    assert len(read) > 40
    assert [] == [source.key for source, place in read.items() if place == host(source.identifier or "")]


@pytest.mark.parametrize(
    ("source", "address"),
    [
        ("kristensen2004catch", "https://doi.org/10.2136/sssaj2004.5290"),
        (
            "nine-apple-rootstocks",
            "https://journals.ashs.org/jashs/view/journals/jashs/120/1/article-p6.xml",
        ),
        (
            "feis-corylus-americana",
            "https://www.fs.usda.gov/database/feis/plants/shrub/corame/all.html",
        ),
        ("feis-shearg", "https://www.fs.usda.gov/database/feis/plants/shrub/shearg/all.html"),
        ("yuan2004", "https://pubmed.ncbi.nlm.nih.gov/15238367/"),
        (
            "cppis-ginkgo",
            CPPIS,
        ),
    ],
)
def test_a_work_is_found_where_its_publisher_keeps_it(
    sources: Mapping[SourceKey, Source], source: str, address: str
) -> None:
    """Pages of the journal, the Forest Service and the system, seen in stored copies."""
    assert address == sources[SourceKey(source)].identifier


def test_a_review_names_its_compiler_and_year(sources: Mapping[SourceKey, Source]) -> None:
    """Fire Effects Information System, Shepherdia argentea: "Esser, Lora L. 1995"."""
    review = sources[SourceKey("feis-shearg")]

    assert "1995" == review.year
    assert review.citation.startswith("Esser L.L. 1995. Shepherdia argentea")


@pytest.mark.parametrize(
    ("record", "compiler", "year"),
    [
        ("rubus-spectabilis.root-form.feis-rubus-spectabilis", "Tirmenstein", "1989"),
        ("rubus-spectabilis.spread.feis-rubus-spectabilis-2019", "Zouhar", "2019"),
    ],
)
def test_two_reviews_of_one_plant_are_two_sources(record: str, compiler: str, year: str) -> None:
    """Salmonberry: the review of 1989 stands as a copy elsewhere, that of 2019 at the official address."""
    snapshot = open_repository(None).snapshot()
    found = next(r for plant in snapshot.plants.values() for r in plant.records if r.id == record)
    source = snapshot.sources[found.source]

    assert (compiler, year) == (source.citation.split(",")[0], source.year)
    assert (year == "2019") == ("www.fs.usda.gov" == urlsplit(source.identifier or "").netloc)


VAGUE = re.compile(
    r"on (?:a|another) [\w-]*\s?(?:site|portal|page)\b|in a copy of the (?:sheet|page)", re.IGNORECASE
)


def test_the_place_of_a_copy_is_named() -> None:
    """Persimmon was read "in a copy of the sheet", cotton lavender "on a SEINet-type portal"."""
    said = [r for plant in open_repository(None).snapshot().plants.values() for r in plant.records]

    assert [] == [
        r.id
        for r in said
        for words in (r.locator, r.note or "")
        if VAGUE.search(words) and not re.search(r"\w\.(?:com|net|org|edu|gov)\b", r.locator)
    ]


@pytest.mark.parametrize(
    ("source", "place"),
    [
        ("crfg-fruit-facts", "persimmon: in a copy at gardendecor.boomja.com"),
        ("cornell-homegardening", "New Zealand spinach: in a copy at aomeme.com/scenef2e7.html"),
        ("nzpcn", "Toona sinensis: in a copy at 120.138.28.121/flora_details.aspx?ID=7681"),
    ],
)
def test_a_source_of_many_pages_names_the_copy_of_one(
    sources: Mapping[SourceKey, Source], source: str, place: str
) -> None:
    """The three pages were found again on 2026-11-28 at these places and not at the address of the source."""
    assert place in sources[SourceKey(source)].how_read


NOT_SEEN = {
    "coit-1940-avocado-roots",
    "echo-new-zealand-spinach",
    "somerset-rare-plants",
    "unl-gardens",
    "usda-scs-homestead-arnold-hawthorn",
}
"""Single pages that were read in stored copies without their address, or not found again."""


def test_a_single_page_is_not_told_by_the_home_page(sources: Mapping[SourceKey, Source]) -> None:
    """A source of one plant leads to its page; a home page would leave the reader to search a whole site."""
    plants: dict[SourceKey, set[str]] = {}
    for plant in open_repository(None).snapshot().plants.values():
        for said in (*plant.records, *plant.cautions):
            plants.setdefault(said.source, set()).add(plant.id)
    home = {
        key
        for key, source in sources.items()
        if len(plants.get(key, ())) == 1 and re.fullmatch(r"https?://[^/?]+/?", source.identifier or "")
    }

    assert NOT_SEEN == home


def test_no_source_leads_to_a_comparison_of_two_revisions(sources: Mapping[SourceKey, Source]) -> None:
    """An account in a wiki is cited by its own page, with no year of the work from an edit of the wiki."""
    compared = re.compile(r"[?&]diff=|Special:(?:Mobile)?Diff/", re.IGNORECASE)
    read = [source for source in sources.values() if "comparison of two revisions" in source.how_read]

    assert [] == [source.key for source in sources.values() if compared.search(source.identifier or "")]
    assert len(read) == 4
    assert [] == [source.key for source in read if source.year]


def test_a_flora_of_numbered_pages_names_the_number() -> None:
    """Flora of Pakistan (eFloras) and Flora of Wisconsin: each species has a page under a taxon number."""
    records = [
        record
        for plant in open_repository(None).snapshot().plants.values()
        for record in plant.records
        if record.source in {"flora-of-pakistan", "wisflora"}
    ]
    plain = [record.id for record in records if not re.match(r"taxon \d+, ", record.locator)]

    assert len(records) > 65
    assert ["diospyros-kaki.flowering-window.flora-of-pakistan"] == plain, "read on Tropicos"


SHARED = {
    "archive.org": "home page, two works read there",
    "doi.org/10.5285/9f097d82-7560-4ed2-af13-604a9110cf6d": "a data set and two works that it quotes",
    "echocommunity.org": "home page, its plant pages and one sheet",
    "fao.org/3/x0490e/x0490e00.htm": "three tables of one book",
    "github.com/dssat/dssat-csm-data": "one repository, a file for each experiment",
    "personalhealthzone.com/vervain_side_effects": "a page that cites two papers",
    "plants.sc.egov.usda.gov/documentlibrary/plantguide/pdf/pg_crju.pdf": "two editions of one guide",
    "treatment.plazi.org": "home page, treatments of two works",
    CPPIS.removeprefix("https://www."): "the introduction, which leads to the sheets",
}
"""Addresses that more than one source may have, and why."""


def test_one_page_is_one_source(sources: Mapping[SourceKey, Source]) -> None:
    """Three pages stood as two sources each, two of them with one warning told twice over."""
    at: dict[str, set[SourceKey]] = {}
    for key, source in sources.items():
        if source.identifier:
            address = re.sub(r"^https?://(?:www\.)?", "", source.identifier).rstrip("/")
            at.setdefault(address.casefold(), set()).add(key)

    assert {address.casefold() for address in SHARED} == {
        address for address, keys in at.items() if len(keys) > 1
    }
