"""Two versions of a knowledge base opened side by side, and what of them can be compared.

A folder with a ``vocabulary`` (``kb`` of a checkout, today's or an older one) is a base by itself; any
other folder with ``plants`` is a user's own store, laid over the shipped base. What is broken in one
version is left out of both, with everything that hangs on it, so that a broken file never reads as a
change.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from kb import repository
from kb.errors import BadFile, StoreFault
from kb.model import Plant, PlantId
from kb.snapshot import Snapshot
from kb.stores.enemy_files import ENEMIES
from kb.stores.files import PLANTS, plant_id_of

Side = Literal["old", "new"]
VOCABULARY = "vocabulary"


@dataclass(frozen=True, slots=True)
class Version:
    """One version: what it is called, how it was read, and what it holds."""

    name: str
    how: str
    snapshot: Snapshot

    @property
    def folders(self) -> tuple[Path, ...]:
        """The folders that it was read from, without ways round."""
        return tuple(folder.resolve() for folder in self.snapshot.folders)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A file, or a part of one, that is broken in one version; ``plant`` where it was about one."""

    side: Side
    file: str
    line: int | None
    detail: str
    plant: PlantId | None = None


def folder_of(folder: str) -> Path:
    """The folder of a version, by its name. Raises StoreFault where it is none of a knowledge base."""
    path = repository.named_folder(folder)
    if not path.is_dir():
        raise StoreFault(folder, "is no folder; name one that holds plants/ and sources/")
    if not (path / PLANTS).is_dir():
        inner = path / "kb"
        hint = f"; name '{inner}'" if (inner / PLANTS).is_dir() else "; name one that holds plants/"
        raise StoreFault(folder, f"holds no plants/{hint}")
    return path


def open_version(folder: str) -> Version:
    """The version that a folder holds. Raises StoreFault where it is no folder of a knowledge base."""
    path = folder_of(folder)
    base = repository.shipped_base()
    if path.resolve() == base.resolve():
        return Version(folder, "the shipped base", repository.FilesRepository(base, None).snapshot())
    if (path / VOCABULARY).is_dir():
        return Version(folder, "a base by itself", repository.FilesRepository(path, None).snapshot())
    laid = repository.FilesRepository(base, path).snapshot()
    return Version(folder, "records of one's own over the shipped base", laid)


def version_in_use(store: str | None = None) -> Version:
    """The store in use, as every other question reads it. Raises StoreFault."""
    opened = repository.open_repository(store)
    return Version(opened.name, "the store in use", opened.snapshot())


def comparable(old: Snapshot, new: Snapshot) -> tuple[Snapshot, Snapshot, tuple[LeftOut, ...]]:
    """Both versions without what is broken in either, and what was left out."""
    left_out = (*_left_out("old", old), *_left_out("new", new))
    if not left_out:
        return old, new, ()
    plants = {one.plant for one in left_out if one.plant is not None}
    for snapshot in (old, new):
        plants |= _belonging(snapshot.plants.values(), plants)
    others = {Path(one.file).stem for one in left_out if one.file.startswith(f"{ENEMIES}/")}
    return _without(old, plants, others), _without(new, plants, others), left_out


def _left_out(side: Side, snapshot: Snapshot) -> Iterable[LeftOut]:
    for fault in snapshot.faults:
        yield LeftOut(side, fault.file, fault.line, fault.detail, _plant_of(fault))


def _plant_of(fault: BadFile) -> PlantId | None:
    path = Path(fault.file)
    return plant_id_of(path) if path.parts[:1] == (PLANTS,) and len(path.parts) > 1 else None


def _belonging(plants: Iterable[Plant], broken: set[PlantId]) -> set[PlantId]:
    """The plants that take values from one that is broken, at any depth."""
    above = {plant.id: plant.parent for plant in plants}
    found = set()
    for plant_id, first in above.items():
        parent, seen = first, {plant_id}
        while parent is not None and parent not in seen:
            if parent in broken:
                found.add(plant_id)
                break
            seen.add(parent)
            parent = above.get(parent)
    return found


def _without(snapshot: Snapshot, plants: set[PlantId], others: set[str]) -> Snapshot:
    return Snapshot(
        snapshot.version,
        {name: plant for name, plant in snapshot.plants.items() if name not in plants},
        snapshot.sources,
        enemies={name: enemy for name, enemy in snapshot.enemies.items() if name not in others},
        emissions={name: one for name, one in snapshot.emissions.items() if name not in others},
    ).written({}, (), snapshot.folders)
