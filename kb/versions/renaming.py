"""An older version told under the ids of a newer one, so that a new name does not read as a loss.

A plant whose earlier scientific name is a synonym of another id now is the same plant.
"""

from collections.abc import Mapping
from dataclasses import fields, replace
from typing import Any, TypeVar

from kb.model import Caution, Decision, Plant, PlantId, Record
from kb.snapshot import Snapshot
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.statements.enemy_model import Emission, Enemy
from kb.statements.search_model import Search

IDS = frozenset({"id", "plant", "caution", "withdraws", "revises", "weighed"})
"""Fields of a plant's parts that name the plant, or a part of it."""
Part = TypeVar("Part", Record, Caution, Decision, Observation, Withdrawal, Review, Search)
Thing = TypeVar("Thing", Enemy, Emission)


def moved_ids(old: Snapshot, new: Snapshot) -> dict[PlantId, PlantId]:
    """Old ids of plants that go by another id now -> the new ids."""
    gone = {plant.scientific_name: plant.id for plant in old.plants.values() if plant.id not in new.plants}
    came = [plant for plant in new.plants.values() if plant.id not in old.plants]
    return {gone[name.name]: p.id for p in came for name in p.synonyms if name.name in gone}


def under_new_ids(old: Snapshot, new: Snapshot) -> Snapshot:
    """The old version with the ids of today; the same object where no id changed."""
    moved = moved_ids(old, new)
    if not moved:
        return old
    return Snapshot(
        old.version,
        {moved.get(name, name): _plant(plant, moved) for name, plant in old.plants.items()},
        old.sources,
        enemies={name: _statements(enemy, moved) for name, enemy in old.enemies.items()},
        emissions={name: _emission(emission, moved) for name, emission in old.emissions.items()},
    ).written({}, (), old.folders)


def _plant(plant: Plant, moved: Mapping[PlantId, PlantId]) -> Plant:
    parent = None if plant.parent is None else moved.get(plant.parent, plant.parent)
    if plant.id not in moved:
        return replace(plant, parent=parent)
    ids = (plant.id, moved[plant.id])
    return replace(
        plant,
        id=ids[1],
        parent=parent,
        records=_parts(plant.records, *ids),
        cautions=_parts(plant.cautions, *ids),
        decisions=_parts(plant.decisions, *ids),
        observations=_parts(plant.observations, *ids),
        withdrawals=_parts(plant.withdrawals, *ids),
        reviews=_parts(plant.reviews, *ids),
        searches=_parts(plant.searches, *ids),
    )


def _parts(parts: tuple[Part, ...], old: PlantId, new: PlantId) -> tuple[Part, ...]:
    """Records, cautions or other parts with the plant's new id wherever it is named."""
    found = []
    for part in parts:
        changed: dict[str, Any] = {
            field.name: _renamed(getattr(part, field.name), old, new)
            for field in fields(part)
            if field.name in IDS
        }
        found.append(replace(part, **changed))
    return tuple(found)


def _renamed(value: object, old: str, new: str) -> object:
    if isinstance(value, tuple):
        return tuple(_renamed(one, old, new) for one in value)
    if not isinstance(value, str):
        return value
    kind, dot, rest = value.partition(".")
    if value == old or value.startswith(f"{old}."):
        return new + value.removeprefix(old)
    named = dot and (rest == old or rest.startswith(f"{old}."))
    return f"{kind}.{new}{rest.removeprefix(old)}" if named else value


def _emission(emission: Emission, moved: Mapping[PlantId, PlantId]) -> Emission:
    return replace(_statements(emission, moved), emitter=moved.get(emission.emitter, emission.emitter))


def _statements(thing: Thing, moved: Mapping[PlantId, PlantId]) -> Thing:
    said = (
        replace(one, plant=moved[one.plant], id=one.id.replace(f".{one.plant}.", f".{moved[one.plant]}."))
        if one.plant in moved
        else one
        for one in thing.statements
    )
    return replace(thing, statements=tuple(said))
