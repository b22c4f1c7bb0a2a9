"""One set of studies, and what every way of predicting makes of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.stats import spearmanr

from kb.mixture.profile import Profile
from kb.mixture.trials.concordance import Concordance, concordance
from kb.mixture.trials.outcomes import (
    LEAST_FOR_RHO,
    Agreement,
    Outcome,
    Pair,
    Trial,
    agreement,
    left_out_predictions,
    lers,
    log_ratios,
    sign_accuracies,
)
from kb.mixture.trials.yieldloss import (
    NOISE,
    SPREADS,
    advantage,
    by_three_marks,
    crop_height,
    fitted,
    marks,
    not_said,
)

TALLER, DEEPER = "taller wins", "deeper wins"
RIDGE = "ridge on height, depth and legume, leaving one pair out"
ALL_MARKS = "ridge on height, depth, legume and days, leaving one pair out"
THREE_MARKS = "the same without root depth, no fitting"
TWO_MARKS = "height and legume alone, no fitting"
FITTED_ROW = "fitted row"
REFITTED = "fitted row, refitted leaving one pair out"
DEPTH_RANKING = "larger difference in root depth"
DESIGNS = ("additive", "replacement", "other")


@dataclass(frozen=True, slots=True)
class PairFacts:
    """What two plants (in the order of their ids) are predicted from; None where it cannot be said.

    ``advantage`` is the service's own, ``three_marks`` the same without root depth; ``features`` are
    differences of ln height, ln root depth and legume; ``marks`` those of the fitted row. ``rankings`` hold
    what may rank pairs inside a study.
    """

    advantage: float | None
    three_marks: float
    fitted: float
    features: tuple[float, float, float]
    marks: tuple[float, float, float]
    with_days: bool
    rankings: Mapping[str, float]
    why: str | None


def facts_of(a: Profile, b: Profile) -> PairFacts:
    """Of two plants; ``a`` comes first in the order of ids."""
    rankings = _rankings(a, b)
    why = not_said(a) or not_said(b)
    if why is not None:
        return PairFacts(None, 0.0, 0.0, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), False, rankings, why)
    height, legume, days = marks(a, b)
    depth = float(np.log(a.root_d95_m.likely / b.root_d95_m.likely))
    return PairFacts(
        advantage=advantage(a, b),
        three_marks=by_three_marks(a, b),
        fitted=fitted(a, b),
        features=(height, depth, legume),
        marks=(height, legume, days),
        with_days=a.cover_days is not None and b.cover_days is not None,
        rankings=rankings,
        why=None,
    )


def _rankings(a: Profile, b: Profile) -> dict[str, float]:
    found = {}
    if a.root_d95_m.known and b.root_d95_m.known:
        found[DEPTH_RANKING] = abs(a.root_d95_m.likely - b.root_d95_m.likely)
    heights = [crop_height(profile) for profile in (a, b)]
    if heights[0] is not None and heights[1] is not None:
        found["larger difference in height"] = abs(heights[0].likely - heights[1].likely)
    if a.nitrogen_fixing.known and b.nitrogen_fixing.known:
        found["one fixes nitrogen, one does not"] = float(a.nitrogen_fixing.value != b.nitrogen_fixing.value)
    return found


@dataclass(frozen=True, slots=True)
class Named:
    """Where the service names a loser: how often it was right, by study-pairs."""

    n: int
    right: float | None


@dataclass(frozen=True, slots=True)
class SetReport:
    """One set of studies: the service's prediction, its parts, and the baselines on the same pairs."""

    main: Agreement
    named: Named
    by_design: Mapping[str, Agreement]
    by_marks: Mapping[str, Agreement]
    by_size: Sequence[float | None]
    baselines: Mapping[str, Agreement]
    concordances: Mapping[str, Concordance]


def report_on(
    trials: Sequence[Trial], facts: Mapping[Pair, PairFacts], fitted_on: Sequence[Trial] | None = None
) -> SetReport:
    """Everything measured on these trials. Ridges are fitted on ``fitted_on`` where it is given."""
    said = {pair: fact.advantage for pair, fact in facts.items() if fact.advantage is not None}
    outcomes = _of(log_ratios(trials), said)
    training = _of(log_ratios(fitted_on if fitted_on is not None else trials), said)
    baselines = {
        TALLER: {pair: facts[pair].features[0] for pair in said},
        DEEPER: {pair: facts[pair].features[1] for pair in said},
        RIDGE: left_out_predictions(training, {pair: facts[pair].features for pair in said}),
        ALL_MARKS: left_out_predictions(
            training, {pair: (*facts[pair].features, facts[pair].marks[2]) for pair in said}
        ),
        THREE_MARKS: {pair: facts[pair].three_marks for pair in said},
        TWO_MARKS: {pair: _without_days(facts[pair]) for pair in said},
        FITTED_ROW: {pair: facts[pair].fitted for pair in said},
        REFITTED: left_out_predictions(training, {pair: facts[pair].marks for pair in said}),
    }
    return SetReport(
        main=agreement(outcomes, said),
        named=_named(outcomes, said),
        by_design={design: agreement(_of(log_ratios(held), said), said) for design, held in _designs(trials)},
        by_marks={
            name: agreement([o for o in outcomes if facts[o.pair].with_days is known], said)
            for name, known in (("all marks", True), ("marks without days", False))
        },
        by_size=_by_size(outcomes, said),
        baselines={name: agreement(outcomes, predicted) for name, predicted in baselines.items()},
        concordances=_concordances(trials, facts),
    )


