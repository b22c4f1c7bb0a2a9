"""The water of an orchard is that of its trees where nothing green is beneath them (FAO-56, table 12)."""

import pytest

from kb.model import PlantId, TraitId
from kb.repository import open_repository

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
