"""Plain numbers and tolerated ranges: weighted middle of the studies with an interval."""

import statistics
from collections.abc import Sequence

from kb.adoption.votes import (
    Z90,
    Outcome,
    Vote,
    by_study,
    confidence_of,
    shared_weight,
    weighted_median,
)
from kb.model import Record, Trait, Weighed

ONE_VALUE_SHARE = 0.25
"""Half-width of the interval round a single printed value, as a share of it (our judgement)."""


CLASSES_EITHER_SIDE = 2.0
REACTION = "soil-reaction"
MOISTURE, STEP_BEYOND_WORDS = "moisture", 1.0
"""So many of the 12 steps of moisture beyond a class in words, such as dry, moist or wet (judgement)."""
WHERE_IT_LIVES = "soils of its geographical range"
"""Condition ``as`` of a range that says on what soils a plant is found, not on what it does well."""
FOUND_BEYOND = 0.4
"""How far beyond an advised range a plant is taken to bear a soil on which it is found (pH; the doubt of
one published range, `trade` 3.2). Advice is narrower than what kills, and a range map is wider."""
ADVICE_BEYOND = 0.5
"""How far beyond a pH at which it is said to do best a plant is taken to bear. Measured: the median distance
between an end of the best and the same end of what is borne, of 60 ends of the 30 species of this base that
have both on record (middle half 0 to 0.8; of 25 species what is borne is recalled)."""
BEST = "preferred"
"""Condition ``extent`` of a range that says where a plant does best, not how far it bears."""
WARMTH = "warmth-to-crop"
NARROWEST_BORNE = 1.0
"""A range of pH less wide than this is advice, whatever its words. Measured: of 146 ranges of the soils in
which plants of this base are found, and 185 of what they bear by practice, 2 and none are narrower."""
LIGHT_TO_CROP = "light-to-crop"
"""The two ends of this range are read apart: what a trial in shade prints is often the upper one alone."""
OPEN_LIGHT = 1.0
"""A ceiling of open light is told of a crop that lost under the lightest shade: it is the light it needs."""
SAYS_NO_MORE = "at most this much light, and the others say less: no value of its own"
RANGE_RULES = {
    (True, False): "medians of the ends of the ranges",
    (False, True): "indicator class, two classes either side",
    (True, True): "ranges of practice joined with the indicator class, two classes either side",
}


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


def tells_what_is_best(record: Record) -> bool:
    """Whether a range of pH says where a plant does best: by its words, or as too narrow for a limit."""
    if record.condition("extent") == BEST:
        return True
    if record.trait != REACTION or record.low is None or record.high is None or is_find(record):
        return False
    return float(record.high - record.low) < NARROWEST_BORNE


def is_find(record: Record) -> bool:
    """Whether it says on what soils a plant is found: those of a map, or a class of reaction in a flora."""
    return record.condition("as") == WHERE_IT_LIVES or _is_class_of_reaction(record)


def _is_class_of_reaction(record: Record) -> bool:
    return record.trait == REACTION and record.number_kind == "class"


def both_ends(votes: Sequence[Vote], tier: int) -> bool:
    """Whether the records of one tier, taken together, say where a range begins and where it ends.

    Where a plant is found says so only where nothing of that tier says what it does well on; a class of a
    flora never does, so that it stands beside the garden range of practice and does not silence it.
    """
    every = [vote.record for vote in votes if vote.tier == tier and not _is_class_of_reaction(vote.record)]
    records = [record for record in every if not is_find(record)] or every
    return any(one.low is not None for one in records) and any(one.high is not None for one in records)


