"""No looking for garbage while much is read in."""

import contextlib
import gc
from collections.abc import Iterator


@contextlib.contextmanager
def uncollected() -> Iterator[None]:
    """Many objects are made and none is thrown away: looking for garbage would take longer than the work."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()
