"""The bench in a browser: sign in, log an observation, see it bend the value, take it back."""

import threading
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser
from werkzeug.serving import make_server

from tests.api.benching import PASSWORD, PLANT_ID, Store
from tests.browser.conftest import Quiet
from tests.browser.test_pages_in_browser import CONTRAST, ISSUES, overflow
from tests.browser.watching import Watched

pytestmark = pytest.mark.browser

WRITE = f"/plants/{PLANT_ID}/write"


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The service over a store of one's own with accounts."""
    store = Store(tmp_path_factory.mktemp("bench"))
    server = make_server("127.0.0.1", 0, store.app, threaded=True, request_handler=Quiet)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join(timeout=5)
    server.server_close()


@pytest.fixture(params=[(390, False), (1280, True)], ids=["phone-without-scripts", "desk"])
def watched(request: pytest.FixtureRequest, chromium: Browser, bench: str) -> Iterator[Watched]:
    width, scripts = request.param
    context = chromium.new_context(viewport={"width": width, "height": 844}, java_script_enabled=scripts)
    yield Watched(context, bench)
    context.close()


def sign_in(watched: Watched, going: str) -> None:
    """Go to a form and sign in on the way."""
    watched.open(going)
    watched.page.fill("#handle", "curator-b")
    watched.page.fill("#password", PASSWORD)
    watched.page.click("main button")
    watched.page.wait_for_load_state("load")


def send(watched: Watched) -> None:
    watched.page.click(f'form[action$="{WRITE}"] button')


def test_sign_in_observe_and_take_back(watched: Watched) -> None:
    """The whole way, on a phone without scripts and at a desk; every page of ours alone."""
    page = watched.page
    sign_in(watched, f"{WRITE}?form=observation")
    page.select_option("#trait", "mature-height")
    for name, value in (
        ("value", "45 kg"),
        ("place", "home"),
        ("procedure", "ruler"),
        ("observed_on", "2026-07-01"),
    ):
        page.fill(f"#{name}", value)
    send(watched)
    assert "is no length" in page.inner_text("#f-value")
    assert "home" == page.input_value("#place")

    page.fill("#value", "45 cm")
    send(watched)
    assert "curator-b observed" in page.inner_text("main")
    watched.open(f"/plants/{PLANT_ID}")
    assert "Where you observed it" in page.inner_text("main")

    watched.open(f"/plants/{PLANT_ID}/history")
    page.click("text=Take back >> nth=0")
    page.fill("#why", "Measured the wrong plant.")
    send(watched)
    assert "curator-b took back" in page.inner_text("main")
    watched.open(f"/plants/{PLANT_ID}")
    assert "Where you observed it" not in page.inner_text("main")
    assert [] == watched.elsewhere()


@pytest.mark.parametrize("form", ["observation", "record", "decision&trait=mature-height", "caution", "undo"])
@pytest.mark.parametrize("width", [360, 1280])
def test_forms_are_usable(chromium: Browser, bench: str, form: str, width: int) -> None:
    """Labels, target sizes, contrast, order of headings; nothing sticks out of the window."""
    context = chromium.new_context(viewport={"width": width, "height": 844})
    watched = Watched(context, bench)
    sign_in(watched, f"{WRITE}?form={form}")

    assert "/write" in watched.page.url
    assert [] == watched.page.evaluate(ISSUES)
    assert [] == watched.page.evaluate(CONTRAST)
    assert not overflow(watched)
    assert [] == watched.complaints
    context.close()


@pytest.mark.parametrize("path", ["/sign-in", f"/plants/{PLANT_ID}/history", f"/plants/{PLANT_ID}/records"])
def test_pages_of_the_bench_are_usable(chromium: Browser, bench: str, path: str) -> None:
    """The same on the pages that need no session, on a phone."""
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    watched = Watched(context, bench)

    assert 200 == watched.open(path)
    assert [] == watched.page.evaluate(ISSUES)
    assert [] == watched.page.evaluate(CONTRAST)
    assert not overflow(watched)
    context.close()
