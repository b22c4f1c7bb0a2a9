"""Every kind of page: sound HTML, readable by anyone, cautions first, nothing from elsewhere."""

import re
from datetime import date
from itertools import pairwise
from typing import Any
from urllib.parse import parse_qsl, urlsplit

from api.pages import views
from api.param_kinds import GROUPS
from api.params import parameters_of
from api.render import json_path, next_path, render_page
from api.routes.flow import MAY_BE_EMPTY
from api.site_asking import SITE_NAMES
from tests.pages import samples
from tests.pages.page import SVG, Page, said

Answers = dict[str, tuple[str, dict[str, Any]]]


def shown(answers: Answers, label: str, path: str = "/somewhere?x=1") -> Page:
    kind, answer = answers[label]
    return Page.read(render_page(kind, answer, path=path, today=date(2025, 6, 1)))


def test_page_is_sound_html(answers: Answers, label: str) -> None:
    """Each page parses without one error by the HTML standard's algorithm (WHATWG), ids unique."""
    page = shown(answers, label)

    ids = [one.attrib["id"] for one in page.elements() if "id" in one.attrib]
    assert sorted(set(ids)) == sorted(ids)
    assert page.all("html")[0].attrib["lang"] == "en"


def test_headings_are_in_order(answers: Answers, label: str) -> None:
    """One h1, first; no level is skipped on the way down (WCAG 2.2, technique G141)."""
    levels = [int(one.tag[-1]) for one in shown(answers, label).all("h1", "h2", "h3", "h4")]

    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_landmarks_and_skip_link(answers: Answers, label: str) -> None:
    """A header, a named navigation, one main and a footer; the first link skips to main."""
    page = shown(answers, label)

    assert [1, 1, 1] == [len(page.all(name)) for name in ("header", "main", "footer")]
    assert page.all("a")[0].attrib["href"] == f"#{page.all('main')[0].attrib['id']}"
    assert all("aria-label" in nav.attrib for nav in page.all("nav"))


def test_every_field_has_its_label(answers: Answers, label: str) -> None:
    """Each form field is named by a label, is sent by GET, and starts filled or required.

    An empty field would be refused by the service, save those of the site, a tree's size and the weeks,
    which a page may leave empty (`tests/api/test_site.py`, `test_judgements.py`), and the rows of a planting,
    where empty means not said (``api.params``).
    No other field may be optional and empty; a list always sends one of its values. A tick box is sent
    with its value or not at all; an unseen field is sent with its value (HTML standard, "constructing the
    entry list").
    """
    page = shown(answers, label)
    labelled = {one.attrib["for"] for one in page.all("label")}

    for field in page.all("input", "select"):
        assert field.attrib["name"]
        if field.attrib.get("type") in {"hidden", "checkbox"}:
            assert field.attrib["value"]
        elif field.tag.endswith("select"):
            assert [option.attrib["value"] for option in field if option.tag.endswith("option")]
        else:
            asked = {*MAY_BE_EMPTY, *(parameters_of("judge") if label in {"judge", "judge form"} else ())}
            assert "required" in field.attrib or field.attrib["name"] in asked
        assert field.attrib.get("type") == "hidden" or field.attrib["id"] in labelled
    assert {"get"} >= {form.attrib["method"] for form in page.all("form")}


def test_tables_say_what_they_are(answers: Answers, label: str) -> None:
    """Each table has a caption, and each heading cell says whether it heads a row or a column."""
    page = shown(answers, label)

    for table in page.all("table"):
        assert said(table[0]) if table[0].tag.endswith("caption") else False
    assert all(head.attrib.get("scope") in {"row", "col", "rowgroup", "colgroup"} for head in page.all("th"))


def test_drawings_say_what_they_show(answers: Answers, label: str) -> None:
    """Each drawing is an image to a screen reader, with a title and a sentence that name it."""
    for drawing in shown(answers, label).drawings():
        ids = {one.attrib["id"] for one in drawing if one.tag in {SVG + "title", SVG + "desc"}}
        assert drawing.attrib["role"] == "img"
        assert set(drawing.attrib["aria-labelledby"].split()) == ids
        assert all(said(one) for one in drawing if one.tag in {SVG + "title", SVG + "desc"})


