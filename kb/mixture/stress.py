"""From losses to a word: the stress of a pair, its bands and its score."""

from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

from kb.mixture.limits import HOLDS_BACK
from kb.mixture.relatedness import ENEMY_WEIGHT
from kb.mixture.results import ORDER, Verdict
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


def held_in_turn(stress: FloatArray, holds: Iterable[Verdict]) -> FloatArray:
    """K' held down by one thing after the other, mildest first (`limits.holds_of`).

    The word is that of the hardest. What else stands against a pair shows through it, or plants that a site
    holds alike could not be told from those that it alone holds.
    """
    for ceiling in holds:
        stress = held_down(stress, ceiling)
    return stress


def one_in_turn(stress: float, holds: Iterable[Verdict]) -> float:
    """`held_in_turn` of one."""
    for ceiling in holds:
        stress = held(stress, ceiling)
    return stress


def counted(holds: Sequence[Iterable[Verdict]]) -> IntArray:
    """What holds each of many pairs, as counts of each word below good (n, 3), worst first."""
    words = [tuple(some) for some in holds]
    return np.array([[some.count(word) for word in ORDER[:-1]] for some in words], dtype=np.intp)


def counted_steps(steps: IntArray) -> IntArray:
    """The same of one thing for each, by its step of `ORDER`; good holds nothing."""
    return np.asarray(steps[:, None] == np.arange(len(ORDER) - 1), dtype=np.intp)


def held_by_counts(stress: FloatArray, counts: IntArray) -> FloatArray:
    """`held_in_turn` of many (n,) by what holds each of them (n, 3)."""
    for step in range(len(ORDER) - 2, -1, -1):
        for nth in range(int(counts[:, step].max(initial=0))):
            stress = np.where(counts[:, step] > nth, held_down(stress, ORDER[step]), stress)
    return stress


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
