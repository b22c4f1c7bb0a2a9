"""The cache gives what the files say, or nothing; the files are the reference."""

import os
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

import pytest

from kb.model import PlantId
from kb.repository import FilesRepository, shipped_base
from kb.snapshot import Snapshot
from kb.stores import cache
from kb.stores.compact import packed, unpacker
from tests.api.invented import HERB, HERB_ID, PLANTS, SOURCE, number


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty cache of its own."""
    folder = tmp_path / "kept"
    monkeypatch.setenv(cache.CACHE_VARIABLE, str(folder))
    return folder


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """A store with the invented planting, written without any reader."""
    folder = tmp_path / "store"
    repository = FilesRepository(None, folder)
    repository.put_source(SOURCE)
    for plant in PLANTS:
        repository.put_plant(plant)
    return folder


def everything(snapshot: Snapshot) -> tuple[object, ...]:
    """All that a snapshot holds."""
    return (
        snapshot.version,
        dict(snapshot.plants),
        dict(snapshot.sources),
        dict(snapshot.enemies),
        dict(snapshot.emissions),
        snapshot.profiles(),
        [dict(snapshot.adopted(plant)) for plant in snapshot.plants],
    )


@pytest.mark.slow
def test_the_shipped_base_comes_out_as_it_went_in(kept: Path) -> None:
    """Every plant, record, enemy, adopted value and profile of the real base, field by field."""
    read = everything(FilesRepository(shipped_base(), None).snapshot())
    assert 1 == len(list(kept.glob("*.json")))
    again = everything(FilesRepository(shipped_base(), None).snapshot())

    assert read == again


def test_the_second_start_does_not_read_the_files(
    kept: Path, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With an unchanged store nothing is parsed, and the answer is the same."""
    read = everything(FilesRepository(None, store).snapshot())
    monkeypatch.setattr("kb.stores.overlay.parse_plant", lambda *_: pytest.fail("a file was parsed"))

    assert read == everything(FilesRepository(None, store).snapshot())


def test_a_changed_file_is_another_key(kept: Path, store: Path) -> None:
    """One record more, and the store is read again."""
    before = FilesRepository(None, store).snapshot()
    more = number(HERB_ID, "crown-width", "0.2", None, "0.4")
    FilesRepository(None, store).put_plant(replace(HERB, records=(*HERB.records, more)))
    after = FilesRepository(None, store).snapshot()

    assert before.version != after.version
    assert more.id in {record.id for record in after.plants[PlantId(HERB_ID)].records}


@pytest.mark.parametrize(
    "content", [b"", b"{", b"[]", b"null", b'{"key": "another"}', b"\xff", b'{"key": 1}'], ids=repr
)
def test_a_broken_file_of_the_cache_is_as_good_as_none(kept: Path, store: Path, content: bytes) -> None:
    """The store is read, and the broken file replaced."""
    read = everything(FilesRepository(None, store).snapshot())
    (file,) = kept.glob("*.json")
    file.write_bytes(content)

    assert read == everything(FilesRepository(None, store).snapshot())
    assert content != file.read_bytes()


def test_a_cut_file_is_as_good_as_none(kept: Path, store: Path) -> None:
    """Rows that lack a field do not become plants."""
    read = everything(FilesRepository(None, store).snapshot())
    (file,) = kept.glob("*.json")
    file.write_bytes(file.read_bytes().replace(b'"Inventa herbacea",', b""))

    assert read == everything(FilesRepository(None, store).snapshot())


def test_a_folder_others_can_write_to_is_not_trusted(kept: Path, store: Path) -> None:
    """What another user could have put there is not taken for the store's own."""
    kept.mkdir()
    kept.chmod(0o777)
    FilesRepository(None, store).snapshot()

    assert [] == list(kept.iterdir())


def test_a_store_with_faults_is_not_kept(kept: Path, store: Path) -> None:
    """A broken file must be reported at every start."""
    (store / "plants" / "inventa" / "fracta.ttl").write_text("not Turtle", encoding="utf-8")

    for _ in range(2):
        assert FilesRepository(None, store).snapshot().faults
    assert [] == list(kept.glob("*.json"))


def test_old_versions_are_removed(kept: Path, store: Path) -> None:
    """The cache does not grow: the four used last are kept."""
    kept.mkdir(mode=0o700)
    for day in range(6):
        old = kept / f"{day}.json"
        old.write_bytes(b"{}")
        os.utime(old, (day, day))
    FilesRepository(None, store).snapshot()

    names = {path.name for path in kept.iterdir()}
    assert cache.FILES_KEPT == len(names)
    assert {"3.json", "4.json", "5.json"} < names


def test_off_writes_nothing(tmp_path: Path, store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """TRAITBED_CACHE=off, and a home without room, start from the files."""
    monkeypatch.setenv(cache.CACHE_VARIABLE, "off")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home"))
    FilesRepository(None, store).snapshot()
    assert not (tmp_path / "home").exists()

    monkeypatch.setenv(cache.CACHE_VARIABLE, str(store / "plants" / "inventa" / "falsa.ttl"))
    assert HERB_ID in FilesRepository(None, store).snapshot().plants


@dataclass(frozen=True)
class Odd:
    """A class with a field that plain text cannot hold."""

    value: set[str]


def test_a_new_kind_of_field_is_noticed() -> None:
    """A type that is not known is an error, never a value of another kind."""
    with pytest.raises(TypeError, match="set"):
        unpacker(Odd)


def test_decimals_keep_their_digits() -> None:
    """1.50 stays 1.50: the printed value is not to change."""
    record = replace(HERB.records[0], low=Decimal("1.50"))
    build = unpacker(type(record))

    assert build is not None
    assert "1.50" == str(build(packed(record)).low)


def test_a_full_disk_leaves_no_half_file(kept: Path, store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is kept, nothing is raised, and the disk is not filled by what nobody can read."""

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    cache.write("full", FilesRepository(None, store).snapshot())

    assert [] == [path.name for path in kept.glob("*full*")]
    assert [] == [path.name for path in kept.glob(".keeping.*")]


def test_a_link_in_the_cache_is_not_followed(kept: Path, store: Path, tmp_path: Path) -> None:
    """Nor is a pipe waited for: only a plain file of the user's own is read."""
    FilesRepository(None, store).snapshot()
    (file,) = kept.glob("*.json")
    elsewhere = tmp_path / "elsewhere.json"
    file.rename(elsewhere)
    file.symlink_to(elsewhere)
    linked = cache.read(file.stem)
    file.unlink()
    os.mkfifo(file)

    assert (None, None) == (linked, cache.read(file.stem))


def test_another_process_at_work_is_left_alone(kept: Path, store: Path) -> None:
    """What it is writing is not swept away; what a killed one left is, ten minutes later."""
    kept.mkdir(mode=0o700)
    fresh, old = kept / ".keeping.fresh", kept / ".keeping.old"
    for path in (fresh, old):
        path.write_bytes(b"{")
    os.utime(old, (1.0, 1.0))
    FilesRepository(None, store).snapshot()

    assert [".keeping.fresh"] == [path.name for path in kept.glob(".keeping.*")]
