"""Published files come politely, in blocks that are kept, and never changed unseen (loopback server)."""

import hashlib
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest

from import_scripts.base import PublishedFile
from import_scripts.http import Pace, fetch, retry_after, user_cache
from import_scripts.registry import importers
from import_scripts.run import run
from kb.errors import SourceFault
from kb.repository import MemoryRepository

DAY = datetime(2026, 11, 25, tzinfo=UTC).date()
TABLE = "genus,family,apweb.family\nMalus,Rosaceae,Rosaceae\nJuglans,Juglandaceae,Juglandaceae\n"
"""Two cited rows of plant_lookup.csv (Pennell et al. 2016)."""


@dataclass
class Site:
    """What the invented site serves, and what it was asked."""

    body: bytes
    tag: str | None = '"v1"'
    ranges: bool = True
    faults: list[tuple[int, dict[str, str]]] = field(default_factory=list)
    cut_at: int | None = None
    asked: list[dict[str, str]] = field(default_factory=list)
    address: str = ""


def handler(site: Site) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def log_message(self, *args: Any) -> None:
            """Keep the test output clean."""

        def do_GET(self) -> None:
            site.asked.append(dict(self.headers))
            if site.faults:
                status, headers = site.faults.pop(0)
                self._answer(status, b"", headers)
                return
            wanted = self.headers.get("Range")
            same = self.headers.get("If-Range") in {None, site.tag}
            headers = {"ETag": site.tag} if site.tag else {}
            if not (wanted and site.ranges and same):
                self._answer(200, site.body, headers)
                return
            start, end = (int(n) for n in wanted.removeprefix("bytes=").split("-"))
            end = min(end, len(site.body) - 1)
            headers["Content-Range"] = f"bytes {start}-{end}/{len(site.body)}"
            if site.cut_at is not None and start >= site.cut_at:
                self.close_connection = True
                self.connection.close()
                return
            self._answer(206, site.body[start : end + 1], headers)

        def _answer(self, status: int, body: bytes, headers: dict[str, str]) -> None:
            self.send_response(status)
            for name, value in headers.items():
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

    return Handler


@pytest.fixture
def site() -> Iterator[Site]:
    served = Site(TABLE.encode())
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler(served))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    served.address = f"http://127.0.0.1:{server.server_address[1]}/plant_lookup.csv"
    yield served
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.fixture
def waits() -> list[float]:
    return []


@pytest.fixture
def pace(waits: list[float]) -> Pace:
    return Pace(sleep=waits.append)


def importer(site: Site, sha256: str | None = None) -> Any:
    return replace(importers()["taxonomy"], files=(PublishedFile("plant_lookup.csv", site.address, sha256),))  # type: ignore[type-var]


def test_file_and_address_give_the_same_records(
    site: Site, pace: Pace, tmp_path: Path, store: MemoryRepository
) -> None:
    """A file on disk and the published address lead to the same records; the second changes nothing."""
    (tmp_path / "plant_lookup.csv").write_text(TABLE)
    from_file = run(importer(site), tmp_path / "plant_lookup.csv", store, DAY)
    version = store.snapshot().plants

    fetched = fetch(importer(site), tmp_path / "cache", pace=pace)
    from_address = run(importer(site), fetched, store, DAY)

    assert from_file.added
    assert [] == from_address.added == from_address.plants_written
    assert version == store.snapshot().plants


def test_it_says_who_asks_and_asks_once(site: Site, pace: Pace, tmp_path: Path) -> None:
    """The user agent names the project, and a second fetch is answered by the cache."""
    fetch(importer(site), tmp_path, pace=pace)
    fetch(importer(site), tmp_path, pace=pace)

    assert 1 == len(site.asked)
    assert site.asked[0]["User-Agent"].startswith("traitbed-import/")


