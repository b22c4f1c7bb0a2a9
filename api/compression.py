"""Bodies packed with gzip for clients that take it: a ring-by-ring answer shrinks to a twentieth.

The packed body is a representation of its own, so it has a tag of its own (RFC 9110).
"""

import gzip

from werkzeug.datastructures import Accept

LEVEL = 5
SMALLEST = 1400
"""Bytes; a smaller body fits one packet as it is."""


def coding_for(accepted: Accept) -> str:
    """``gzip`` where the client takes it, else nothing."""
    return "gzip" if accepted["gzip"] > 0 else ""


def packed(body: bytes) -> bytes:
    """The body packed; the same body gives the same bytes."""
    return gzip.compress(body, LEVEL, mtime=0)
