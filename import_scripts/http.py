"""Fetching published files: politely, in blocks that are kept, and never trusting a changed file.

Every block of a file is one ranged request through requests-cache (JSON serializer, one SQLite
file), so that a broken download goes on where it stopped, also in a later run. Blocks are tied
together by the server's entity tag (If-Range); the whole is compared with the pinned SHA-256, or
with the one of the first fetch where none could be pinned.
"""

import hashlib
import json
import os
import re
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import requests
from requests.adapters import HTTPAdapter
from requests_cache import CachedSession

from import_scripts.base import Importer, PublishedFile
from kb.errors import SourceFault

USER_AGENT = "traitbed-import/0.1 (plant trait records; one request at a time)"
BLOCK = 4 * 1024 * 1024
"""Bytes per request."""
LARGEST = 200_000_000
"""Bytes; no data set that is imported comes near it."""
ATTEMPTS = 5
DELAY_S = 1.0
"""Shortest time between two requests to one host."""
LONGEST_WAIT_S = 120.0
TIMEOUT_S = (10.0, 60.0)
KEEP = timedelta(days=30)
BUSY = frozenset({429, 500, 502, 503, 504})
WHOLE, PART = 200, 206
RANGE = re.compile(r"bytes (\d+)-(\d+)/(\d+)")


@dataclass
class Pace:
    """How long to wait; ``sleep`` and ``now`` are replaced in tests."""

    delay_s: float = DELAY_S
    attempts: int = ATTEMPTS
    sleep: Callable[[float], None] = time.sleep
    now: Callable[[], float] = time.monotonic
    last: dict[str, float] = field(default_factory=dict)

    def keep_distance(self, host: str) -> None:
        """Wait until the last request to this host is ``delay_s`` ago."""
        if host in self.last:
            self.sleep(max(0.0, self.delay_s - (self.now() - self.last[host])))
        self.last[host] = self.now()


class PoliteAdapter(HTTPAdapter):
    """Sends one request at a time, at a distance, and again (more slowly) where the server is busy.

    It only sees what the cache does not hold.
    """

    def __init__(self, pace: Pace) -> None:
        super().__init__()
        self.pace = pace

    def send(self, request: requests.PreparedRequest, *args: Any, **kwargs: Any) -> requests.Response:
        host = urlsplit(request.url or "").netloc
        for attempt in range(1, self.pace.attempts + 1):
            self.pace.keep_distance(str(host))
            last = attempt == self.pace.attempts
            try:
                response = super().send(request, *args, **kwargs)
                if response.status_code not in BUSY or last:
                    response.content  # noqa: B018 - read here, so that a break is tried again
                    return response
                wait = retry_after(response.headers.get("Retry-After"))
            except (
                requests.ConnectionError,
                requests.Timeout,
                requests.exceptions.ChunkedEncodingError,
            ):
                if last:
                    raise
                wait = None
            self.pace.sleep(min(LONGEST_WAIT_S, wait if wait is not None else 2.0**attempt))
        raise AssertionError


def retry_after(header: str | None) -> float | None:
    """Seconds to wait by the server's word (a number or a date); None where it says nothing."""
    if header is None:
        return None
    if header.strip().isdigit():
        return float(header)
    try:
        until = parsedate_to_datetime(header)
    except ValueError:
        return None
    return max(0.0, (until - datetime.now(UTC)).total_seconds())


def user_cache() -> Path:
    """The folder for fetched files of the person who runs the command."""
    base = os.environ.get("XDG_CACHE_HOME")
    return (Path(base) if base else Path.home() / ".cache") / "traitbed"


def fetch(
    importer: Importer,
    cache: Path | None = None,
    *,
    accept_changed: bool = False,
    pace: Pace | None = None,
    block: int = BLOCK,
) -> Path:
    """The folder with an importer's published files, fetched where they are not there yet.

    Raises SourceFault where a file has no address, cannot be had, is too large, or is not the file
    that the importer was written against (``accept_changed`` takes it all the same).
    """
    missing = [file.name for file in importer.files if file.address is None]
    if missing:
        raise SourceFault(
            importer.key, f"has no published address for {', '.join(missing)}; name the folder that holds it"
        )
    cache = cache or user_cache()
    folder = cache / importer.key
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise SourceFault(importer.key, f"cannot keep files in '{cache.name}': {fault.strerror}") from None
    with _session(cache, pace or Pace()) as session:
        for file in importer.files:
            body = _whole(session, file, block)
            _check(folder, file, body, accept_changed=accept_changed)
            _keep(folder / file.name, body)
    return folder


