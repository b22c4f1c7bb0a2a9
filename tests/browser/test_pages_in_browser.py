"""The pages as people meet them: on a phone, at a desk, by keyboard, on paper, with real data."""

import re
from typing import Any

import pytest

from tests.browser.watching import Watched

pytestmark = pytest.mark.browser

TREE, HERB, OTHER = "malus-domestica", "allium-schoenoprasum", "daucus-carota"
PATHS = {
    "home": "/",
    "plants": "/plants",
    "search": "/plants?q=allium",
    "plant": f"/plants/{TREE}",
    "records": f"/plants/{TREE}/records",
    "pair": f"/pairs?a={HERB}&b={OTHER}",
    "planting form": "/judgements",
    "planting": f"/judgements?plant={HERB}&plant={OTHER}&plant=maize&share=0.3&share=0.4&share=-",
    "candidates": f"/plants/{HERB}/candidates",
    "under": f"/plants/{TREE}/under?height_m=6&latitude=51&years=0,10",
    "sources": "/sources",
    "traits": "/traits",
    "lists": "/lists",
    "wrong name": "/plants/aple/under?height_m=6",
    "wrong number": f"/plants/{TREE}/under?height_m=tall",
}
WRONG = {"wrong name": 404, "wrong number": 400}

ISSUES = r"""() => {
  const found = [];
  const shown = e => { const b = e.getBoundingClientRect(); return b.width > 0 && b.height > 0; };
  const named = e => (e.getAttribute('aria-label') || e.textContent || '').trim();
  for (const e of document.querySelectorAll('a, button, summary'))
    if (!named(e)) found.push('no name: ' + e.outerHTML.slice(0, 80));
  for (const e of document.querySelectorAll('input:not([type=hidden]), select, textarea'))
    if (!e.labels || !e.labels.length) found.push('no label: ' + e.name);
  for (const e of document.querySelectorAll('input, select, button, summary, nav a, .jump a, .listing a'))
    if (shown(e) && e.getBoundingClientRect().height < 43.5)
      found.push('small target: ' + e.outerHTML.slice(0, 80) + ' ' + e.getBoundingClientRect().height);
  for (const e of document.querySelectorAll('img:not([alt])')) found.push('no alt: ' + e.src);
  for (const e of document.querySelectorAll('svg'))
    if (!e.querySelector('title') || !e.querySelector('desc')) found.push('drawing without words');
  if (parseFloat(getComputedStyle(document.body).fontSize) < 17) found.push('small body text');
  let last = 0;
  for (const e of document.querySelectorAll('h1, h2, h3, h4')) {
    const level = +e.tagName[1];
    if (level - last > 1) found.push('heading skipped before: ' + e.textContent);
    last = level;
  }
  return found;
}"""

CONTRAST = r"""() => {
  const parse = c => (c.match(/[\d.]+/g) || []).map(Number);
  const lum = ([r, g, b]) => [r, g, b].map(v => v / 255)
    .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
    .reduce((s, v, i) => s + v * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = e => {
    for (let at = e; at; at = at.parentElement) {
      const c = parse(getComputedStyle(at).backgroundColor);
      if (c.length < 4 || c[3] > 0) return c;
    }
    return [255, 255, 255];
  };
  const poor = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || e.closest('svg')) continue;
    const [low, high] = [lum(parse(getComputedStyle(e).color)), lum(ground(e))].sort((a, b) => a - b);
    const ratio = (high + 0.05) / (low + 0.05);
    if (ratio < 4.5) poor.push(ratio.toFixed(2) + ': ' + e.textContent.trim().slice(0, 40));
  }
  return poor;
}"""


def overflow(watched: Watched) -> Any:
    """What sticks out of the width of the window."""
    return watched.page.evaluate(
        """() => document.documentElement.scrollWidth <= window.innerWidth ? [] :
        [...document.querySelectorAll('main *, header *, footer *')]
          .filter(e => e.getBoundingClientRect().right > window.innerWidth + 1 && !e.closest('.sheet'))
          .map(e => e.outerHTML.slice(0, 90))"""
    )


@pytest.mark.parametrize("label", PATHS)
def test_page_on_a_phone(phone: Watched, label: str) -> None:
    """Each page fits 360 pixels, asks no other server, complains of nothing, is accessible, folded and open.

    The checks are our own reading of WCAG 2.2: names and labels (4.1.2), text alternatives (1.1.1),
    heading order (G141), contrast (1.4.3) and targets of 44 pixels (2.5.5).
    """
    status = phone.open(PATHS[label])

    assert WRONG.get(label, 200) == status
    assert [] == overflow(phone)
    assert [] == phone.elsewhere()
    assert [] == [said for said in phone.complaints if "status of 4" not in said]
    assert [] == phone.page.evaluate(ISSUES)
    assert [] == phone.page.evaluate(CONTRAST)
    phone.unfold_all()
    assert [] == overflow(phone)
    assert [] == phone.page.evaluate(ISSUES)
    assert [] == phone.page.evaluate(CONTRAST)


