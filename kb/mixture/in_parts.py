"""Long compiled loops in as many threads as there are processors."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from itertools import pairwise
from multiprocessing import cpu_count


@cache
def processors() -> int:
    """How many processors there are."""
    return cpu_count()


@cache
def _helpers() -> ThreadPoolExecutor | None:
    others = processors() - 1
    return ThreadPoolExecutor(others, thread_name_prefix="part") if others > 0 else None


def in_parts(count: int, least: int, work: Callable[[int, int], object]) -> None:
    """Call ``work(start, stop)`` for parts of ``range(count)``, each of ``least`` at least, side by side.

    ``work`` lets go of Python's lock, and no two parts write to one place. What one of them raises is raised.
    """
    parts = min(processors(), count // max(1, least))
    helpers = _helpers() if parts > 1 else None
    if helpers is None:
        work(0, count)
        return
    ends = [count * part // parts for part in range(parts + 1)]
    waiting = [helpers.submit(work, start, stop) for start, stop in pairwise(ends[1:])]
    work(ends[0], ends[1])
    for part in waiting:
        part.result()