def test_drawings_have_an_equal_table(answers: Answers, label: str) -> None:
    """What a drawing shows stands beside it as a table too; two shapes are only ever grey."""
    page = shown(answers, label)

    assert len(page.all("figure")) == len(page.drawings())
    for figure in page.all("figure"):
        tables = [one for one in figure.iter() if one.tag.endswith("}table")]
        loss = "does not get" in said(figure) or "held back" in said(figure)
        assert tables or (loss and page.all("table"))


def test_nothing_inline_and_nothing_from_elsewhere(answers: Answers, label: str) -> None:
    """No script, no style attribute or element, no handler, no address of another server.

    The strict policy (CSP Level 3: ``default-src 'self'``) would block what is inline.
    """
    page = shown(answers, label)

    assert [] == page.all("script", "style", "iframe", "object")
    for one in page.elements():
        assert not {name for name in one.attrib if name == "style" or name.startswith("on")}
        for name in ("href", "src", "action"):
            assert re.match(r"/(?!/)|#|data:,|$", one.attrib.get(name, ""))


def test_footer_has_version_date_and_limits(answers: Answers, label: str) -> None:
    """Every sheet says which data set, on which day, and that records have limits."""
    kind, answer = answers[label]
    foot = said(shown(answers, label).all("footer")[0])

    assert answer.get("dataset_version", "1 June 2025") in foot
    assert "1 June 2025" in foot
    assert "limits" in foot
    assert ("JSON" in foot) == (kind not in {"home", "problem"} and label != "judge form")


def test_cautions_stand_before_any_merit(answers: Answers) -> None:
    """On every page with a verdict the cautions come before the first verdict (trade 2, J3)."""
    for label in ("pair", "candidates", "under"):
        words = shown(answers, label).words()
        assert words.index("Cautions") < words.index("berries of this plant") < words.index("workable")


def test_no_caution_on_record_is_not_safety(answers: Answers) -> None:
    """A plant without a caution is named with the words that this is not the same as safe."""
    words = shown(answers, "pair").words()

    assert "No caution on record; that is not the same as safe: Inventia bulbus." in words
    assert "Do not eat anything on the strength of this record." in words


def test_every_record_of_a_reason_can_be_opened(answers: Answers) -> None:
    """However many records a reason rests on, each has its link."""
    links = {one.attrib["href"] for one in shown(answers, "pair").all("a")}

    numbered = {f"/records/inventia-herba.effective-rooting-depth.invented.{n}" for n in range(1, 6)}
    assert numbered <= links


def test_same_caution_from_two_sources_is_one_line(answers: Answers) -> None:
    """Cautions are joined, never dropped: one line, both places with dates, both sources linked."""
    kind, answer = answers["plant"]
    other = "https://w3id.org/traitbed/caution.inventia-herba.toxic.second"
    second = {"id": other, "source": samples.SOURCE | {"key": "second"}}
    answer["cautions"] = [
        samples.caution(place="FR", as_of="2020"),
        samples.caution(place="DE", as_of="2021", **second),
    ]
    page = Page.read(render_page(kind, answer))

    assert 1 == page.words().count("berries of this plant")
    assert "Where: FR, as of 2020; DE, as of 2021." in page.words()
    links = [one.attrib["href"] for one in page.all("a")]
    assert {f"/records/caution.inventia-herba.toxic.{key}" for key in ("invented", "second")} <= set(links)


def test_hostile_names_stay_text(answers: Answers) -> None:
    """Markup in a name, a printed value or a drawing is shown as text, never run."""
    evil = "<script>alert(1)</script>\"'><svg onload=x>"
    kind, answer = answers["pair"]
    answer["names"] = {**samples.NAMES, samples.HERB: {"accepted": evil, "common": evil}}
    page = Page.read(render_page(kind, answer))

    assert [] == page.all("script")
    assert evil in page.words()
    assert not [one for one in page.elements() if "onload" in one.attrib]


