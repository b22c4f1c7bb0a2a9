"""How doubt is summed up: percentiles of a few draws."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture.uncertainty import percentile, percentiles

DRAWS = st.lists(st.floats(0, 100), min_size=1, max_size=90)


@given(DRAWS, st.sampled_from([0.0, 10.0, 25.0, 50.0, 90.0, 100.0]))
def test_percentiles_are_those_of_numpy(draws: list[float], share: float) -> None:
    """The same number to the last bit as the library's (``numpy.percentile``, linear)."""
    values = np.array(draws)

    assert float(np.percentile(values, share)) == percentile(values, share)


@given(st.integers(0, 10_000), st.integers(1, 120))
def test_percentiles_of_columns_are_those_of_numpy(seed: int, count: int) -> None:
    """Column by column the same numbers to the last bit as ``numpy.percentile`` gives."""
    rows = np.random.default_rng(seed).random((count, 7))

    assert np.array_equal(np.percentile(rows, [20.0, 80.0], axis=0), percentiles(rows, 20.0, 80.0))
