"""Predictions of who is suppressed, held against measured outcomes of pairs.

The unit is a pair in a study: the mean over its designs of ln(partial LER a / partial LER b). How well
a prediction does is said by its sign accuracy (a tie counts half) and by Spearman's rho over both
orientations of every pair, since which plant is named first means nothing. Intervals are 90 %
bootstraps that draw whole studies, with a fixed seed (`computation-notes` 2, `data` 7).
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from kb.mixture.season import FloatArray

Pair = tuple[str, str]
"""Ids of two plants, in alphabetical order; a prediction above 0 favours the first."""

SEED = 7
RESAMPLES = 1000
LOW, HIGH = 5, 95
"""Percentiles of the bootstrap: a 90 % interval."""
LEAST_FOR_RHO = 5
"""Fewer study-pairs give no rank correlation worth printing (judgement)."""
CLIP = 1.5
PENALTY = 3.0
"""Ridge: the target is clipped to +-1.5, the penalty 3 times the mean weight (`computation-notes` 2)."""


@dataclass(frozen=True, slots=True)
class Trial:
    """One row of outcomes: a pair in one study and design.

    ``log_ratio`` is ln(partial LER of the first / of the second), ``ler`` their sum; None where not
    measured.
    """

    pair: Pair
    study: str
    design: str
    log_ratio: float | None
    ler: float | None


@dataclass(frozen=True, slots=True)
class Outcome:
    """A pair in a study: the mean over its rows."""

    pair: Pair
    study: str
    value: float


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure with its 90 % interval; all None where there is too little to reckon it from."""

    value: float | None
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Agreement:
    """How well one prediction agrees with what was measured."""

    n_pairs: int
    n_study_pairs: int
    sign: Figure
    rho: Figure


def log_ratios(trials: Iterable[Trial]) -> tuple[Outcome, ...]:
    """ln(partial LER a / partial LER b) of each pair in each study that measured it."""
    return _means((trial, trial.log_ratio) for trial in trials)


def lers(trials: Iterable[Trial]) -> tuple[Outcome, ...]:
    """LER of each pair in each study that measured it."""
    return _means((trial, trial.ler) for trial in trials)


def _means(rows: Iterable[tuple[Trial, float | None]]) -> tuple[Outcome, ...]:
    found: dict[tuple[Pair, str], list[float]] = {}
    for trial, value in rows:
        if value is not None:
            found.setdefault((trial.pair, trial.study), []).append(value)
    return tuple(Outcome(*key, float(np.mean(values))) for key, values in sorted(found.items()))


def agreement(outcomes: Sequence[Outcome], predicted: Mapping[Pair, float]) -> Agreement:
    """Sign accuracy and rho of one prediction; every outcome needs a predicted value."""
    measured = np.array([outcome.value for outcome in outcomes])
    said = np.array([predicted[outcome.pair] for outcome in outcomes])
    weights = _weights(tuple(outcome.study for outcome in outcomes))
    return Agreement(
        n_pairs=len({outcome.pair for outcome in outcomes}),
        n_study_pairs=len(outcomes),
        sign=_figure(sign_accuracies(measured, said, weights)),
        rho=_figure(spearmans(measured, said, weights)),
    )


def sign_accuracies(measured: FloatArray, said: FloatArray, weights: FloatArray) -> FloatArray:
    """Share of outcomes (n,) with the right sign, for every row of weights (m, n); a tie counts half."""
    if not measured.size:
        return np.zeros(0)
    hits = np.where((measured == 0) | (said == 0), 0.5, np.sign(measured) == np.sign(said))
    accuracies: FloatArray = weights @ hits / weights.sum(axis=1)
    return accuracies


