"""The journal of a store: who changed what, when and why, one JSON line each, written before the change.

A line is on disk before the plant's file is replaced. If the process dies between the two, the file
still has its old hash; the next writer sees that and marks the line void. So every change has its
line, and no line tells of a change that did not happen.
"""

import contextlib
import json
import os
from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path

from kb.errors import StoreFault
from kb.stores.files import sync_folder

ROOM = ".curation"
FILE = "journal.jsonl"
Revisions = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Entry:
    """One change of one plant. ``before`` and ``after`` are revisions; ``things`` are local IRIs.

    ``source`` is the key of a source that came into the store with it, where one did.
    """

    seq: int
    at: str
    who: str
    action: str
    plant: str
    things: tuple[str, ...]
    why: str
    before: str
    after: str
    source: str | None = None

    def words(self) -> str:
        return f"{self.who} {self.action} {', '.join(self.things)} ({self.at})"


def own_part(revision: str) -> str:
    """The part of a revision that tells of the store's own file; the rest tells of the base's."""
    return revision.rpartition("-")[2]


class Journal:
    """The journal of one folder. Append only while the folder's lock is held."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / ROOM / FILE

    def entries(self, revision: Revisions) -> tuple[Entry, ...]:
        """What really happened, oldest first: neither void nor left unfinished by a killed writer."""
        entries, void = self._read()
        if entries and _unfinished(entries[-1], revision):
            entries = entries[:-1]
        return tuple(entry for entry in entries if entry.seq not in void)

    def unfinished(self, revision: Revisions) -> Entry | None:
        """The last line, if its writer died (or had no room) before the file was replaced."""
        entries, void = self._read()
        last = entries[-1] if entries else None
        return last if last and last.seq not in void and _unfinished(last, revision) else None

    def append(
        self,
        *,
        who: str,
        action: str,
        plant: str,
        things: tuple[str, ...],
        why: str,
        before: str,
        after: str,
        source: str | None = None,
    ) -> Entry:
        """Write a line and wait until it is on disk. Raises StoreFault; then nothing is kept of it."""
        entries, _ = self._read()
        seq = entries[-1].seq + 1 if entries else 1
        entry = Entry(seq, _now(), who, action, plant, things, why, before, after, source)
        self._write({name: value for name, value in asdict(entry).items() if value is not None})
        return entry

    def void(self, seq: int) -> None:
        """Say that a line tells of nothing; where even that cannot be written, the hashes still tell."""
        with contextlib.suppress(StoreFault):
            self._write({"void": seq, "at": _now()})

    def _read(self) -> tuple[list[Entry], set[int]]:
        try:
            lines = self._path.read_bytes().split(b"\n")
        except FileNotFoundError:
            return [], set()
        except OSError as fault:
            raise StoreFault(FILE, f"cannot be read: {fault.strerror}") from None
        entries, void = list[Entry](), set[int]()
        for number, line in enumerate(lines, start=1):
            try:
                row = json.loads(line)
            except ValueError:  # nothing, or half a line: its writer died before the change was made
                continue
            if _is_void(row):
                void.add(row["void"])
            elif _is_entry(row):
                entries.append(Entry(**{**row, "things": tuple(row["things"])}))
            else:
                detail = f"line {number} is none of a journal; take it out, or put back what stood there"
                raise StoreFault(FILE, detail)
        return entries, void

    def _write(self, row: dict[str, object]) -> None:
        size = None
        try:
            private_room(self._path.parents[1])
            new = not self._path.exists()
            with self._path.open("ab") as out:
                size = out.tell()
                broken = size > 0 and self._path.read_bytes()[-1:] != b"\n"
                text = json.dumps(row, ensure_ascii=False)
                out.write((b"\n" if broken else b"") + text.encode() + b"\n")
                out.flush()
                os.fsync(out.fileno())
            if new:
                sync_folder(self._path.parent)
        except OSError as fault:
            if size is not None:
                with contextlib.suppress(OSError):
                    os.truncate(self._path, size)
            raise StoreFault(FILE, f"cannot be written: {fault.strerror}; nothing was changed") from None


def private_room(folder: Path) -> Path:
    """The folder of journal and accounts, its owner's alone."""
    room = folder / ROOM
    folder.mkdir(parents=True, exist_ok=True)
    room.mkdir(mode=0o700, exist_ok=True)
    return room


TEXTS = ("at", "who", "action", "plant", "why", "before", "after")


def _is_void(row: object) -> bool:
    return isinstance(row, dict) and isinstance(row.get("void"), int)


def _is_entry(row: object) -> bool:
    """Whether a line has the fields of an entry, each of its kind."""
    if not isinstance(row, dict) or row.keys() - {"source"} != {"seq", "things", *TEXTS}:
        return False
    texts = [*(row[name] for name in TEXTS), row.get("source", "")]
    things = row["things"]
    return (
        isinstance(row["seq"], int)
        and all(isinstance(text, str) for text in texts)
        and isinstance(things, list)
        and all(isinstance(thing, str) for thing in things)
    )


def _unfinished(entry: Entry, revision: Revisions) -> bool:
    now = own_part(revision(entry.plant))
    return now != own_part(entry.after) and now == own_part(entry.before)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
