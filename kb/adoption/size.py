"""Height and width when grown: herbs by the mean, trees by what open-grown ones reach.

A largest record is an upper bound, never the likely size; a mean over herbarium and plot records
mixes saplings for trees and counts little there; a crop under management is not a grown tree. A shrub
is grown at the size it is managed at (coffee kept to 2.5 m, wild to 4.6 m), so there a managed size
counts in full and that of a plant left alone little. The same holds for crops that are sown each year:
a lettuce is cut long before the stalk that a flora measures, flax in a field stands above what has escaped.
"""

from dataclasses import replace

from kb.adoption.intervals import adopt_interval, interval_of_middle
from kb.adoption.votes import Outcome, Vote, by_study, confidence_of, shared_weight, weighted_median
from kb.model import Trait, Weighed

LARGEST_SHARE_WOODY = 0.6
LARGEST_SHARE_HERB = 0.75
"""Likely mature size as a share of the largest record, where nothing better is known (judgement)."""

AS_GROWN = ("managed", "grown in a garden")
"""How the condition ``as`` begins of a size that is that of a crop, and not of what lives wild."""
FULLY_GROWN = "fully grown in the wild"
"""What a flora says of heights that leave young plants out."""

LOG_SD_WOODY = 0.35
LOG_SD_HERB = 0.25
"""Spread of mature size: 0.3-0.5 between trees of one species in a tree survey (`trade` J9)."""


def adopt_size(_trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """Low, likely and high size in m (10, 50 and 90 %)."""
    woody, as_grown = votes[0].woody, _as_grown(votes)
    sizes: list[tuple[float, float]] = []
    largest: list[float] = []
    spans: list[tuple[float, float]] = []
    for members in by_study(votes).values():
        points = [_value(vote, woody=woody, as_grown=as_grown) for vote in members]
        good = [point for point in points if point is not None]
        if good:
            weight = max(weight for _, weight in good)
            sizes.append((sum(v for v, _ in good) / len(good), weight))
        largest += [size for vote in members if (size := _largest(vote)) is not None]
        spans += [
            (float(vote.record.low), float(vote.record.high))
            for vote in members
            if vote.record.low is not None and vote.record.high is not None
        ]
    if not sizes and not largest:
        return None
    ceiling = max(largest, default=None)
    share = LARGEST_SHARE_WOODY if woody else LARGEST_SHARE_HERB
    if not sizes or (ceiling is not None and max(weight for _, weight in sizes) < 0.2):
        likely = (ceiling or 0.0) * share
        rule = "a share of the largest record (no mature size on record)"
    else:
        likely = weighted_median(sizes)
        rule = "weighted median over studies, one vote each; largest record as upper bound"
    low, high = interval_of_middle(likely, LOG_SD_WOODY if woody else LOG_SD_HERB)
    low = min([low, *(s[0] for s in spans)])
    high = max([high, *(s[1] for s in spans)])
    if ceiling is not None and ceiling >= likely:
        high = min(high, ceiling)
    return Outcome(
        low=low,
        likely=likely,
        high=max(high, likely),
        confidence=confidence_of([value for value, weight in sizes if weight >= 0.2]),
        rule=rule,
        weighed=_weighed(votes, woody=woody),
    )


def adopt_reach(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """Reach of a climber in m: the weighted middle of the studies, bounded by the most and the least printed.

    Where a most alone is printed ("up to 9 m"), a share of it, as with heights.
    """
    value = adopt_interval(trait, votes)
    if value is None or value.likely is None:
        return adopt_size(trait, votes) or value
    most = max((size for vote in votes if (size := _largest(vote)) is not None), default=None)
    if most is None or most < value.likely or value.high is None:
        return value
    return replace(value, high=min(value.high, most))


def _managed(vote: Vote) -> bool:
    return (vote.record.condition("as") or "").startswith(AS_GROWN)


def _as_grown(votes: tuple[Vote, ...]) -> bool:
    """Whether it is a crop that is kept low or sown, no tree, whose size as it is grown is on record."""
    crop = votes[0].woody or votes[0].sown
    return crop and not votes[0].tree and any(map(_managed, votes))


def _value(vote: Vote, *, woody: bool, as_grown: bool) -> tuple[float, float] | None:
    """Size and weight of a vote that speaks of ordinary mature size."""
    record = vote.record
    if vote.point is None or record.number_kind in {"maximum", "ceiling"}:
        return None
    if (woody or vote.sown) and _managed(vote) != as_grown:
        return vote.point, 0.15
    if woody and record.number_kind == "mean" and record.condition("as") != FULLY_GROWN:
        return vote.point, 0.1
    return vote.point, vote.weight


def _largest(vote: Vote) -> float | None:
    record = vote.record
    if record.number_kind not in {"maximum", "ceiling"}:
        return None
    value = record.high if record.high is not None else record.likely
    return float(value) if value is not None else None


def _weighed(votes: tuple[Vote, ...], *, woody: bool) -> tuple[Weighed, ...]:
    upper = tuple(vote for vote in votes if _largest(vote) is not None)
    others = tuple(vote for vote in votes if _largest(vote) is None)
    plain = shared_weight(others, "a size")
    shown = []
    for vote, weighed in zip(others, plain, strict=True):
        value = _value(vote, woody=woody, as_grown=_as_grown(votes))
        if value is not None and value[1] < vote.weight:
            words = (
                "little: a mean that mixes young plants"
                if vote.record.number_kind == "mean" and not vote.sown
                else "little: size as managed"
                if _managed(vote)
                else "little: size when left alone"
            )
            weighed = Weighed(weighed.record, value[1], words)  # noqa: PLW2901
        shown.append(weighed)
    return (*shown, *shared_weight(upper, "an upper bound (largest record)"))
