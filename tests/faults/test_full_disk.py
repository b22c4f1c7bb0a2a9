"""A full disk at any step: refused with the reason, nothing half-written; then writing goes on."""

import errno
import os
import resource
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from kb.errors import StoreFault
from kb.repository import FilesRepository
from tests.faults.damage import BOOK, PLANT_ID, add, damage, forked, heard, made

FULL = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """A folder with one plant and one record added."""
    add(made(tmp_path), 9)
    return tmp_path


def _full_at(turn: int, real: Callable[..., Any]) -> Callable[..., Any]:
    """Give a call that fails once, at its n-th turn."""
    calls = 0

    def failing(*arguments: Any, **keywords: Any) -> Any:
        nonlocal calls
        calls += 1
        if calls == turn:
            raise FULL
        return real(*arguments, **keywords)

    return failing


def _refused(
    store: Path, monkeypatch: pytest.MonkeyPatch, step: str, turn: int, **brought: Any
) -> tuple[str, bool]:
    """What is said of a write for which the disk is full at a step, and whether its plant file changed."""
    repository = FilesRepository(None, store)
    repository.snapshot()
    before = repository.revision(PLANT_ID)
    holder: Any = Path if step == "replace" else os
    with monkeypatch.context() as patch:
        patch.setattr(holder, step, _full_at(turn, getattr(holder, step)))
        with pytest.raises(StoreFault, match="No space left") as refused:
            add(repository, 10, **brought)
    return str(refused.value), repository.revision(PLANT_ID) != before


@pytest.mark.parametrize(
    ("step", "turn"), [("fsync", 1), ("fsync", 2), ("fsync", 3), ("open", 1), ("replace", 1)]
)
def test_a_full_disk_at_any_step_changes_nothing(
    store: Path, monkeypatch: pytest.MonkeyPatch, step: str, turn: int
) -> None:
    """Fsync of journal, file and folder, opening the folder, renaming: what is said is what happened."""
    said, changed = _refused(store, monkeypatch, step, turn)

    assert [] == damage(store, set())
    assert changed == ("nothing was changed" not in said) == ("may not outlive" in said)
    assert [] == damage(store, {add(FilesRepository(None, store), 11)})


@pytest.mark.parametrize(
    ("step", "turn"),
    [("fsync", 2), ("fsync", 3), ("fsync", 4), ("fsync", 5), ("open", 2), ("replace", 1), ("replace", 2)],
)
def test_a_full_disk_leaves_no_source_that_came_with_a_refused_record(
    store: Path, monkeypatch: pytest.MonkeyPatch, step: str, turn: int
) -> None:
    """A record that brings its source: both are kept, or neither ("nothing half-written", issue 4)."""
    said, changed = _refused(store, monkeypatch, step, turn, source=BOOK)

    assert [] == damage(store, set())
    assert changed == ("nothing was changed" not in said)
    assert [] == damage(store, {add(FilesRepository(None, store), 11, source=BOOK)})


def test_a_limit_of_the_kernel_in_the_middle_of_a_file_changes_nothing(store: Path) -> None:
    """The system stops the write part way (a real short write: no file may grow beyond 2 kB)."""

    def work(acknowledge: Callable[[str], None]) -> None:
        repository = FilesRepository(None, store)
        repository.snapshot()
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (2048, resource.RLIM_INFINITY))
        try:
            add(repository, 10)
        except StoreFault as refused:
            acknowledge(f"refused {refused.store}")

    child, reading = forked(work)
    said = heard(reading)
    os.waitpid(child, 0)

    assert {"refused herbacea.ttl"} == said
    assert [] == damage(store, set())


def test_the_control_is_caught(store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A writer that overwrites in place loses the file to a full disk, and the examination says so."""

    def in_place(path: Path, text: str) -> None:
        path.write_text(text[:300], encoding="utf-8")
        raise StoreFault(path.name, "No space left on device")

    monkeypatch.setattr("kb.stores.overlay.write_durably", in_place)

    with pytest.raises(StoreFault):
        add(FilesRepository(None, store), 10)
    assert damage(store, set())
