"""What is on record in each genus, for plants of it without a record of their own."""

import statistics
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from kb.adoption.agreement import CAUTIOUS_ORDER
from kb.known_values import Values
from kb.model import PlantId, TraitId


@dataclass(frozen=True, slots=True)
class GenusFacts:
    """What is on record in each genus, so that a plant without it can borrow, and say so.

    ``depths`` are effective rooting depths (m), ``spreads`` the classes of spread.
    """

    depths: Mapping[str, tuple[tuple[PlantId, float], ...]]
    spreads: Mapping[str, tuple[tuple[PlantId, str], ...]]

    @classmethod
    def of(cls, adopted: Mapping[PlantId, Values]) -> "GenusFacts":
        depths: dict[str, list[tuple[PlantId, float]]] = {}
        spreads: dict[str, list[tuple[PlantId, str]]] = {}
        for plant_id, values in adopted.items():
            depth = values.get(TraitId("effective-rooting-depth"))
            if depth is not None and depth.likely is not None and depth.inherited_from is None:
                depths.setdefault(genus_of(plant_id), []).append((plant_id, depth.likely))
            spread = values.get(TraitId("spread"))
            if spread is not None and spread.concepts and spread.inherited_from is None:
                spreads.setdefault(genus_of(plant_id), []).append((plant_id, spread.concepts[0]))
        return cls(
            {genus: tuple(found) for genus, found in depths.items()},
            {genus: tuple(found) for genus, found in spreads.items()},
        )

    def median_depth(self, plant_id: PlantId) -> float | None:
        """Median over the other plants of the genus; None where there is none."""
        others = [d for other, d in self.depths.get(genus_of(plant_id), ()) if other != plant_id]
        return statistics.median(others) if others else None

    def usual_spread(self, plant_id: PlantId) -> str | None:
        """The class that most other plants of the genus have, the worse of equals; None without any."""
        others = Counter(s for other, s in self.spreads.get(genus_of(plant_id), ()) if other != plant_id)
        order = CAUTIOUS_ORDER["spread"]
        return max(others, key=lambda spread: (others[spread], order.index(spread)), default=None)


def genus_of(plant_id: PlantId) -> str:
    return plant_id.partition("-")[0]