def spearmans(measured: FloatArray, said: FloatArray, weights: FloatArray) -> FloatArray:
    """Rank correlation over both orientations, for every row of weights (m, n).

    An outcome of weight 2 counts as two alike. Empty for too few outcomes or one side all alike.
    """
    if measured.size < LEAST_FOR_RHO or not said.any() or not measured.any():
        return np.zeros(0)
    both = np.concatenate([weights, weights], axis=1)
    one, other = (_centred_ranks(np.concatenate([values, -values]), both) for values in (measured, said))
    spread = np.sqrt((both * one**2).sum(axis=1) * (both * other**2).sum(axis=1))
    rhos: FloatArray = (both * one * other).sum(axis=1)[spread > 0] / spread[spread > 0]
    return rhos


def _centred_ranks(values: FloatArray, weights: FloatArray) -> FloatArray:
    """Middle ranks less their mean, where each value (n,) stands as often as its weight (m, n) says."""
    _, group = np.unique(values, return_inverse=True)
    sizes = np.zeros((len(weights), int(group.max()) + 1))
    np.add.at(sizes.T, group, weights.T)
    middles = np.cumsum(sizes, axis=1) - sizes / 2
    ranks: FloatArray = (middles - weights.sum(axis=1, keepdims=True) / 2)[:, group]
    return ranks


@lru_cache(maxsize=8)
def _weights(studies: tuple[str, ...]) -> FloatArray:
    """How often each outcome counts: once, and then with whole studies drawn again (1 + m, n)."""
    names, index = np.unique(np.array(studies), return_inverse=True)
    once = np.ones((1, len(studies)))
    if len(names) < 2:
        return once
    rng = np.random.default_rng(SEED)
    drawn = rng.multinomial(len(names), np.full(len(names), 1 / len(names)), size=RESAMPLES)
    return np.concatenate([once, drawn[:, index]])


def _figure(values: FloatArray) -> Figure:
    """The first value with the interval of the others."""
    if not values.size:
        return Figure(None)
    if values.size == 1:
        return Figure(float(values[0]))
    low, high = np.percentile(values[1:], [LOW, HIGH])
    return Figure(float(values[0]), float(low), float(high))


@dataclass(frozen=True, slots=True)
class Ridge:
    """Weights of the differences between two plants, in the target's unit per unit of each feature."""

    weights: tuple[float, ...]
    spreads: tuple[float, ...]

    def of(self, features: Sequence[float]) -> float:
        return float(np.dot(self.weights, features))


def ridge(outcomes: Sequence[Outcome], features: Mapping[Pair, Sequence[float]]) -> Ridge:
    """Fit ln(partial LER a / partial LER b) on features (differences a - b), without an intercept.

    Weight of a study-pair 1/sqrt(study-pairs of its pair); features in units of their spread (root
    mean square, since which plant comes first means nothing).
    """
    counts = Counter(outcome.pair for outcome in outcomes)
    weight = np.array([counts[outcome.pair] ** -0.5 for outcome in outcomes])
    x = np.array([features[outcome.pair] for outcome in outcomes], dtype=np.float64)
    y = np.clip([outcome.value for outcome in outcomes], -CLIP, CLIP)
    spread = np.sqrt((x**2).mean(axis=0))
    spread = np.where(spread > 0, spread, 1.0)
    scaled = x / spread
    square = scaled.T @ (weight[:, None] * scaled) + PENALTY * weight.mean() * np.eye(x.shape[1])
    found = np.linalg.solve(square, scaled.T @ (weight * y)) / spread
    return Ridge(tuple(float(w) for w in found), tuple(float(s) for s in spread))


def left_out_predictions(
    outcomes: Sequence[Outcome], features: Mapping[Pair, Sequence[float]]
) -> dict[Pair, float]:
    """For each pair the prediction of a ridge fitted on all the others; 0 where there are none."""
    predicted = {}
    for pair in sorted({outcome.pair for outcome in outcomes}):
        others = [outcome for outcome in outcomes if outcome.pair != pair]
        predicted[pair] = ridge(others, features).of(features[pair]) if others else 0.0
    return predicted
