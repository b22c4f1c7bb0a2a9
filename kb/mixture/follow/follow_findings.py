"""What was found of B on the ground after A: the numbers that its words are made from."""

from dataclasses import dataclass

import numpy as np

from kb.mixture.follow.grown_after import ROTATION_YEARS, FollowOn, Timing
from kb.mixture.follow.leftover import Waiting
from kb.mixture.ground.share import NITRATE_G_M2_YEAR
from kb.mixture.limits import Limit, ceiling_of
from kb.mixture.profile import Profile
from kb.mixture.relatedness import SHARED_ENEMIES, Relation
from kb.mixture.results import Verdict
from kb.mixture.season import FloatArray
from kb.mixture.sharing.nitrogen import NITROGEN_BENEFIT
from kb.mixture.stress import held_down, near_limit, verdict_of, with_benefits


@dataclass(frozen=True, slots=True, eq=False)
class Follow:
    """All that the words and numbers are made from; ``waiting`` are the enemies that A can leave for B."""

    a: Profile
    b: Profile
    asked: FollowOn
    time: Timing
    kin: Relation
    shared: float
    limits: tuple[Limit, ...]
    gift_g_m2: tuple[float, float]
    need_g_m2: float
    waiting: tuple[Waiting, ...] = ()
    week_limits: tuple[Limit, ...] = ()
    """Those of the limits that frost and cold hold against the week in which B starts."""
    of_ground: tuple[Limit, ...] = ()
    """Those of the limits that come of what stood on this ground, or lives in it."""

    @property
    def kin_wait(self) -> bool:
        """Whether enemies of kin may wait in the ground at all."""
        return self.shared > SHARED_ENEMIES["none"]

    @property
    def rotations(self) -> tuple[float, ...]:
        """Years that would help, fewest first: of kin, and of the longest printed rotation not yet over."""
        printed = [found.rotation or 0.0 for found in self.waiting if found.state == "held"]
        longest = max((years for years in printed if years > self.time.years_apart), default=0.0)
        return tuple(sorted({ROTATION_YEARS if self.kin_wait else 0.0, longest} - {0.0}))

    @property
    def benefit(self) -> float:
        """Share of what B lacks that the gift covers, at the weight of a pair's (`computation-notes` 1)."""
        unmet = max(0.0, self.need_g_m2 - NITRATE_G_M2_YEAR)
        middle = sum(self.gift_g_m2) / 2
        return NITROGEN_BENEFIT * min(1.0, middle / unmet) if unmet > 0 else 0.0

    def stress(self, lost: float | FloatArray, shared: float, ceiling: Verdict) -> FloatArray:
        felt = near_limit(np.atleast_1d(np.asarray(lost, dtype=float)), np.zeros(1), shared)
        return held_down(with_benefits(felt, np.array(self.benefit)), ceiling)

    def word_elsewhere(self) -> Verdict:
        """The verdict on B, in the same week, on other ground: there it follows nothing."""
        left = tuple(limit for limit in self.limits if limit not in self.of_ground)
        return self.word(shared=SHARED_ENEMIES["none"], ceiling=ceiling_of(left))

    def word(
        self, *, shared: float | None = None, ceiling: Verdict | None = None, in_time: bool = False
    ) -> Verdict:
        """Give the verdict; ``in_time`` as if B started in its own weeks, where it loses no season."""
        allowed = ceiling_of(self.limits) if ceiling is None else ceiling
        lost = 0.0 if in_time else self.time.lost
        kept = self.stress(lost, self.shared if shared is None else shared, allowed)
        return verdict_of(float(kept[0]))
