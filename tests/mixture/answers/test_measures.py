"""Measures that describe a planting, against published worked values of their formulas."""

from math import log

import numpy as np
import pytest

from kb.mixture.answers.measures import effective_families, evenness
from tests.mixture.planted import answered
from tests.mixture.profiles import BULB, TALL_GRASS, TAPROOT, chosen, invented


def test_evenness_is_pielous() -> None:
    """J = H'/ln S (Pielou 1966): 1 where all are alike, 0 for one alone; .5/.25/.25/0 gives 1.0397/ln 4."""
    assert 1 == pytest.approx(evenness(np.full(4, 0.25)))
    assert 0 == evenness(np.array([1.0, 0.0, 0.0, 0.0]))
    assert 1.0397 / log(4) == pytest.approx(evenness(np.array([0.5, 0.25, 0.25, 0.0])), abs=1e-4)


def test_effective_families_are_inverse_simpson() -> None:
    """1/sum p2 (Simpson 1949): two families on halves count as two, on .9 and .1 as 1/.82."""
    one, other = invented("one", family=chosen("Oneaceae")), invented("two", family=chosen("Twoaceae"))

    assert 2 == pytest.approx(effective_families((one, other), np.array([0.5, 0.5])))
    assert 1 / 0.82 == pytest.approx(effective_families((one, other), np.array([0.9, 0.1])))


def test_quadratic_entropy_stays_under_its_bound() -> None:
    """Rao's Q (Rao 1982) is 0 for one kind and at most 1 - 1/n where no distance is above 1."""
    alone, three = answered((TAPROOT, 1.0)), answered((TAPROOT, 0.3), (BULB, 0.3), (TALL_GRASS, 0.3))

    assert (0, 0) == (alone.measures.diversity, alone.measures.diversity_most)
    assert 0 < three.measures.diversity < three.measures.diversity_most == pytest.approx(2 / 3)
