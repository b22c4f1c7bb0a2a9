"""One contract for every store: what goes in comes out, versions move with the data, readers keep theirs."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from kb.errors import BadRecord, StoreFault, UnknownPlant, UnknownRecord
from kb.model import CommonName, Plant, PlantId, Record, Source, SourceKey, TraitId, canonical
from kb.repository import FilesRepository, MemoryRepository, Repository, open_repository

SOURCE = Source(
    key=SourceKey("invented"),
    citation="An invented handbook.",
    identifier=None,
    year="1900",
    licence="invented",
    licence_iri=None,
    tier="A",
    how_read="whole",
    credit="invented",
)


def a_record(number: int, low: str, high: str) -> Record:
    """Give an invented rooting depth."""
    return Record(
        id=f"inventa-prima.effective-rooting-depth.invented.{number}",
        plant=PlantId("inventa-prima"),
        trait=TraitId("effective-rooting-depth"),
        low=Decimal(low),
        likely=None,
        high=Decimal(high),
        concepts=(),
        number_kind="range",
        conditions=(("study", f"Invented {number}"),),
        verbatim=f"{low}-{high}",
        name_as_printed="Inventa prima",
        source=SourceKey("invented"),
        locator="p. 1",
        basis="read-in-source",
        standing="proposed",
        entered_by="tests",
        entered_on=date(2026, 11, 25),
    )


PLANT = Plant(
    id=PlantId("inventa-prima"),
    scientific_name="Inventa prima",
    authority=None,
    rank="species",
    according_to=SourceKey("invented"),
    parent=None,
    groups=("herb",),
    common_names=(CommonName("first invention", "en"),),
    records=(a_record(1, "0.5", "0.8"),),
)


def with_source(repository: Repository) -> Repository:
    """Give the repository the source that the invented records name."""
    repository.put_source(SOURCE)
    return repository


class RepositoryContract:
    """What every kind of repository promises."""

    @pytest.fixture
    def repository(self, tmp_path: Path) -> Repository:
        raise AssertionError

    def test_what_is_put_in_comes_out(self, repository: Repository) -> None:
        """A plant comes back equal, by id, by name and by record."""
        assert repository.put_plant(PLANT)

        snapshot = repository.snapshot()

        assert canonical(PLANT) == snapshot.plants[PLANT.id]
        assert PLANT.id == snapshot.resolve("first invention")
        assert PLANT.records[0] == snapshot.record(PLANT.records[0].iri)
        assert SOURCE == snapshot.sources[SOURCE.key]

    def test_putting_the_same_again_changes_nothing(self, repository: Repository) -> None:
        """The version only moves when the data do."""
        repository.put_plant(PLANT)
        before = repository.snapshot()

        assert not repository.put_plant(PLANT)
        assert before.version == repository.snapshot().version

    def test_a_reader_keeps_the_version_it_has(self, repository: Repository) -> None:
        """A snapshot never changes under its reader; the next one shows the change."""
        repository.put_plant(PLANT)
        before = repository.snapshot()
        depth = before.adopted(PLANT.id)[TraitId("effective-rooting-depth")]

        repository.put_plant(replace(PLANT, records=(*PLANT.records, a_record(2, "1.5", "2.0"))))

        assert 1 == len(before.plants[PLANT.id].records)
        after = repository.snapshot()
        assert before.version != after.version
        deeper = after.adopted(PLANT.id)[TraitId("effective-rooting-depth")]
        assert depth.likely is not None
        assert deeper.likely is not None
        assert deeper.likely > depth.likely

    def test_a_record_that_breaks_a_rule_is_refused_and_nothing_changes(self, repository: Repository) -> None:
        """An upside-down range names the record and how to mend it; the plant stays as it was."""
        repository.put_plant(PLANT)
        before = repository.snapshot().version
        broken = replace(PLANT, records=(replace(PLANT.records[0], low=Decimal(3), high=Decimal(1)),))

        with pytest.raises(BadRecord, match="effective-rooting-depth"):
            repository.put_plant(broken)
        assert before == repository.snapshot().version

    def test_what_is_not_there_is_said(self, repository: Repository) -> None:
        """Unknown plants and records are named in the error."""
        with pytest.raises(UnknownPlant, match="nothing of the kind"):
            repository.snapshot().resolve("nothing of the kind")
        with pytest.raises(UnknownRecord, match=r"x\.y"):
            repository.snapshot().record("x.y")


class TestMemory(RepositoryContract):
    """The store in memory."""

    @pytest.fixture
    def repository(self, tmp_path: Path) -> Repository:
        return with_source(MemoryRepository())


class TestFiles(RepositoryContract):
    """A folder of its own."""

    @pytest.fixture
    def repository(self, tmp_path: Path) -> Repository:
        return with_source(FilesRepository(None, tmp_path / "store"))


class TestOverlay(RepositoryContract):
    """A user's folder laid over a base that holds the plant's identity already."""

    @pytest.fixture
    def repository(self, tmp_path: Path) -> Repository:
        base = with_source(FilesRepository(None, tmp_path / "base"))
        base.put_plant(replace(PLANT, records=()))
        return FilesRepository(tmp_path / "base", tmp_path / "own")


def test_the_overlay_keeps_only_what_is_the_users_own(tmp_path: Path) -> None:
    """The base's files are never written, and an upgrade of the base shows through."""
    base = with_source(FilesRepository(None, tmp_path / "base"))
    base.put_plant(PLANT)
    own = FilesRepository(tmp_path / "base", tmp_path / "own")
    written = (tmp_path / "base/plants/inventa/prima.ttl").read_bytes()

    own.put_plant(replace(PLANT, records=(*PLANT.records, a_record(2, "1.5", "2.0"))))

    assert written == (tmp_path / "base/plants/inventa/prima.ttl").read_bytes()
    assert "invented.1" not in (tmp_path / "own/plants/inventa/prima.ttl").read_text()
    assert 2 == len(own.snapshot().plants[PLANT.id].records)


