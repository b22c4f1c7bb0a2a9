"""Classes on indicator scales, and the light a plant lives on as their wording says it."""

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

    A record of a share counts as it is; else each authority's class is read by its wording, and the
    interval spans the classes named.
    """
    direct = tuple(vote for vote in votes if vote.record.trait == trait.id)
    if direct and any(vote.point is not None for vote in direct):
        return adopt_interval(trait, direct)
    classes = [(float(v.record.likely), v.weight) for v in votes if v.record.likely is not None]
    if not classes:
        return None
    rows = [LIGHT_CLASSES[min(9, max(1, round(value)))] for value, _ in classes]
    middle = LIGHT_CLASSES[min(9, max(1, round(weighted_median(classes))))]
    return Outcome(
        low=min(row[0] for row in rows),
        likely=middle[1],
        high=max(row[2] for row in rows),
        confidence=_agreement(votes, max(c for c, _ in classes) - min(c for c, _ in classes)),
        rule="read from the wording of the light class",
        weighed=shared_weight(votes, "a light class, read by its wording"),
    )


def _agreement(votes: tuple[Vote, ...], apart: float) -> Confidence:
    """Two or more authorities within one class: medium; three or more classes apart: contested."""
    if apart >= 3:
        return "contested"
    return "medium" if len(by_study(votes)) > 1 and apart <= 1 else "low"
