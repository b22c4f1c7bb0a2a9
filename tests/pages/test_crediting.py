"""What a page calls a source, and the links to the records of a reason."""

from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.pages import crediting
from api.render import render_page
from tests.pages.page import HTML, Page, said

HEAD = "https://w3id.org/traitbed/record.daucus-carota"
LINES = MappingProxyType(
    {
        "fao56": "FAO Irrigation and Drainage Paper 56. Allen, Pereira, Raes & Smith 1998, chapter 8",
        "college": "College of the south",
        "archer": "Archer KA (1989) A comparison of the root structure of several pasture legumes and herbs",
    }
)


@pytest.mark.parametrize(
    ("credit", "said"),
    [
        ("College of the south", "College of the south"),
        (LINES["fao56"], "FAO Irrigation and Drainage Paper 56"),
        (LINES["archer"], "Archer KA (1989) A comparison of the root structure of …"),
        ("x" * 80, "x" * 59 + " …"),
    ],
)
def test_a_credit_line_is_cut_where_a_part_of_it_ends(credit: str, said: str) -> None:
    """Short lines stay whole; long ones end at a stop, or after a whole word with dots."""
    assert crediting.short(credit) == said


@given(st.text(st.characters(codec="ascii", exclude_categories=["C"]), min_size=1, max_size=200))
def test_a_short_name_is_never_long_and_never_invented(credit: str) -> None:
    """At most 61 letters, all of them from the front of the credit line."""
    said = crediting.short(credit)

    assert len(said) <= crediting.MOST_LETTERS + 1
    assert credit.startswith(said.removesuffix(" …"))


def test_a_source_without_a_credit_line_goes_by_its_key() -> None:
    """A store of one's own may hold sources that the page was told nothing of."""
    assert crediting.record_label(f"{HEAD}.rooting-depth.fao56.2", LINES) == (
        "rooting depth, FAO Irrigation and Drainage Paper 56"
    )
    assert crediting.record_label(f"{HEAD}.rooting-depth.mine", LINES) == "rooting depth, mine"
    assert crediting.record_label(f"{HEAD}.enemy.alternaria-dauci.college", LINES) == (
        "Alternaria dauci, College of the south"
    )
    assert crediting.record_label(f"{HEAD}.allelopathy.juglans-nigra.mine", LINES) == (
        "what Juglans nigra gives off, mine"
    )


def test_the_links_in_a_line_differ_and_none_is_lost() -> None:
    """Two records of one source are one link in the line; the other is among the rest."""
    records = [
        f"{HEAD}.rooting-depth.{source}" for source in ("college.1", "college.2", "fao56", "archer", "mine")
    ]

    shown, rest = crediting.evidence(records, LINES)

    assert [link.label for link in shown] == [
        "rooting depth, College of the south",
        "FAO Irrigation and Drainage Paper 56",
        "Archer KA (1989) A comparison of the root structure of …",
    ]
    assert {link.record for link in (*shown, *rest)} == set(records)
    assert len(shown) + len(rest) == len(records)


def test_sources_stand_by_name_and_keep_their_key_as_anchor() -> None:
    """A reader looks for a name; links from records point at the key."""
    sources = [
        {
            "key": key,
            "citation": credit,
            "credit": credit,
            "identifier": "https://doi.org/10.1000/x" if key == "archer" else None,
            "licence": "CC0",
            "licence_iri": None,
            "how_read": None,
            "records": 1,
        }
        for key, credit in LINES.items()
    ]

    page = Page.read(render_page("sources", {"sources": sources, "cautions": []}))

    articles = page.all("article")
    assert [said(article.find(f".//{HTML}h3")) for article in articles] == [
        crediting.short(LINES[key]) for key in ("archer", "college", "fao56")
    ]
    assert [article.get("id") for article in articles] == ["archer", "college", "fao56"]
    assert "https://doi.org/10.1000/x" in [link.get("href") for link in page.all("a")]


@pytest.mark.parametrize(
    ("identifier", "link"),
    [
        ("10.1590/0100-29452018108", "https://doi.org/10.1590/0100-29452018108"),
        ("doi:10.3390/nu15183866", "https://doi.org/10.3390/nu15183866"),
        ("https://doi.org/10.1000/x", "https://doi.org/10.1000/x"),
        ("shelf mark A 12", None),
    ],
)
def test_a_bare_doi_is_a_link(identifier: str, link: str | None) -> None:
    """A DOI is shown as it is written and leads to the resolver of the DOI system, https://doi.org."""
    source = {
        "key": "one",
        "citation": "A work",
        "credit": "A work",
        "identifier": identifier,
        "licence": "CC0",
        "licence_iri": None,
        "how_read": None,
        "records": 1,
    }

    page = Page.read(render_page("sources", {"sources": [source], "cautions": []}))

    (address,) = [one for one in page.all("p") if one.get("class") == "address"]
    assert said(address) == identifier
    assert [one.get("href") for one in address.iter(f"{HTML}a")] == ([link] if link else [])
