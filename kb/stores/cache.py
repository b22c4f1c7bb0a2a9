"""What a store's files said, kept in plain JSON outside it, so that a start need not read them again.

A file of the cache is named after everything it came from: the bytes of every file of the store and
of every part of this package. Whatever changes, another name is asked for; nothing is ever updated.
What cannot be read, or is not exactly what is expected, is as good as not there, and a store is
always right without it. The folder must belong to the user and be closed to others, since its
content is taken for the store's own. TRAITBED_CACHE names another folder, or is ``off``.
"""

import contextlib
import hashlib
import os
import stat
import sys
import tempfile
import threading
import time
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

import orjson

from kb.mixture.profile import Profile
from kb.model import Adopted, Plant, PlantId, Source
from kb.snapshot import Kept, Snapshot
from kb.statements.enemy_model import Emission, Enemy
from kb.stores.compact import packed, unpacker
from kb.uncollected import uncollected

CACHE_VARIABLE = "TRAITBED_CACHE"
OFF = "off"
FORMAT = 1
LEFT_S = 600.0
"""Seconds after which a file that is being written is taken for a killed writer's; another may be at work."""
FILES_KEPT = 4
"""Of more versions the one unused for longest is removed."""


def cache_folder() -> Path | None:
    """The folder of the cache, made where it is not there; None where there can be none."""
    named = os.environ.get(CACHE_VARIABLE)
    if named == OFF or not hasattr(os, "getuid"):
        return None
    try:
        usual = Path(os.environ.get("XDG_CACHE_HOME") or Path("~/.cache").expanduser()) / "traitbed"
        folder = Path(named) if named else usual
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        status = folder.stat()
    except (OSError, RuntimeError):
        return None
    open_to_others = status.st_mode & (stat.S_IWGRP | stat.S_IWOTH)
    return None if status.st_uid != os.getuid() or open_to_others else folder


def key_of(folders: Sequence[Path], paths: Sequence[Path]) -> str | None:
    """The name of what these files of a store hold, for this code; None where one cannot be read."""
    digest = hashlib.sha256(_code())
    try:
        for path in paths:
            at = next(i for i, folder in enumerate(folders) if path.is_relative_to(folder))
            digest.update(f"{at}/{path.relative_to(folders[at]).as_posix()}\n".encode())
            digest.update(hashlib.sha256(path.read_bytes()).digest())
    except (OSError, StopIteration):
        return None
    return digest.hexdigest()


@cache
def _code() -> bytes:
    """What tells this version of the package, and of Python, from every other."""
    package = Path(__file__).parents[1]
    digest = hashlib.sha256(f"{FORMAT} {sys.version_info[:3]}".encode())
    parts = (
        *package.rglob("*.py"),
        *(package / "vocabulary").rglob("*.ttl"),
        *(package / "vocabulary").rglob("*.csv"),
    )
    for path in sorted(parts):
        digest.update(path.relative_to(package).as_posix().encode())
        digest.update(hashlib.sha256(path.read_bytes()).digest())
    return digest.digest()


def read(key: str) -> Snapshot | None:
    """The snapshot kept under a key; None where there is none that can be used."""
    folder = cache_folder()
    if folder is None:
        return None
    path = folder / f"{key}.json"
    try:
        if not _ours(path):
            return None
        with uncollected():
            snapshot = _snapshot(key, orjson.loads(path.read_bytes()))
        path.touch()
    except (OSError, ValueError, TypeError, KeyError, IndexError, AttributeError, ArithmeticError):
        return None
    return snapshot


def _ours(path: Path) -> bool:
    """Whether this is a plain file of the user's own: no link, no pipe, nobody else's."""
    status = path.lstat()
    return stat.S_ISREG(status.st_mode) and status.st_uid == os.getuid()


def write(key: str, snapshot: Snapshot) -> None:
    """Keep a snapshot with its adopted values and profiles. One with faults is not kept."""
    folder = cache_folder()
    if folder is None or snapshot.faults:
        return
    document = {
        "key": key,
        "version": snapshot.version,
        "plants": [packed(plant) for plant in snapshot.plants.values()],
        "sources": [packed(source) for source in snapshot.sources.values()],
        "enemies": [packed(enemy) for enemy in snapshot.enemies.values()],
        "emissions": [packed(emission) for emission in snapshot.emissions.values()],
        "adopted": {
            plant: [packed(value) for value in snapshot.adopted(plant).values()] for plant in snapshot.plants
        },
        "profiles": {plant: [packed(snapshot.profile(plant))] for plant in snapshot.plants},
    }
    with contextlib.suppress(OSError):
        handle, name = tempfile.mkstemp(dir=folder, prefix=".keeping.")
        try:
            with os.fdopen(handle, "wb") as out:
                out.write(orjson.dumps(document))
            Path(name).replace(folder / f"{key}.json")
        finally:
            Path(name).unlink(missing_ok=True)  # a full disk is not filled further by what nobody can read
        _sweep(folder)


def _snapshot(key: str, document: Any) -> Snapshot:
    if document["key"] != key:
        raise ValueError("kept under another name")
    plants = _each(Plant, document["plants"])
    sources = _each(Source, document["sources"])
    enemies = _each(Enemy, document["enemies"])
    emissions = _each(Emission, document["emissions"])
    return Snapshot(
        document["version"],
        {plant.id: plant for plant in plants},
        {source.key: source for source in sources},
        enemies={enemy.id: enemy for enemy in enemies},
        emissions={emission.id: emission for emission in emissions},
        kept=_KeptRows(document["adopted"], document["profiles"]),
    )


def _each(kind: Any, rows: list[Any]) -> list[Any]:
    build = unpacker(kind)
    if build is None:
        raise TypeError(f"{kind} is no dataclass")
    return [build(row) for row in rows]


class _KeptRows(Kept):
    """Adopted values and profiles as they lie in the file, turned back when asked for, by any thread."""

    def __init__(self, adopted: dict[str, list[Any]], profiles: dict[str, list[Any]]) -> None:
        self._guard = threading.Lock()
        self._rows: dict[Any, dict[str, list[Any]]] = {Adopted: adopted, Profile: profiles}
        self._made: dict[Any, dict[str, list[Any]]] = {Adopted: {}, Profile: {}}

    def adopted(self, plant_id: PlantId) -> list[Adopted]:
        return self._turned(Adopted, plant_id)

    def profile(self, plant_id: PlantId) -> Profile:
        found: Profile = self._turned(Profile, plant_id)[0]
        return found

    def _turned(self, kind: Any, plant_id: PlantId) -> list[Any]:
        """Turned back once, whoever asks first; rows are spent by it."""
        with self._guard:
            if plant_id not in self._made[kind]:
                self._made[kind][plant_id] = _each(kind, self._rows[kind].pop(plant_id))
            return self._made[kind][plant_id]


def _sweep(folder: Path) -> None:
    """Remove what has not been used for longest, and what a killed writer left."""
    held = sorted(folder.glob("*.json"), key=lambda path: path.stat().st_mtime, reverse=True)
    left = (path for path in folder.glob(".keeping.*") if time.time() - path.stat().st_mtime > LEFT_S)
    for path in (*held[FILES_KEPT:], *left):
        path.unlink(missing_ok=True)
