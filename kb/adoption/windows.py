"""Windows of the year: start and end weeks, which may wrap from December into January."""

import cmath
import math

from kb.adoption.votes import Outcome, Vote, by_study, shared_weight
from kb.model import Confidence, Trait

YEAR_WEEKS = 365.25 / 7


def circular_mean(weeks: list[tuple[float, float]]) -> float:
    """Weighted mean week [1, 53.18) on the circle of the year; ``weeks`` are (week, weight)."""
    turn = sum(weight * cmath.exp(2j * math.pi * (week - 1) / YEAR_WEEKS) for week, weight in weeks)
    return (cmath.phase(turn) % (2 * math.pi)) / (2 * math.pi) * YEAR_WEEKS + 1


def weeks_apart(first: float, second: float) -> float:
    """The shorter way round the year between two weeks."""
    apart = abs(first - second) % YEAR_WEEKS
    return min(apart, YEAR_WEEKS - apart)


def adopt_window(_trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """Mean start and mean end over studies, each on the circle; an end that no source gives is None."""
    starts: list[tuple[float, float]] = []
    ends: list[tuple[float, float]] = []
    for members in by_study(votes).values():
        start = [(float(v.record.low), 1.0) for v in members if v.record.low is not None]
        end = [(float(v.record.high), 1.0) for v in members if v.record.high is not None]
        weight = max(vote.weight for vote in members)
        if start:
            starts.append((circular_mean(start), weight))
        if end:
            ends.append((circular_mean(end), weight))
    if not starts and not ends:
        return None
    return Outcome(
        low=circular_mean(starts) if starts else None,
        likely=None,
        high=circular_mean(ends) if ends else None,
        confidence=_confidence([week for week, _ in starts or ends]),
        rule="mean week over studies, round the year",
        weighed=shared_weight(votes, "a window"),
    )


def _confidence(weeks: list[float]) -> Confidence:
    if len(weeks) < 2:
        return "low"
    apart = max(weeks_apart(a, b) for a in weeks for b in weeks)
    if apart > 8:
        return "contested"
    return "high" if len(weeks) >= 3 and apart <= 3 else "medium"
