"""Results kept by the very objects they come of: arrays, profiles and books that nobody writes to.

A moved slider leaves most of a question as it was. What hangs on the rest is kept by that rest, and found by
identity: to compare two arrays, or the hundred values of a profile, would take longer than to reckon again. A
new base brings new objects, so nothing of an old one is found, and what is asked for least falls out.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

Found = TypeVar("Found")


class KeptBy(Generic[Found]):
    """The last ``size`` results; safe to share between threads.

    >>> lengths, text = KeptBy(4), ["a", "b"]
    >>> lengths.of((text,), (), lambda: len(text)), lengths.of((text,), (), lambda: 0)
    (2, 2)
    """

    def __init__(self, size: int) -> None:
        self._size = size
        self._guard = threading.Lock()
        self._held: OrderedDict[tuple[Hashable, Hashable], tuple[tuple[object, ...], Found]] = OrderedDict()

    def of(
        self, objects: tuple[object, ...], values: tuple[Hashable, ...], make: Callable[[], Found]
    ) -> Found:
        """What ``make`` found of these objects, each itself, and these values, each equal; made if need be.

        The objects are held with it, so that no other one can come to their place in memory meanwhile.
        """
        key = (tuple(map(id, objects)), values)
        with self._guard:
            kept = self._held.get(key)
            if kept is not None:
                self._held.move_to_end(key)
                return kept[1]
        found = make()
        with self._guard:
            self._held[key] = (objects, found)
            while len(self._held) > self._size:
                self._held.popitem(last=False)
        return found

    def clear(self) -> None:
        """Forget all of it."""
        with self._guard:
            self._held.clear()
