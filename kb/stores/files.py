"""Plants and sources as files in a folder: where each lies, and writing that cannot half-happen."""

import contextlib
import fcntl
import hashlib
import os
import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from kb.errors import BadFile, StoreFault
from kb.model import PlantId, SourceKey

PLANTS = "plants"
SOURCES = "sources"
TEMPORARY = ".writing"
PATIENCE_S = 30.0
"""How long a writer waits for another one. A write takes well under a second: longer is a hung process."""
ASK_AGAIN_S = 0.02
PLAIN = re.compile(r"[a-z0-9]+(?:[-.][a-z0-9]+)*")
"""What an id may look like; nothing else can become part of a path or an IRI."""


def plant_path(folder: Path, plant_id: PlantId) -> Path:
    """``malus-domestica`` -> ``plants/malus/domestica.ttl``; a bare genus lies beside its species."""
    genus, _, rest = plant_id.partition("-")
    return folder / PLANTS / genus / f"{rest or genus}.ttl"


def plant_id_of(path: Path) -> PlantId:
    """The id of the plant that a file holds by its place: the way back from ``plant_path``."""
    genus = path.parent.name
    return PlantId(genus if path.stem == genus else f"{genus}-{path.stem}")


def plain_name(name: str) -> str:
    """The name, where it may be part of a path. Raises StoreFault for anything but plain words and marks."""
    if PLAIN.fullmatch(name) is None:
        raise StoreFault(ascii(name[:60]), "is no id: write lower-case letters and digits joined by - or .")
    return name


def source_path(folder: Path, key: SourceKey) -> Path:
    return folder / SOURCES / f"{plain_name(key)}.ttl"


def turtle_files(folder: Path, room: str) -> tuple[Path, ...]:
    """All Turtle files of one room of a folder, in a fixed order."""
    return tuple(sorted((folder / room).rglob("*.ttl"), key=lambda path: path.parts))


def read_text(path: Path, shown: str) -> str:
    """The text of one file. Raises BadFile where it is unreadable or not UTF-8 (line named)."""
    try:
        raw = path.read_bytes()
    except OSError as fault:
        raise BadFile(shown, None, f"cannot be read: {fault.strerror}") from None
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        raise BadFile(shown, line, "is not UTF-8; save it as UTF-8") from None


def write_durably(path: Path, text: str) -> None:
    """Replace a file at once and for good: temporary file, fsync, rename, fsync of the folder.

    A kill at any moment leaves the old file or the new one, never half of one.
    Raises StoreFault where the folder cannot be written.
    """
    temporary = path.with_name(f"{path.name}.{os.getpid()}{TEMPORARY}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with temporary.open("w", encoding="utf-8", newline="\n") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        temporary.replace(path)
    except OSError as fault:
        with contextlib.suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise StoreFault(path.name, f"cannot be written: {fault.strerror}; nothing was changed") from None
    try:
        sync_folder(path.parent)
    except OSError as fault:
        detail = f"was written, but it may not outlive a power cut: {fault.strerror}; look to the disk"
        raise StoreFault(path.name, detail) from None


def sync_folder(folder: Path) -> None:
    """Make the names in a folder safe on disk."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextlib.contextmanager
def locked(folder: Path) -> Iterator[None]:
    """One writer at a time in a folder (an advisory lock; released when the process ends).

    Raises StoreFault where the folder cannot be written, or is held by another for ``PATIENCE_S`` seconds.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle = (folder / ".lock").open("w")
    except OSError as fault:
        raise StoreFault(folder.name, f"cannot be written: {fault.strerror}") from None
    with handle:
        _wait_for(handle, folder)
        _sweep(folder)
        yield


def _wait_for(handle: IO[str], folder: Path) -> None:
    end = time.monotonic() + PATIENCE_S
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            if time.monotonic() >= end:
                raise StoreFault(
                    folder.name,
                    f"another process has been writing for {PATIENCE_S:g} seconds and nothing was written; "
                    "try again when it has finished, or end it if it hangs",
                ) from None
            time.sleep(ASK_AGAIN_S)
        else:
            return


def _sweep(folder: Path) -> None:
    """Remove what killed writers left behind; the lock is held, so nobody is writing."""
    for left in folder.rglob(f"*{TEMPORARY}"):
        left.unlink(missing_ok=True)


def fingerprint(paths: tuple[Path, ...]) -> str:
    """A short hash of files' names and contents: the same text is the same version everywhere."""
    digest = hashlib.sha256()
    for path in paths:
        digest.update(path.name.encode())
        try:
            digest.update(hashlib.sha256(path.read_bytes()).digest())
        except OSError:
            digest.update(b"unreadable")  # reported as a fault where it is read
    return digest.hexdigest()[:12]
