"""The water of an orchard is that of its trees where nothing green is beneath them (FAO-56, table 12)."""

from decimal import Decimal

import pytest

from kb.model import PlantId, TraitId
from kb.repository import open_repository
from tests.kb.adopting import a_record, a_trait, adopted

WATER = TraitId("water-use")


@pytest.mark.parametrize(
    ("plant", "bare"),
    [("malus-domestica", 0.95), ("pyrus-communis", 0.95), ("prunus-persica", 0.90)],
)
def test_cover_beneath_is_not_counted_as_the_trees_own_use(plant: str, bare: float) -> None:
    """Table 12: 0.95 and 0.90 with "no ground cover", 1.20 and 1.15 of both together with an active one."""
    snapshot = open_repository(None).snapshot()
    adopted = snapshot.adopted(PlantId(plant))[WATER]
    covered = {
        record.id
        for record in snapshot.plants[PlantId(plant)].records
        if record.trait == WATER and record.condition("beneath") == "ground cover"
    }

    assert adopted.likely == pytest.approx(bare)
    assert len(covered) == 2
    assert {one.record for one in adopted.weighed if not one.weight} >= covered


@pytest.mark.parametrize(
    ("changes", "likely"),
    [({}, 0.95), ({"standing": "rejected"}, 1.2), ({"basis": "recalled"}, 1.2)],
    ids=["cited", "rejected", "from memory"],
)
def test_only_a_figure_that_counts_stands_for_the_trees_alone(
    changes: dict[str, object], likely: float
) -> None:
    """One that was rejected, or is from memory, does not push out what is printed of trees and cover."""
    water = a_trait("water-use", "weighted-interval")
    covered = a_record(1, water, likely=Decimal("1.2"), conditions=(("beneath", "ground cover"),))
    bare = a_record(2, water, likely=Decimal("0.95"), **changes)

    found = adopted(water, covered, bare)

    assert found.likely == pytest.approx(likely)
