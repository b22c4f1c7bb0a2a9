"""Which plant a table of outcomes means: two printed names held against the knowledge base.

A scientific name counts first. A common name beside it may narrow it to a plant below it (beet grown
for its root), or stand in for it where the scientific name is not held and the genus agrees. Nothing
is matched by spelling alone.
"""

from dataclasses import dataclass

from kb.errors import AmbiguousPlant, UnknownPlant
from kb.model import PlantId
from kb.snapshot import Snapshot


@dataclass(frozen=True, slots=True)
class Match:
    """The plant a printed name means, and by what; ``plant`` is None where it means none, ``how`` why."""

    printed: str
    plant: PlantId | None
    how: str


def match(snapshot: Snapshot, species: str, common: str) -> Match:
    """The plant that goes by both names, as far as both are known."""
    printed = f"{species} ({common})" if common else species
    known, why = _resolved(snapshot, species)
    called, _ = _resolved(snapshot, common) if common else (None, "")
    if known is not None:
        if called is not None and called != known and _below(snapshot, called, known):
            return Match(printed, called, f"the common name narrows {known}")
        return Match(printed, known, "scientific name")
    if called is not None and _genus(called) == species.split(maxsplit=1)[0].lower():
        return Match(printed, called, "common name, in the genus named")
    return Match(printed, None, why)


def _resolved(snapshot: Snapshot, name: str) -> tuple[PlantId | None, str]:
    try:
        return snapshot.resolve(name), ""
    except (UnknownPlant, AmbiguousPlant) as fault:
        return None, str(fault)


def _below(snapshot: Snapshot, plant_id: PlantId, above: PlantId) -> bool:
    """Whether a plant belongs to another."""
    parent = snapshot.plants[plant_id].parent
    while parent is not None:
        if parent == above:
            return True
        parent = snapshot.plants[parent].parent if parent in snapshot.plants else None
    return False


def _genus(plant_id: PlantId) -> str:
    return plant_id.partition("-")[0]
