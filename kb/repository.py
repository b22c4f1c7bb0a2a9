"""Where plants and sources are kept: in files (the default) or in memory (for tests).

Readers get an immutable snapshot; writers replace whole plants. The same contract test runs
against every kind of repository.
"""

import contextlib
import os
import threading
import time
from collections.abc import Iterable
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import Protocol

from kb.enemy_files import ENEMIES, EnemyRoom, beyond, enemy_path, load_enemies, text_of
from kb.enemy_model import Emission, Enemy
from kb.errors import BadFile, BadRecord, StoreFault
from kb.files import (
    PLANTS,
    SOURCES,
    fingerprint,
    locked,
    plant_id_of,
    plant_path,
    read_text,
    source_path,
    turtle_files,
    write_durably,
)
from kb.model import Plant, PlantId, Source, SourceKey, canonical
from kb.snapshot import Snapshot
from kb.turtle import plant_from_turtle, plant_to_turtle, source_to_turtle
from kb.turtle_reading import parse_plant, parse_source
from kb.validate import validate_plants
from kb.vocabulary_store import load_vocabulary

STORE_VARIABLE = "TRAITBED_STORE"
MEMORY = "memory:"
ROOMS = (PLANTS, SOURCES, ENEMIES)
LOOK_AGAIN_S = 0.5
"""How long a reader may miss what another process wrote to the folder (the shipped base never changes)."""


class Repository(Protocol):
    """What every store can do."""

    @property
    def name(self) -> str:
        """What the store is called in messages."""
        ...

    @property
    def writable(self) -> bool: ...

    def snapshot(self) -> Snapshot:
        """The data set as it stands now, immutable; the same object while nothing changed."""
        ...

    def put_plant(self, plant: Plant) -> bool:
        """Keep this plant (replacing one of the same id); False where nothing changed."""
        ...

    def put_source(self, source: Source) -> bool:
        """Keep this source; False where nothing changed."""
        ...

    def put_enemy(self, thing: Enemy | Emission) -> bool:
        """Keep this enemy or emission (replacing one of the same id); False where nothing changed."""
        ...


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

    def snapshot(self) -> Snapshot:
        if self._snapshot is None:
            self._snapshot = Snapshot(
                f"memory-{self._revision}",
                dict(self._plants),
                dict(self._sources),
                enemies=dict(self._room.enemies),
                emissions=dict(self._room.emissions),
            )
        return self._snapshot

    def put_plant(self, plant: Plant) -> bool:
        plant = _sound(plant, self._sources.values(), self._plants)
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

    def _changed(self) -> bool:
        self._revision += 1
        self._snapshot = None
        return True


class FilesRepository:
    """A folder of Turtle files, laid over the shipped base unless it is the base itself.

    ``overlay`` None is the shipped base alone, read-only. The overlay keeps only what is not in
    the base, so that an upgrade of the base never touches it.
    """

    def __init__(self, base: Path | None, overlay: Path | None) -> None:
        self._base = base
        self._overlay = overlay
        self._guard = threading.Lock()
        self._known: tuple[tuple[tuple[str, int, int], ...], Snapshot] | None = None
        self._looked = 0.0
        self._known_sources: tuple[tuple[int, ...], tuple[Source, ...]] | None = None

    @property
    def name(self) -> str:
        return "the shipped base" if self._overlay is None else f"folder '{self._overlay.name}'"

    @property
    def writable(self) -> bool:
        return self._overlay is not None

    @property
    def folders(self) -> tuple[Path, ...]:
        """The folders whose files make up the store, the base first."""
        return self._folders

    @property
    def _folders(self) -> tuple[Path, ...]:
        return tuple(folder for folder in (self._base, self._overlay) if folder is not None)

    def snapshot(self) -> Snapshot:
        with self._guard:
            now = time.monotonic()
            if self._known is not None and (self._overlay is None or now - self._looked < LOOK_AGAIN_S):
                return self._known[1]
            stamp = self._stamp()
            if self._known is None or self._known[0] != stamp:
                self._known = (stamp, self._load())
            self._looked = now
            return self._known[1]

    def _stamp(self) -> tuple[tuple[str, int, int], ...]:
        """What tells whether a file changed since the last look: name, size, time of change."""
        stamp: list[tuple[str, int, int]] = []
        for path in self._files():
            with contextlib.suppress(FileNotFoundError):  # replaced or withdrawn as we look
                status = path.stat()
                stamp.append((str(path), status.st_size, status.st_mtime_ns))
        return tuple(stamp)

    def _files(self) -> tuple[Path, ...]:
        return tuple(path for room in ROOMS for path in self._room(room))

    def _room(self, room: str) -> tuple[Path, ...]:
        return tuple(path for folder in self._folders for path in turtle_files(folder, room))

    def _load(self) -> Snapshot:
        plants: dict[PlantId, Plant] = {}
        sources: dict[SourceKey, Source] = {}
        room, faults = EnemyRoom(), list[BadFile]()
        for folder in self._folders:
            _load_sources(folder, sources, faults)
            _load_plants(folder, plants, faults)
            load_enemies(folder, room, faults)
        return Snapshot(
            fingerprint(self._files()),
            plants,
            sources,
            enemies=room.enemies,
            emissions=room.emissions,
            faults=tuple(faults),
        )

    def put_plant(self, plant: Plant) -> bool:
        overlay = self._writable_folder()
        plant = _sound(plant, self._sources(), map(plant_id_of, self._room(PLANTS)))
        with locked(overlay):
            own = plant if self._base is None else self._beyond_base(plant)
            return self._kept(_replace(plant_path(overlay, plant.id), plant_to_turtle(own)))

    def _sources(self) -> tuple[Source, ...]:
        """All sources that a record may name; read again when a source file came or went."""
        folders = [folder / SOURCES for folder in self._folders if (folder / SOURCES).is_dir()]
        stamp = tuple(folder.stat().st_mtime_ns for folder in folders)
        if self._known_sources is None or self._known_sources[0] != stamp:
            sources: dict[SourceKey, Source] = {}
            for folder in self._folders:
                _load_sources(folder, sources, [])
            self._known_sources = (stamp, tuple(sources.values()))
        return self._known_sources[1]

    def put_source(self, source: Source) -> bool:
        overlay = self._writable_folder()
        with locked(overlay):
            return self._kept(_replace(source_path(overlay, source.key), source_to_turtle(source)))

    def put_enemy(self, thing: Enemy | Emission) -> bool:
        overlay = self._writable_folder()
        with locked(overlay):
            own = thing if self._base is None else beyond(thing, self._base)
            return self._kept(_replace(enemy_path(overlay, thing.id), text_of(own)))

    def _kept(self, changed: bool) -> bool:
        """A write of our own is seen by the next reader at once."""
        self._looked = 0.0
        return changed

    def _writable_folder(self) -> Path:
        if self._overlay is None:
            raise StoreFault(
                self.name, f"is read-only; name a folder of your own with --store or {STORE_VARIABLE}"
            )
        return self._overlay

    def _beyond_base(self, plant: Plant) -> Plant:
        """The plant without the parts that the base holds already."""
        if self._base is None:
            return plant
        path = plant_path(self._base, plant.id)
        if not path.is_file():
            return plant
        base = parse_plant(read_text(path, path.name), path.name).plant
        if base is None:
            return plant
        return replace(
            plant,
            records=tuple(r for r in plant.records if r not in base.records),
            cautions=tuple(c for c in plant.cautions if c not in base.cautions),
            decisions=tuple(d for d in plant.decisions if d not in base.decisions),
        )


