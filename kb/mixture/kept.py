"""Results kept by the very objects they come of: arrays, profiles and books that nobody writes to.

A moved slider leaves most of a question as it was. What hangs on the rest is kept by that rest, and found by
identity: to compare two arrays, or the hundred values of a profile, would take longer than to reckon again. A
new base brings new objects, so nothing of an old one is found, and what is asked for least falls out.
"""

import threading
from collections.abc import Callable, Hashable
from itertools import count
from typing import Generic, TypeVar

Found = TypeVar("Found")


class _Entry(Generic[Found]):
    """A result, the objects that it is kept by, and when it was asked for last."""

    __slots__ = ("asked", "found", "objects")

    def __init__(self, objects: tuple[object, ...], found: Found, asked: int) -> None:
        self.objects, self.found, self.asked = objects, found, asked


class KeptBy(Generic[Found]):
    """The last results, ``size`` at most; safe to share between threads.

    What is found again is only told the time, as some thirty are in each answer: they are put in order when
    there is no more room, and a quarter goes at once.

    >>> lengths, text = KeptBy(4), ["a", "b"]
    >>> lengths.of((text,), (), lambda: len(text)), lengths.of((text,), (), lambda: 0)
    (2, 2)
    """

    def __init__(self, size: int) -> None:
        self._size = size
        self._guard = threading.Lock()
        self._clock = count(1)
        self._held: dict[tuple[Hashable, Hashable], _Entry[Found]] = {}

    def of(
        self, objects: tuple[object, ...], values: tuple[Hashable, ...], make: Callable[[], Found]
    ) -> Found:
        """What ``make`` found of these objects, each itself, and these values, each equal; made if need be.

        The objects are held with it, so that no other one can come to their place in memory meanwhile.
        """
        key = (tuple(map(id, objects)), values)
        entry = self._held.get(key)
        if entry is not None:
            entry.asked = next(self._clock)
            return entry.found
        found = make()
        with self._guard:
            self._held[key] = _Entry(objects, found, next(self._clock))
            if len(self._held) > self._size:
                lately = sorted(self._held.items(), key=lambda one: one[1].asked)
                self._held = dict(lately[self._size // 4 + 1 :])
        return found

    def clear(self) -> None:
        """Forget all of it."""
        with self._guard:
            self._held = {}
