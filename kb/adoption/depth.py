"""Depths of roots: a log-normal over studies, with floors and ceilings as censored votes.

A pot or a core that ended in roots says "at least this deep"; it pulls the estimate up where the
estimate lies below it, and never counts as a depth. So do roots of the tundra, where the plant was dug for
elsewhere too: they end where the ground stays frozen.
"""

import math
from collections.abc import Sequence

from kb.adoption.votes import (
    Z90,
    Outcome,
    Vote,
    by_study,
    confidence_of,
    geometric_mean,
    shared_weight,
)
from kb.model import Trait, Weighed

PRIOR_LOG_SD = {"rooting-depth": 0.64, "effective-rooting-depth": 0.35}
"""Log-SD of one published value applied to another site: 0.64 between field records of a species
in the open root-trait set (`trade` section 0), 0.35 for handbook depths (`trade` 3.2)."""

PRIOR_VOTES = 2.0
"""How many votes the prior spread is worth against the spread of the studies (our judgement)."""

ROUNDS = 60
DEEPEST = "rooting-depth"
TUNDRA = "tundra"
"""Condition ``climate`` of roots that end where the ground stays frozen (`data` section 2: to be marked)."""


def adopt_depth(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """Low, likely and high depth in m (10, 50 and 90 %). A lone floor gives a low and nothing else."""
    seen: list[tuple[float, float]] = []
    floors: list[tuple[float, float]] = []
    thawed = any(_depth(trait, vote) is not None and not _frozen_below(vote) for vote in votes)
    for members in by_study(votes).values():
        ended = [vote for vote in members if thawed and _frozen_below(vote)]
        found = [(_depth(trait, vote), vote.weight) for vote in members if vote not in ended]
        points = [(depth, weight) for depth, weight in found if depth is not None and depth > 0]
        limits = [float(vote.record.low) for vote in members if vote.point is None and vote.record.low]
        limits += [depth for vote in ended if (depth := _depth(trait, vote)) is not None]
        if points:
            weight = max(weight for _, weight in points)
            seen.append((geometric_mean([value for value, _ in points]), weight))
        elif limits:
            floors.append((max(limits), max(vote.weight for vote in members)))
    weighed = _weighed(trait, votes, thawed=thawed)
    if not seen:
        if not floors:
            return None
        return Outcome(
            max(f for f, _ in floors), None, None, "low", "at least (only floors on record)", weighed
        )
    middle, spread = _fit(seen, floors, PRIOR_LOG_SD.get(trait.id, 0.5))
    width = Z90 * spread * math.sqrt(1 + 1 / (PRIOR_VOTES + sum(weight for _, weight in seen)))
    return Outcome(
        low=math.exp(middle - width),
        likely=math.exp(middle),
        high=math.exp(middle + width),
        confidence=confidence_of([value for value, _ in seen]),
        rule="log-normal over studies, one vote each" + (", floors as censored" if floors else ""),
        weighed=weighed,
    )


def _fit(
    seen: Sequence[tuple[float, float]], floors: Sequence[tuple[float, float]], prior_log_sd: float
) -> tuple[float, float]:
    """Weighted mean and SD of log depth; a floor counts with its expected value above itself."""
    values = [(math.log(value), weight) for value, weight in seen]
    limits = [(math.log(limit), weight) for limit, weight in floors]
    middle = _mean(values)
    spread = prior_log_sd
    for _ in range(ROUNDS):
        filled = [(_above(limit, middle, spread), weight) for limit, weight in limits]
        every = [*values, *filled]
        updated = _mean(every)
        total = sum(weight for _, weight in every)
        squares = sum(weight * (value - updated) ** 2 for value, weight in every)
        spread = math.sqrt((PRIOR_VOTES * prior_log_sd**2 + squares) / (PRIOR_VOTES + total))
        if abs(updated - middle) < 1e-9:
            break
        middle = updated
    return updated, spread


def _mean(values: Sequence[tuple[float, float]]) -> float:
    return sum(value * weight for value, weight in values) / sum(weight for _, weight in values)


def _above(limit: float, middle: float, spread: float) -> float:
    """Mean of a normal (middle, spread) given that it lies above the limit."""
    z = (limit - middle) / spread
    tail = 0.5 * math.erfc(z / math.sqrt(2))
    if tail < 1e-12:
        return limit
    return middle + spread * math.exp(-z * z / 2) / math.sqrt(2 * math.pi) / tail


def _frozen_below(vote: Vote) -> bool:
    """Whether the ground it was dug from holds roots back: in tundra they end where it does not thaw."""
    return vote.record.condition("climate") == TUNDRA


def _depth(trait: Trait, vote: Vote) -> float | None:
    """The depth that a record names: of the deepest root the largest printed is itself the value."""
    record = vote.record
    if vote.point is None and trait.id == DEEPEST and record.number_kind == "maximum" and record.high:
        return float(record.high)
    return vote.point


def _weighed(trait: Trait, votes: Sequence[Vote], *, thawed: bool) -> tuple[Weighed, ...]:
    ended = tuple(vote for vote in votes if thawed and _frozen_below(vote))
    others = tuple(vote for vote in votes if vote not in ended)
    measured = tuple(vote for vote in others if _depth(trait, vote) is not None)
    limits = tuple(vote for vote in others if _depth(trait, vote) is None)
    floors = tuple(vote for vote in limits if vote.record.low is not None)
    ceilings = tuple(vote for vote in limits if vote.record.low is None)
    return (
        *shared_weight(measured, "a depth"),
        *shared_weight(floors, "at least this deep (a floor, not a depth)"),
        *shared_weight(ended, "at least this deep: the ground below stays frozen"),
        *(Weighed(v.record.id, 0.0, "at most this deep: says no depth, not counted") for v in ceilings),
    )