def test_a_broken_file_is_named_and_the_rest_loads(tmp_path: Path) -> None:
    """Truncated and non-UTF-8 files are left out with file and line."""
    repository = with_source(FilesRepository(None, tmp_path))
    repository.put_plant(PLANT)
    whole = (tmp_path / "plants/inventa/prima.ttl").read_text()
    (tmp_path / "plants/inventa/cut.ttl").write_text(whole.replace("prima", "cut")[:400])
    (tmp_path / "plants/inventa/latin.ttl").write_bytes("# Größe\n".encode("latin-1"))

    snapshot = FilesRepository(None, tmp_path).snapshot()

    assert [PLANT.id] == list(snapshot.plants)
    assert ["plants/inventa/cut.ttl", "plants/inventa/latin.ttl"] == sorted(f.file for f in snapshot.faults)
    assert all(fault.line for fault in snapshot.faults)


def test_another_process_writing_is_seen(tmp_path: Path) -> None:
    """Two repositories on one folder (two processes) see each other's writes."""
    writer = with_source(FilesRepository(None, tmp_path))
    writer.put_plant(PLANT)
    reader = FilesRepository(None, tmp_path)
    first = reader.snapshot()

    writer.put_plant(replace(PLANT, groups=("herb", "bulb")))
    reader._looked = 0.0

    assert first.version != reader.snapshot().version


def test_the_shipped_base_is_read_only() -> None:
    """Writing without a store of one's own is refused with the way out."""
    repository = open_repository(None)

    with pytest.raises(StoreFault, match="--store"):
        repository.put_plant(PLANT)


def test_a_missing_store_is_not_made_silently(tmp_path: Path) -> None:
    """Reading from a folder that is not there is an error, not an empty answer."""
    with pytest.raises(StoreFault, match="is not there"):
        open_repository(str(tmp_path / "nowhere"))


def test_a_store_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    """A file where the folder should be is refused and nothing changes."""
    blocked = tmp_path / "store"
    blocked.mkdir()
    (blocked / "plants").write_text("a file in the way")

    with pytest.raises(StoreFault, match="cannot be written"):
        with_source(FilesRepository(None, blocked)).put_plant(PLANT)
    assert "a file in the way" == (blocked / "plants").read_text()


@pytest.mark.parametrize("key", ["../../evil", "a/b", "/etc/evil", "a b", "", "..", "a\\b"])
def test_no_key_can_name_a_place_outside_the_store(tmp_path: Path, key: str) -> None:
    """Whoever wrote it: a key is part of a path."""
    store = FilesRepository(None, tmp_path / "store")
    with pytest.raises(StoreFault, match="is no id"):
        store.put_source(replace(SOURCE, key=SourceKey(key)))

    assert [] == list(tmp_path.rglob("*.ttl"))
