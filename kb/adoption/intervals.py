"""Plain numbers and tolerated ranges: weighted middle of the studies with an interval."""

import statistics

from kb.adoption.votes import (
    Z90,
    Outcome,
    Vote,
    by_study,
    confidence_of,
    shared_weight,
    weighted_median,
)
from kb.model import Trait

ONE_VALUE_SHARE = 0.25
"""Half-width of the interval round a single printed value, as a share of it (our judgement)."""


def adopt_interval(_trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """Weighted median of one middle value per study; low and high span the studies' own ranges."""
    middles: list[tuple[float, float]] = []
    lows: list[float] = []
    highs: list[float] = []
    for members in by_study(votes).values():
        points = [vote.point for vote in members if vote.point is not None]
        if not points:
            continue
        middle = statistics.fmean(points)
        middles.append((middle, max(vote.weight for vote in members)))
        lows.append(min(float(v.record.low) if v.record.low is not None else middle for v in members))
        highs.append(max(float(v.record.high) if v.record.high is not None else middle for v in members))
    if not middles:
        return _limits_only(votes)
    likely = weighted_median(middles)
    margin = abs(likely) * ONE_VALUE_SHARE
    return Outcome(
        low=min(*lows, likely - margin),
        likely=likely,
        high=max(*highs, likely + margin),
        confidence=confidence_of([abs(value) for value, _ in middles]),
        rule="weighted median over studies, one vote each",
        weighed=shared_weight(votes, "a value"),
    )


def _limits_only(votes: tuple[Vote, ...]) -> Outcome | None:
    floors = [float(vote.record.low) for vote in votes if vote.record.low is not None]
    ceilings = [float(vote.record.high) for vote in votes if vote.record.high is not None]
    if not floors and not ceilings:
        return None
    return Outcome(
        low=max(floors, default=None),
        likely=None,
        high=min(ceilings, default=None),
        confidence="low",
        rule="limits only (no value on record)",
        weighed=shared_weight(votes, "a limit"),
    )


def adopt_tolerated(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """A range the plant bears: weighted medians of the lower and of the upper ends.

    A class of an indicator scale that feeds the trait widens to two classes on either side: it is
    where the plant is found under competition, not the limit of what it bears.
    """
    lows: list[tuple[float, float]] = []
    highs: list[tuple[float, float]] = []
    fed = False
    for vote in votes:
        low, high = vote.record.low, vote.record.high
        if vote.record.trait != trait.id and vote.record.likely is not None:
            fed = True
            lows.append((float(vote.record.likely) - 2, vote.weight))
            highs.append((float(vote.record.likely) + 2, vote.weight))
            continue
        if low is not None:
            lows.append((float(low), vote.weight))
        if high is not None:
            highs.append((float(high), vote.weight))
    if not lows or not highs:
        return None
    low_end, high_end = weighted_median(lows), weighted_median(highs)
    if trait.allowed is not None:
        low_end = max(low_end, float(trait.allowed[0]))
        high_end = min(high_end, float(trait.allowed[1]))
    studies = len(by_study(votes))
    return Outcome(
        low=low_end,
        likely=(low_end + high_end) / 2,
        high=high_end,
        confidence="medium" if studies > 1 and not fed else "low",
        rule="indicator class, two classes either side" if fed else "medians of the ends of the ranges",
        weighed=shared_weight(votes, "a range" if not fed else "a class of an indicator scale"),
    )


def interval_of_middle(middle: float, log_sd: float) -> tuple[float, float]:
    """10-90 % interval round a middle value with a relative doubt of ``log_sd``."""
    factor = float(2.718281828459045 ** (Z90 * log_sd))
    return middle / factor, middle * factor
