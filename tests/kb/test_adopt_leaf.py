"""Leaf area from trials: the best day of a season is not what stands for weeks."""

from decimal import Decimal

import pytest

from tests.kb.adopting import a_record, a_trait, adopted


def test_the_greatest_leaf_area_of_a_season_counts_as_what_stands_through_full_leaf() -> None:
    """Potato, Australia 1970 (DSSAT AUCB7001): 4.48 on the best day; four fifths of it stand for weeks."""
    trait = a_trait("leaf-area-index", "leaf-area")
    peak = a_record(1, trait, likely=Decimal("4.48"), conditions=(("as", "greatest of the season"),))
    usual = a_record(
        2,
        trait,
        low=Decimal(3),
        high=Decimal("4.5"),
        number_kind="range",
        conditions=(("study", "another"),),
    )
    alone, both = adopted(trait, peak), adopted(trait, peak, usual)

    assert 3.584 == pytest.approx(alone.likely)
    assert "four fifths" in alone.weighed[0].counted_as
    assert 3.584 <= both.likely <= 13.5**0.5
    assert not [one for one in both.weighed if one.record == usual.id and "fifths" in one.counted_as]