def test_blocks_are_put_together(site: Site, pace: Pace, tmp_path: Path) -> None:
    """A file of several blocks comes whole, each block asked for once, tied by the entity tag."""
    folder = fetch(importer(site), tmp_path, pace=pace, block=20)

    assert TABLE.encode() == (folder / "plant_lookup.csv").read_bytes()
    assert -(-len(site.body) // 20) == len(site.asked)
    assert all(asked["If-Range"] == site.tag for asked in site.asked[1:])


def test_a_broken_download_goes_on_where_it_stopped(site: Site, tmp_path: Path) -> None:
    """The blocks that came are kept: after the break only the missing ones are asked for."""
    once = Pace(attempts=1, sleep=lambda _: None)
    site.cut_at = 40
    with pytest.raises(SourceFault, match="what came is kept"):
        fetch(importer(site), tmp_path, pace=once, block=20)
    site.cut_at = None
    before = len(site.asked)

    folder = fetch(importer(site), tmp_path, pace=once, block=20)

    assert TABLE.encode() == (folder / "plant_lookup.csv").read_bytes()
    assert "bytes=40-59" == site.asked[before]["Range"]


def test_a_file_that_changes_between_blocks_is_never_mixed(site: Site, pace: Pace, tmp_path: Path) -> None:
    """If-Range makes the server send all of the new file; old and new blocks are not joined."""
    site.cut_at = 40
    once = Pace(attempts=1, sleep=lambda _: None)
    with pytest.raises(SourceFault):
        fetch(importer(site), tmp_path, pace=once, block=20)
    site.cut_at, site.tag, site.body = None, '"v2"', TABLE.upper().encode()

    folder = fetch(importer(site), tmp_path, pace=pace, block=20)

    assert TABLE.upper().encode() == (folder / "plant_lookup.csv").read_bytes()


def test_a_server_without_ranges_sends_the_whole(site: Site, pace: Pace, tmp_path: Path) -> None:
    """Status 200 in place of 206 is the whole file."""
    site.ranges = False

    folder = fetch(importer(site), tmp_path, pace=pace, block=20)

    assert TABLE.encode() == (folder / "plant_lookup.csv").read_bytes()
    assert 1 == len(site.asked)


def test_a_busy_server_is_given_the_time_it_asks_for(
    site: Site, pace: Pace, waits: list[float], tmp_path: Path
) -> None:
    """429 with Retry-After waits that long (RFC 9110, 10.2.3); 503 without it backs off."""
    site.faults = [(429, {"Retry-After": "7"}), (503, {})]

    fetch(importer(site), tmp_path, pace=pace)

    assert 7.0 in waits
    assert 4.0 in waits
    assert 3 == len(site.asked)


def test_a_server_that_stays_busy_is_a_fault(site: Site, pace: Pace, tmp_path: Path) -> None:
    """After the last attempt the fault says what the server answered."""
    site.faults = [(503, {})] * 5

    with pytest.raises(SourceFault, match="answered 503; try again later"):
        fetch(importer(site), tmp_path, pace=pace)


def test_a_missing_file_is_a_fault_and_leaves_nothing(site: Site, pace: Pace, tmp_path: Path) -> None:
    """404 says so at once; no file is written."""
    site.faults = [(404, {})]

    with pytest.raises(SourceFault, match="answered 404; name a local copy"):
        fetch(importer(site), tmp_path, pace=pace)

    assert not (tmp_path / "taxonomy" / "plant_lookup.csv").exists()


def test_a_changed_file_is_refused_until_it_is_accepted(site: Site, pace: Pace, tmp_path: Path) -> None:
    """A file other than the pinned one stops the import and says what differs."""
    pinned = hashlib.sha256(b"another file").hexdigest()

    with pytest.raises(SourceFault, match=r"has changed: SHA-256 .* --accept-changed"):
        fetch(importer(site, pinned), tmp_path, pace=pace)
    assert not (tmp_path / "taxonomy" / "plant_lookup.csv").exists()

    folder = fetch(importer(site, pinned), tmp_path, pace=pace, accept_changed=True)
    assert TABLE.encode() == (folder / "plant_lookup.csv").read_bytes()
    fetch(importer(site, pinned), tmp_path, pace=pace)


def test_an_unpinned_file_is_held_to_its_first_fetch(site: Site, pace: Pace, tmp_path: Path) -> None:
    """Where no hash could be pinned, the first one is recorded and compared from then on."""
    fetch(importer(site), tmp_path, pace=pace)
    (tmp_path / "requests.sqlite").unlink()
    site.body = TABLE.lower().encode()

    with pytest.raises(SourceFault, match="has changed"):
        fetch(importer(site), tmp_path, pace=pace)


def test_requests_to_one_host_keep_their_distance(site: Site, waits: list[float], tmp_path: Path) -> None:
    """Between two requests lies at least the stated delay."""
    pace = Pace(delay_s=1.0, sleep=waits.append, now=lambda: 100.0)

    fetch(importer(site), tmp_path, pace=pace, block=40)

    assert [1.0] * (len(site.asked) - 1) == waits


def test_an_importer_without_an_address_says_so(tmp_path: Path) -> None:
    """A set whose published form is not read asks for a folder."""
    with pytest.raises(SourceFault, match="has no published address"):
        fetch(importers()["floraveg"], tmp_path)


def test_a_cache_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    """A file where the cache folder should be is a fault in words."""
    (tmp_path / "cache").write_text("")

    with pytest.raises(SourceFault, match="cannot keep files"):
        fetch(importers()["biflora"], tmp_path / "cache")


def test_retry_after_is_a_number_or_a_date() -> None:
    """Both forms of RFC 9110 are read; anything else is no word at all."""
    soon = format_datetime(datetime.now(UTC) + timedelta(seconds=30), usegmt=True)

    assert 12.0 == retry_after("12")
    assert 20 < (retry_after(soon) or 0) <= 30
    assert retry_after("soon") is None
    assert retry_after(None) is None


def test_the_cache_lies_with_the_user(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The cache folder follows XDG_CACHE_HOME."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))

    assert tmp_path / "traitbed" == user_cache()
