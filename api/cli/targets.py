"""Where commands write: a store, or a file that is there whole or not at all."""

import os
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from kb.errors import StoreFault

if TYPE_CHECKING:
    from kb.repository import Repository


def writable_repository(store: str | None) -> "Repository":
    """The store to write to. Raises StoreFault where it cannot be written."""
    from kb.repository import open_repository  # noqa: PLC0415

    repository = open_repository(store, create=True)
    if not repository.writable:
        raise StoreFault(
            repository.name,
            "is read-only; name a folder of your own with --store FOLDER (it is made if it is not there)",
        )
    return repository


def write_whole(path: Path, pieces: Iterable[bytes], *, option: str = "--out") -> None:
    """Write a file so that it is there whole or not at all. Raises StoreFault; ``option`` names it."""
    if path.is_dir():
        raise StoreFault(str(path), f"is a folder; name a file with {option}")
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    except OSError as fault:
        raise StoreFault(
            str(path), f"cannot be written ({fault.strerror}); name another with {option}"
        ) from None
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.writelines(pieces)
            stream.flush()
            os.fsync(stream.fileno())
        part.chmod(0o666 & ~_umask())
        part.replace(path)
    except OSError as fault:
        raise StoreFault(str(path), f"cannot be written ({fault.strerror}); nothing was changed") from None
    finally:
        part.unlink(missing_ok=True)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
