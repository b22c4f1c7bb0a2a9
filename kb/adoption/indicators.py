"""Classes on indicator scales, and the light a plant lives on as their wording says it."""

import math

from kb.adoption.intervals import adopt_interval
from kb.adoption.votes import Outcome, Vote, by_study, shared_weight, weighted_median
from kb.model import Confidence, Trait

LIGHT_CLASSES: dict[int, tuple[float, float, float]] = {
    1: (0.005, 0.01, 0.02),
    2: (0.01, 0.02, 0.05),
    3: (0.01, 0.03, 0.05),
    4: (0.03, 0.06, 0.10),
    5: (0.05, 0.10, 0.15),
    6: (0.10, 0.15, 0.25),
    7: (0.15, 0.25, 0.35),
    8: (0.30, 0.40, 0.50),
    9: (0.40, 0.50, 0.60),
}
"""Light class 1-9 -> lowest share of open light at which the plant persists (low, likely, high).
Anchored on the printed wording (3 "mostly < 5 %", 5 "> 10 %", 8 "rarely < 40 %", 9 "rarely < 50 %":
Ellenberg et al. as summarised in the scheme table); the classes between are interpolated by us."""


SHADE_CLASSES: dict[int, tuple[float, float, float]] = {
    1: (0.25, 0.30, 0.40),
    2: (0.30, 0.40, 0.52),
    3: (0.40, 0.52, 0.68),
}
"""Light class -> the most light in which plants of the shade are found (low, likely, high). Anchored on the
printed wording (1 "seldom more than 30 %", 5 "rarely in full light": Ellenberg et al. 2001, light figure, as
shown on freshwaterecology.info), with even steps between; 3 is "mostly less than 5 %, but also in lighter
places". None from 4 on."""

SHADE_1_TO_5: dict[int, tuple[float, float, float]] = {
    1: (0.50, 0.55, 0.65),
    2: (0.25, 0.35, 0.50),
    3: (0.10, 0.16, 0.25),
    4: (0.05, 0.07, 0.10),
    5: (0.02, 0.03, 0.05),
}
"""Shade tolerance of woody plants, 1 very intolerant to 5 very tolerant -> lowest share of open light. The
bounds (over 50, 25-50, 10-25, 5-10, 2-5 %) are from memory (`trade` 3.2), the middles geometric."""

SHADE_3: dict[str, tuple[float, float, float]] = {
    "intolerant": (0.25, 0.40, 0.65),
    "intermediate": (0.10, 0.16, 0.25),
    "tolerant": (0.02, 0.05, 0.10),
}
"""The three classes in words as classes 1-2, 3 and 4-5 of the scale above (our reading)."""

LIGHT, SHADE_STEPS, SHADE_WORDS = "light-indicator-1-9", "shade-tolerance-1-5", "shade-tolerance-3"


