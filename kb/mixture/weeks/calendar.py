"""Weeks of the year in which something is there: flowers, harvest, cover; and how they are said."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from kb.mixture.season import (
    DAYS_PER_WEEK,
    WEEKS,
    YEAR_DAYS,
)
from kb.mixture.site import Site

BoolArray = npt.NDArray[np.bool_]

BLOOM_BEFORE_WEEKS, BLOOM_AFTER_WEEKS = 9.0, 2.0
"""Flowers are looked for from six weeks before the last hard frost, which is taken to come three weeks
before the last frost (judgement), to two weeks after the first frost (`trade` 4.11)."""
GROWING_BEFORE_WEEKS, GROWING_AFTER_WEEKS = 10.0, 4.9
"""Weeks 9 to 46 at the reference site (`trade` 5.1), told from its frosts so that they move with a site."""
HALF_THERE = 0.5
"""A week counts where at least half of it lies in the window."""


def bloom_weeks(site: Site) -> BoolArray:
    """The weeks in which flowers are looked for; the whole year where there is no frost."""
    return _round_the_frosts(site, BLOOM_BEFORE_WEEKS, BLOOM_AFTER_WEEKS)


def growing_weeks(site: Site) -> BoolArray:
    """The weeks in which ground is looked at for cover and harvest; the whole year without frost."""
    return _round_the_frosts(site, GROWING_BEFORE_WEEKS, GROWING_AFTER_WEEKS)


def in_order(weeks: BoolArray) -> list[int]:
    """The weeks (1-52) of one season in the order in which they come, over the new year too."""
    there = np.flatnonzero(weeks)
    if not there.size or there.size == WEEKS:
        return (there + 1).tolist()
    first = there[~weeks[(there - 1) % WEEKS]][0]
    return [int(week) + 1 for week in (first + np.arange(WEEKS)) % WEEKS if weeks[week]]


def runs(weeks: BoolArray) -> tuple[tuple[int, int], ...]:
    """The weeks as spans (first, last), 1-52; a span may run over the new year."""
    if weeks.all():
        return ((1, WEEKS),)
    starts = np.flatnonzero(weeks & ~np.roll(weeks, 1))
    ends = np.flatnonzero(weeks & ~np.roll(weeks, -1))
    return tuple((int(start) + 1, int(ends[ends >= start][0] if (ends >= start).any() else ends[0]) + 1)
                 for start in starts)  # fmt: skip


def run_words(spans: Sequence[tuple[int, int]]) -> str:
    """Spans of weeks in words: "weeks 9 to 14 and 40"."""
    said = [f"{first}" if first == last else f"{first} to {last}" for first, last in spans]
    many = len(spans) > 1 or (bool(spans) and spans[0][0] != spans[0][1])
    joined = said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"
    return f"week{'s' if many else ''} {joined}"


def _round_the_frosts(site: Site, before_weeks: float, after_weeks: float) -> BoolArray:
    last, first = site.last_frost_day, site.first_frost_day
    if last is None or first is None:
        return np.ones(WEEKS, dtype=bool)
    start = last - 1 - before_weeks * DAYS_PER_WEEK
    free = (first - last) % YEAR_DAYS
    return _weeks_between(start, min(YEAR_DAYS, free + (before_weeks + after_weeks) * DAYS_PER_WEEK))


def _weeks_between(start: float, length: float) -> BoolArray:
    """Weeks of which at least half lies within ``length`` days from ``start`` (days, any number)."""
    middles = (np.arange(WEEKS, dtype=np.float64) + HALF_THERE) * DAYS_PER_WEEK
    there: BoolArray = np.mod(middles - start, YEAR_DAYS) < length
    return there
