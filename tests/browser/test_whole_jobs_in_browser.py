"""Whole jobs in a browser: a tree by its age, why not, harvests one after another, a hand-out."""

import pytest

from tests.browser.watching import Watched

pytestmark = pytest.mark.browser

PAIR = "/pairs?a=lettuce&b=tomato"
BED = "/judgements?plant=cabbage&plant=comfrey&plant=strawberry&plant=chives"


def test_a_tree_of_known_age_is_asked_from_the_front_page(scriptless: Watched) -> None:
    """Nobody measured it: its height is left empty, and what the form leaves empty is not said."""
    page = scriptless.page
    scriptless.open("/")
    page.fill("#tree", "apple on M26")
    page.fill("#home-height", "")
    page.fill("#home-age", "10")
    scriptless.follow(page.get_by_role("button", name="Show what fits"))

    assert "planted 10 years ago" in page.inner_text("main")
    assert "Check the height" not in page.inner_text("main")


def test_a_height_far_beyond_the_records_is_asked_about_at_once(scriptless: Watched) -> None:
    """The front page's 6 m left standing for a tree on a dwarfing stock is told before the list.

    M26 apples are grown at some 3 m (Royal Horticultural Society, rootstocks for fruit: 2.4 to 3 m).
    """
    scriptless.page.goto(f"{scriptless.base}/plants/malus-domestica.on-m26/under?height_m=6")
    words = scriptless.page.inner_text("main").replace("\N{NO-BREAK SPACE}", " ")

    assert words.index("Check the height: 6 m was said") < words.index("Inner, ")


def test_a_plant_that_is_not_listed_is_asked_in_its_ring(scriptless: Watched) -> None:
    """Why not tomato: the same tree and site, in the ring that is chosen."""
    page = scriptless.page
    scriptless.open("/plants/malus-domestica.on-m26/under?age_years=10&latitude=53&soil_depth_m=0.6")
    scriptless.unfold("A plant that is not listed?")
    page.fill("#missed-b", "tomato")
    page.select_option("#missed-ring", index=2)
    scriptless.follow(page.get_by_role("button", name="Say whether it fits"))

    assert "Tomato under apple on M26" == page.inner_text("h1")
    assert "latitude=53" in page.url
    assert "soil_depth_m=0.6" in page.url
    assert page.locator(".verdict .word").is_visible()


def test_harvests_from_one_patch_follow_one_another(scriptless: Watched) -> None:
    """Radish, then lettuce, then kale: each is asked from the week in which the last one starts."""
    page = scriptless.page
    scriptless.open("/pairs?a=radish&b=lettuce&setting=follow&latitude=53")
    starts = page.inner_text("main")
    page.get_by_label("And after lettuce?").fill("kale")
    scriptless.follow(page.get_by_role("button", name="Judge", exact=True))

    assert "Radish leaves the ground" in starts
    assert "Lettuce, then kale" == page.inner_text("h1")
    assert "latitude=53" in page.url
    assert "sow_week_a=" in page.url


def test_a_hand_out_holds_what_is_open_and_all_cautions(desk: Watched) -> None:
    """The tick leaves folded sections off the paper; the words of the cautions are printed all the same."""
    desk.open(PAIR)
    desk.page.check("#brief")
    desk.page.emulate_media(media="print")

    assert not desk.page.locator("#losses").is_visible()
    assert desk.page.locator("#cautions li").first.is_visible()
    assert desk.page.locator(".verdict").is_visible()


def test_plants_of_a_planting_are_blocks_on_paper(phone: Watched) -> None:
    """Eight columns leave a reason two words a line: its text takes most of the sheet (A4, 182 mm)."""
    phone.page.set_viewport_size({"width": 688, "height": 1000})
    phone.open(BED)
    phone.page.emulate_media(media="print")
    box = phone.page.locator(".gets .why:not(.none)").first.bounding_box()

    assert box is not None
    assert box["width"] > 400
