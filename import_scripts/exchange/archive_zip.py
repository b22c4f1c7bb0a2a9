"""A zip that a stranger made: nothing is unpacked to disk, and no entry is believed about its size.

Refused are names that point outside (``..``, absolute, drive letters, backslashes), links, encrypted
entries, two entries of one name, and whatever unpacks to more than ``LARGEST_ENTRY`` bytes, to more than
``LARGEST_TOTAL`` in all, or to more than ``HIGHEST_RATIO`` times its packed size. Sizes are counted while
unpacking, so a false header gains nothing.
"""

import stat
import zipfile
import zlib
from pathlib import Path, PurePosixPath
from typing import Self

from kb.errors import BadFile, SourceFault

LARGEST_ENTRY = 120_000_000
LARGEST_TOTAL = 300_000_000
HIGHEST_RATIO = 250
"""Our own whole archive unpacks to about 13 times its size; a table of one repeated row to about 200."""
RATIO_FROM = 1_000_000
"""Bytes; below this a high ratio harms nobody."""
MOST_ENTRIES = 500
PACKED = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
"""Others (bzip2, LZMA) fail in ways of their own and may ask for gigabytes to unpack a little."""
CHUNK = 1 << 16


class StrangeZip:
    """The entries of a zip by name, read one at a time. Use it as a context manager."""

    def __init__(self, path: Path) -> None:
        self.file = path.name
        self._unpacked = 0
        try:
            if path.stat().st_size > LARGEST_TOTAL:
                raise BadFile(
                    self.file, None, f"is larger than {LARGEST_TOTAL // 1_000_000} MB; bring less at once."
                )
            self._zip = zipfile.ZipFile(path)
        except (zipfile.BadZipFile, RuntimeError, ValueError):  # RuntimeError: a newer kind of zip
            detail = "is no zip archive, or is cut short; fetch or make it again."
            raise BadFile(self.file, None, detail) from None
        except OSError as fault:
            raise SourceFault(self.file, f"cannot be read: {fault.strerror}") from None
        self.entries = self._checked()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._zip.close()

    def _checked(self) -> dict[str, zipfile.ZipInfo]:
        listed = self._zip.infolist()
        if len(listed) > MOST_ENTRIES:
            raise BadFile(self.file, None, f"holds {len(listed)} entries; {MOST_ENTRIES} are the most.")
        entries: dict[str, zipfile.ZipInfo] = {}
        for entry in listed:
            fault = _trick(entry)
            if fault is not None:
                shown = ascii(entry.orig_filename)[1:-1][:80]
                raise BadFile(self.file, None, f"entry '{shown}' {fault}; nothing of this archive is taken.")
            if entry.is_dir():
                continue
            if entry.filename in entries:
                raise BadFile(self.file, None, f"holds '{entry.filename}' twice; make the archive again.")
            entries[entry.filename] = entry
        return entries

    def read(self, name: str) -> bytes:
        """One entry, unpacked under the limits. Raises BadFile."""
        entry = self.entries[name]
        data = bytearray()
        try:
            with self._zip.open(entry) as stream:
                while chunk := stream.read(CHUNK):
                    data += chunk
                    self._unpacked += len(chunk)
                    self._within(entry, len(data))
        except (zipfile.BadZipFile, EOFError, OSError, RuntimeError, ValueError, zlib.error):
            detail = f"entry '{name}' is damaged or cut short; fetch or make the archive again."
            raise BadFile(self.file, None, detail) from None
        return bytes(data)

    def _within(self, entry: zipfile.ZipInfo, size: int) -> None:
        if size > LARGEST_ENTRY or self._unpacked > LARGEST_TOTAL:
            most = LARGEST_ENTRY if size > LARGEST_ENTRY else LARGEST_TOTAL
            raise BadFile(
                self.file, None, f"unpacks to more than {most // 1_000_000} MB; bring less at once."
            )
        if size > RATIO_FROM and size > HIGHEST_RATIO * max(1, entry.compress_size):
            raise BadFile(
                self.file,
                None,
                f"entry '{entry.filename}' unpacks to more than {HIGHEST_RATIO} times its size, as no table "
                "of records does; nothing of this archive is taken.",
            )


def _trick(entry: zipfile.ZipInfo) -> str | None:
    """What is wrong with an entry, before anything of it is read."""
    name = entry.orig_filename
    if "\\" in name or "\x00" in name or name.startswith("/") or ":" in name.split("/")[0]:
        return "names a place outside the archive"
    if ".." in PurePosixPath(name).parts:
        return "names a place outside the archive"
    if stat.S_ISLNK(entry.external_attr >> 16):
        return "is a link"
    if entry.flag_bits & 0x1:
        return "is encrypted"
    if entry.compress_type not in PACKED:
        return "is packed in a way that is not read here; pack it with deflate"
    return None
