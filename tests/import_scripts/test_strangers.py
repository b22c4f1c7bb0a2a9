"""What a stranger's file may not do, however well it is formed."""

import random
import zipfile
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from api.answers.exports import export_pieces
from import_scripts.exchange.archive_zip import StrangeZip
from import_scripts.exchange.bring import Wishes, bring_archive
from kb.errors import BadFile
from kb.exchange.table_reading import decoded
from kb.model import Plant
from kb.repository import MemoryRepository
from kb.snapshot import Snapshot
from kb.statements.curation_model import Review
from tests.import_scripts.brought import DAY, brought, table, told
from tests.kb.invented import CAUTION, PLANT, SOURCE


def review(number: int, who: str, verdict: str) -> Review:
    said = "retire" if verdict == "retire" else "keep"
    return Review(
        f"{PLANT.id}.{number}", PLANT.id, CAUTION.id, said, who, date(2026, 11, 26), "An invented why."
    )


def an_archive(folder: Path, *reviews: Review) -> Path:
    """An archive as the export makes it, with these reviews."""
    plant: Plant = replace(PLANT, reviews=reviews)
    made = folder / "strange.zip"
    snapshot = Snapshot("invented", {PLANT.id: plant}, {SOURCE.key: SOURCE})
    made.write_bytes(b"".join(export_pieces(snapshot, "dwca", adopted=False)))
    return made


def test_a_file_does_not_silence_a_warning(tmp_path: Path) -> None:
    """Two made-up reviewers in an archive would retire a poison warning that is on file."""
    store = MemoryRepository((PLANT,), (SOURCE,))
    forged = an_archive(tmp_path, review(1001, "nobody", "retire"), review(1002, "no-one", "retire"))

    report = bring_archive(forged, store, DAY, Wishes(keep_good=True))[0]

    assert 2 == len([text for text in told(report) if "would help to retire" in text]), told(report)
    assert CAUTION in store.snapshot().cautions(PLANT.id)


def test_a_word_for_a_warning_comes_in(tmp_path: Path) -> None:
    """To keep one is no danger; and what is on file already is the same as ever."""
    mine = replace(PLANT, reviews=(review(1001, "curator-a", "retire"),))
    store = MemoryRepository((mine,), (SOURCE,))
    file = an_archive(tmp_path, review(1001, "curator-a", "retire"), review(1002, "curator-b", "keep"))

    report = bring_archive(file, store, DAY, Wishes())[0]

    assert [] == told(report)
    assert 2 == len(store.snapshot().plants[PLANT.id].reviews)


@pytest.mark.parametrize("cell", ["verbatim", "note", "locator", "citation"])
def test_a_file_does_not_steer_the_terminal_of_its_readers(tmp_path: Path, cell: str) -> None:
    """Escape sequences (ECMA-48) are refused with the row that holds them."""
    store = MemoryRepository((PLANT,), (SOURCE,))
    row = {cell: "4.5 m\x1b[2J", "source": "fresh", "citation": "Invented (2026)", "licence": "invented"}

    report = brought(tmp_path / "mine.csv", table({**row, cell: "4.5 m\x1b[2J"}), store)

    assert any("holds a control character" in text for text in told(report)), told(report)
    assert not report.kept


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_an_unusual_packing_is_refused(tmp_path: Path, method: int) -> None:
    """Damaged, it failed with errors of its own; whole, it may ask for gigabytes."""
    file = tmp_path / "strange.zip"
    with zipfile.ZipFile(file, "w", method) as archive:
        archive.writestr("meta.xml", "<archive/>")

    with pytest.raises(BadFile, match="pack it with deflate"):
        StrangeZip(file)


def test_any_damage_to_an_archive_is_told(tmp_path: Path) -> None:
    """Three hundred archives with one byte changed each (seed 1): read whole, or refused in words."""
    whole = an_archive(tmp_path).read_bytes()
    chance, file, told = random.Random(1), tmp_path / "damaged.zip", 0  # noqa: S311 - no secret
    for _ in range(300):
        damaged = bytearray(whole)
        damaged[chance.randrange(len(damaged) - 1500, len(damaged))] = chance.randrange(256)
        file.write_bytes(damaged)
        try:
            with StrangeZip(file) as archive:
                for name in archive.entries:
                    archive.read(name)
        except BadFile:
            told += 1

    assert told > 100


@pytest.mark.parametrize("encoding", ["hex", "rot13", "zlib", "no\x00ne", "nonesuch", ""])
def test_what_is_no_encoding_of_text_is_refused(encoding: str) -> None:
    """Python's codecs hold more than encodings."""
    with pytest.raises(BadFile, match="there is no such encoding"):
        decoded(b"abc", "mine.csv", encoding)
