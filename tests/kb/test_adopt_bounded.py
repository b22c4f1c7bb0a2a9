"""Numbers with one end: they bound what is known otherwise and do not replace it.

Censored observations are the outside anchor: of a normal law cut at its own median the new median is the old
75 % point (any textbook of statistics). How climbers are described ("growing up to 9 m tall", an allergen
encyclopaedia on passion fruit) is read as the greatest heights of floras are.
"""

from dataclasses import replace
from decimal import Decimal
from math import exp, log
from statistics import NormalDist

import pytest

from kb.adopt import adopt, adopt_all
from kb.adoption.bounded import bounded
from kb.model import Adopted, PlantId, TraitId
from kb.vocabulary_store import load_vocabulary
from tests.kb.adopting import DEEPEST, PLANT, a_record, a_trait, adopted, depth

DEPTH = TraitId("rooting-depth")


def a_value(low: float | None, likely: float | None, high: float | None) -> Adopted:
    return Adopted(PLANT.id, DEPTH, low, likely, high, (), "medium", "invented")


def test_a_floor_at_the_median_leaves_the_upper_half() -> None:
    """What is left of a log-normal above its median has its own median at the 75 % point."""
    value = bounded(a_value(1.0, None, None), a_value(0.5, 1.0, 2.0), "log-normal-censored", None)

    spread = log(2.0) / NormalDist().inv_cdf(0.9)
    assert pytest.approx(exp(spread * NormalDist().inv_cdf(0.75))) == value.likely


@pytest.mark.parametrize("floor", [0.01, 0.3, 0.9, 1.5, 3.0])
def test_a_floor_lies_below_all_and_lowers_nothing(floor: float) -> None:
    """At least so deep never makes a root shallower, and no part of the interval lies above it."""
    above = a_value(0.5, 1.0, 2.0)
    value = bounded(a_value(floor, None, None), above, "log-normal-censored", None)

    assert value.low is not None
    assert value.likely is not None
    assert value.high is not None
    assert max(floor, 0.5 - 1e-9) <= value.low < value.likely < value.high
    assert value.likely >= 1.0 - 1e-9


def test_a_floor_far_below_changes_next_to_nothing() -> None:
    """A pot of 10 cm says nothing of a plant whose species roots to a metre (floors of `trade` section 0)."""
    value = bounded(a_value(0.1, None, None), a_value(0.5, 1.0, 2.0), "log-normal-censored", None)

    assert pytest.approx(1.0, abs=0.01) == value.likely


def test_a_limit_against_all_that_is_inherited_stands_alone() -> None:
    """Where the two contradict each other no interval is made up."""
    own = a_value(90.0, None, None)

    assert own == bounded(own, a_value(0.9, 1.0, 1.1), "log-normal-censored", None)


def test_a_start_alone_keeps_the_length_of_the_species() -> None:
    """A cultivar that opens three weeks earlier flowers as long (means of first days, `trade` 4.5)."""
    value = bounded(a_value(10.0, None, None), a_value(13.0, None, 19.0), "window-median", None)

    assert (10.0, pytest.approx(16.0)) == (value.low, value.high)


def test_one_end_of_a_range_is_the_plants_own_and_the_other_inherited() -> None:
    """What a shade trial prints is often the upper end alone."""
    value = bounded(a_value(None, None, 0.6), a_value(0.2, 0.5, 0.8), "tolerated-range", None)

    assert (0.2, 0.6) == (value.low, value.high)


def test_a_crop_with_a_floor_alone_is_as_deep_as_its_species_and_says_so() -> None:
    """The rule of `adopt_all`: inherited, its own limit among the records shown."""
    crop = replace(
        PLANT,
        parent=PlantId("inventa"),
        records=(a_record(1, a_trait(DEPTH, "log-normal-censored"), low=Decimal(1), number_kind="floor"),),
    )
    value = adopt_all(crop, {DEPTH: a_value(0.5, 1.0, 2.0)}, load_vocabulary())[DEPTH]

    assert "inventa" == value.inherited_from
    assert value.likely is not None
    assert value.likely > 1.0
    assert [crop.records[0].id] == [weighed.record for weighed in value.weighed]


def test_a_most_alone_bounds_the_reach_of_a_climber() -> None:
    """A climber of up to 9 m is no 1.8 m of some relative: below nine, and well above a man."""
    trait = a_trait("reach", "climbing-reach")
    value = adopt(PLANT, trait, (a_record(1, trait, high=Decimal(9), number_kind="maximum"),), ())

    assert value is not None
    assert value.likely is not None
    assert value.high is not None
    assert 4 < value.likely < value.high <= 9


def test_the_most_printed_bounds_the_reach_of_studies() -> None:
    """A study that climbs 8 m, and "to 8.5 m" in another: no doubt goes beyond."""
    trait = a_trait("reach", "climbing-reach")
    found = (
        a_record(1, trait, likely=Decimal(8)),
        a_record(2, trait, high=Decimal("8.5"), number_kind="maximum"),
    )
    value = adopt(PLANT, trait, found, ())

    assert value is not None
    assert (8.0, 8.5) == (value.likely, value.high)


def test_roots_of_frozen_ground_are_a_floor_where_others_were_dug() -> None:
    """Cowberry: 0.05 to 0.1 m in tundra (GRooT), 0.45 m in the Alps (RSIP); `data` 2 marks tundra rows."""
    cold = [
        a_record(n, likely=Decimal(d), conditions=(("study", d), ("method", "cores"), ("climate", "tundra")))
        for n, d in enumerate(("0.05", "0.1"))
    ]
    alone, beside = adopted(DEEPEST, *cold), adopted(DEEPEST, *cold, depth(3, "0.45", "alps"))

    assert alone.likely == pytest.approx((0.05 * 0.1) ** 0.5)
    assert beside.likely == pytest.approx(0.45, abs=0.01)
    assert "the ground below stays frozen" in beside.weighed[-1].counted_as