def _replace(path: Path, text: str) -> bool:
    if path.is_file() and path.read_bytes() == text.encode():
        return False
    write_durably(path, text)
    return True


def _sound(plant: Plant, sources: Iterable[Source], plants: Iterable[PlantId]) -> Plant:
    """The plant as its file will give it back, once it keeps every rule of the knowledge base.

    Raises BadRecord where a shape or check is broken (which record, which property, how to mend it),
    BadFile where a value would not survive its file.
    """
    broken = [
        finding
        for finding in validate_plants((plant,), load_vocabulary(), sources, known_plants=plants)
        if finding.severity == "violation"
    ]
    if broken:
        first, more = broken[0], len(broken) - 1
        further = f" ({more} more to mend in the same plant)" if more else ""
        raise BadRecord(first.subject or plant.id, first.path, f"{first.message}{further}")
    read = plant_from_turtle(plant_to_turtle(plant), f"{plant.id}.ttl")
    if read != canonical(plant):
        raise BadFile(f"{plant.id}.ttl", None, "would not read back as it was written; nothing was kept")
    return read


def _load_sources(folder: Path, sources: dict[SourceKey, Source], faults: list[BadFile]) -> None:
    for path in turtle_files(folder, SOURCES):
        shown = path.relative_to(folder).as_posix()
        try:
            source = parse_source(read_text(path, shown), shown)
        except BadFile as fault:
            faults.append(fault)
        else:
            sources[source.key] = source


def _load_plants(folder: Path, plants: dict[PlantId, Plant], faults: list[BadFile]) -> None:
    for path in turtle_files(folder, PLANTS):
        shown = path.relative_to(folder).as_posix()
        try:
            parsed = parse_plant(read_text(path, shown), shown)
        except BadFile as fault:
            faults.append(fault)
            continue
        faults += parsed.faults
        if parsed.plant is not None:
            known = plants.get(parsed.plant.id)
            plants[parsed.plant.id] = parsed.plant if known is None else _laid_over(known, parsed.plant)


def _laid_over(base: Plant, own: Plant) -> Plant:
    """The base's plant with the parts of the user's own file joined to it."""
    return canonical(
        replace(
            base,
            records=tuple({r.id: r for r in (*base.records, *own.records)}.values()),
            cautions=tuple({c.id: c for c in (*base.cautions, *own.cautions)}.values()),
            decisions=tuple({d.id: d for d in (*base.decisions, *own.decisions)}.values()),
        )
    )


def shipped_base() -> Path:
    """The folder of the knowledge base that comes with the package."""
    return Path(str(files("kb")))


def open_repository(store: str | None = None, *, create: bool = False) -> Repository:
    """The repository that ``store`` (or TRAITBED_STORE) names; the shipped base where neither does.

    A folder that is not there is refused unless ``create`` (a command that writes) is set.
    Raises StoreFault.
    """
    named = store if store is not None else os.environ.get(STORE_VARIABLE) or None
    base = shipped_base()
    if named is None:
        return FilesRepository(base, None)
    if named == MEMORY:
        return MemoryRepository()
    folder = Path(named)
    if folder.exists() and folder.resolve() == base.resolve():
        return FilesRepository(None, folder)
    if folder.is_file():
        raise StoreFault(named, "is a file; a store is a folder")
    if not folder.is_dir() and not create:
        raise StoreFault(named, "is not there; make the folder first or name another with --store")
    return FilesRepository(base, folder)
