"""Length of roots: studies of finer roots beside those of coarser ones."""

from decimal import Decimal

import pytest

from tests.kb.adopting import a_record, a_trait, adopted


def test_a_study_with_its_own_wheat_counts_in_proportion_to_it() -> None:
    """Yamaguchi and Tanaka 1990: potato 21 km/m2, wheat 86; wheat of England has 28 (20 to 32, and 31)."""
    trait = a_trait("root-length", "root-length")
    hokkaido = a_record(1, trait, likely=Decimal(21), conditions=(("wheat", "86"),))
    alone = adopted(trait, hokkaido)

    assert 28 * 21 / 86 == pytest.approx(alone.likely)
    assert "wheat of its study" in alone.weighed[0].counted_as
    assert 21 == adopted(trait, a_record(2, trait, likely=Decimal(21))).likely
