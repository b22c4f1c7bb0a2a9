"""Windows of the year: start and end weeks, which may wrap from December into January."""

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from kb.adoption.season_words import names_a_season, silent
from kb.adoption.votes import Outcome, Vote, by_study, shared_weight
from kb.model import Confidence, Sowing, Trait, Weighed

YEAR_WEEKS = 365.25 / 7
SAME_SOWING_WEEKS = 9.0
"""Starts further apart than this belong to different times of sowing (our judgement)."""
SPRING_WEEK = 14.0
OTHER_SOWING = "not counted for the usual weeks: another time of sowing"
NO_START = "not counted: names no start, and the crop has several"
NOT_SOWN = {
    OTHER_SOWING: "not counted: another season than the sources counted",
    NO_START: "not counted: names no start, and the sources print several seasons",
}
"""The same of flowers, leaves and harvest, and of plants that last: no sowing moves these weeks."""


def circular_mean(weeks: list[tuple[float, float]]) -> float:
    """Weighted mean week [1, 53.18) on the circle of the year; ``weeks`` are (week, weight)."""
    turn = sum(weight * cmath.exp(2j * math.pi * (week - 1) / YEAR_WEEKS) for week, weight in weeks)
    return (cmath.phase(turn) % (2 * math.pi)) / (2 * math.pi) * YEAR_WEEKS + 1


def weeks_apart(first: float, second: float) -> float:
    """The shorter way round the year between two weeks."""
    apart = abs(first - second) % YEAR_WEEKS
    return min(apart, YEAR_WEEKS - apart)


MONTH_DAYS = 365.25 / 12
MIDDLE_OF_JANUARY = 15.5
"""Day of the year that month number 1.0 stands for (6.0 is the middle of June)."""


def window_of_class(step: float) -> tuple[float, float]:
    """The weeks in flower that a flowering class 1-15 of the Swedish flora stands for.

    The classes are half months round a middle at month number 2.5 + class/2, a month either way: worked
    out from the French months of 1,060 shared species (data notes 4), not printed by the authors.
    """
    middle = MIDDLE_OF_JANUARY + (2.5 + step / 2 - 1) * MONTH_DAYS
    start, end = ((day - 1) / 7 % YEAR_WEEKS + 1 for day in (middle - MONTH_DAYS, middle + MONTH_DAYS))
    return start, end