def _without_days(fact: PairFacts) -> float:
    """The service's sum without days to full cover, as where they are not on record."""
    height, legume, _ = fact.marks
    return height / SPREADS[0] - legume / SPREADS[1]


def _of(outcomes: Sequence[Outcome], said: Mapping[Pair, float]) -> list[Outcome]:
    return [outcome for outcome in outcomes if outcome.pair in said]


def _designs(trials: Sequence[Trial]) -> list[tuple[str, list[Trial]]]:
    return [(design, [trial for trial in trials if trial.design == design]) for design in DESIGNS]


def _named(outcomes: Sequence[Outcome], said: Mapping[Pair, float]) -> Named:
    clear = [outcome for outcome in outcomes if abs(said[outcome.pair]) >= NOISE]
    return Named(len(clear), _accuracy(clear, said))


def _by_size(outcomes: Sequence[Outcome], said: Mapping[Pair, float]) -> list[float | None]:
    """Sign accuracy by thirds of the size of the prediction, smallest first."""
    ordered = sorted(outcomes, key=lambda outcome: abs(said[outcome.pair]))
    thirds = np.array_split(np.arange(len(ordered)), 3)
    return [_accuracy([ordered[i] for i in third], said) for third in thirds]


def _accuracy(outcomes: Sequence[Outcome], said: Mapping[Pair, float]) -> float | None:
    measured = np.array([outcome.value for outcome in outcomes])
    predicted = np.array([said[outcome.pair] for outcome in outcomes])
    found = sign_accuracies(measured, predicted, np.ones((1, len(outcomes))))
    return float(found[0]) if found.size else None


def _concordances(trials: Sequence[Trial], facts: Mapping[Pair, PairFacts]) -> dict[str, Concordance]:
    names = dict.fromkeys(name for fact in facts.values() for name in fact.rankings)
    names = dict.fromkeys((DEPTH_RANKING, *names))
    outcomes = lers(trials)
    return {
        name: concordance(
            outcomes, {p: fact.rankings[name] for p, fact in facts.items() if name in fact.rankings}
        )
        for name in names
    }


@dataclass(frozen=True, slots=True)
class Nulls:
    """What such data do not show, printed so that nobody looks for it here.

    ``ler_between_studies`` and ``ratio_between_studies``: correlation of the same pair in two
    studies (LER; ln of the partial LERs' ratio, the ceiling for any prediction of who is suppressed);
    ``ler_above_one``: share of study-pairs; ``rho_with_ler``: each ranking against LER over all
    study-pairs, whatever their study.
    """

    ler_between_studies: float | None
    ratio_between_studies: float | None
    ler_above_one: float | None
    rho_with_ler: Mapping[str, float | None]


def nulls_of(trials: Sequence[Trial], facts: Mapping[Pair, PairFacts]) -> Nulls:
    """Over all matched trials, judged or not."""
    measured = lers(trials)
    names = dict.fromkeys(name for fact in facts.values() for name in fact.rankings)
    rho = {}
    for name in names:
        held = [o for o in measured if name in facts[o.pair].rankings]
        rho[name] = _plain_rho([(o.value, facts[o.pair].rankings[name]) for o in held])
    return Nulls(
        ler_between_studies=_between_studies(measured),
        ratio_between_studies=_between_studies(log_ratios(trials), both_ways=True),
        ler_above_one=float(np.mean([o.value > 1 for o in measured])) if measured else None,
        rho_with_ler=rho,
    )


def _between_studies(outcomes: Sequence[Outcome], *, both_ways: bool = False) -> float | None:
    """Correlation over all couples of studies of the same pair; the order of studies means nothing.

    With ``both_ways`` neither does the order of the plants, which turns the sign of both values.
    """
    couples = [
        (sign * one.value, sign * other.value)
        for sign in ((1, -1) if both_ways else (1,))
        for one in outcomes
        for other in outcomes
        if one.pair == other.pair and one.study != other.study
    ]
    values = np.array(couples)
    if len(couples) < LEAST_FOR_RHO or not np.ptp(values, axis=0).all():
        return None
    return float(np.corrcoef(values.T)[0, 1])


def _plain_rho(points: Sequence[tuple[float, float]]) -> float | None:
    """Spearman's rho of (x, y) points; None for too few or all alike."""
    values = np.array(points)
    if len(points) < LEAST_FOR_RHO or not np.ptp(values, axis=0).all():
        return None
    return float(spearmanr(values[:, 0], values[:, 1]).statistic)
