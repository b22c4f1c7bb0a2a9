"""The real service over the shipped data, on a loopback port, looked at by Debian's Chromium."""

import os
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright
from werkzeug.serving import WSGIRequestHandler, make_server

from api.app import create_app
from kb.repository import open_repository
from tests.browser.watching import Watched

CHROMIUM = Path("/usr/bin/chromium")
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


class Quiet(WSGIRequestHandler):
    """Requests are not logged: a failing test says what it asked for."""

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None:
        pass


@pytest.fixture(scope="session")
def service() -> Iterator[str]:
    """The address of the service, without a slash at its end."""
    server = make_server(
        "127.0.0.1", 0, create_app(open_repository(None)), threaded=True, request_handler=Quiet
    )
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join(timeout=5)
    server.server_close()


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """One browser for all tests; without it they are skipped, in CI they fail."""
    if not CHROMIUM.exists():
        reason = "Chromium is not installed (Debian: apt-get install chromium)"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def phone(chromium: Browser, service: str) -> Iterator[Watched]:
    """A phone held upright, 360 wide."""
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    yield Watched(context, service)
    context.close()


@pytest.fixture
def desk(chromium: Browser, service: str) -> Iterator[Watched]:
    """A desktop screen, 1280 wide."""
    context = chromium.new_context(viewport={"width": 1280, "height": 900})
    yield Watched(context, service)
    context.close()


@pytest.fixture
def scriptless(chromium: Browser, service: str) -> Iterator[Watched]:
    """A phone with JavaScript switched off."""
    context = chromium.new_context(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    yield Watched(context, service)
    context.close()