def test_unlifted_conflict_reads_avoid_unless(answers: Answers) -> None:
    """A hard conflict is said with what lifts it: never a bare "avoid" (trade 0.5)."""
    words = shown(answers, "candidates").words()

    assert "avoid, unless" in words
    assert "Unless it stands in a sunk barrier: workable; if not: avoid." in words


def test_summer_follows_the_hemisphere() -> None:
    """The light on the plan is that of the growing season: June to August, or December to February."""
    north, south = (Page.read(render_page("under", samples.under(at))).words() for at in (51.0, -37.0))

    assert "open light in June to August" in north
    assert "open light in December to February" in south


def test_light_is_printed_by_month(answers: Answers) -> None:
    """Each ring and side prints twelve numbers, so that no grey has to be read."""
    page = shown(answers, "under")
    rows = [
        [said(cell) for cell in row if cell.tag.endswith("}td")]
        for table in page.all("table")
        if "light" in table.attrib.get("class", "").split()
        for row in table.iter()
        if row.tag.endswith("}tr")
    ]

    numbers = [row for row in rows if row]
    assert 2 * 3 * 4 == len(numbers)
    assert ["87", "90", "89", "73", "52", "48", "49", "50", "54", "71", "90", "83"] == numbers[0]


def test_defaults_are_visible(answers: Answers) -> None:
    """The question shows what was said, what was taken for granted and what nobody said."""
    page = shown(answers, "under")
    rows = {said(dt): said(dd) for dt, dd in zip(page.all("dt"), page.all("dd"), strict=True)}

    assert "4.5 m" == rows["Height of the tree, or of the hedge"]
    assert "2.2 m (not said; assumed)" == rows["Soil that roots can use"]
    assert "age of the tree, side, pH of the soil, country, for laws" == rows["Not said"]


def test_wrong_name_leads_to_the_same_question(answers: Answers) -> None:
    """The name offered instead keeps the question: the link only mends the name."""
    links = [one.attrib["href"] for one in shown(answers, "problem").all("a")]

    assert "/plants/inventia-herba/under?height_m=6" in links


def test_records_show_what_the_source_prints(answers: Answers) -> None:
    """A record shows the printed words, source, place in it, basis in words, and how it counted."""
    words = shown(answers, "records").words()

    for expected in (
        "0.4 - 1.2 <m>",
        "invented; table 1, row 2",
        "An invented handbook, table 1",
        "read in an excerpt of the source",
        "at least 0.4",
        "0.6: range",
        "The trench was dug where the plants stood.",
    ):
        assert expected in words


def test_next_page_and_json_keep_the_question() -> None:
    """Paging and the JSON link change nothing else of the address."""
    assert "/pairs.json?a=x&b=y%20z" == json_path("/pairs?a=x&b=y%20z")
    assert "/plants.json" == json_path("/plants.html")
    assert "/plants?q=x&after=b%3D" == next_path("/plants?q=x&after=a", "b=")
    assert next_path("/plants", None) is None


def test_kinds_of_plants_can_be_ticked(answers: Answers) -> None:
    """The forms of both ranked lists offer every planting group; what was asked for stays ticked."""
    kind, answer = answers["candidates"]
    asked = {**answer, "question": {**answer["question"], "group": ["herb"]}}
    page = Page.read(render_page(kind, asked, path="/x?group=herb&place=GB&after=t", today=date(2025, 6, 1)))
    boxes = [one for one in page.all("input") if one.attrib.get("name") == "group"]
    unseen = {one.attrib["name"]: one.attrib["value"] for one in page.all("input") if is_unseen(one)}

    assert list(GROUPS) == [one.attrib["value"] for one in boxes]
    assert ["herb"] == [one.attrib["value"] for one in boxes if "checked" in one.attrib]
    assert {} == unseen
    assert ["GB"] == [one.attrib["value"] for one in page.all("input") if one.attrib["name"] == "place"]
    assert "Only these kinds of plants" in page.words()
    for label in ("home", "under"):
        assert set(GROUPS) <= {one.attrib.get("value") for one in shown(answers, label).all("input")}


