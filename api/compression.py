"""Bodies packed with gzip for clients that take it: a ring-by-ring answer shrinks to a twentieth.

The packed body is a representation of its own, so it has a tag of its own (RFC 9110).
"""

import gzip
import zlib
from collections.abc import Iterator

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


def packed_pieces(pieces: Iterator[bytes]) -> Iterator[bytes]:
    """A body packed piece by piece; the same pieces give the same bytes."""
    packer = zlib.compressobj(LEVEL, zlib.DEFLATED, 16 + zlib.MAX_WBITS)
    for piece in pieces:
        if made := packer.compress(piece):
            yield made
    yield packer.flush()
