"""What is on record in each genus, for plants of it without a record of their own."""

import statistics
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from kb.adoption.agreement import CAUTIOUS_ORDER
from kb.mixture.bodies.manner import RUNNING_FORMS
from kb.mixture.bodies.pieces import RUNNING
from kb.model import PlantId, Record, TraitId
from kb.profiles.known_values import Values
from kb.profiles.trailing import GrownLow

LEAST_RUNNING = 2
"""So many others of the genus have to run before a plant is taken to (judgement)."""


@dataclass(frozen=True, slots=True)
class GenusFacts:
    """What is on record in each genus, so that a plant without it can borrow, and say so.

    ``depths`` are effective rooting depths and ``heights`` mature heights (m), ``spreads`` the classes of
    spread and ``organs`` the root forms that travel; all but depths with the growth form of their plant.
    ``grown_low`` are the vines that are grown along the ground.
    """

    depths: Mapping[str, tuple[tuple[PlantId, float], ...]]
    heights: Mapping[str, tuple[tuple[PlantId, str | None, float], ...]]
    spreads: Mapping[str, tuple[tuple[PlantId, str | None, str], ...]]
    organs: Mapping[str, tuple[tuple[PlantId, str | None, str], ...]]
    grown_low: GrownLow

    @classmethod
    def of(cls, adopted: Mapping[PlantId, Values], records: Mapping[str, Record]) -> "GenusFacts":
        depths: dict[str, list[tuple[PlantId, float]]] = {}
        heights: dict[str, list[tuple[PlantId, str | None, float]]] = {}
        spreads: dict[str, list[tuple[PlantId, str | None, str]]] = {}
        organs: dict[str, list[tuple[PlantId, str | None, str]]] = {}
        for plant_id, values in adopted.items():
            genus = genus_of(plant_id)
            depth = values.get(TraitId("effective-rooting-depth"))
            if depth is not None and depth.likely is not None and depth.inherited_from is None:
                depths.setdefault(genus, []).append((plant_id, depth.likely))
            form = _named(values, "growth-form", inherited=True)
            height = values.get(TraitId("mature-height"))
            if height is not None and height.likely is not None and height.inherited_from is None:
                heights.setdefault(genus, []).append((plant_id, form, height.likely))
            for trait, found in (("spread", spreads), ("root-form", organs)):
                value = _named(values, trait, inherited=False)
                if value is not None:
                    found.setdefault(genus, []).append((plant_id, form, value))
        return cls(
            {genus: tuple(found) for genus, found in depths.items()},
            {genus: tuple(found) for genus, found in heights.items()},
            {genus: tuple(found) for genus, found in spreads.items()},
            {
                genus: tuple(one for one in found if one[2] in RUNNING_FORMS)
                for genus, found in organs.items()
            },
            GrownLow.among(adopted, records),
        )

    def median_depth(self, plant_id: PlantId) -> float | None:
        """Median over the other plants of the genus; None where there is none."""
        others = [d for other, d in self.depths.get(genus_of(plant_id), ()) if other != plant_id]
        return statistics.median(others) if others else None

    def median_height(self, plant_id: PlantId, form: str | None) -> float | None:
        """Median over the other plants of its genus and growth form; None where there is none."""
        found = self.heights.get(genus_of(plant_id), ())
        others = [height for other, of_form, height in found if other != plant_id and of_form == form]
        return statistics.median(others) if others else None

    def usual_spread(self, plant_id: PlantId, form: str | None) -> str | None:
        """The class that most other plants of its genus and growth form have, the milder of equals.

        A class that runs needs two plants that have it: shrubs of one genus sucker or do not, and one alone
        tells too little (judgement; the like of a shrub is a shrub, not a creeping herb). None without any:
        an unknown says so, and is no knowledge either way.
        """
        others = Counter(
            spread
            for other, of_form, spread in self.spreads.get(genus_of(plant_id), ())
            if other != plant_id and of_form == form
        )
        order = CAUTIOUS_ORDER["spread"]
        usual = max(others, key=lambda spread: (others[spread], -order.index(spread)), default=None)
        return None if usual in RUNNING and others[usual] < LEAST_RUNNING else usual

    def usual_organ(self, plant_id: PlantId, form: str | None) -> str | None:
        """The root form by which most other plants of its genus and growth form travel; None without any."""
        found = (
            organ
            for other, of_form, organ in self.organs.get(genus_of(plant_id), ())
            if other != plant_id and of_form == form
        )
        return max(sorted(others := Counter(found)), key=others.__getitem__, default=None)


def _named(values: Values, trait: str, *, inherited: bool) -> str | None:
    value = values.get(TraitId(trait))
    if value is None or not value.concepts or (value.inherited_from is not None and not inherited):
        return None
    return value.concepts[0]


def genus_of(plant_id: PlantId) -> str:
    return plant_id.partition("-")[0]
