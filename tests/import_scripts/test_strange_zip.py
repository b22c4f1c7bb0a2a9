"""A zip from a stranger: every trick is refused before anything is used; nothing reaches the disk."""

import stat
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from import_scripts.exchange import archive_zip
from import_scripts.exchange.archive_zip import StrangeZip
from kb.errors import BadFile, SourceFault

Made = Callable[..., Path]


@pytest.fixture
def made(tmp_path: Path) -> Made:
    """Make a zip of these entries (a name or an entry, and its content)."""

    def make(*entries: tuple[str | zipfile.ZipInfo, bytes]) -> Path:
        path = tmp_path / "strange.zip"
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, data in entries:
                archive.writestr(name, data)
        return path

    return make


def a_link(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name)
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
    return entry


@pytest.mark.parametrize(
    "name",
    [
        "../outside.txt",
        "a/../../outside.txt",
        "/etc/outside.txt",
        "C:/outside.txt",
        "..\\outside.txt",
        "a\\b.txt",
    ],
)
def test_a_name_that_points_outside_is_refused(made: Made, name: str) -> None:
    """Whichever system it was meant for."""
    with pytest.raises(BadFile, match="names a place outside the archive"):
        StrangeZip(made((name, b"x")))


def test_a_link_is_refused(made: Made) -> None:
    """It could stand for any file of this machine."""
    with pytest.raises(BadFile, match="is a link"):
        StrangeZip(made((a_link("meta.xml"), b"/etc/passwd")))


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_two_entries_of_one_name_are_refused(made: Made) -> None:
    """Two readers could see two different archives."""
    with pytest.raises(BadFile, match=r"holds 'a\.txt' twice"):
        StrangeZip(made(("a.txt", b"1"), ("a.txt", b"2")))


def test_an_encrypted_entry_is_refused(made: Made) -> None:
    """Its flag is set in the directory; it is not asked for a password."""
    path = made(("a.txt", b"x"))
    raw = bytearray(path.read_bytes())
    raw[raw.index(b"PK\x01\x02") + 8] |= 1
    path.write_bytes(raw)

    with pytest.raises(BadFile, match="is encrypted"):
        StrangeZip(path)


def test_a_bomb_is_stopped_while_it_unpacks(made: Made) -> None:
    """Fifty megabytes of nothing in fifty kilobytes."""
    path = made(("facts.txt", bytes(50_000_000)))
    with StrangeZip(path) as archive, pytest.raises(BadFile, match="unpacks to more than 250 times its size"):
        archive.read("facts.txt")


def test_sizes_are_counted_over_all_entries(made: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    """Many small ones make a large one."""
    monkeypatch.setattr(archive_zip, "LARGEST_TOTAL", 3_000)
    path = made(*((f"{n}.txt", bytes(range(250)) * 4) for n in range(4)))
    with StrangeZip(path) as archive:
        for n in range(3):
            archive.read(f"{n}.txt")
        with pytest.raises(BadFile, match="bring less at once"):
            archive.read("3.txt")


def test_too_many_entries_are_refused(made: Made) -> None:
    """An archive of tables has a handful."""
    with pytest.raises(BadFile, match="holds 501 entries"):
        StrangeZip(made(*((f"{n}.txt", b"") for n in range(501))))


@pytest.mark.parametrize("kept", [0.2, 0.5, 0.9, 0.99])
def test_a_zip_cut_short_is_refused(made: Made, kept: float) -> None:
    """Wherever the cut is."""
    path = made(("a.txt", bytes(range(256)) * 50), ("b.txt", b"x" * 5000))
    path.write_bytes(path.read_bytes()[: int(kept * path.stat().st_size)])

    with pytest.raises(BadFile, match="is no zip archive, or is cut short"):
        StrangeZip(path)


def test_a_damaged_entry_is_refused(made: Made) -> None:
    """Its checksum tells."""
    path = made(("a.txt", bytes(range(256)) * 50))
    raw = bytearray(path.read_bytes())
    raw[60] ^= 0xFF
    path.write_bytes(raw)

    with StrangeZip(path) as archive, pytest.raises(BadFile, match="is damaged or cut short"):
        archive.read("a.txt")


def test_what_is_no_zip_or_not_there_is_told(tmp_path: Path) -> None:
    """In one sentence each."""
    (tmp_path / "x.zip").write_bytes(b"plant,trait\n")
    with pytest.raises(BadFile, match="is no zip archive"):
        StrangeZip(tmp_path / "x.zip")
    with pytest.raises(SourceFault, match="cannot be read"):
        StrangeZip(tmp_path / "nowhere.zip")
