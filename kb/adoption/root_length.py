"""Length of roots under a square metre: studies that count finer roots are brought to one measure.

What is found depends on how fine the roots are that are still counted. Of wheat at flowering 20 to 32 km/m2
were found in England (Barraclough and Leigh 1984), and 86 by image analysis in Hokkaido (Yamaguchi and Tanaka
1990), whose maize has as many times more than that of Indiana. A study that measured wheat too counts by it.
"""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from kb.adoption.intervals import adopt_interval
from kb.adoption.votes import Outcome, Vote
from kb.model import Record, Trait, Weighed

WHEAT_BESIDE = "wheat"
"""Condition: the length of wheat's roots in the same study, km/m2."""
WHEAT_KM_M2 = Decimal(28)
"""Winter wheat in England: the middle of 20 to 32 and of a benchmark of 31 km/m2 (AHDB)."""
COUNTED_AS = "a value; taken in proportion to the wheat of its study"


def adopt_root_length(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """Weighted median of the studies, those with a wheat of their own in proportion to it."""
    found = adopt_interval(trait, tuple(replace(vote, record=_by_wheat(vote.record)) for vote in votes))
    return None if found is None else replace(found, weighed=_told(found.weighed, votes))


def _by_wheat(record: Record) -> Record:
    beside = record.condition(WHEAT_BESIDE)
    if beside is None:
        return record
    times = WHEAT_KM_M2 / Decimal(beside)
    ends = (None if value is None else value * times for value in (record.low, record.likely, record.high))
    low, likely, high = ends
    return replace(record, low=low, likely=likely, high=high)


def _told(weighed: Sequence[Weighed], votes: Sequence[Vote]) -> tuple[Weighed, ...]:
    """The same weights, with the reason where a figure was not taken as printed."""
    beside = {vote.record.id for vote in votes if vote.record.condition(WHEAT_BESIDE) is not None}
    return tuple(
        replace(one, counted_as=one.counted_as.replace("a value", COUNTED_AS, 1))
        if one.record in beside
        else one
        for one in weighed
    )
