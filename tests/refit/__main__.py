"""Fit who is suppressed again and hold it against the committed row: ``python -m tests.refit FILE``.

FILE is a table of outcomes as ``traitbed outcomes`` reads it. Exit code 1 where a committed value lies
outside the refitted interval, or a refitted one outside the committed.
"""

import sys
from pathlib import Path

import numpy as np

from api.answers.outcomes import matches_of, trials_of
from kb.mixture.trials.outcome_report import facts_of
from kb.mixture.trials.outcomes import Outcome, Pair, log_ratios, ridge
from kb.mixture.trials.yieldloss import FITTED, SPREADS, Coefficient
from kb.repository import open_repository
from kb.trials.outcome_table import read_outcomes

SEED = 11
RESAMPLES = 1000
Marks = dict[Pair, tuple[float, float, float]]


def refit(outcomes: list[Outcome], marks: Marks) -> tuple[list[Coefficient], tuple[float, ...]]:
    """The row with 90 % bootstrap intervals by pair, and the spreads of its marks."""
    fit = ridge(outcomes, marks)
    by_pair = {pair: [o for o in outcomes if o.pair == pair] for pair in {o.pair for o in outcomes}}
    pairs = sorted(by_pair)
    rng = np.random.default_rng(SEED)
    again = []
    for _ in range(RESAMPLES):
        drawn = [o for i in rng.integers(len(pairs), size=len(pairs)) for o in by_pair[pairs[i]]]
        again.append(ridge(drawn, marks).weights)
    low, high = np.percentile(again, [5, 95], axis=0)
    found = [
        Coefficient(known.name, weight, float(low[i]), float(high[i]))
        for i, (known, weight) in enumerate(zip(FITTED, fit.weights, strict=True))
    ]
    return found, fit.spreads


def measured(file: Path) -> tuple[list[Outcome], Marks]:
    """The study-pairs for which all three marks are on record."""
    snapshot = open_repository().snapshot()
    rows = read_outcomes(file)
    trials = [trial for _, trial in trials_of(rows, matches_of(snapshot, rows))]
    facts = {
        pair: facts_of(*(snapshot.profile(snapshot.resolve(plant)) for plant in pair))
        for pair in {trial.pair for trial in trials}
    }
    marks = {pair: fact.marks for pair, fact in facts.items() if fact.why is None and fact.with_days}
    return [outcome for outcome in log_ratios(trials) if outcome.pair in marks], marks


def main(arguments: list[str]) -> int:
    """Print the refitted row beside the committed one."""
    if len(arguments) != 1:
        sys.stderr.write("usage: python -m tests.refit FILE\n")
        return 2
    outcomes, marks = measured(Path(arguments[0]))
    found, spreads = refit(outcomes, marks)
    pairs = len({outcome.pair for outcome in outcomes})
    sys.stdout.write(f"{len(outcomes)} study-pairs of {pairs} pairs with all three marks on record\n")
    sys.stdout.write(f"{'mark':24}{'refitted':>24}{'committed':>24}{'spread':>9}{'committed':>10}\n")
    apart = False
    for new, known, spread, held in zip(found, FITTED, spreads, SPREADS, strict=True):
        apart |= not (known.low <= new.value <= known.high and new.low <= known.value <= new.high)
        cells = [f"{c.value:.2f} ({c.low:.2f} to {c.high:.2f})" for c in (new, known)]
        sys.stdout.write(f"{new.name:24}{cells[0]:>24}{cells[1]:>24}{spread:9.3f}{held:10.3f}\n")
    sys.stdout.write("outside the intervals\n" if apart else "each within the other's interval\n")
    return int(apart)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
