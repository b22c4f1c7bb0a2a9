"""K and K' in a compiled loop: plain numpy is the reference, to the last bit."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture import kernels
from kb.mixture.judging.easing import COMPILED, Easing
from kb.mixture.results import Verdict
from kb.mixture.sharing.felt import Felt, LightFelt, RootsFelt
from kb.mixture.stress import held, held_down


@given(st.integers(0, 10_000), st.integers(1, 90), st.integers(1, 4))
def test_both_ways_find_the_same_stress(seed: int, rows: int, plants: int) -> None:
    """Losses of any size, enemies and benefits: the same K and K' of every row and plant."""
    numbers = np.random.default_rng(seed)
    roots, light = numbers.random((rows, plants)), numbers.random((rows, plants)) ** 3
    of_each = np.zeros((rows, plants))
    felt = Felt(RootsFelt(roots, roots, roots, of_each[:, 0], of_each), LightFelt(light, of_each))
    pressure, carried, relief = numbers.random(plants), numbers.random(plants) - 0.2, numbers.random(rows)
    for array in (pressure, carried):
        array.setflags(write=False)
    easing = Easing(pressure, pressure, carried, (True,))
    with pytest.MonkeyPatch.context() as warmed:
        warmed.setattr(kernels, "_READY", {})
        plain = easing.without_gifts(felt, relief)
        kernels.warm(COMPILED)
        fast = easing.without_gifts(felt, relief)

    assert np.array_equal(plain[0], fast[0])
    assert np.array_equal(plain[1], fast[1])


@given(st.floats(0, 1), st.sampled_from(["good", "workable", "poor", "avoid"]))
def test_one_is_held_down_as_many_are(stress: float, ceiling: Verdict) -> None:
    """The same number for one K' as for an array of them."""
    assert float(held_down(np.array([stress]), ceiling)[0]) == held(stress, ceiling)
