"""Pages of a list: an opaque token for 'the rest', bound to its question and data set."""

import base64
import binascii
import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from kb.errors import BadParameter, ParameterFault

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Part(Generic[T]):
    """One page: its entries, the place of the first in the whole list, the token of the next."""

    entries: Sequence[T]
    start: int
    next: str | None


def digest(*parts: str) -> str:
    """Twelve hex digits that stand for a question and a data set."""
    return hashlib.sha256("\x00".join(parts).encode()).hexdigest()[:12]


def _token(start: int, bound: str) -> str:
    return base64.urlsafe_b64encode(json.dumps([start, bound]).encode()).decode().rstrip("=")


def _start(token: str, bound: str, length: int) -> int:
    fault = "is no token of this list; take 'next' from the page before, as it is."
    try:
        start, owner = json.loads(base64.urlsafe_b64decode(token + "=" * (-len(token) % 4)))
    except (ValueError, TypeError, binascii.Error):
        raise BadParameter((ParameterFault("after", fault),)) from None
    if owner != bound:
        fault = "belongs to another question, or the data set has changed; ask again without it."
        raise BadParameter((ParameterFault("after", fault),))
    if isinstance(start, bool) or not isinstance(start, int) or not 0 < start < length:
        raise BadParameter((ParameterFault("after", fault),))
    return start


def part_of(entries: Sequence[T], *, limit: int, after: str | None, bound: str) -> Part[T]:
    """The page of ``entries`` after a token. Raises BadParameter for a token of another list."""
    start = _start(after, bound, len(entries)) if after is not None else 0
    end = start + limit
    return Part(entries[start:end], start, _token(end, bound) if end < len(entries) else None)
