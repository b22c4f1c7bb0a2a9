"""What would go well with a plant: every other plant judged beside it, best first.

Each pair shown gets the full answer with its draws of doubt. The order is by the cautious score (the
lower of the likely score and the 25th percentile of the draws), so that a plant of which little is
known cannot climb; pairs to avoid come last. Of equals those with root depths on record come first.

The cautious score is never above the likely one, and whether a pair is one to avoid is settled by the
likely values. So all pairs are judged without draws first, and the draws are reckoned in that order,
only until no pair that is left can come before those asked for.
"""

import heapq
import threading
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import overload

import numpy as np

from kb.mixture.enemy_book import EnemyBook
from kb.mixture.pair import Subject, answer, judge, prepare, prepare_first, rank_of
from kb.mixture.place import place_for
from kb.mixture.profile import Profile
from kb.mixture.relatedness import relation
from kb.mixture.results import PairAnswer
from kb.mixture.screening import LIKE_STRESS
from kb.mixture.site import Arrangement, Site
from kb.mixture.stress import score_of, verdict_of
from kb.mixture.uncertainty import DRAWS

Rank = tuple[bool, float, bool, float, str]
Bound = tuple[bool, float]
"""Whether to avoid, and the score turned round: no rank of the pair can be lower."""


def rank_candidates(
    a: Profile,
    others: Sequence[Profile],
    site: Site,
    arrangement: Arrangement,
    *,
    draws: int = DRAWS,
    book: EnemyBook | None = None,
) -> "Ranking":
    """Answers on ``a`` with each of the others, best first; equals in the order of their ids.

    ``arrangement`` holds for every pair; in setting ``under``, ``a`` is the tree. Raises ValueError
    where the arrangement cannot be.
    """
    return Ranking(a, others, site, arrangement, draws=draws, book=book)


class Ranking(Sequence[PairAnswer]):
    """The answers on one plant with each of the others, best first, reckoned as far as they are asked for.

    Several threads may read it at once.
    """

    def __init__(
        self,
        a: Profile,
        others: Sequence[Profile],
        site: Site,
        arrangement: Arrangement,
        *,
        draws: int,
        book: EnemyBook | None,
    ) -> None:
        self._others, self._arrangement, self._draws, self._book = others, arrangement, draws, book
        self._place = place_for(a, site, arrangement)
        self._first = prepare_first(a, self._place, arrangement, draws=draws)
        self._guard = threading.Lock()
        self._waiting: list[tuple[Bound, int]] = sorted(
            (self._bound(other), index) for index, other in enumerate(others)
        )
        self._waiting.reverse()
        self._answered: list[tuple[Rank, int, PairAnswer]] = []
        self._settled: list[PairAnswer] = []

    def __len__(self) -> int:
        return len(self._others)

    @overload
    def __getitem__(self, index: int) -> PairAnswer: ...

    @overload
    def __getitem__(self, index: slice) -> Sequence[PairAnswer]: ...

    def __getitem__(self, index: int | slice) -> PairAnswer | Sequence[PairAnswer]:
        wanted = range(len(self))[index]
        ends = (wanted, wanted) if isinstance(wanted, int) else (wanted[0], wanted[-1]) if wanted else (-1,)
        with self._guard:
            self._settle(max(ends) + 1)
            return self._settled[wanted] if isinstance(wanted, int) else [self._settled[i] for i in wanted]

    def __iter__(self) -> Iterator[PairAnswer]:
        return iter(self[:])

    def _settle(self, count: int) -> None:
        """Reckon answers until the first ``count`` places are sure."""
        while len(self._settled) < count:
            while self._waiting and not (self._answered and self._answered[0][0][:2] < self._waiting[-1][0]):
                heapq.heappush(self._answered, self._answer(self._waiting[-1][1]))
                self._waiting.pop()
            self._settled.append(heapq.heappop(self._answered)[2])

    def _bound(self, other: Profile) -> Bound:
        """By the likely values alone. Two of a species may be like with like, with a score of its own."""
        first, second = replace(self._first, draws=0), self._prepared(other, draws=0)
        stress = judge(first, second, self._place, self._book).stress
        if relation(first.profile, other).kinship == "species":
            stress = min(stress, LIKE_STRESS)
        return verdict_of(stress) == "avoid", -round(float(score_of(np.array(stress))), 9)

    def _answer(self, index: int) -> tuple[Rank, int, PairAnswer]:
        second = self._prepared(self._others[index], draws=self._draws)
        judged = judge(self._first, second, self._place, self._book)
        result = answer(self._first, second, self._place, judged, self._book)
        return rank_of(result, judged), index, result

    def _prepared(self, other: Profile, *, draws: int) -> Subject:
        sow, age = self._arrangement.sow_week_b, self._arrangement.age_b_years
        return prepare(other, self._place, sow_week=sow, age_years=age, draws=draws)
