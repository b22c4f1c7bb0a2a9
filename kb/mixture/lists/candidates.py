"""What would go well with a plant: every other plant judged beside it, best first.

Each pair shown gets the full answer with its draws of doubt. The order is by the cautious score (the
lower of the likely score and the 25th percentile of the draws), so that a plant of which little is
known cannot climb; pairs to avoid come last. Of equals those with root depths on record come first.

Most pairs are never judged. `foresight` says of all at once what no pair's likely K' falls below, and of
one pair with its limits; the likely values of a pair, by which it is settled whether to avoid it, say
what its cautious score is not above; then come its draws. Each is reckoned in the order of what is
known so far, and only until no pair that is left can come before those asked for: the answer is that of
judging every pair in full.
"""

import heapq
import threading
from collections.abc import Iterator, Sequence
from enum import IntEnum
from typing import overload

import numpy as np

from kb.mixture.answers.pair import (
    Subject,
    answer,
    judge_first,
    judge_further,
    prepare,
    prepare_first,
    rank_of,
)
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.judging.judged import STAND_IN_POINTS, Judged
from kb.mixture.lists.foresight import held_stress, least_stress
from kb.mixture.lists.screening import LIKE_STRESS
from kb.mixture.profile import Profile
from kb.mixture.relatedness import same_species
from kb.mixture.results import PairAnswer
from kb.mixture.sharing.place import cut_to, place_for
from kb.mixture.site import Arrangement, Site
from kb.mixture.stress import score_of, verdict_of
from kb.mixture.uncertainty import DRAWS
from kb.mixture.weeks.as_grown import as_sown

Rank = tuple[bool, float, bool, float, str]
Bound = tuple[bool, float]
"""Whether to avoid, and the score turned round: no rank of the pair can be lower."""


class Known(IntEnum):
    """What is known of a pair that waits: the least of its losses; with its limits; its likely K'."""

    LOSSES = 0
    LIMITS = 1
    LIKELY = 2


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
        self._place = place_for(a, site, arrangement)
        self._others = [
            as_sown(cut_to(other, self._place.kept_m), site, arrangement.sow_week_b) for other in others
        ]
        self._draws, self._book = draws, book
        self._first = prepare_first(a, self._place, arrangement, draws=draws)
        self._guard = threading.Lock()
        self._told = {
            "sow_week": arrangement.sow_week_b,
            "age_years": arrangement.age_b_years,
        }
        self._least = least_stress(self._first, self._others, self._place, book=book, **self._told).tolist()
        self._withheld = [_withheld(a, other) for other in self._others]
        self._waiting: list[tuple[Bound, int, Known]] = [
            (self._bound(index, stress), index, Known.LOSSES) for index, (stress, _) in enumerate(self._least)
        ]
        heapq.heapify(self._waiting)
        self._judged: dict[int, Judged] = {}
        self._ranked: list[tuple[Rank, int]] = []
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
            while self._waiting and not (self._ranked and self._ranked[0][0][:2] < self._waiting[0][0]):
                self._look_closer()
            _, index = heapq.heappop(self._ranked)
            second = self._prepared(index, draws=0)
            judged = self._judged.pop(index)
            self._settled.append(answer(self._first, second, self._place, judged, self._book))

    def _look_closer(self) -> None:
        """Find out one more thing about the pair that might be best: its limits, its likely K', its draws."""
        _, index, known = self._waiting[0]
        if known == Known.LIKELY:
            heapq.heappop(self._waiting)
            judged = self._judged[index] = self._with_draws(index)
            heapq.heappush(self._ranked, (rank_of(self._others[index].id, judged), index))
            return
        if known == Known.LOSSES:
            least, other = self._least[index], self._others[index]
            stress = held_stress(self._first, other, self._place, least, book=self._book, **self._told)
        else:
            stress = self._likely(index)
        heapq.heapreplace(self._waiting, (self._bound(index, stress), index, Known(known + 1)))

    def _bound(self, index: int, stress: float) -> Bound:
        """What no rank of a pair is lower than, whose K' is not below ``stress``."""
        likely = float(score_of(np.array(stress)))
        return verdict_of(stress) == "avoid", -round(max(0.0, likely - self._withheld[index]), 9)

    def _likely(self, index: int) -> float:
        """The likely K'. Two of a species may be like with like, with a score of its own."""
        judged = judge_first(self._first, self._prepared(index, draws=0), self._place, self._book)
        self._judged[index] = judged
        like = same_species(self._first.profile, self._others[index])
        return min(judged.stress, LIKE_STRESS) if like else judged.stress

    def _with_draws(self, index: int) -> Judged:
        judged = self._judged[index]
        if not self._draws:
            return judged
        return judge_further(judged, self._first, self._prepared(index, draws=self._draws), self._place)

    def _prepared(self, index: int, *, draws: int) -> Subject:
        return prepare(self._others[index], self._place, draws=draws, **self._told)


def _withheld(one: Profile, other: Profile) -> float:
    """Points that a pair is kept from for root depths that are not on record, whatever the draws say."""
    if same_species(one, other):
        return 0.0  # like with like has a score of its own
    return STAND_IN_POINTS * sum(not profile.root_d95_m.known for profile in (one, other))
