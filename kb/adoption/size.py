"""Height and width when grown: herbs by the mean, trees by what open-grown ones reach.

A largest record is an upper bound, never the likely size; a mean over herbarium and plot records
mixes saplings for trees and counts little there; a crop under management is not a grown tree. A shrub
is grown at the size it is managed at (coffee kept to 2.5 m, wild to 4.6 m), so there a managed size
counts in full and that of a plant left alone little. The same holds for crops that are sown each year:
a lettuce is cut long before the stalk that a flora measures, flax in a field stands above what has escaped.

Of a woody plant what counts little is heard only where nothing else tells its size: between two equal
votes it would decide alone. Nor does the heavier of two do so (`_middle`). A flora's height of a tree is
that of the wood: surveys of trees in the open decide first (`data` section 4), and a tree of a garden
stands in the open.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import fmean

from kb.adoption.intervals import adopt_interval, interval_of_middle
from kb.adoption.votes import Outcome, Vote, confidence_of, shared_weight, weighted_median
from kb.model import Trait, Weighed

LARGEST_SHARE_WOODY = 0.6
LARGEST_SHARE_HERB = 0.75
"""Likely mature size as a share of the largest record, where nothing better is known (judgement)."""

MANAGED = "managed"
AS_GROWN = (MANAGED, "grown in a garden")
"""How the condition ``as`` begins of a size that is that of a crop, and not of what lives wild."""
FULLY_GROWN = "fully grown in the wild"
"""What a flora says of heights that leave young plants out."""

ORDINARY = 0.2
"""A size of less weight is not the ordinary one of a grown plant (a dwarfing stock, a mean with saplings)."""
OF_SURVEYS = "weighted median over surveys of trees in the open; largest record as upper bound"
OF_ALL = "weighted median over studies, one vote each; largest record as upper bound"

LOG_SD_WOODY = 0.35
LOG_SD_HERB = 0.25
"""Spread of mature size: 0.3-0.5 between trees of one species in a tree survey (`trade` J9)."""


@dataclass(frozen=True, slots=True)
class _Size:
    """What one vote says of the ordinary size, in m, and its weight."""

    vote: Vote
    size: float
    weight: float

    @property
    def ordinary(self) -> bool:
        return self.weight >= ORDINARY


def adopt_size(_trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """Low, likely and high size in m (10, 50 and 90 %)."""
    woody = votes[0].woody
    told = _told(votes)
    deciding, rule = _deciding(told)
    sizes = _one_each(deciding)
    ceiling = max((size for vote in votes if (size := _largest(vote)) is not None), default=None)
    if not sizes and ceiling is None:
        return None
    share = LARGEST_SHARE_WOODY if woody else LARGEST_SHARE_HERB
    if not sizes or (ceiling is not None and max(weight for _, weight in sizes) < ORDINARY):
        likely = (ceiling or 0.0) * share
        rule = "a share of the largest record (no mature size on record)"
    else:
        likely = _middle(sizes) if woody else weighted_median(sizes)
    low, high = interval_of_middle(likely, LOG_SD_WOODY if woody else LOG_SD_HERB)
    spans = _spans(votes, told)
    low = min([low, *(s[0] for s in spans)])
    high = max([high, *(s[1] for s in spans)])
    if ceiling is not None and ceiling >= likely:
        high = min(high, ceiling)
    return Outcome(
        low=low,
        likely=likely,
        high=max(high, likely),
        confidence=confidence_of([value for value, weight in _one_each(told) if weight >= ORDINARY]),
        rule=rule,
        weighed=_weighed(votes, told, deciding),
    )


def _told(votes: tuple[Vote, ...]) -> list[_Size]:
    as_grown = _as_grown(votes)
    every = [(vote, _value(vote, woody=votes[0].woody, as_grown=as_grown)) for vote in votes]
    return [_Size(vote, *value) for vote, value in every if value is not None]


def _deciding(told: list[_Size]) -> tuple[list[_Size], str]:
    """The sizes that decide, and the words for how.

    Of a tree what open-grown ones reach in a survey (95th percentile) where that is on record; else all.
    """
    ordinary = [size for size in told if size.ordinary]
    if not ordinary or not ordinary[0].vote.woody:
        return told, OF_ALL
    if surveys := [size for size in ordinary if _in_the_open(size.vote)]:
        return surveys, OF_SURVEYS
    return ordinary, OF_ALL


def _one_each(told: Sequence[_Size]) -> list[tuple[float, float]]:
    """One size of each study, the mean of its records, with the weight of the best of them."""
    studies: dict[str, list[_Size]] = {}
    for size in told:
        studies.setdefault(size.vote.study, []).append(size)
    return [
        (fmean(size.size for size in members), max(size.weight for size in members))
        for members in studies.values()
    ]


def _middle(sizes: Sequence[tuple[float, float]]) -> float:
    """The weighted median, between its two neighbours by their weights on a scale of ratios.

    Two studies that count .6 and .5 meet about half way: the heavier one does not decide alone.
    """
    ordered = sorted(sizes)
    half = sum(weight for _, weight in ordered) / 2
    reached, below = 0.0, None
    for value, weight in ordered:
        place = reached + weight / 2
        if place >= half - 1e-9:
            if below is None:
                return value
            size, at = below
            return float(size * (value / size) ** ((half - at) / (place - at)))
        reached, below = reached + weight, (value, place)
    return ordered[-1][0]


def _spans(votes: Sequence[Vote], told: Sequence[_Size]) -> list[tuple[float, float]]:
    """The ranges that are printed; of a woody plant not those of a stock, a crop or a plant not yet grown."""
    left_out = {size.vote.record.id for size in told if size.vote.woody and not size.ordinary}
    return [
        (float(vote.record.low), float(vote.record.high))
        for vote in votes
        if vote.record.low is not None and vote.record.high is not None and vote.record.id not in left_out
    ]


def _in_the_open(vote: Vote) -> bool:
    record = vote.record
    return record.condition("statistic") == "p95" and record.condition("stand") == "open-grown"


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
    """Whether it is kept at its size: a crop, a shrub of a garden; a garden's tree is one in the open."""
    return (vote.record.condition("as") or "").startswith(MANAGED if vote.tree else AS_GROWN)


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


def _weighed(
    votes: tuple[Vote, ...], told: Sequence[_Size], deciding: Sequence[_Size]
) -> tuple[Weighed, ...]:
    upper = tuple(vote for vote in votes if _largest(vote) is not None)
    others = tuple(vote for vote in votes if _largest(vote) is None)
    sizes = {size.vote.record.id: size for size in told}
    heard = {size.vote.record.id for size in deciding}
    shown = []
    for weighed in shared_weight(others, "a size"):
        size = sizes.get(weighed.record)
        if size is None:
            shown.append(weighed)
        elif weighed.record not in heard:
            shown.append(Weighed(weighed.record, 0.0, f"not counted: {_why_less(size)}"))
        elif size.weight < size.vote.weight:
            shown.append(Weighed(weighed.record, size.weight, f"little: {_why_less(size)}"))
        else:
            shown.append(weighed)
    return (*shown, *shared_weight(upper, "an upper bound (largest record)"))


def _why_less(size: _Size) -> str:
    """The words for a size that counts little, or not at all beside better ones."""
    if size.ordinary:
        return "trees in the open are on record"
    if size.weight == size.vote.weight:
        return "of a stock or a plant not yet grown"
    if size.vote.record.number_kind == "mean" and not size.vote.sown:
        return "a mean that mixes young plants"
    return "size as managed" if _managed(size.vote) else "size when left alone"
