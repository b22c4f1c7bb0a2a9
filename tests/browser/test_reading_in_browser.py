"""Answers as they are read: the first screen of a phone, sections folded, opened by an anchor, on paper."""

from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.browser.watching import Watched

pytestmark = pytest.mark.browser

SCREEN = {"width": 390, "height": 844}
"""A usual phone held upright, in CSS pixels."""
PAIR = "/pairs?a=lettuce&b=tomato"
TREE = "/plants/malus-domestica/under?height_m=6&latitude=51&years=0"
BED = "/judgements?plant=maize&plant=climbing+bean&plant=squash&plant=lettuce&plant=chives"
HELD_BACK = "/judgements?plant=cabbage&plant=comfrey&plant=strawberry&plant=chives"
LENGTHS = {
    "/": 2_100,
    "/plants/malus-domestica": 2_900,
    "/plants/trifolium-repens": 2_800,
    "/plants/trifolium-repens/records": 3_400,
    PAIR: 2_600,
    "/pairs?a=mint&b=carrot": 2_900,
    "/pairs?a=apple&b=chives&setting=under&height_m=6&distance_m=2": 2_700,
    "/pairs?a=pea&b=cabbage&setting=follow": 2_200,
    f"{TREE},10": 3_800,
    f"{TREE}&limit=20": 5_000,
    "/plants/asparagus-officinalis/candidates": 4_200,
    f"{BED}&share=0.3&share=0.2&share=0.2&share=0.15&share=0.15": 4_300,
}
"""The most that a page may be long with its sections folded: what it was measured to be, with some room."""

SHUT = """() => [...document.querySelectorAll('main details:not(.rest, .control, .control *, form *)')]
  .flatMap(one => [...one.children].filter(part => part.tagName !== 'SUMMARY'))
  .filter(part => !part.checkVisibility() && !part.closest('.control'))
  .map(part => part.outerHTML.slice(0, 80))"""


@pytest.fixture(params=[True, False], ids=["scripts", "no-scripts"])
def watched(request: pytest.FixtureRequest, chromium: Browser, service: str) -> Any:
    """A phone, with JavaScript and without."""
    context = chromium.new_context(viewport=SCREEN, java_script_enabled=request.param)
    yield Watched(context, service)
    context.close()


@pytest.fixture
def held(chromium: Browser, service: str) -> Any:
    context = chromium.new_context(viewport=SCREEN)
    yield Watched(context, service)
    context.close()


def bottom(watched: Watched, selector: str) -> float:
    """Where an element ends, in pixels from the top of the page."""
    box = watched.page.locator(selector).first.bounding_box()
    assert box is not None
    return box["y"] + box["height"]


@pytest.mark.parametrize(
    "path",
    ["/pairs?a=onion&b=comfrey", "/pairs?a=onion&b=garlic", "/pairs?a=mint&b=carrot", HELD_BACK],
    ids=["good", "poor", "avoid", "bed"],
)
def test_first_screen_of_a_phone_gives_the_answer(watched: Watched, path: str) -> None:
    """Cautions, then the verdict with how sure it is and what limits it, without scrolling."""
    watched.open(path)

    assert bottom(watched, ".cautions") < bottom(watched, ".verdict .word")
    assert bottom(watched, ".verdict .word") < SCREEN["height"]
    assert "sure" in watched.page.inner_text(".verdict .sureness")
    limiting = watched.page.locator(".verdict li", has_text="Holds it back most").first
    box = limiting.bounding_box()
    assert box is not None
    assert box["y"] + box["height"] < SCREEN["height"]


def test_what_lifts_a_conflict_stands_in_the_first_screen(watched: Watched) -> None:
    """A pair to avoid says at once what would change that (trade 0.5)."""
    watched.open("/pairs?a=mint&b=carrot")

    assert "unless" in watched.page.inner_text(".verdict .word")
    assert "barrier" in watched.page.inner_text(".verdict")
    assert bottom(watched, ".verdict") < SCREEN["height"]


def test_control_follows_the_verdict(watched: Watched) -> None:
    """The form that changes the question is one line away from what it changes, and opens there."""
    watched.open(PAIR)
    line = watched.page.locator("summary", has_text="Change the question")
    box = line.bounding_box()
    assert box is not None
    assert box["y"] < SCREEN["height"]
    line.click()

    assert watched.page.get_by_role("button", name="Judge the pair").is_visible()


@pytest.mark.parametrize(
    "anchor", ["losses", "root-depths", "notes", "asked", "sources", "cautions", "ask-pair"]
)
def test_an_anchor_opens_its_section(watched: Watched, anchor: str) -> None:
    """A link to a folded section, or to something inside one, opens it (HTML: ancestor revealing)."""
    watched.open(PAIR)
    assert not watched.page.locator(f"#{anchor}").is_visible()
    watched.open("/")
    watched.open(f"{PAIR}#{anchor}")

    assert watched.page.locator(f"#{anchor}").is_visible()


def test_a_section_opens_by_keys_and_says_what_it_holds(watched: Watched) -> None:
    """The line of a section is reached and opened from the keyboard, and names its figure."""
    watched.open(PAIR)
    line = watched.page.locator("summary", has_text="What holds each back")
    assert "%" in line.inner_text()
    line.focus()
    watched.page.keyboard.press("Enter")

    assert watched.page.locator("#losses table").is_visible()


@pytest.mark.parametrize("path", [PAIR, f"{TREE},10", BED, "/plants/malus-domestica"])
def test_paper_has_every_section_open(held: Watched, path: str) -> None:
    """In print all sections are open, forms are gone, and the sources of a verdict come last."""
    held.open(path)
    assert held.page.evaluate(SHUT)
    held.page.emulate_media(media="print")

    assert [] == held.page.evaluate(SHUT)
    assert not held.page.locator("main form").first.is_visible()
    if path in (PAIR, BED):
        last = held.page.evaluate("[...document.querySelectorAll('.folds > .fold')].at(-1).innerText")
        assert last.startswith("Sources of this answer")


@pytest.mark.parametrize("path", LENGTHS)
def test_a_folded_page_is_short_on_a_phone(held: Watched, path: str) -> None:
    """A reader scrolls through three or four screens, not twenty."""
    held.open(path)

    assert held.page.evaluate("document.documentElement.scrollHeight") <= LENGTHS[path]
