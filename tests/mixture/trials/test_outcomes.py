"""Predictions beside measured outcomes. The reference for ranks is scipy; all trials here are invented."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import spearmanr

from kb.mixture.trials.concordance import concordance
from kb.mixture.trials.outcome_report import DEEPER, DESIGNS, TALLER, facts_of, nulls_of, report_on
from kb.mixture.trials.outcomes import (
    Outcome,
    Pair,
    Trial,
    agreement,
    left_out_predictions,
    lers,
    log_ratios,
    ridge,
    sign_accuracies,
    spearmans,
)
from tests.mixture.profiles import about, chosen, invented

NUMBERS = st.lists(
    st.tuples(st.integers(-4, 4), st.integers(-4, 4), st.integers(1, 3)), min_size=5, max_size=20
)


def outcomes_of(*values: float, studies: str = "") -> list[Outcome]:
    """Invented outcomes, each of a pair of its own; a letter names the study of each."""
    named = studies or "abcdefghijkl"
    return [Outcome((f"p{i}", "q"), named[i], value) for i, value in enumerate(values)]


@given(NUMBERS)
def test_rho_is_that_of_scipy_with_every_outcome_as_often_as_its_weight(
    rows: list[tuple[int, int, int]],
) -> None:
    """Weighted ranks equal scipy.stats.spearmanr over repeated values in both orientations."""
    measured, said, weight = np.array(rows, dtype=float).T
    found = spearmans(measured, said, weight[None, :])
    if not measured.any() or not said.any():
        assert not found.size
        return
    x, y = (np.repeat(values, weight.astype(int)) for values in (measured, said))
    expected = spearmanr(np.r_[x, -x], np.r_[y, -y]).statistic

    assert expected == pytest.approx(found[0], abs=1e-9)


def test_a_tie_counts_half() -> None:
    """Right, wrong, and nothing said."""
    found = sign_accuracies(np.array([1.0, -1.0, 2.0]), np.array([3.0, 1.0, 0.0]), np.ones((1, 3)))

    assert [0.5] == list(found)


def test_a_pair_named_the_other_way_round_changes_nothing() -> None:
    """Turning both signs of an outcome leaves sign accuracy and rho as they were."""
    said = {("p0", "q"): 1.0, ("p1", "q"): -0.5, ("p2", "q"): 2.0, ("p3", "q"): 0.1, ("p4", "q"): -1.0}
    values = (0.5, 0.3, 1.0, -0.2, -0.9)
    turned = {pair: -x if pair[0] == "p1" else x for pair, x in said.items()}

    assert agreement(outcomes_of(*values), said) == agreement(
        outcomes_of(*(-v if i == 1 else v for i, v in enumerate(values))), turned
    )


def test_a_study_and_pair_has_one_vote() -> None:
    """Designs of a pair in one study are averaged; a row without a ratio has none."""
    trials = [
        Trial(("p", "q"), "s", "additive", 1.0, 1.2),
        Trial(("p", "q"), "s", "replacement", 0.0, 1.0),
        Trial(("p", "q"), "t", "other", None, 1.4),
    ]

    assert (Outcome(("p", "q"), "s", 0.5),) == log_ratios(trials)
    assert [1.1, 1.4] == pytest.approx([outcome.value for outcome in lers(trials)])


def test_the_interval_draws_studies_not_rows() -> None:
    """All outcomes of one study leave no interval; two studies that disagree span everything."""
    said = {outcome.pair: 1.0 for outcome in outcomes_of(1, 1, 1)}
    alone = agreement(outcomes_of(1.0, 1.0, -1.0, studies="aaa"), said).sign
    divided = agreement(outcomes_of(1.0, 1.0, -1.0, studies="aab"), said).sign

    assert (2 / 3, None) == (pytest.approx(alone.value), alone.low)
    assert (0.0, 1.0) == (divided.low, divided.high)


def test_the_ridge_is_that_of_the_normal_equations() -> None:
    """One pair a study and one feature: the closed form of a ridge with penalty 3 by hand."""
    features = {("p0", "q"): (1.0,), ("p1", "q"): (-1.0,), ("p2", "q"): (1.0,)}
    fit = ridge(outcomes_of(0.6, -0.6, 0.6), features)

    # Spread 1, three weights of 1: sum(xy) / (sum(x2) + 3) = 1.8 / 6.
    assert (pytest.approx(0.3),) == fit.weights


def test_a_pair_left_out_does_not_speak_for_itself() -> None:
    """However extreme a pair's own outcome, its prediction stays that of the others."""
    features = {("p0", "q"): (1.0,), ("p1", "q"): (2.0,)}
    one, other = (left_out_predictions(outcomes_of(y, 0.5), features)["p0", "q"] for y in (1.0, -1.0))

    assert one == other != 0


def test_concordance_compares_only_inside_a_study() -> None:
    """Two studies, each ranked rightly, though the worse one's best is below the better one's worst."""
    ranking: dict[Pair, float] = {(f"p{i}", "q"): rank for i, rank in enumerate((3.0, 2.0, 9.0, 8.0, 1.0))}
    held = outcomes_of(1.9, 1.8, 1.1, 1.0, 1.5, studies="aabbc")
    found = concordance(held, ranking)

    assert (1.0, 2, 2) == (found.value, found.n, found.n_studies)
    # Each study is right by chance in half the shuffles: 1/4 of them do as well.
    assert found.p == pytest.approx(0.25, abs=0.04)


def test_nothing_to_compare_says_so() -> None:
    """Ties and single pairs leave no couples: no value, no p."""
    found = concordance(outcomes_of(1.0, 1.2, studies="ab"), {("p0", "q"): 1.0, ("p1", "q"): 2.0})

    assert (None, 0, None) == (found.value, found.n, found.p)


TALL = invented("tall", height_m=about(2.0), root_d95_m=about(0.4), cover_days=about(80))
LEGUME = invented("legume", family=chosen("Fabaceae"), root_d95_m=about(1.0), cover_days=about(40))


def test_the_report_sets_every_prediction_on_the_same_pairs() -> None:
    """Designs are told apart; the taller is right where the deeper is wrong."""
    pair = ("legume", "tall")
    facts = {pair: facts_of(LEGUME, TALL)}
    trials = [Trial(pair, f"s{i}", DESIGNS[i % 2], -0.5, 1.2) for i in range(6)]
    report = report_on(trials, facts)

    assert 1.0 == report.main.sign.value == report.baselines[TALLER].sign.value
    assert 0.0 == report.baselines[DEEPER].sign.value
    assert {"additive": 3, "replacement": 3, "other": 0} == {
        design: found.n_study_pairs for design, found in report.by_design.items()
    }
    assert {6} == {found.n_study_pairs for found in report.baselines.values()}
    assert (6, 1.0) == (report.named.n, report.named.right)
    assert 1.0 == nulls_of(trials, facts).ler_above_one


def test_no_trials_give_no_figures() -> None:
    """An empty set has counts of 0 and no values, never NaN."""
    report = report_on([], {})

    assert (0, None) == (report.main.n_study_pairs, report.main.sign.value)
    assert all(found.value is None for found in report.concordances.values())