def adopt_tolerated(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """A range the plant bears: weighted medians of the lower and of the upper ends.

    A class of an indicator scale that feeds the trait stands for two classes on either side: it is
    where the plant is found under competition, not the limit of what it bears. Where practice states
    a range as well, the plant bears both (currants are listed for wet ground and grown on ordinary).
    Where a plant is found beyond what is advised, it bears that a little way (`FOUND_BEYOND`). Where
    sources state one end alone, practice states the other, and the end that both state is their
    weighted mean: a trial in strong sun says only in part what the plant needs elsewhere. Of the light
    to crop one end alone may stand (`_one_end`).
    """
    classes = [v for v in votes if v.record.trait != trait.id and v.record.likely is not None]
    stated = [v for v in votes if v.record.trait == trait.id]
    ranges = [v for v in stated if not is_find(v.record)]
    if all(v.record.low is None for v in ranges) or all(v.record.high is None for v in ranges):
        ranges = stated  # an end alone is no range: where it is found gives the other
    found = [v for v in stated if v not in ranges]
    silent = _silent_ceilings(ranges) if trait.id == LIGHT_TO_CROP else ()
    ranges = [v for v in ranges if v not in silent]
    telling = _telling_lows(trait, ranges)
    lows = [(float(v.record.low) - _wider(trait, v), v) for v in telling if v.record.low is not None]
    highs = [(float(v.record.high) + _wider(trait, v), v) for v in ranges if v.record.high is not None]
    ends = [_right_way_round(lows, highs)] if lows and highs else []
    if ends and found:
        ends = [_as_far_as_found(ends[0], found)]
    if classes:
        middle = weighted_median([(float(v.record.likely or 0), v.weight) for v in classes])
        ends.append((middle - CLASSES_EITHER_SIDE, middle + CLASSES_EITHER_SIDE))
    if not ends:
        return _one_end(lows, highs, ranges, silent) if trait.id == LIGHT_TO_CROP else None
    low, high = min(end[0] for end in ends), max(end[1] for end in ends)
    if trait.allowed is not None:
        low, high = max(low, float(trait.allowed[0])), min(high, float(trait.allowed[1]))
    studies = len(by_study(votes))
    return Outcome(
        low=low,
        likely=(low + high) / 2,
        high=high,
        confidence="medium" if studies > 1 and not classes else "low",
        rule=RANGE_RULES[bool(ranges), bool(classes)],
        weighed=(
            *shared_weight(ranges, "a range"),
            *shared_weight(classes, "a class of an indicator scale"),
            *(
                Weighed(v.record.id, v.weight, "says where it is found: at most 0.4 beyond the advice")
                for v in found
            ),
            *(Weighed(v.record.id, 0.0, SAYS_NO_MORE) for v in silent),
        ),
    )


def _silent_ceilings(ranges: Sequence[Vote]) -> tuple[Vote, ...]:
    """Trials that say "no more light than this", where what names a value lies below it anyway.

    A crop that bore as much in the darkest light of a trial needs that light at most: a censored value, as a
    floor of a depth is one, which draws no mean up to itself.
    """
    named = [(float(v.record.high), v) for v in ranges if v.names_a_value and v.record.high is not None]
    if not named:
        return ()
    middle = _end_of(named)
    return tuple(
        v
        for v in ranges
        if not v.names_a_value
        and v.record.low is None
        and v.record.high is not None
        and middle <= float(v.record.high) < OPEN_LIGHT
    )


def _one_end(
    lows: list[tuple[float, Vote]],
    highs: list[tuple[float, Vote]],
    votes: Sequence[Vote],
    silent: Sequence[Vote],
) -> Outcome | None:
    """The end that sources state; the other is left open, and the usual one stands in for it in a profile."""
    if not lows and not highs:
        return None
    return Outcome(
        low=_end_of(lows) if lows else None,
        likely=None,
        high=_end_of(highs) if highs else None,
        confidence="low",
        rule="one end alone is on record",
        weighed=(
            *shared_weight(votes, "one end of a range"),
            *(Weighed(v.record.id, 0.0, SAYS_NO_MORE) for v in silent),
        ),
    )


def _telling_lows(trait: Trait, votes: Sequence[Vote]) -> list[Vote]:
    """The votes with a lower end; of a crop's warmth those of where it does best only if there are no others.

    Measured: of 40 crops that have both, the lower ends of what is best (FAO ECOCROP) lie in the median 8
    degrees above those of the months in which the crop does well (Knott's handbook), the upper 0.1 below.
    """
    lows = [vote for vote in votes if vote.record.low is not None]
    if trait.id != WARMTH:
        return lows
    return [vote for vote in lows if vote.record.condition("extent") != BEST] or lows


def _wider(trait: Trait, vote: Vote) -> float:
    """Words for moist ground tell where a plant does best, and it bears the next step either way.

    So does advice on pH; and where a plant is found is not the limit of what it bears.
    """
    record = vote.record
    if trait.id == REACTION:
        if is_find(record):
            return FOUND_BEYOND
        return ADVICE_BEYOND if tells_what_is_best(record) else 0.0
    return STEP_BEYOND_WORDS if trait.id == MOISTURE and record.number_kind == "class" else 0.0


def _right_way_round(
    lows: Sequence[tuple[float, Vote]], highs: Sequence[tuple[float, Vote]]
) -> tuple[float, float]:
    """The two ends; where they come of different records and cross, the better sourced one stands."""
    low, high = _end_of(lows), _end_of(highs)
    if low <= high:
        return low, high
    of_low, of_high = (min(vote.tier for _, vote in ends) for ends in (lows, highs))
    if of_low == of_high:
        return (low + high) / 2, (low + high) / 2
    return (low, low) if of_low < of_high else (high, high)


def _end_of(stated: Sequence[tuple[float, Vote]]) -> float:
    """One end of a range: the weighted median; the weighted mean where sources and practice both count."""
    if len({vote.tier for _, vote in stated}) == 1:
        return weighted_median([(end, vote.weight) for end, vote in stated])
    return sum(end * vote.weight for end, vote in stated) / sum(vote.weight for _, vote in stated)


def _as_far_as_found(advised: tuple[float, float], found: Sequence[Vote]) -> tuple[float, float]:
    """The advised range, drawn out towards where the plant is found, by `FOUND_BEYOND` at most."""
    low, high = advised
    lows = [float(v.record.low) for v in found if v.record.low is not None]
    highs = [float(v.record.high) for v in found if v.record.high is not None]
    return (
        min(low, max(min(lows, default=low), low - FOUND_BEYOND)),
        max(high, min(max(highs, default=high), high + FOUND_BEYOND)),
    )


def interval_of_middle(middle: float, log_sd: float) -> tuple[float, float]:
    """10-90 % interval round a middle value with a relative doubt of ``log_sd``."""
    factor = float(2.718281828459045 ** (Z90 * log_sd))
    return middle / factor, middle * factor
