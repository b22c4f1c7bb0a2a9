"""A store in memory: for tests and trials; nothing outlives the process."""

import threading
from datetime import UTC, datetime
from pathlib import Path

from kb.model import Plant, PlantId, Source, canonical
from kb.snapshot import Snapshot
from kb.statements.enemy_model import Emission, Enemy
from kb.stores.enemy_files import EnemyRoom, text_of
from kb.stores.journal import Entry
from kb.stores.writing import (
    Change,
    Edit,
    acceptable,
    added,
    not_there,
    refuse_stale,
    revision_of,
    sound,
    there,
)
from kb.turtle import plant_to_turtle

MEMORY = "memory:"


class MemoryRepository:
    """A store in memory: for tests and trials; nothing outlives the process."""

    name = MEMORY
    writable = True

    def __init__(self, plants: tuple[Plant, ...] = (), sources: tuple[Source, ...] = ()) -> None:
        self._plants = {plant.id: canonical(plant) for plant in plants}
        self._sources = {source.key: source for source in sources}
        self._room = EnemyRoom()
        self._snapshot: Snapshot | None = None
        self._revision = 0
        self._entries: list[Entry] = []
        self._writing = threading.Lock()

    def snapshot(self) -> Snapshot:
        if self._snapshot is None:
            self._snapshot = Snapshot(
                f"memory-{self._revision}",
                dict(self._plants),
                dict(self._sources),
                enemies=dict(self._room.enemies),
                emissions=dict(self._room.emissions),
                revisions={name: self.revision(name) for name in self._plants},
                journal=self.journal(),
            )
        return self._snapshot

    def put_plant(self, plant: Plant) -> bool:
        plant = sound(plant, self._sources.values(), self._plants)
        if self._plants.get(plant.id) == plant:
            return False
        self._plants[plant.id] = plant
        return self._changed()

    def put_source(self, source: Source) -> bool:
        if self._sources.get(source.key) == source:
            return False
        self._sources[source.key] = source
        return self._changed()

    def put_enemy(self, thing: Enemy | Emission) -> bool:
        text_of(thing)
        new = EnemyRoom()
        new.add(thing)
        before = (dict(self._room.enemies), dict(self._room.emissions))
        self._room.enemies.update(new.enemies)
        self._room.emissions.update(new.emissions)
        return (self._room.enemies, self._room.emissions) != before and self._changed()

    own_from = 1
    own_folder: Path | None = None

    def revision(self, plant_id: PlantId) -> str:
        plant = self._plants.get(plant_id)
        return revision_of(None, None if plant is None else plant_to_turtle(plant).encode())

    def change(self, plant_id: PlantId, edit: Edit, *, expected: str | None = None) -> Change:
        with self._writing:
            return self._change(plant_id, edit, expected)

    def _change(self, plant_id: PlantId, edit: Edit, expected: str | None) -> Change:
        before, revision = there(self._plants.get(plant_id), plant_id), self.revision(plant_id)
        after = edit.make(before)
        things = added(before, after)
        texts = (plant_to_turtle(before), plant_to_turtle(after))
        refuse_stale(plant_id, (expected or revision, revision), self.journal(), texts, things)
        source = not_there(edit.source, self._sources.values())
        sources = (*self._sources.values(), *((source,) if source else ()))
        after = acceptable(after, sources, self._plants)
        if source is not None:
            self.put_source(source)
        self._plants[plant_id] = after
        self._changed()
        now = self.revision(plant_id)
        at = datetime.now(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
        seq = len(self._entries) + 1
        entry = Entry(seq, at, edit.who, edit.action, plant_id, things, edit.why, revision, now)
        self._entries.append(entry)
        return Change(before, after, now, entry, things)

    def journal(self) -> tuple[Entry, ...]:
        return tuple(self._entries)

    def _changed(self) -> bool:
        self._revision += 1
        self._snapshot = None
        return True
