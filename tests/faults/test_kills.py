"""Killed at any moment, a writer leaves the old file or the new one, and a journal that fits it."""

import os
import random
import signal
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from kb.model import Source
from kb.stores import files
from tests.faults.damage import BOOK, add, damage, forked, heard, killed_now, made

KILLS = 20
STEPS = ("os.fsync", "Path.replace", "os.open")


def _dies_at(step: str, turn: int, source: Source | None = None) -> Callable[[Callable[[str], None]], None]:
    """Make a writer that dies just before one call of a step."""
    module, name = step.split(".")
    holder = os if module == "os" else Path
    real = getattr(holder, name)
    calls = 0

    def dying(*arguments: object, **keywords: object) -> object:
        nonlocal calls
        calls += 1
        if calls == turn:
            killed_now()
        return real(*arguments, **keywords)

    def patch() -> None:
        setattr(holder, name, dying)

    return _writes(1, patch, source)


def _writes(
    number: int, first: Callable[[], None] = lambda: None, source: Source | None = None
) -> Callable[[Callable[[str], None]], None]:
    """Make a writer that adds so many records to the folder it was started in."""

    def work(acknowledge: Callable[[str], None]) -> None:
        from kb.repository import FilesRepository  # noqa: PLC0415

        repository = FilesRepository(None, Path.cwd())
        repository.snapshot()
        first()
        for value in range(10, 10 + number):
            acknowledge(add(repository, value, source=source))

    return work


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with one plant and one record added; the writers work in it."""
    add(made(tmp_path), 9)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("turn", [1, 2, 3, 4])
@pytest.mark.parametrize("step", STEPS)
def test_a_writer_killed_at_any_step_loses_nothing(store: Path, step: str, turn: int) -> None:
    """Before each fsync, the rename, each opening of a folder: whole files, a fitting journal."""
    child, reading = forked(_dies_at(step, turn))
    acknowledged = heard(reading)
    os.waitpid(child, 0)

    assert [] == damage(store, acknowledged)
    from kb.repository import FilesRepository  # noqa: PLC0415

    again = add(FilesRepository(None, store), 70)
    assert [] == damage(store, acknowledged | {again})
    assert [] == list(store.rglob("*.writing"))


@pytest.mark.parametrize("turn", [1, 2, 3, 4, 5, 6])
@pytest.mark.parametrize("step", STEPS)
def test_a_writer_killed_with_a_new_source_in_hand_leaves_no_half_of_it(
    store: Path, step: str, turn: int
) -> None:
    """The next writer takes away a source whose record was never written, and can write both anew."""
    child, reading = forked(_dies_at(step, turn, BOOK))
    acknowledged = heard(reading)
    os.waitpid(child, 0)
    from kb.repository import FilesRepository  # noqa: PLC0415

    again = add(FilesRepository(None, store), 70)
    assert [] == damage(store, acknowledged | {again})
    with_book = add(FilesRepository(None, store), 71, source=BOOK)
    assert [] == damage(store, acknowledged | {again, with_book})


def test_a_writer_killed_at_random_loses_nothing_that_it_acknowledged(store: Path) -> None:
    """Twenty writers, each killed (signal 9) somewhere in the middle of its work."""
    draw = random.Random(20261126)  # noqa: S311 - moments to kill at, no secrets
    acknowledged: set[str] = set()
    ended = []
    for turn in range(KILLS):
        child, reading = forked(_writes(50))
        if turn % 2:  # on a busy machine too, half of them are killed after a record, not before the first
            acknowledged |= set(os.read(reading, 4096).decode().split())
        time.sleep(draw.uniform(0.05, 0.35))
        os.kill(child, signal.SIGKILL)
        acknowledged |= heard(reading)
        ended.append(os.WIFSIGNALED(os.waitpid(child, 0)[1]))

        assert [] == damage(store, acknowledged)
    assert all(ended)
    assert acknowledged, "no writer ever got as far as one record, so nothing was tested"


def test_the_control_is_caught(store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A writer that overwrites in place and is killed half way is found out by the same examination."""

    def in_place(path: Path, text: str) -> None:
        with path.open("w", encoding="utf-8") as out:
            out.write(text[: len(text) // 2])
            out.flush()
            killed_now()

    def patch() -> None:
        monkeypatch.setattr("kb.stores.overlay.write_durably", in_place)

    child, reading = forked(_writes(1, patch))
    acknowledged = heard(reading)
    os.waitpid(child, 0)

    assert damage(store, acknowledged)
    assert callable(files.write_durably)