def adopt_classes(_trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """Weighted median class with the span of the authorities; never averaged, never rescaled."""
    values = [(float(v.record.likely), v.weight) for v in votes if v.record.likely is not None]
    if not values:
        return None
    classes = [value for value, _ in values]
    return Outcome(
        low=min(classes),
        likely=weighted_median(values),
        high=max(classes),
        confidence=_agreement(votes, max(classes) - min(classes)),
        rule="weighted median class over authorities",
        weighed=shared_weight(votes, "a class"),
    )


def adopt_light_share(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """The lowest share of open light a plant lives on (0-1).

    A record of a share counts as it is; else each authority's class is read by the wording of its scale,
    and the interval spans the classes named. Scales are never turned into each other: each gives one
    middle, and the middles are weighed by the authorities behind them.
    """
    direct = tuple(vote for vote in votes if vote.record.trait == trait.id)
    if direct and any(vote.point is not None for vote in direct):
        return adopt_interval(trait, direct)
    fed = tuple(vote for vote in votes if vote not in direct)
    rows = [row for vote in fed if (row := _share_of(vote)) is not None]
    if not rows:
        return None
    middles = [
        (middle, sum(vote.weight for vote in scale))
        for name in (LIGHT, SHADE_STEPS, SHADE_WORDS)
        if (scale := [vote for vote in fed if vote.record.trait == name])
        and (middle := _middle(name, scale)) is not None
    ]
    steps = [float(v.record.likely) for v in fed if v.record.trait == LIGHT and v.record.likely is not None]
    only = len({vote.record.trait for vote in fed}) == 1
    return Outcome(
        low=min(row[0] for row in rows),
        likely=weighted_median(middles),
        high=max(row[2] for row in rows),
        confidence=_agreement(fed, max(steps) - min(steps)) if steps and only else _spread_of(middles),
        rule="read from the wording of the light or shade class",
        weighed=shared_weight(votes, "a class, read by the wording of its scale"),
    )


def adopt_light_bound(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """The most light that a plant bears (0-1): records of a share as they are, else the class of the shade.

    None for a class of half shade and above: such plants stand in the open too.
    """
    direct = tuple(vote for vote in votes if vote.record.trait == trait.id)
    if direct:
        return adopt_interval(trait, direct)
    steps = [(vote.point, vote.weight) for vote in votes if vote.point is not None]
    ends = SHADE_CLASSES.get(max(1, round(weighted_median(steps)))) if steps else None
    if ends is None:
        return None
    points = [point for point, _ in steps]
    return Outcome(
        low=ends[0],
        likely=ends[1],
        high=ends[2],
        confidence=_agreement(votes, max(points) - min(points)),
        rule="read from the wording of the light class",
        weighed=shared_weight(votes, "a class, read by the wording of its scale"),
    )


def _share_of(vote: Vote) -> tuple[float, float, float] | None:
    """The lowest share of open light (low, likely, high) that one class stands for."""
    record = vote.record
    if record.trait == SHADE_WORDS:
        found = [SHADE_3[concept] for concept in record.concepts]
        return (min(r[0] for r in found), found[0][1], max(r[2] for r in found)) if found else None
    if vote.point is None:
        return None
    if record.trait == SHADE_STEPS:
        below, above = (SHADE_1_TO_5[min(5, max(1, step))] for step in _steps_round(vote.point))
        return min(below[0], above[0]), _step_middle(vote.point), max(below[2], above[2])
    return LIGHT_CLASSES[min(9, max(1, round(vote.point)))]


def _middle(scale: str, votes: list[Vote]) -> float | None:
    """One middle for all authorities of a scale: of the median step, or the median of the words."""
    if scale == SHADE_WORDS:
        return weighted_median([(row[1], v.weight) for v in votes if (row := _share_of(v)) is not None])
    steps = [(vote.point, vote.weight) for vote in votes if vote.point is not None]
    if not steps:
        return None
    step = weighted_median(steps)
    return _step_middle(step) if scale == SHADE_STEPS else LIGHT_CLASSES[min(9, max(1, round(step)))][1]


def _steps_round(step: float) -> tuple[int, int]:
    """The steps on either side of a mean of authorities such as 2.8; a whole step twice."""
    return math.floor(step), math.ceil(step)


def _step_middle(step: float) -> float:
    """The middle between the two steps on either side, in proportion (shares lie on a log scale)."""
    below, above = (SHADE_1_TO_5[min(5, max(1, at))][1] for at in _steps_round(step))
    return float(below ** (1 - step % 1) * above ** (step % 1))


def _spread_of(middles: list[tuple[float, float]]) -> Confidence:
    """Scales whose middles lie within a factor 3: medium; further apart: contested; one scale: low."""
    if len(middles) < 2:
        return "low"
    shares = [middle for middle, _ in middles]
    return "medium" if max(shares) <= 3 * min(shares) else "contested"


def _agreement(votes: tuple[Vote, ...], apart: float) -> Confidence:
    """Two or more authorities within one class: medium; three or more classes apart: contested."""
    if apart >= 3:
        return "contested"
    return "medium" if len(by_study(votes)) > 1 and apart <= 1 else "low"
