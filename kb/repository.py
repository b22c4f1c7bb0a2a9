"""Where plants and sources are kept: in files (the default) or in memory (for tests).

Readers get an immutable snapshot; writers replace whole plants. The same contract test runs
against every kind of repository.
"""

import contextlib
import os
import threading
import time
from importlib.resources import files
from pathlib import Path
from typing import Protocol

from kb.errors import BadFile, StoreFault
from kb.model import Plant, PlantId, Source, SourceKey
from kb.snapshot import Snapshot
from kb.statements.curation_model import OWN_FROM
from kb.statements.enemy_model import Emission, Enemy
from kb.stores import cache
from kb.stores.enemy_files import ENEMIES, EnemyRoom, beyond, enemy_path, load_enemies, text_of
from kb.stores.files import (
    PLANTS,
    SOURCES,
    fingerprint,
    locked,
    plant_id_of,
    plant_path,
    source_path,
    turtle_files,
)
from kb.stores.journal import Entry, Journal
from kb.stores.memory_store import MEMORY, MemoryRepository
from kb.stores.overlay import (
    ReadBefore,
    begin_with,
    beyond_base,
    load_plant,
    load_plants,
    load_sources,
    named_in,
    replace_text,
)
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
    with_told,
)
from kb.turtle import plant_to_turtle, source_to_turtle
from kb.uncollected import uncollected

__all__ = [
    "MEMORY",
    "STORE_VARIABLE",
    "FilesRepository",
    "MemoryRepository",
    "Repository",
    "open_repository",
    "shipped_base",
]

