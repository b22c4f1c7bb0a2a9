"""How doubt is summed up: percentiles of a few draws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from kb.mixture.season import WEEKS, FloatArray
from kb.mixture.uncertainty import Later, percentile, percentiles, rolled

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


@given(arrays(float, WEEKS, elements=st.floats(0, 1)), st.lists(st.floats(-30, 30), min_size=1, max_size=9))
def test_rows_come_later_by_their_weeks_whatever_the_course(course: FloatArray, weeks: list[float]) -> None:
    """Straight between weeks and round the year, as ``numpy.interp`` has it with a period of 52."""
    later = Later.by(np.array(weeks))
    expected = [
        np.interp(np.arange(WEEKS) - by, np.arange(WEEKS), course, period=float(WEEKS)) for by in weeks
    ]

    assert later.of(course) == pytest.approx(np.array(expected), abs=1e-9)
    assert np.array_equal(later.of(course), rolled(course, np.array(weeks)))
