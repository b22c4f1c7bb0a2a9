"""Leaf area index: what a stand carries through its weeks of full leaf, not on its best day.

Trials print the greatest of a season. It lasts a few days: over the days with at least half of it a stand
carries four fifths. The course of a year holds the leaf level for weeks, so it must hold the latter.
"""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from kb.adoption.intervals import adopt_interval
from kb.adoption.votes import Outcome, Vote
from kb.model import Record, Trait, Weighed

GREATEST = "greatest of the season"
"""Condition ``as`` of a leaf area index that is that of the day with the most leaf."""
FULL_LEAF_OF_GREATEST = Decimal("0.8")
"""Mean leaf area over the days with at least half of the greatest, as a share of it: three quarters to nine
tenths in 13 crops whose leaf was cut every week or two (`tests/reference/leaf_area_courses.csv`)."""
COUNTED_AS = "a value; the greatest of a season counts as four fifths"


def adopt_leaf_area(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """Weighted median of the studies, the greatest of a season taken as what stands through full leaf."""
    found = adopt_interval(trait, tuple(replace(vote, record=_in_full_leaf(vote.record)) for vote in votes))
    return None if found is None else replace(found, weighed=_told(found.weighed, votes))


def _in_full_leaf(record: Record) -> Record:
    if record.condition("as") != GREATEST:
        return record
    ends = (
        None if value is None else value * FULL_LEAF_OF_GREATEST
        for value in (record.low, record.likely, record.high)
    )
    low, likely, high = ends
    return replace(record, low=low, likely=likely, high=high)


def _told(weighed: Sequence[Weighed], votes: Sequence[Vote]) -> tuple[Weighed, ...]:
    """The same weights, with the reason where a figure was not taken as printed."""
    greatest = {vote.record.id for vote in votes if vote.record.condition("as") == GREATEST}
    return tuple(
        replace(one, counted_as=one.counted_as.replace("a value", COUNTED_AS, 1))
        if one.record in greatest
        else one
        for one in weighed
    )
