"""Accounts for writing: made on the command line, kept in the user's own store, never in the base.

Passwords and tokens are kept only as hashes: passwords by scrypt (werkzeug), tokens (256 random bits,
shown once) by SHA-256, which is enough for what cannot be guessed. A wrong handle costs as much time
as a wrong password.
"""

import contextlib
import hashlib
import hmac
import json
import re
import secrets
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import get_args

from werkzeug.security import check_password_hash, generate_password_hash

from kb.bench.drafts import HANDLE_WORDS, Curator, Role, fault
from kb.errors import StoreFault
from kb.stores.files import locked, write_durably
from kb.stores.journal import ROOM, private_room

FILE = "accounts.json"
KEY_FILE = "session.key"
SHORTEST_KEY = 64
HANDLE = re.compile(r"[a-z][a-z0-9-]{1,31}")
SHORTEST_PASSWORD = 12
FEWEST_LETTERS = 5
LONGEST_PASSWORD = 200


@cache
def _nobody() -> str:
    """A hash that no password opens, so that an unknown handle costs the work of a known one."""
    return generate_password_hash(secrets.token_hex(16), method="scrypt")


@dataclass(frozen=True, slots=True)
class Account:
    """One account. ``stamp`` changes with password, role and closing, and ends the sessions before."""

    handle: str
    role: Role
    made_on: str
    password: str | None = None
    token: str | None = None
    closed: bool = False
    stamp: str = ""

    @property
    def curator(self) -> Curator:
        return Curator(self.handle, self.role)


def handle_of(given: str) -> str:
    """A handle as it may be kept. Raises BadParameter."""
    if HANDLE.fullmatch(given) is None:
        raise fault("handle", f"'{given[:40]}' is no handle: {HANDLE_WORDS}")
    return given


class Accounts:
    """The accounts of one store."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._path = folder / ROOM / FILE

    def all(self) -> tuple[Account, ...]:
        try:
            rows = json.loads(self._path.read_text(encoding="utf-8"))
        except FileNotFoundError:
            return ()
        except (OSError, ValueError):
            raise StoreFault(FILE, "cannot be read; nobody can sign in until it is mended") from None
        try:
            return tuple(Account(**row) for row in rows)
        except TypeError:
            raise StoreFault(
                FILE, "is not as it was written; nobody can sign in until it is mended"
            ) from None

    def get(self, handle: str) -> Account | None:
        return next((one for one in self.all() if one.handle == handle and not one.closed), None)

    def add(self, handle: str, role: str) -> Account:
        """A new account without password or token. Raises BadParameter."""
        handle_of(handle)
        if role not in get_args(Role):
            raise fault("role", f"'{role[:40]}' is none of {', '.join(get_args(Role))}")
        with self._changing() as rows:
            if handle in rows:
                raise fault("handle", f"'{handle}' is taken; handles are never given twice")
            day = datetime.now(UTC).date().isoformat()
            kept: Role = "reviewer" if role == "reviewer" else "author"
            rows[handle] = Account(handle, kept, day, stamp=secrets.token_hex(8))
            return rows[handle]

    def drop_new(self, handle: str) -> None:
        """Forget an account that was just made and never got a password or token."""
        with self._changing() as rows:
            if handle in rows and rows[handle].password is None and rows[handle].token is None:
                del rows[handle]

    def set_password(self, handle: str, password: str) -> None:
        """Keep the hash of a password. Raises BadParameter where it is too short, too long or the handle."""
        if not SHORTEST_PASSWORD <= len(password) <= LONGEST_PASSWORD:
            raise fault("password", f"takes {SHORTEST_PASSWORD} to {LONGEST_PASSWORD} letters")
        if handle in password.lower():
            raise fault("password", "holds the handle; choose another")
        if len(set(password)) < FEWEST_LETTERS:
            raise fault("password", f"takes {FEWEST_LETTERS} different letters or more")
        if any("\ud800" <= letter <= "\udfff" for letter in password):
            raise fault("password", "is not UTF-8; write it in UTF-8")
        self._change(handle, password=generate_password_hash(password, method="scrypt"))

    def new_token(self, handle: str) -> str:
        """A new token, which replaces the old one; it is given here and never again."""
        token = f"{handle}.{secrets.token_urlsafe(32)}"
        self._change(handle, token=_hashed(token))
        return token

    def close(self, handle: str) -> None:
        """End an account; what it wrote stays, and its handle is not given again."""
        self._change(handle, closed=True, password=None, token=None)

    def end_sessions(self, handle: str) -> None:
        """End every session of an account, kept copies of its cookies too; its token stays."""
        self._change(handle)

    def by_password(self, handle: str, password: str) -> Account | None:
        """The account, if the password is its own; both cases take the same work."""
        account = self.get(handle)
        kept = account.password if account is not None and account.password else _nobody()
        right = len(password) <= LONGEST_PASSWORD and check_password_hash(kept, password)
        return account if right and account is not None and account.password else None

    def by_token(self, token: str) -> Account | None:
        """The account whose token this is, compared in constant time."""
        account = self.get(token.partition(".")[0])
        kept = account.token if account is not None and account.token else _hashed("")
        right = hmac.compare_digest(kept, _hashed(token))
        return account if right and account is not None and account.token else None

    def by_session(self, handle: str, stamp: str) -> Account | None:
        """The account of a session that was opened under this stamp."""
        account = self.get(handle)
        return account if account is not None and hmac.compare_digest(account.stamp, stamp) else None

    def secret(self) -> bytes:
        """The key that signs sessions, made once and readable by its owner only."""
        path = self._folder / ROOM / KEY_FILE
        with contextlib.suppress(FileNotFoundError):
            return _key(path)
        with locked(self._folder):
            if not path.exists():
                private_room(self._folder)
                write_durably(path, secrets.token_hex(32))
                path.chmod(0o600)
        return _key(path)

    def _change(self, handle: str, **changes: object) -> None:
        with self._changing() as rows:
            if handle not in rows or rows[handle].closed:
                raise fault("handle", f"there is no account '{handle[:40]}'")
            rows[handle] = replace(rows[handle], **changes, stamp=secrets.token_hex(8))  # type: ignore[arg-type]

    @contextlib.contextmanager
    def _changing(self) -> Iterator[dict[str, Account]]:
        with locked(self._folder):
            rows = {one.handle: one for one in self.all()}
            yield rows
            private_room(self._folder)
            text = json.dumps([asdict(one) for one in rows.values()], indent=1)
            write_durably(self._path, text + "\n")
            self._path.chmod(0o600)


def _key(path: Path) -> bytes:
    """The key in a file. Raises StoreFault where it is too short to sign with: sessions could be forged."""
    try:
        key = path.read_bytes()
    except FileNotFoundError:
        raise
    except OSError as error:
        raise StoreFault(KEY_FILE, f"cannot be read: {error.strerror}") from None
    if len(key) < SHORTEST_KEY:
        raise StoreFault(KEY_FILE, "is cut short; remove it (who is signed in signs in again)")
    return key


def _hashed(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
