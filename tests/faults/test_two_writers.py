"""Two curators at once: whoever comes second is refused or waits; nobody's work is lost."""

import contextlib
import fcntl
import os
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from kb.curation import Bench
from kb.errors import BadParameter, StaleWrite, StoreFault
from kb.repository import FilesRepository
from kb.stores.writing import Edit
from tests.faults.damage import BOOK, CURATOR_A, PLANT_ID, add, damage, drafted, forked, heard, made

EACH = 5


@pytest.fixture
def store(tmp_path: Path) -> Path:
    made(tmp_path)
    return tmp_path


def _both(work: Callable[[Callable[[str], None]], None]) -> set[str]:
    """Let two processes do the same work at once; what both acknowledged."""
    children = [forked(work) for _ in range(2)]
    said = [heard(reading) for _, reading in children]
    codes = [os.waitpid(child, 0)[1] for child, _ in children]
    assert [0, 0] == codes
    return set().union(*said)


def test_a_writer_that_hangs_is_not_waited_for_without_end(
    store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second is told so and writes nothing; when the first lets go, the same write is taken."""
    monkeypatch.setattr("kb.stores.files.PATIENCE_S", 0.05)
    repository = FilesRepository(None, store)
    before = repository.revision(PLANT_ID)

    with (store / ".lock").open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        with pytest.raises(StoreFault, match="nothing was written; try again"):
            add(repository, 1)
        assert before == repository.revision(PLANT_ID)

    add(repository, 1)
    assert before != repository.revision(PLANT_ID)


def test_two_processes_lose_nothing(store: Path) -> None:
    """Each adds its records without having read the other's; all are there under ids of their own."""

    def work(acknowledge: Callable[[str], None]) -> None:
        repository = FilesRepository(None, store)
        for value in range(EACH):
            acknowledge(add(repository, 10 + value))

    acknowledged = _both(work)

    assert 2 * EACH == len(acknowledged)
    assert [] == damage(store, acknowledged)
    assert list(range(1, 2 * EACH + 1)) == [entry.seq for entry in FilesRepository(None, store).journal()]


def test_who_read_an_older_revision_is_refused_and_can_go_on(store: Path) -> None:
    """Each writes on the revision it read and tries again when refused; all records are there in the end."""

    def work(acknowledge: Callable[[str], None]) -> None:
        repository = FilesRepository(None, store)
        for value in range(EACH):
            for _ in range(100):
                read = repository.revision(PLANT_ID)
                with contextlib.suppress(StaleWrite):
                    acknowledge(add(repository, 10 + value, expected=read))
                    break

    acknowledged = _both(work)

    assert 2 * EACH == len(acknowledged)
    assert [] == damage(store, acknowledged)


def _slowly(store: Path) -> Callable[[Callable[[str], None]], None]:
    """Make a writer that takes its time between reading and writing."""

    def work(acknowledge: Callable[[str], None]) -> None:
        repository = FilesRepository(None, store)
        change = repository.change

        def slow(plant_id: str, edit: Edit, *, expected: str | None = None) -> object:
            def make(plant: object) -> object:
                time.sleep(0.4)
                return edit.make(plant)  # type: ignore[arg-type]

            return change(plant_id, replace(edit, make=make), expected=expected)  # type: ignore[arg-type]

        repository.change = slow  # type: ignore[assignment,method-assign]
        acknowledge(add(repository, 10))

    return work


def test_a_slow_writer_is_waited_for(store: Path) -> None:
    """Between reading and writing nobody else comes in."""
    acknowledged = _both(_slowly(store))

    assert 2 == len(acknowledged)
    assert [] == damage(store, acknowledged)


def test_the_control_is_caught(store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the lock the second overwrites the first, and the examination says so."""

    @contextlib.contextmanager
    def unlocked(_folder: Path) -> Iterator[None]:
        yield

    monkeypatch.setattr("kb.repository.locked", unlocked)

    acknowledged = _both(_slowly(store))

    assert damage(store, acknowledged) or len(acknowledged) < 2


def test_a_source_that_another_writer_described_meanwhile_is_not_written_over(store: Path) -> None:
    """Two bring a source of one key at once, described differently: the second is told, the first stands.

    Issue 4: nothing is edited in place.
    """
    late = FilesRepository(None, store)
    bench = Bench(late, CURATOR_A, date(2026, 11, 26))
    first = add(FilesRepository(None, store), 10, source=BOOK)

    other = replace(BOOK, citation="Another book.", credit="Another book.")
    with pytest.raises(BadParameter, match="described already, in other words"):
        bench.add_record(drafted(11, other))

    assert BOOK == FilesRepository(None, store).snapshot().sources[BOOK.key]
    assert [] == damage(store, {first})