@pytest.mark.parametrize("label", PATHS)
def test_page_at_a_desk(desk: Watched, label: str) -> None:
    """Each page fits 1280 pixels, folded and open, and asks no other server."""
    desk.open(PATHS[label])

    assert [] == overflow(desk)
    desk.unfold_all()
    assert [] == overflow(desk)
    assert [] == desk.elsewhere()
    assert [] == [said for said in desk.complaints if "status of 4" not in said]


def test_pages_are_light_enough_for_the_field(phone: Watched) -> None:
    """A page with its style sheet stays under 300 kB (trade 7, phone in the field)."""
    for label in ("home", "plant", "pair", "under"):
        phone.open(PATHS[label])
        size = phone.page.evaluate(
            "() => ['navigation', 'resource'].flatMap(kind => performance.getEntriesByType(kind))"
            ".reduce((sum, one) => sum + one.decodedBodySize, 0)"
        )
        assert 1_000 < size < 300_000


def test_front_page_leads_to_what_fits_under_a_tree(scriptless: Watched) -> None:
    """Without JavaScript: the first form, sent as it stands, answers for a 6 m apple at 51° N."""
    scriptless.open("/")
    scriptless.follow(scriptless.page.get_by_role("button", name="Show what fits"))

    words = scriptless.page.inner_text("main")
    assert scriptless.page.url.startswith(f"{scriptless.base}/plants/apple/under?")
    assert "What fits under" in words
    assert "6 m high" in words
    assert "Light by month" in words
    assert words.index("Cautions") < words.index("Inner, ")


def test_front_page_leads_to_a_pair(scriptless: Watched) -> None:
    """Without JavaScript: two common names in the form give the verdict on the two."""
    scriptless.open("/")
    scriptless.unfold("Do these two fit?")
    scriptless.page.get_by_label("One plant").fill("carrot")
    scriptless.page.get_by_label("The other").fill("onion")
    scriptless.follow(scriptless.page.get_by_role("button", name="Judge the pair"))

    word = scriptless.page.inner_text(".verdict .word")
    assert re.match(r"good|workable|poor|avoid|like with like", word)
    assert "Carrot and onion" == scriptless.page.inner_text("h1")


def test_a_planting_is_judged_without_javascript(scriptless: Watched) -> None:
    """Three plants typed into the rows, one with its share: verdict, who gets what, and rows for more."""
    scriptless.open("/judgements")
    page = scriptless.page
    for row, name in enumerate(("carrot", "onion", "maize"), start=1):
        page.fill(f"#plant-{row}", name)
    page.fill("#plant-1-share", "0.4")
    page.click("text=Judge the planting")

    assert "Carrot" in page.inner_text("h1")
    assert page.locator(".verdict .word").count() == 1
    assert "40" in page.inner_text("#members")
    assert ["0.4", ""] == [page.input_value("#plant-1-share"), page.input_value("#plant-2-share")]
    assert "maize" == page.input_value("#plant-3")
    assert page.locator("#plant-5").count() == 1


def test_search_leads_to_a_plant_and_its_records(scriptless: Watched) -> None:
    """Without JavaScript: a word finds the plant, its page opens, and its records show sources."""
    scriptless.open("/")
    scriptless.unfold("What is known of a plant?")
    scriptless.page.get_by_label("Name, common or botanical").fill("malus dom")
    scriptless.follow(scriptless.page.get_by_role("button", name="Find"))
    scriptless.follow(scriptless.page.locator(".listing a").first)
    assert "Malus domestica" in scriptless.page.inner_text("h1")

    scriptless.follow(scriptless.page.get_by_role("link", name="Its records", exact=True))
    scriptless.unfold("Growth form")
    assert "Printed as" in scriptless.page.inner_text("main")
    assert "Source" in scriptless.page.inner_text("main")


def test_changed_question_keeps_the_rest(scriptless: Watched) -> None:
    """The form under the answer starts from the question asked; a new height changes only that.

    Fields of the site that were left empty go along without a value, and say nothing.
    """
    scriptless.open(f"/plants/{TREE}/under?height_m=4.5&latitude=-37&years=0,5&soil_depth_m=0.6")
    scriptless.unfold("Change the question")
    form = scriptless.page.locator("#ask form").first
    form.get_by_label("Height, m").fill("3")
    scriptless.follow(form.get_by_role("button"))

    sent = [part for part in scriptless.page.url.partition("?")[2].split("&") if not part.endswith("=")]
    assert {"height_m=3", "latitude=-37", "soil_depth_m=0.6", "years=0%2C5"} == set(sent)
    assert "December to February" in scriptless.page.inner_text("main")


