"""What roots take, compiled: plain numpy is the reference, and the pair says the same by both ways."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture import kernels
from kb.mixture.answers.pair import judge_pair
from kb.mixture.ground.root_draw import (
    COMPILED,
    Asking,
    taken_alone,
    taken_on_share,
    taken_together,
    wanted_alike,
)
from kb.mixture.season import FloatArray
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import BULB, TAPROOT

HALVES = Arrangement(share_a=0.5, share_b=0.5)

LAYERS, WEEKS = 5, 52


@pytest.fixture
def warmed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The compiled loops, for one test alone."""
    monkeypatch.setattr(kernels, "_READY", {})
    kernels.warm(COMPILED)


def asking(seed: int, rows: int, *, growing: bool) -> Asking:
    """A plant that asks nothing in some weeks and has no roots in some layers."""
    draw = np.random.default_rng(seed)
    course = draw.random((rows, WEEKS)) * (draw.random((rows, WEEKS)) > 0.3)
    roots = draw.random((rows, LAYERS, WEEKS if growing else 1))
    roots *= draw.random(roots.shape) > 0.2
    return Asking(course, roots)


def hungry(plant: Asking, seed: int) -> Asking:
    """The same of nitrate, which goes by roots; one of its rows asks nothing."""
    hunger = np.random.default_rng(seed + 9).random(len(plant.course))
    hunger[-1] = 0.0
    return Asking(plant.course * (hunger > 0)[:, None], plant.roots, hunger)


def supply_of(seed: int, scale: float) -> FloatArray:
    draw = np.random.default_rng(seed + 7)
    return scale * draw.random((LAYERS, WEEKS)) * (draw.random((LAYERS, WEEKS)) > 0.1)


@settings(max_examples=60, deadline=None)
@given(
    st.integers(0, 10_000),
    st.booleans(),
    st.booleans(),
    st.floats(0.01, 1),
    st.sampled_from([0, 1e-3, 1, 50]),
)
def test_both_ways_take_the_same(
    seed: int, first_grows: bool, second_grows: bool, share: float, scale: float
) -> None:
    """Rows in any order, weeks without demand, layers without roots or supply, shares beyond the ground."""
    plants = asking(seed, 4, growing=first_grows), asking(seed + 1, 3, growing=second_grows)
    rows = np.array([0, 3, 1, 3, 2]), np.array([2, 0, 0, 1, 2])
    supply = supply_of(seed, scale)

    def found() -> list[FloatArray]:
        return [
            taken_together(plants, rows, (share, 0.8), supply),
            taken_together([hungry(plant, seed) for plant in plants], rows, (share, 0.8), supply),
            taken_alone(plants[0], supply),
            taken_on_share(plants[1], rows[1], share, supply),
            np.array(wanted_alike(plants, (share, 0.8), supply[0])),
        ]

    kernels._READY.pop(COMPILED, None)
    plain = found()
    kernels.warm(COMPILED)
    try:
        compiled = found()
    finally:
        kernels._READY.pop(COMPILED, None)

    for one, other in zip(plain, compiled, strict=True):
        assert one == pytest.approx(other, rel=1e-12, abs=1e-14)
        assert np.isfinite(other).all()


@pytest.mark.usefixtures("warmed")
def test_a_pair_is_the_same_with_the_compiled_loops(monkeypatch: pytest.MonkeyPatch) -> None:
    """Verdict, conditions and words, and losses and score to the last shown digit."""
    fast = judge_pair(TAPROOT, BULB, REFERENCE_SITE, HALVES)
    monkeypatch.setattr(kernels, "_READY", {})
    plain = judge_pair(TAPROOT, BULB, REFERENCE_SITE, HALVES)

    for name in ("verdict", "conditions", "reasons", "benefits", "limiting", "sureness", "notes"):
        assert getattr(plain, name) == getattr(fast, name)
    assert plain.score.likely == pytest.approx(fast.score.likely, abs=1e-9)
    assert [loss.roots for loss in plain.loss.values()] == pytest.approx(
        [loss.roots for loss in fast.loss.values()], abs=1e-12
    )


@pytest.mark.usefixtures("warmed")
def test_three_plants_go_the_plain_way() -> None:
    """Only two have a loop of their own; the sum over three holds all the same."""
    plants = [asking(seed, 2, growing=False) for seed in (1, 2, 3)]
    rows = [np.arange(2)] * 3
    supply = supply_of(1, 0.05)

    taken = taken_together(plants, rows, (0.3, 0.3, 0.4), supply)

    assert taken.shape == (2, 3)
    assert (taken.sum(axis=1) <= supply.sum() * (1 + 1e-12)).all()


def test_nothing_is_compiled_where_nobody_warmed_it() -> None:
    """A single question on the command line never waits for a compiler."""
    assert kernels.ready("no-such-loop") is None
