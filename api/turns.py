"""Turns for what takes seconds: so many at once, a few may wait a moment, the rest are asked to come back.

One request that reckons for seconds is welcome; ten at once would take up every thread, and with them the
pages that cost nothing. Turns are counted in this process.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from threading import BoundedSemaphore

from api.questions import CandidatesQuestion, JudgeQuestion, Question, UnderQuestion
from kb.errors import Busy

RECKONED = (CandidatesQuestion, JudgeQuestion, UnderQuestion)
"""Questions that weigh many pairs: one to six seconds of processor each (tests/benchmarks)."""


@dataclass(frozen=True)
class Turns:
    """``at_once`` run at the same time and ``waiting`` more wait for up to ``wait_s`` seconds."""

    what: str
    at_once: int = 2
    waiting: int = 2
    wait_s: float = 2.0
    retry_s: int = 10
    _room: BoundedSemaphore = field(init=False)
    _line: BoundedSemaphore = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_room", BoundedSemaphore(self.at_once))
        object.__setattr__(self, "_line", BoundedSemaphore(self.at_once + self.waiting))

    @contextmanager
    def turn(self) -> Iterator[None]:
        """One turn. Raises Busy where there is none."""
        self.take()
        try:
            yield
        finally:
            self.give_back()

    def take(self) -> None:
        """Take a turn, which ``give_back`` ends. Raises Busy."""
        if not self._line.acquire(blocking=False):
            raise Busy(self.what, self.retry_s)
        if not self._room.acquire(timeout=self.wait_s):
            self._line.release()
            raise Busy(self.what, self.retry_s)

    def give_back(self) -> None:
        self._room.release()
        self._line.release()


@dataclass(frozen=True)
class AllTurns:
    """The turns of one service; ``api.cli.serving.THREADS`` is more than all of them together."""

    reckoning: Turns = field(default_factory=lambda: Turns("the reckoning of plantings and lists"))
    exports: Turns = field(default_factory=lambda: Turns("the exports", waiting=0, wait_s=0.0, retry_s=60))

    @contextmanager
    def for_question(self, question: Question) -> Iterator[None]:
        """A turn where the question needs one. Raises Busy."""
        if isinstance(question, RECKONED):
            with self.reckoning.turn():
                yield
        else:
            yield
