"""Vines that are grown along the ground: how high such a crop stands, on record or as its kin are grown.

A flora gives the length of such a vine. A crop table that gives a small part of it as the height of the
managed crop says that it trails.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from kb.mixture.limits import records_of
from kb.mixture.profile import Estimate
from kb.model import PlantId, Record, TraitId
from kb.profiles.known_values import KnownValues, Values

TRAILS_BELOW = 0.35
"""A vine recorded as a crop lower than this share of its length is grown along the ground."""
BLADES_ABOVE = 0.5
"""Share of its height above which a trailing vine holds its blades, on upright stalks from a stem that lies
on the ground (common practice of squash and melons; the share is judgement)."""
VINE = "climber-herbaceous"
CLIMBS_ANYHOW = frozenset({"twiner", "root-clinger"})
"""What is on record to climb so is not taken to trail as its kin do."""


@dataclass(frozen=True, slots=True)
class GrownLow:
    """The heights (m) of the vines on record as grown along the ground, None for those that are not.

    ``of`` is by genus: the cultivar groups with a word on how they climb, and the vines with a managed height
    or a word on how they climb.
    """

    of: Mapping[str, tuple[tuple[PlantId, Estimate | None], ...]]

    @classmethod
    def among(cls, adopted: Mapping[PlantId, Values], records: Mapping[str, Record]) -> "GrownLow":
        found: dict[str, list[tuple[PlantId, Estimate | None]]] = {}
        for plant_id, own in adopted.items():
            values = KnownValues(own, records)
            vine = values.choice("growth-form").value == VINE
            mode = own.get(TraitId("support-mode"))
            told = mode is not None and mode.inherited_from is None
            if told if "." in plant_id else vine and (told or values.managed_height() is not None):
                low = trailing_height(values) if vine else _as_group(values)
                found.setdefault(_genus(plant_id), []).append((plant_id, low))
        return cls({genus: tuple(each) for genus, each in found.items()})

    def height(self, plant_id: PlantId) -> Estimate | None:
        """The height at which a vine trails as all its groups do, else as all others of its genus do.

        None where there are none, or one of them climbs.
        """
        others = [one for one in self.of.get(_genus(plant_id), ()) if one[0] != plant_id]
        groups = [low for other, low in others if other.partition(".")[0] == plant_id]
        return _of_all(groups or [low for other, low in others if "." not in other])


def trailing_height(values: KnownValues, kin: Estimate | None = None) -> Estimate | None:
    """The height of a vine that is grown along the ground (squash, melon); None where it climbs.

    Its own as a managed crop, else that of its kin.
    """
    reach = values.maybe("reach") or values.maybe("mature-height")
    lent = None if values.choice("support-mode").value in CLIMBS_ANYHOW else kin
    managed = values.managed_height() or lent
    if values.choice("growth-form").value != VINE or reach is None or managed is None:
        return None
    return managed if managed.likely < TRAILS_BELOW * reach.likely else None


def _as_group(values: KnownValues) -> Estimate | None:
    """The height of a group that is told not to climb; None where it climbs."""
    return values.maybe("mature-height") if values.choice("support-mode").value == "none" else None


def _of_all(kin: list[Estimate | None]) -> Estimate | None:
    lows = [low for low in kin if low is not None]
    if not lows or len(lows) < len(kin):
        return None
    likely = max(low.likely for low in lows)
    ends = min(low.low for low in lows), max(low.high for low in lows)
    return Estimate(ends[0], likely, ends[1], "genus", records_of(*(low.records for low in lows)))


def _genus(plant_id: PlantId) -> str:
    return plant_id.partition(".")[0].partition("-")[0]