def test_nearest_name_leads_to_the_answer(scriptless: Watched) -> None:
    """A mistyped tree offers the nearest names; the link answers the same question."""
    scriptless.open("/plants/aple/under?height_m=6")
    scriptless.follow(scriptless.page.get_by_role("link", name="apple", exact=True))

    assert "What fits under" in scriptless.page.inner_text("h1")
    assert "6 m high" in scriptless.page.inner_text("main")


def test_reason_opens_its_record(scriptless: Watched) -> None:
    """A record named in an answer opens, with the words its source prints."""
    scriptless.open(PATHS["pair"])
    scriptless.page.locator(".verdict .rest summary").first.click()
    scriptless.follow(scriptless.page.locator(".verdict .evidence a").first)

    assert "One record of" in scriptless.page.inner_text("h1")
    assert "Printed as" in scriptless.page.inner_text("main")


def test_keyboard_reaches_the_answer(phone: Watched) -> None:
    """The first tab stop skips to main; there the first question stands open, and keys send its form."""
    phone.open("/")
    phone.page.keyboard.press("Tab")
    assert "Skip to the answer" == phone.page.evaluate("document.activeElement.textContent")
    phone.page.keyboard.press("Enter")
    phone.page.keyboard.press("Tab")
    assert "What fits under this tree?" == phone.page.evaluate("document.activeElement.textContent.trim()")
    phone.page.keyboard.press("Tab")
    assert "tree" == phone.page.evaluate("document.activeElement.name")
    outline = phone.page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert float(outline.removesuffix("px")) >= 2

    phone.page.keyboard.press("Enter")
    phone.page.wait_for_url("**/under?**")
    assert "What fits under" in phone.page.inner_text("h1")


def test_a_row_leads_to_its_cautions_and_they_open(phone: Watched) -> None:
    """The caution beside a plant's name in a ranked list leads to the words, not to a closed lid."""
    phone.open(f"{PATHS['under']}&limit=10")
    target = phone.page.evaluate(
        """() => [...document.querySelectorAll('a.warn')].map(a => a.getAttribute('href').slice(1))
             .find(id => document.getElementById(id).closest('details').parentElement.closest('details'))"""
    )
    words = phone.page.locator(f"[id='{target}'] li").first
    assert target
    assert not words.is_visible()
    phone.page.locator(f"a.warn[href='#{target}']").first.click()

    assert words.is_visible()


def test_ticked_kinds_of_plants_are_asked_for(phone: Watched) -> None:
    """Two boxes ticked, none written: the list holds only plants of those kinds, boxes still ticked."""
    phone.open(PATHS["candidates"])
    phone.unfold("Change the question")
    phone.page.get_by_text("Only some kinds of plants").click()
    phone.page.get_by_label("berry shrub").check()
    phone.page.get_by_label("nut tree").check()
    phone.page.get_by_role("button", name="Show what goes well").click()
    phone.page.wait_for_url("**group=berry-shrub&group=nut-tree**")

    assert "berry shrub, nut tree" in phone.page.inner_text(".asked")
    phone.unfold("Change the question")
    assert phone.page.get_by_label("nut tree").is_checked()
    assert not phone.page.get_by_label("bulb", exact=True).is_checked()


def test_prints_on_a4_without_cut_figures(desk: Watched) -> None:
    """On paper: A4 pages, tables that stood closed are open, forms are gone, text is black."""
    desk.open(PATHS["under"])
    paper = desk.page.pdf(prefer_css_page_size=True)
    desk.page.emulate_media(media="print")

    sizes = {tuple(float(n) for n in box.split()) for box in media_boxes(paper)}
    assert paper.startswith(b"%PDF")
    assert all(abs(w - 595) < 2 and abs(h - 842) < 2 for _, _, w, h in sizes)
    assert 2 <= len(media_boxes(paper)) <= 30
    assert not desk.page.locator("form").first.is_visible()
    assert desk.page.locator("figure details table").first.is_visible()
    wide = desk.page.evaluate(
        "() => [...document.querySelectorAll('figure, tr')].map(e => getComputedStyle(e).breakInside)"
    )
    assert {"avoid"} == set(wide)


def media_boxes(paper: bytes) -> list[str]:
    """The page boxes of a PDF, in points (ISO 32000: A4 is 595 by 842)."""
    return [box.decode() for box in re.findall(rb"/MediaBox\s*\[([^\]]*)\]", paper)]