def adopt_window(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """The window of the records of the trait; of a flowering class where none names a date."""
    direct = tuple(vote for vote in votes if vote.record.trait == trait.id)
    words = tuple(vote for vote in direct if names_a_season(vote.record))
    dated = tuple(vote for vote in direct if vote not in words)
    if dated:
        return _beside(_adopt_dated(dated), words)
    classes = tuple(vote for vote in votes if vote not in direct)
    steps = [vote.point for vote in classes if vote.point is not None]
    if not steps:
        return _adopt_dated(words) if words else None
    start, end = window_of_class(sum(steps) / len(steps))
    outcome = Outcome(
        low=start,
        likely=None,
        high=end,
        confidence="low",
        rule="half months of a flowering class, a month either way",
        weighed=shared_weight(classes, "a flowering class, read as half months"),
    )
    return _beside(outcome, words)


def _beside(outcome: Outcome | None, words: tuple[Vote, ...]) -> Outcome | None:
    """The outcome with the words of seasons shown, which do not count beside it."""
    if outcome is None or not words:
        return outcome
    return replace(outcome, weighed=(*outcome.weighed, *silent(words)))


def _adopt_dated(votes: tuple[Vote, ...]) -> Outcome | None:
    """Mean start over studies, on the circle, and the mean length from there of those that print both.

    Sources of first days alone move the start and not the length: a mean end of other sources could
    lie before it and read as nearly the whole year. An end that no source gives is None.

    Autumn-sown and spring-sown crops are two seasons, and their mean is none: windows whose starts
    lie far apart are kept apart. The larger group is the usual one, of equal groups the spring-sown
    one; the others stay beside it as further times of sowing.
    """
    kept, *others = _by_sowing(votes)
    window = _window_of(kept)
    if window is None:
        return None
    return Outcome(
        low=window.first,
        likely=None,
        high=window.last,
        confidence=_confidence(window.weeks),
        rule="mean week over studies, round the year, and the mean length of those that print both ends",
        weighed=(
            *shared_weight(kept, "a window"),
            *(
                Weighed(v.record.id, 0.0, NO_START if v.record.low is None else OTHER_SOWING)
                for group in others
                for v in group
            ),
        ),
        sowings=tuple(_sowings(others)),
    )


def without_sowings(outcome: Outcome) -> Outcome:
    """The outcome where no sowing moves the weeks: sources that print others only disagree."""
    if not outcome.sowings and not any(each.counted_as in NOT_SOWN for each in outcome.weighed):
        return outcome
    weighed = tuple(
        replace(each, counted_as=NOT_SOWN.get(each.counted_as, each.counted_as)) for each in outcome.weighed
    )
    return replace(outcome, weighed=weighed, sowings=())


@dataclass(frozen=True, slots=True)
class _Window:
    """First and last week, None where no record prints it; ``weeks`` are the starts (or ends) of studies."""

    first: float | None
    last: float | None
    weeks: list[float]


def _window_of(votes: tuple[Vote, ...]) -> _Window | None:
    starts: list[tuple[float, float]] = []
    ends: list[tuple[float, float]] = []
    lengths: list[tuple[float, float]] = []
    for members in by_study(votes).values():
        start = [(float(v.record.low), 1.0) for v in members if v.record.low is not None]
        end = [(float(v.record.high), 1.0) for v in members if v.record.high is not None]
        weight = max(vote.weight for vote in members)
        if start:
            starts.append((circular_mean(start), weight))
        if end:
            ends.append((circular_mean(end), weight))
        long = [
            (float(v.record.high) - float(v.record.low)) % YEAR_WEEKS
            for v in members
            if v.record.low is not None and v.record.high is not None
        ]
        if long:
            lengths.append((sum(long) / len(long), weight))
    if not starts and not ends:
        return None
    first = circular_mean(starts) if starts else None
    last = circular_mean(ends) if ends else None
    if first is not None and lengths:
        length = sum(weeks * weight for weeks, weight in lengths) / sum(weight for _, weight in lengths)
        last = (first + length - 1) % YEAR_WEEKS + 1
    return _Window(first, last, [week for week, _ in starts or ends])


def _sowings(groups: list[tuple[Vote, ...]]) -> Iterator[Sowing]:
    """The windows of further times of sowing; one of them has to print both its ends."""
    for group in groups:
        window = _window_of(group)
        if window is not None and window.first is not None and window.last is not None:
            yield Sowing(window.first, window.last, tuple(vote.record.id for vote in group))


def other_sowings(votes: Sequence[Vote], best: int) -> tuple[Vote, ...]:
    """Votes of a lower tier than ``best`` for another time of sowing than any vote of the best."""
    known = [float(v.record.low) for v in votes if v.tier <= best and v.record.low is not None]
    return tuple(
        vote
        for vote in votes
        if known
        and vote.tier > best
        and vote.record.low is not None
        and all(weeks_apart(float(vote.record.low), week) > SAME_SOWING_WEEKS for week in known)
    )


def _by_sowing(votes: tuple[Vote, ...]) -> list[tuple[Vote, ...]]:
    """The votes of each time of sowing, the usual one first, and last what names no start."""
    groups: list[list[Vote]] = []
    dated = sorted((v for v in votes if v.record.low is not None), key=lambda v: float(v.record.low or 0))
    for vote in dated:
        start = float(vote.record.low or 0)
        near = [g for g in groups if weeks_apart(start, float(g[-1].record.low or 0)) <= SAME_SOWING_WEEKS]
        if near:
            near[0].append(vote)
        else:
            groups.append([vote])
    if len(groups) < 2:
        return [votes]
    best = max(
        groups, key=lambda g: (len(by_study(g)), -weeks_apart(float(g[0].record.low or 0), SPRING_WEEK))
    )
    undated = [vote for vote in votes if vote.record.low is None]
    return [tuple(group) for group in (best, *(g for g in groups if g is not best), undated) if group]


def _confidence(weeks: list[float]) -> Confidence:
    if len(weeks) < 2:
        return "low"
    apart = max(weeks_apart(a, b) for a in weeks for b in weeks)
    if apart > 8:
        return "contested"
    return "high" if len(weeks) >= 3 and apart <= 3 else "medium"
