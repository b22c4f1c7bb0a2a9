"""The command line that keeps the base: importing reports what it did and refuses what it cannot do."""

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Command


def test_an_import_reports_every_row(traitbed: Command, tmp_path: Path) -> None:
    """Rows about plants that are not held are counted and listed, not dropped; progress is on stderr."""
    said = traitbed("import", "common-practice", "--store", str(tmp_path / "own"), "--json")

    assert 0 == said.code
    report = json.loads(said.out)
    assert report["rows"] > 0
    assert len(report["unmatched"]) + len(report["refused"]) + report["added"] > 0
    assert "Importing common-practice" in said.err


def test_an_import_is_told_in_lines(traitbed: Command, tmp_path: Path) -> None:
    """Read by a person, the first line holds the counts."""
    said = traitbed("import", "common-practice", "--store", str(tmp_path / "own"))

    assert said.out.startswith("common-practice: ")
    assert "rows read" in said.out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["import"], "Name a source: taxa"),
        (["import", "fao56", "nowhere"], "nowhere"),
        (["import", "taxa", "--out", "x"], "--out"),
    ],
)
def test_an_import_that_cannot_be_is_one_line(
    traitbed: Command, tmp_path: Path, arguments: list[str], told: str
) -> None:
    """What is missing, and where; nothing is written."""
    store = tmp_path / "own"
    said = traitbed(*arguments, "--store", str(store))

    assert 2 == said.code
    assert told in said.err.splitlines()[-1]
    assert not store.exists()


def test_a_store_that_is_a_file_is_refused(traitbed: Command, tmp_path: Path) -> None:
    """A file is no folder; it stays as it is."""
    file = tmp_path / "file"
    file.write_text("mine", encoding="utf-8")

    said = traitbed("plants", "--store", str(file))

    assert 2 == said.code
    assert "a store is a folder" in said.err
    assert "mine" == file.read_text(encoding="utf-8")


def test_an_export_replaces_a_file_whole(traitbed: Command, tmp_path: Path) -> None:
    """The old file is there until the new one is."""
    target = tmp_path / "records.csv"
    target.write_text("old", encoding="utf-8")

    assert 0 == traitbed("export", "csv", "--out", str(target)).code
    assert target.read_text(encoding="utf-8").startswith("record,plant,")
    assert [target] == list(tmp_path.iterdir())


def a_base_with(folder: Path, name: str, content: bytes) -> Path:
    """Give a folder laid out as a base with one plant file of this content."""
    file = folder / "plants" / "inventa" / name
    file.parent.mkdir(parents=True)
    file.write_bytes(content)
    return folder


@pytest.mark.parametrize(
    "content",
    [b"\xff\xfe\x00", b"this is not Turtle", b"@prefix tb: <https://w3id.org/traitbed/> .\ntb:plant.x a"],
    ids=["not UTF-8", "not Turtle", "cut short"],
)
def test_check_names_a_broken_file(traitbed: Command, tmp_path: Path, content: bytes) -> None:
    """The file is named with what is wrong; the exit code says that something must be mended."""
    said = traitbed("check", str(a_base_with(tmp_path, "fracta.ttl", content)))
    report = json.loads(traitbed("check", str(tmp_path), "--json").out)

    assert 2 == said.code
    assert "plants/inventa/fracta.ttl" in said.out
    assert "not sound" in said.out
    assert not report["sound"]
    assert "Traceback" not in said.err


def test_check_passes_what_is_sound(traitbed: Command, base: Path) -> None:
    """A sound base exits with 0 and is counted."""
    said = traitbed("check", str(base))

    assert 0 == said.code, said.out
    assert "5 plants" in said.out


def test_check_needs_a_folder(traitbed: Command, tmp_path: Path) -> None:
    """A folder that is not there, or two of them, is one line."""
    missing = traitbed("check", str(tmp_path / "none"))
    twice = traitbed("check", str(tmp_path), "--store", str(tmp_path))

    assert (2, 2) == (missing.code, twice.code)
    assert "is no folder" in missing.err
    assert "once" in twice.err


def test_coverage_is_counted_not_judged(traitbed: Command) -> None:
    """Traits by best basis and targets; to miss a target is no fault. Readable and for machines."""
    said = traitbed("check", "--coverage")
    answer = json.loads(traitbed("check", "--coverage", "--json").out)

    assert 0 == said.code
    assert f"Traits of {answer['taxa']} taxa" in said.out
    assert "short by" in said.out
    assert {"cited", "recalled", "missing"} <= set(answer["traits"]["family"])


def test_a_folder_is_counted_by_itself(traitbed: Command, tmp_path: Path) -> None:
    """As it is checked: not laid over the shipped base, as a store is."""
    (tmp_path / "plants").mkdir()
    (tmp_path / "sources").mkdir()
    alone = json.loads(traitbed("check", str(tmp_path), "--coverage", "--json").out)
    over = json.loads(traitbed("check", "--coverage", "--json", "--store", str(tmp_path)).out)

    assert 0 == alone["taxa"] < over["taxa"]
