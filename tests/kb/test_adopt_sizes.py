"""Sizes of woody plants: trees in the open come first, and what counts little does not decide."""

from dataclasses import replace
from decimal import Decimal

import pytest

from kb.adopt import adopt
from kb.model import PlantId, Record, TraitId
from kb.repository import open_repository
from tests.kb.adopting import PLANT, a_record, a_trait

HEIGHT = a_trait("mature-height", "mature-size")
FORM = a_trait("growth-form", "majority")

FLORAS = a_record(
    1, HEIGHT, likely=Decimal("20.33"), number_kind="mean", conditions=(("as", "fully grown in the wild"),)
)
"""Populus tremula, mean of floras (Lososova et al. 2023)."""
MIXED = a_record(2, HEIGHT, likely=Decimal("21.47"), number_kind="mean", conditions=(("age", "any"),))
"""The same, mean of BIFlora, which mixes saplings with trees."""
STREET = (("study", "street trees"),)
STREET_HEIGHT = a_record(3, HEIGHT, low=Decimal(10), high=Decimal(20), number_kind="range", conditions=STREET)
"""The same, GALK-Straßenbaumliste 2019: Höhe 10-20."""


def adopted_of(*records: Record, form: str = "tree") -> float:
    """Height adopted of a plant of this form with these records, in m."""
    formed = a_record(9, FORM, concepts=(form,), number_kind="class", conditions=())
    plant = replace(PLANT, records=(formed, *records))
    heights = [record for record in records if record.trait == HEIGHT.id]
    value = adopt(plant, HEIGHT, heights, ())
    assert value is not None
    assert value.likely is not None
    assert {record.id for record in heights} == {weighed.record for weighed in value.weighed}
    return value.likely


def shipped(plant: str, trait: str) -> float:
    value = open_repository(None).snapshot().adopted(PlantId(plant))[TraitId(trait)].likely
    assert value is not None
    return value


def test_a_mean_that_counts_little_does_not_decide_between_two_votes() -> None:
    """Aspen: 14.1 m (a list of street trees) and 20.3 m (floras) weigh alike; a mean with saplings less."""
    middle = (200**0.5 * 20.33) ** 0.5

    assert adopted_of(FLORAS, STREET_HEIGHT) == pytest.approx(middle)
    assert adopted_of(FLORAS, STREET_HEIGHT, MIXED) == pytest.approx(middle)


def test_of_two_votes_the_heavier_does_not_decide_alone() -> None:
    """Rosemary: .9-1.5 m (gardens in East Texas) and 2.58 m (floras); the largest is 2 m (BIFlora)."""
    garden = a_record(
        3, HEIGHT, low=Decimal("0.91"), high=Decimal("1.52"), number_kind="expert", conditions=STREET
    )
    floras = replace(FLORAS, likely=Decimal("2.58"))

    assert 1.6 < adopted_of(floras, garden, form="subshrub") < 2.0


def test_a_survey_of_trees_in_the_open_comes_first() -> None:
    """Cherry plum: 161 city trees reach 11.5 m (McPherson et al. 2016); by floras 5.55, by BIFlora 5.58 m."""
    survey = a_record(
        5, HEIGHT, likely=Decimal("11.5"), conditions=(("statistic", "p95"), ("stand", "open-grown"))
    )
    floras, mixed = replace(FLORAS, likely=Decimal("5.55")), replace(MIXED, likely=Decimal("5.58"))

    assert 11.5 == adopted_of(floras, mixed, survey, STREET_HEIGHT)


def test_a_tree_of_a_garden_is_a_tree_in_the_open() -> None:
    """Rowan 20-40 feet in Alaskan gardens (University of Alaska): a garden does not keep a tree low."""
    garden = a_record(
        6,
        HEIGHT,
        low=Decimal("6.096"),
        high=Decimal("12.192"),
        number_kind="range",
        conditions=(("study", "garden"), ("as", "grown in a garden")),
    )
    managed = replace(garden, conditions=(("study", "garden"), ("as", "managed crop")))

    assert adopted_of(garden, FLORAS) < 20
    assert 20.33 == adopted_of(managed, FLORAS)


def test_wild_cherry_is_as_high_and_wide_as_british_ones_grow() -> None:
    """151 mature wild cherries of British tree surveys (OpenBARD): 95th percentile 15.5 m, radius 6.2 m."""
    assert shipped("prunus-avium", "mature-height") == pytest.approx(15.5, rel=0.15)
    assert shipped("prunus-avium", "crown-width") == pytest.approx(2 * 6.2, rel=0.15)


def test_tea_is_as_high_as_it_is_plucked() -> None:
    """Tea: 1.5 and 2 m (FAO-56 table 12), 0.6-1.5 m in culture and 10-15 m wild (a monograph)."""
    assert 1.0 < shipped("camellia-sinensis", "mature-height") < 2.0


def test_no_tree_is_far_wider_or_slimmer_than_trees_are() -> None:
    """Crown over height of the tallest tenth of 25 species of city trees: .47-1.21 (McPherson et al. 2016).

    What is on record of one tree is not much beyond; palms, all stem and crown, are left out.
    """
    snapshot = open_repository(None).snapshot()
    beyond = {}
    for plant in snapshot.plants:
        adopted = snapshot.adopted(plant)
        sizes = [adopted.get(TraitId(trait)) for trait in ("mature-height", "crown-width")]
        form = adopted.get(TraitId("growth-form"))
        height, crown = (value.likely if value and value.inherited_from is None else None for value in sizes)
        if form is None or "tree" not in form.concepts or height is None or crown is None:
            continue
        if not 0.4 < crown / height < 1.3 and "Arecaceae" not in adopted[TraitId("family")].concepts:
            beyond[plant] = crown / height

    assert {} == beyond