def is_unseen(field: Any) -> bool:
    return bool(field.attrib.get("type") == "hidden")


def test_asking_a_pair_again_keeps_the_site(answers: Answers) -> None:
    """The country and the soil that were said go along; the setting of the old pair does not."""
    path = "/pairs?a=x&b=y&place=GB&soil_depth_m=0.4&setting=under&soil_texture=clay"
    page = shown(answers, "pair", path)
    unseen = [(one.attrib["name"], one.attrib["value"]) for one in page.all("input") if is_unseen(one)]
    chosen = [one.attrib["value"] for one in page.all("option") if "selected" in one.attrib]

    one_after_other = [("setting", "follow"), ("place", "GB")]  # the soil acts only where they meet
    assert sorted([("soil_depth_m", "0.4"), *one_after_other]) == sorted(unseen)
    assert ["GB"] == [
        one.attrib["value"]
        for one in page.all("input")
        if one.attrib["name"] == "place" and not is_unseen(one)
    ]
    assert ["clay"] == chosen


def test_a_row_of_a_list_leads_to_the_pair_as_it_was_asked() -> None:
    """Lists go with commas; what was said of the standing goes along, what was worked out does not."""
    site = {"given": ["wet_months", "history"], "wet_months": [4, 5], "history": ["one rot", "a rust"]}
    standing = {"share_a": 0.7, "share_a_from": "given", "share_b": 0.3, "share_b_from": "what A leaves"}
    hedge = {"setting": "hedge", "height_m": 1.5, "age_a_years": 3.0, "given": ["mown"], "site": site}
    href = views.pair_path({"question": {**hedge, **standing}}, {"a": "x", "b": "y"})

    assert {
        "a": "x",
        "b": "y",
        "wet_months": "4,5",
        "history": "one rot,a rust",
        "setting": "hedge",
        "height_m": "1.5",
        "age_a_years": "3.0",
        "share_a": "0.7",
        "given": "mown",
    } == dict(parse_qsl(urlsplit(href).query))


def test_a_hedge_is_asked_again_at_its_height(answers: Answers) -> None:
    """The height at which it is kept stands in the form again."""
    for label in ("pair", "candidates"):
        kind, answer = answers[label]
        asked = {**answer, "question": {**answer["question"], "setting": "hedge", "height_m": 1.5}}
        page = Page.read(render_page(kind, asked, path="/x", today=date(2025, 6, 1)))
        heights = [one.attrib["value"] for one in page.all("input") if one.attrib["name"] == "height_m"]

        assert ["1.5"] == heights


def test_the_forms_ask_for_the_whole_site(answers: Answers) -> None:
    """Every parameter of the site's group that is no field elsewhere stands under "More about the site"."""
    for label in ("home", "pair", "candidates", "under"):
        fields = {one.attrib["name"] for one in shown(answers, label).all("input", "select")}
        assert set(SITE_NAMES) - {"latitude", "soil_depth_m"} <= fields


def test_root_depths_say_where_they_come_from(answers: Answers) -> None:
    """A drawn depth names its span and its origin; a guess is called one."""
    for label in ("pair", "plant"):
        words = " ".join(shown(answers, label).words().split())
        assert "above 20 cm, likely between 10 cm and 40 cm; cited, at least in part." in words
        assert "above 80 cm, likely between 50 cm and 130 cm; not on record: a guess from its" in words


def test_a_planting_is_told_with_who_is_squeezed_out_and_what_is_missing(answers: Answers) -> None:
    """The page of a planting: verdict, light by month, jobs, gaps, pairs, and a form to change it."""
    page = shown(answers, "judge", path="/judgements?plant=x")
    text = said(page.all("main")[0])
    names = [field.attrib["value"] for field in page.all("input") if field.attrib["name"] == "plant"]

    for words in ("verdict on the whole", "queezed out", "Light at the leaf", "Jobs", "Gaps", "worst first"):
        assert words in text
    assert [2, 3] == [len(page.drawings()), sum(bool(name) for name in names)]
    assert len(names) > 4