STORE_VARIABLE = "TRAITBED_STORE"
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

    @property
    def own_from(self) -> int:
        """The lowest number that new records and decisions take, so that a later base takes none of them."""
        ...

    @property
    def own_folder(self) -> Path | None:
        """The folder of one's own, where journal and accounts lie; None where there is none."""
        ...

    def revision(self, plant_id: PlantId) -> str:
        """What changes whenever the plant's file does; a curator's write names the one that was read."""
        ...

    def change(self, plant_id: PlantId, edit: Edit, *, expected: str | None = None) -> Change:
        """Add to a plant, with a line in the journal; nothing is ever taken away or altered.

        Raises StaleWrite where the plant is not at ``expected``, Refused where a rule is broken,
        StoreFault where it cannot be written; then nothing was changed.
        """
        ...

    def journal(self) -> tuple[Entry, ...]:
        """Every change made by ``change``, oldest first."""
        ...


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
        self._parsed: ReadBefore = {}
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
        """The snapshot of the files as they stand: from the cache where it knows them, else read.

        What a process reads again after a write is not kept: it would cost more than it saves.
        """
        # revisions first: where a write lands meanwhile, they are too old, and a write on them is refused
        names = map(plant_id_of, self._room(PLANTS)) if self.writable else ()
        revisions = {name: self.revision(name) for name in names}
        snapshot = self._read_again() if self._known is not None else self._read_first()
        return snapshot.written(revisions, self.journal(), self._folders)

    def _read_first(self) -> Snapshot:
        key = cache.key_of(self._folders, self._files())
        snapshot = None if key is None else cache.read(key)
        if snapshot is None:
            snapshot = self._read_again()
            if key is not None and key == cache.key_of(self._folders, self._files()):
                cache.write(key, snapshot)
        return snapshot

    def _read_again(self) -> Snapshot:
        plants: dict[PlantId, Plant] = {}
        sources: dict[SourceKey, Source] = {}
        room, faults = EnemyRoom(), list[BadFile]()
        with uncollected():
            for folder in self._folders:
                load_sources(folder, sources, faults)
                load_plants(folder, plants, faults, self._parsed)
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
        with locked(overlay):
            told = {thing for entry in self.journal() if entry.plant == plant.id for thing in entry.things}
            plant = with_told(plant, self._standing(plant.id) if told else None, told)
            plant = sound(plant, self._sources(), map(plant_id_of, self._room(PLANTS)))
            own = plant if self._base is None else beyond_base(plant, self._base)
            return self._kept(replace_text(plant_path(overlay, plant.id), plant_to_turtle(own)))

    @property
    def own_folder(self) -> Path | None:
        return self._overlay

    @property
    def own_from(self) -> int:
        return 1 if self._base is None else OWN_FROM

    def revision(self, plant_id: PlantId) -> str:
        return revision_of(self._bytes(self._base, plant_id), self._bytes(self._overlay, plant_id))

    def _bytes(self, folder: Path | None, plant_id: PlantId) -> bytes | None:
        if folder is None:
            return None
        path = plant_path(folder, plant_id)
        return path.read_bytes() if path.is_file() else None

    def change(self, plant_id: PlantId, edit: Edit, *, expected: str | None = None) -> Change:
        overlay = self._writable_folder()
        with locked(overlay):
            journal = Journal(overlay)
            self._settle(journal, overlay)
            before, revision = self._standing(plant_id), self.revision(plant_id)
            after = edit.make(before)
            things = added(before, after)
            texts = (self._own_text(before), self._own_text(after))
            refuse_stale(plant_id, (expected or revision, revision), self.journal(), texts, things)
            source = not_there(edit.source, self._sources())
            sources = (*self._sources(), *((source,) if source else ()))
            after = acceptable(after, sources, map(plant_id_of, self._room(PLANTS)))
            text = self._own_text(after)
            now = revision_of(self._bytes(self._base, plant_id), text.encode())
            entry = journal.append(
                who=edit.who, action=edit.action, plant=plant_id, things=things, why=edit.why,
                before=revision, after=now, source=source.key if source else None,
            )  # fmt: skip
            try:
                if source is not None:
                    begin_with(source_path(overlay, source.key), source_to_turtle(source))
                self._kept(replace_text(plant_path(overlay, plant_id), text))
            except StoreFault:
                self._settle(journal, overlay)
                raise
            return Change(before, after, now, entry, things)

    def _settle(self, journal: Journal, overlay: Path) -> None:
        """Make a change that was begun and not finished as if it had never been: its source, its line."""
        left = journal.unfinished(lambda name: self.revision(PlantId(name)))
        if left is None:
            return
        if left.source is not None and not named_in(overlay, left.source):
            with contextlib.suppress(OSError):
                source_path(overlay, SourceKey(left.source)).unlink(missing_ok=True)
        journal.void(left.seq)

    def _own_text(self, plant: Plant) -> str:
        return plant_to_turtle(plant if self._base is None else beyond_base(plant, self._base))

    def _standing(self, plant_id: PlantId) -> Plant:
        """The plant as it stands on file. A file with a broken part is not written over: it would be lost."""
        plants: dict[PlantId, Plant] = {}
        faults: list[BadFile] = []
        for folder in self._folders:
            path = plant_path(folder, plant_id)
            if path.is_file():
                load_plant(path, path.relative_to(folder).as_posix(), plants, faults)
        if faults:
            raise StoreFault(faults[0].file, f"is broken and is not written over: {faults[0].detail}")
        return there(plants.get(plant_id), plant_id)

    def journal(self) -> tuple[Entry, ...]:
        if self._overlay is None:
            return ()
        return Journal(self._overlay).entries(lambda name: self.revision(PlantId(name)))

    def _sources(self) -> tuple[Source, ...]:
        """All sources that a record may name; read again when a source file came or went."""
        folders = [folder / SOURCES for folder in self._folders if (folder / SOURCES).is_dir()]
        stamp = tuple(folder.stat().st_mtime_ns for folder in folders)
        if self._known_sources is None or self._known_sources[0] != stamp:
            sources: dict[SourceKey, Source] = {}
            for folder in self._folders:
                load_sources(folder, sources, [])
            self._known_sources = (stamp, tuple(sources.values()))
        return self._known_sources[1]

    def put_source(self, source: Source) -> bool:
        overlay = self._writable_folder()
        with locked(overlay):
            return self._kept(replace_text(source_path(overlay, source.key), source_to_turtle(source)))

    def put_enemy(self, thing: Enemy | Emission) -> bool:
        overlay = self._writable_folder()
        with locked(overlay):
            own = thing if self._base is None else beyond(thing, self._base)
            return self._kept(replace_text(enemy_path(overlay, thing.id), text_of(own)))

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


def shipped_base() -> Path:
    """The folder of the knowledge base that comes with the package."""
    return Path(str(files("kb")))


def named_folder(named: str) -> Path:
    """The folder of that name, there or to be made. Raises StoreFault for what can be none."""
    if not named.strip():
        raise StoreFault("''", "names no folder; give its name, or leave it out")
    folder = Path(named)
    try:
        if folder.exists() and not folder.is_dir():
            raise StoreFault(named, "is no folder; a store is a folder")
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or str(fault)
        raise StoreFault(named[:60], f"cannot be a folder's name ({reason})") from None
    return folder


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
    folder = named_folder(named)
    if folder.exists() and folder.resolve() == base.resolve():
        return FilesRepository(None, folder)
    if not folder.is_dir() and not create:
        raise StoreFault(named, "is not there; make the folder first or name another with --store")
    return FilesRepository(base, folder)
