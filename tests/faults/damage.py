"""What is broken in a store after a fault, and processes of our own that write until they are killed."""

import os
import signal
import warnings
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

from kb.bench.drafts import Curator, RecordDraft
from kb.curation import Bench
from kb.model import PlantId, Source, SourceKey
from kb.repository import FilesRepository
from kb.stores.writing import things_of
from tests.api.invented import HERB, SOURCE

PLANT_ID = HERB.id
CURATOR_A = Curator("curator-a", "author")


def made(folder: Path) -> FilesRepository:
    """Fill a folder with one invented plant."""
    repository = FilesRepository(None, folder)
    repository.put_source(SOURCE)
    repository.put_plant(HERB)
    return repository


BOOK = replace(SOURCE, key=SourceKey("book"), citation="A book of the test.", credit="A book of the test.")
"""A source that no store has yet: it comes with the record that names it."""


def drafted(value: int, source: Source | None = None) -> RecordDraft:
    """One record to be added, with a source that is new where one is given."""
    return RecordDraft(
        plant=PLANT_ID,
        trait="mature-height",
        value=f"{value} cm",
        basis="read-in-source",
        why="Written while the machine may fail.",
        source="invented" if source is None else source.key,
        new_source=source,
        locator=f"p. {value}",
        verbatim=f"{value} cm",
        name_as_printed="Inventa herbacea",
    )


def add(
    repository: FilesRepository, value: int, *, expected: str | None = None, source: Source | None = None
) -> str:
    """Add one record through the bench; its local IRI."""
    bench = Bench(repository, CURATOR_A, date(2026, 11, 26))
    (thing,) = bench.add_record(drafted(value, source), expected=expected).things
    return thing


def damage(folder: Path, acknowledged: set[str]) -> list[str]:
    """Everything that is wrong: broken files, lost records, and a journal that tells another story."""
    repository = FilesRepository(None, folder)
    snapshot = repository.snapshot()
    found = [f"broken: {fault}" for fault in snapshot.faults]
    plant = snapshot.plants.get(PlantId(PLANT_ID))
    there = things_of(plant) if plant is not None else set()
    found += [f"lost: {thing}" for thing in sorted((acknowledged | things_of(HERB)) - there)]
    named = {SOURCE.key, *(record.source for record in plant.records)} if plant is not None else set()
    found += [f"named by nothing: source {key}" for key in sorted(snapshot.sources.keys() - named)]
    told = [thing for entry in repository.journal() for thing in entry.things]
    found += [f"told twice: {thing}" for thing in sorted({t for t in told if told.count(t) > 1})]
    found += [f"told, not there: {thing}" for thing in sorted(set(told) - there)]
    found += [f"there, not told: {thing}" for thing in sorted(there - set(told) - things_of(HERB))]
    return found


def forked(work: Callable[[Callable[[str], None]], None]) -> tuple[int, int]:
    """Start a child that works and acknowledges through a pipe; its id and the end to read from."""
    reading, writing = os.pipe()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # threads of other tests do not matter to a child that only writes
        child = os.fork()
    if child:
        os.close(writing)
        return child, reading
    os.close(reading)
    code = 1
    try:
        work(lambda thing: os.write(writing, f"{thing}\n".encode()) and None)
        code = 0
    finally:
        os._exit(code)


def heard(reading: int) -> set[str]:
    """Everything that a child acknowledged before it ended; a half-sent line was never heard."""
    text = b""
    while part := os.read(reading, 65536):
        text += part
    os.close(reading)
    return set(text.decode().rpartition("\n")[0].split("\n")) - {""}


def killed_now() -> None:
    """End this process at once, as a power cut would."""
    os.kill(os.getpid(), signal.SIGKILL)