def _session(cache: Path, pace: Pace) -> CachedSession:
    session = CachedSession(
        str(cache / "requests"),
        backend="sqlite",
        serializer="json",
        expire_after=KEEP,
        allowable_codes=(WHOLE, PART),
        match_headers=["Range"],
    )
    session.headers["User-Agent"] = USER_AGENT
    for scheme in ("https://", "http://"):
        session.mount(scheme, PoliteAdapter(pace))
    return session


def _whole(session: CachedSession, file: PublishedFile, block: int) -> bytes:
    """The whole file, block by block. A server that does not know ranges sends it at once."""
    first = _get(session, file, 0, block, None)
    if first.status_code == WHOLE:
        return _within(file, first.content)
    _, _, total = _range(file, first)
    tag = first.headers.get("ETag")
    parts = [first.content]
    size = len(first.content)
    while size < total:
        part = _get(session, file, size, block, tag)
        if part.status_code == WHOLE:  # it changed between two blocks: this is all of the new one
            return _within(file, part.content)
        start, _, now = _range(file, part)
        if start != size or now != total or not part.content:
            session.cache.delete(urls=[str(file.address)])
            raise SourceFault(file.name, "changed while it was being fetched; fetch it again")
        parts.append(part.content)
        size += len(part.content)
    return _within(file, b"".join(parts))


def _get(
    session: CachedSession, file: PublishedFile, start: int, block: int, tag: str | None
) -> requests.Response:
    headers = {"Range": f"bytes={start}-{start + block - 1}"}
    if tag and not tag.startswith("W/"):
        headers["If-Range"] = tag
    host = urlsplit(str(file.address)).netloc
    try:
        response = session.get(str(file.address), headers=headers, timeout=TIMEOUT_S)
    except requests.RequestException as fault:
        reason = type(fault).__name__
        raise SourceFault(
            file.name, f"cannot be fetched from {host} ({reason}); try again later, what came is kept"
        ) from None
    if response.status_code not in {WHOLE, PART}:
        raise SourceFault(
            file.name,
            f"{host} answered {response.status_code}; "
            + ("try again later, what came is kept" if response.status_code in BUSY else "name a local copy"),
        )
    return response


def _range(file: PublishedFile, response: requests.Response) -> tuple[int, int, int]:
    found = RANGE.fullmatch(response.headers.get("Content-Range", "").strip())
    if not found or int(found[3]) > LARGEST:
        raise SourceFault(file.name, "is not sent as it should be, or is too large; name a local copy")
    start, end, total = (int(number) for number in found.groups())
    if end - start + 1 != len(response.content):
        raise SourceFault(file.name, "came cut short; fetch it again")
    return start, end, total


def _within(file: PublishedFile, body: bytes) -> bytes:
    if len(body) > LARGEST:
        raise SourceFault(file.name, f"is larger than {LARGEST // 1_000_000} MB; this is another file")
    return body


def _check(folder: Path, file: PublishedFile, body: bytes, *, accept_changed: bool) -> None:
    """Compare with the pinned hash, or with that of the first fetch; record what was accepted."""
    record = folder / "hashes.json"
    known: dict[str, str] = json.loads(record.read_text(encoding="utf-8")) if record.is_file() else {}
    seen = hashlib.sha256(body).hexdigest()
    expected = known.get(file.name) or file.sha256
    if expected is not None and seen != expected and not accept_changed:
        raise SourceFault(
            file.name,
            f"has changed: SHA-256 {seen[:12]}... of {len(body)} bytes, expected {expected[:12]}...; "
            "look at what changed, then accept it with --accept-changed",
        )
    if known.get(file.name) != seen:
        _keep(record, json.dumps(known | {file.name: seen}, indent=1, sort_keys=True).encode())


def _keep(path: Path, body: bytes) -> None:
    """Write a file whole or not at all."""
    temporary = path.with_name(path.name + ".writing")
    try:
        temporary.write_bytes(body)
        temporary.replace(path)
    except OSError as fault:
        raise SourceFault(path.name, f"cannot be kept: {fault.strerror}") from None


def addresses(files: Sequence[PublishedFile]) -> tuple[str, ...]:
    """The addresses that an import would fetch, for showing them before it does."""
    return tuple(file.address for file in files if file.address)
