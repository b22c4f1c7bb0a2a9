"""What limits a value stands in the record's conditions, not in its note or its printed name alone."""

import re
from collections.abc import Mapping
from decimal import Decimal

import pytest

from kb.model import CITED, Plant, PlantId, Record, TraitId
from kb.repository import open_repository
from kb.snapshot import Snapshot

BELOW = re.compile(r"\b(?:subsp|ssp|var)\. ")
TOLD = frozenset({"part", "variety", "material", "use", "scope"})
"""Conditions that tell which plants below the species, or which crop, the words are of."""
DEPTHS = frozenset({"rooting-depth", "effective-rooting-depth", "root-depth-50"})


@pytest.fixture(scope="module")
def snapshot() -> Snapshot:
    return open_repository(None).snapshot()


@pytest.fixture(scope="module")
def plants(snapshot: Snapshot) -> Mapping[PlantId, Plant]:
    return snapshot.plants


def of_source(plants: Mapping[PlantId, Plant], source: str) -> list[Record]:
    return [r for plant in plants.values() for r in plant.records if r.source == source]


def test_a_printed_subspecies_is_told_in_a_condition(plants: Mapping[PlantId, Plant]) -> None:
    """Damson apart: its printed name is the subspecies that the plant itself is (V-Plants: "insititia")."""
    named = [
        r
        for plant in plants.values()
        for r in plant.records
        if plant.rank == "species" and plant.id != "prunus-insititia" and BELOW.search(r.name_as_printed)
    ]

    assert len(named) > 80
    assert [] == [r.id for r in named if not TOLD & {key for key, _ in r.conditions}]


def test_what_a_model_allows_is_no_depth_that_was_found(plants: Mapping[PlantId, Plant]) -> None:
    """WOFOST crop parameters, RDMCR in cm: cassava 100, pigeonpea 180, millet 220, mungbean 100."""
    limits = {r.plant: (r.trait, r.likely) for r in of_source(plants, "wofost-rdmcr")}
    depths = [r for plant in plants.values() for r in plant.records if r.trait in DEPTHS and r.basis in CITED]
    told = [
        r for r in depths if "model" in f"{r.note} {r.condition('detail')} {r.condition('model')}".lower()
    ]

    assert {
        "manihot-esculenta": ("model-rooting-limit", Decimal(1)),
        "cajanus-cajan": ("model-rooting-limit", Decimal("1.8")),
        "cenchrus-americanus": ("model-rooting-limit", Decimal("2.2")),
        "vigna-radiata": ("model-rooting-limit", Decimal(1)),
    } == limits
    assert [] == [r.id for r in told]


@pytest.mark.parametrize(
    ("plant", "trait", "record"),
    [
        ("achillea-millefolium", "rooting-depth", "achillea-millefolium.rooting-depth.groot"),
        ("brassica-rapa.rapa-group", "cycle-length", "brassica-rapa.rapa-group.cycle-length.mu-g6201"),
    ],
)
def test_a_neighbour_does_not_count_for_the_plant(
    snapshot: Snapshot, plant: str, trait: str, record: str
) -> None:
    """GRooT 3105 prints Achillea subalpina, of alpine scree; Missouri's table prints turnip greens."""
    value = snapshot.adopted(PlantId(plant))[TraitId(trait)]

    assert [0.0] == [w.weight for w in value.weighed if w.record == record]
    assert value.likely is not None


@pytest.mark.parametrize(
    ("record", "year"),
    [
        ("musa-acuminata.mature-height.fao56-t12.1", "first year"),
        ("musa-acuminata.mature-height.fao56-t12.2", "second year"),
        ("manihot-esculenta.effective-rooting-depth.fao56-t22.1", "first year"),
        ("manihot-esculenta.effective-rooting-depth.fao56-t22.2", "second year"),
    ],
)
def test_the_year_of_a_crop_is_a_condition(plants: Mapping[PlantId, Plant], record: str, year: str) -> None:
    """FAO-56 tables 12 and 22: "banana first year", "cassava year 2" and their like."""
    found = [r for plant in plants.values() for r in plant.records if r.id == record]

    assert [year] == [r.condition("age") for r in found]


def test_the_days_of_a_first_year_count_in_full(snapshot: Snapshot) -> None:
    """FAO-56 table 11, "cassava year 1": 20 + 40 days to full cover, no plant too young to count."""
    value = snapshot.adopted(PlantId("manihot-esculenta"))[TraitId("days-to-full-cover")]
    weights = {w.record: w.weight for w in value.weighed}

    assert value.likely is not None
    assert round(value.likely) == 82
    assert max(weights.values()) == weights["manihot-esculenta.days-to-full-cover.fao56-t11"]


def test_the_cover_of_an_orchard_is_a_condition(plants: Mapping[PlantId, Plant]) -> None:
    """FAO-56 table 12: citrus 4, 3 and 2 m high where 70, 50 and 20 % of the ground are covered."""
    heights = {
        (r.condition("stand"), r.likely)
        for r in plants[PlantId("citrus-sinensis")].records
        if r.source == "fao56-t12" and r.trait == "mature-height"
    }

    assert {
        ("70% of the ground covered", Decimal(4)),
        ("50% of the ground covered", Decimal(3)),
        ("20% of the ground covered", Decimal(2)),
    } == heights
