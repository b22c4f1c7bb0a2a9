"""From losses to a word: the stress of a pair, its bands and its score."""

import numpy as np
import numpy.typing as npt

from kb.mixture.limits import HOLDS_BACK
from kb.mixture.relatedness import ENEMY_WEIGHT
from kb.mixture.results import Verdict
from kb.mixture.season import FloatArray

IntArray = npt.NDArray[np.intp]

BANDS: tuple[tuple[float, Verdict], ...] = ((0.2, "good"), (0.4, "workable"), (0.6, "poor"))
"""K' below which each verdict holds, fixed beforehand (`computation-notes` 3); else avoid."""
FLOORS: dict[Verdict, float] = {"good": 0.0, "workable": BANDS[0][0], "poor": BANDS[1][0]}
"""Least K' under each ceiling but that of what is to avoid."""
_EDGES = np.array([below for below, _ in BANDS])
BENEFIT_WEIGHT = 0.35
ORDER_KEPT = 0.05
"""How much of K' shows through a ceiling, so that those held by one keep their order."""


def near_limit(roots: FloatArray, light: FloatArray, enemies: float | FloatArray) -> FloatArray:
    """K: the fourth power lets the worst factor rule, yet moves a little with the others (0-1)."""
    total = _fourth(roots) + _fourth(light) + _fourth(np.asarray(ENEMY_WEIGHT * enemies))
    felt: FloatArray = np.minimum(1.0, np.sqrt(np.sqrt(total)))
    return felt


def _fourth(part: FloatArray) -> FloatArray:
    """The fourth power, as the square of a square: sooner than ``**``, and every draw goes through it."""
    square = part * part
    return square * square


def with_benefits(worst: FloatArray, benefits: FloatArray) -> FloatArray:
    """K': the worse of the two, eased by what they bring each other (at most 35 %)."""
    eased: FloatArray = worst * (1 - BENEFIT_WEIGHT * np.minimum(np.maximum(benefits, 0.0), 1.0))
    return eased


def held_down(stress: FloatArray, ceiling: Verdict) -> FloatArray:
    """K' moved into the band of a ceiling, so that score and word never disagree; order is kept."""
    if ceiling == "avoid":
        return BANDS[-1][0] + (1 - BANDS[-1][0]) * stress
    held: FloatArray = np.maximum(stress, FLOORS[ceiling] + ORDER_KEPT * stress)
    return held


def held(stress: float, ceiling: Verdict) -> float:
    """`held_down` of one."""
    if ceiling == "avoid":
        return BANDS[-1][0] + (1 - BANDS[-1][0]) * stress
    return max(stress, FLOORS[ceiling] + ORDER_KEPT * stress)


def verdict_of(stress: float) -> Verdict:
    """The word for a K'."""
    for below, word in BANDS:
        if stress < below:
            return word
    return "avoid"


def verdict_steps(stress: FloatArray) -> IntArray:
    """Verdicts of many K' as steps of `ORDER`, worst 0."""
    steps: IntArray = HOLDS_BACK["good"] - np.searchsorted(_EDGES, stress, side="right")
    return steps


def score_of(stress: FloatArray) -> FloatArray:
    """100 (1 - K')."""
    score: FloatArray = 100 * (1 - stress)
    return score
