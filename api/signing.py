"""Who is asking: a bearer token (scripts) or a session (pages); sign-in is throttled, forms carry a token.

The count of failed tries is kept in this process: with several workers each has its own, and it is
gone at a restart. The password hash (scrypt) is slow on purpose, which bounds guessing even so.
"""

import hmac
import ipaddress
import secrets
import threading
import time
from collections import deque
from dataclasses import dataclass, field

from flask import Flask, Request, current_app, request, session
from flask.sessions import SecureCookieSessionInterface

from api.accounts import Account, Accounts
from kb.bench.drafts import Curator

SESSION_HOURS = 8
WINDOW_S = 900.0
MAX_KEYS = 10_000
LIMITS = {"pair": 5, "address": 20, "handle": 40}
"""Failed tries in a quarter of an hour: of one handle from one address, of one address, of one handle."""


class NotSignedIn(Exception):
    """Nobody is signed in, or the token is not known."""


class TooManyTries(Exception):
    """Sign-in is closed for a while after too many failed tries."""

    def __init__(self, wait_s: int) -> None:
        super().__init__(wait_s)
        self.wait_s = wait_s


class Forged(Exception):
    """A form came without the token of its session."""


class Insecure(Exception):
    """A password or token would travel, or has travelled, in the clear."""


@dataclass
class Throttle:
    """Failed tries by key within the last quarter of an hour."""

    failed: dict[tuple[str, str], deque[float]] = field(default_factory=dict)
    guard: threading.Lock = field(default_factory=threading.Lock)

    def wait_s(self, handle: str, address: str, now: float) -> int:
        """Seconds until another try is heard, 0 where it is now."""
        waits = [0.0]
        with self.guard:
            for kind, key in _keys(handle, address):
                times = self._recent(kind, key, now)
                if len(times) >= LIMITS[kind]:
                    waits.append(times[0] + WINDOW_S - now)
        return int(max(waits) + 0.999)

    def fail(self, handle: str, address: str, now: float) -> None:
        with self.guard:
            if len(self.failed) > MAX_KEYS:
                self.failed = {key: times for key, times in self.failed.items() if times[-1] > now - WINDOW_S}
            for kind, key in _keys(handle, address):
                self.failed.setdefault((kind, key), deque(maxlen=LIMITS[kind])).append(now)

    def clear(self, handle: str, address: str) -> None:
        with self.guard:
            self.failed.pop(("pair", f"{handle} {address}"), None)

    def _recent(self, kind: str, key: str, now: float) -> deque[float]:
        times = self.failed.get((kind, key), deque())
        while times and times[0] <= now - WINDOW_S:
            times.popleft()
        if not times:
            self.failed.pop((kind, key), None)
        return times


def _keys(handle: str, address: str) -> tuple[tuple[str, str], ...]:
    return (("pair", f"{handle} {address}"), ("address", address), ("handle", handle))


class Sessions(SecureCookieSessionInterface):
    """Session cookies that travel over https only, except to a browser on this machine."""

    def get_cookie_secure(self, app: Flask) -> bool:  # noqa: ARG002 - Flask's signature
        return request.is_secure or not _same_machine(request)


def prepare(app: Flask, accounts: Accounts | None) -> None:
    """Sessions for an application; without a store of one's own there are none and nobody signs in."""
    app.session_interface = Sessions()
    app.config.update(
        SESSION_COOKIE_NAME="traitbed",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Strict",
        SESSION_REFRESH_EACH_REQUEST=False,
    )
    if accounts is not None:
        app.secret_key = accounts.secret()


def accounts() -> Accounts | None:
    found: Accounts | None = current_app.extensions["traitbed"]["accounts"]
    return found


def throttle() -> Throttle:
    found: Throttle = current_app.extensions["traitbed"]["throttle"]
    return found


def _same_machine(asked: Request) -> bool:
    try:
        return ipaddress.ip_address(asked.remote_addr or "").is_loopback
    except ValueError:
        return False


def refuse_in_the_clear() -> None:
    """Raises Insecure where a secret would cross a network without encryption."""
    if not request.is_secure and not _same_machine(request):
        raise Insecure


def by_token() -> Curator:
    """Who sent this request's bearer token. Raises NotSignedIn or Insecure."""
    refuse_in_the_clear()
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    known = accounts()
    account = known.by_token(token.strip()) if known and scheme.lower() == "bearer" and token else None
    if account is None:
        raise NotSignedIn
    return account.curator


def sign_in(handle: str, password: str) -> Account:
    """Open a session. Raises NotSignedIn, TooManyTries or Insecure."""
    refuse_in_the_clear()
    address, now = request.remote_addr or "", time.monotonic()
    wait = throttle().wait_s(handle, address, now)
    if wait:
        raise TooManyTries(wait)
    known = accounts()
    account = known.by_password(handle, password) if known else None
    if account is None:
        throttle().fail(handle, address, now)
        raise NotSignedIn
    throttle().clear(handle, address)
    session.clear()
    session.update(
        handle=account.handle, stamp=account.stamp, since=int(time.time()), csrf=secrets.token_hex(16)
    )
    return account


def by_session() -> Curator:
    """Whose session this is. Raises NotSignedIn where it is none, too old, or ended by a new password."""
    known = accounts()
    since = session.get("since") if known else None
    if known is None or not isinstance(since, int) or time.time() - since > SESSION_HOURS * 3600:
        raise NotSignedIn
    account = known.by_session(str(session.get("handle")), str(session.get("stamp")))
    if account is None:
        raise NotSignedIn
    return account.curator


def form_token() -> str:
    """The token that every form of this session carries."""
    if "csrf" not in session:
        session["csrf"] = secrets.token_hex(16)
    return str(session["csrf"])


def check_form_token(given: str) -> None:
    """Raises Forged where a form does not carry its session's token."""
    kept = session.get("csrf")
    if not isinstance(kept, str) or not hmac.compare_digest(kept.encode(), given.encode()):
        raise Forged
