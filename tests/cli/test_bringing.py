"""Own files on the command line: what comes in, what goes out, and how bad ones are told."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from api.cli.targets import write_whole
from kb.errors import StoreFault
from tests.api.invented import HERB_ID
from tests.cli.conftest import Command

HEADER = "plant,trait,likely,unit,number_kind,verbatim,name_as_printed,source,locator,basis\n"
GOOD = f"{HERB_ID},mature-height,0.45,m,single,0.45 m,Herb,invented,p. 9,read-in-source\n"
BAD = f"{HERB_ID},mature-height,45 cm,m,single,45 cm,Herb,invented,p. 10,read-in-source\n"
UNKNOWN = "Moonwort,mature-height,0.4,m,single,0.4 m,Moonwort,invented,p. 11,read-in-source\n"


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    return tmp_path / "mine.csv"


def test_a_bad_row_keeps_everything_out(traitbed: Command, mine: Path, tmp_path: Path) -> None:
    """Exit code 2, the row told on one line, and no store is made."""
    mine.write_text(HEADER + GOOD + BAD, encoding="utf-8")

    said = traitbed("import", "csv", str(mine), "--store", str(tmp_path / "own"))

    assert 2 == said.code
    assert "refused: mine.csv, line 3" in said.out
    assert "Nothing was written" in said.out
    assert not (tmp_path / "own").exists()


def test_good_rows_are_kept_when_asked(traitbed: Command, mine: Path, tmp_path: Path) -> None:
    """The good one is there, and what nobody knows is written down to be decided."""
    mine.write_text(HEADER + GOOD + BAD + UNKNOWN, encoding="utf-8")
    store, names = str(tmp_path / "own"), tmp_path / "names.csv"

    said = traitbed(
        "import", "csv", str(mine), "--store", store, "--keep-good", "--unmatched", str(names), "--json"
    )
    there = traitbed("records", HERB_ID, "--trait", "mature-height", "--store", store, "--json")

    assert 0 == said.code
    report = json.loads(said.out)
    assert (3, 1, 1, 1, True) == (
        report["rows"],
        report["added"],
        len(report["refused"]),
        len(report["unmatched"]),
        report["kept"],
    )
    assert "taxon,Moonwort,,1," in names.read_text(encoding="utf-8")
    assert "0.45 m" in [record["verbatim"] for record in json.loads(there.out)["records"]]


@pytest.mark.parametrize("form", ["csv", "dwca", "jsonld", "turtle"])
def test_each_form_goes_out_whole(traitbed: Command, tmp_path: Path, form: str) -> None:
    """Into the named file and nothing beside it."""
    target = tmp_path / "out"

    said = traitbed("export", form, "--out", str(target))

    assert 0 == said.code
    assert target.stat().st_size > 1000
    assert [target] == list(tmp_path.iterdir())


def test_an_export_that_breaks_off_leaves_nothing(tmp_path: Path) -> None:
    """Neither a half file nor a hidden one; what was there stays."""
    target = tmp_path / "out"
    target.write_text("mine", encoding="utf-8")

    def breaking() -> Iterator[bytes]:
        yield b"half"
        raise OSError(28, "No space left on device")

    with pytest.raises(StoreFault, match="nothing was changed"):
        write_whole(target, breaking())

    assert "mine" == target.read_text(encoding="utf-8")
    assert [target] == list(tmp_path.iterdir())


def test_our_own_archive_changes_nothing(traitbed: Command, tmp_path: Path) -> None:
    """What is on file is on file."""
    target = tmp_path / "out.zip"
    traitbed("export", "dwca", "--out", str(target))

    said = traitbed("import", "dwca", str(target), "--store", str(tmp_path / "own"))

    assert 0 == said.code
    assert "Nothing was written: there is nothing new." in said.out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["import", "csv"], "Name the file"),
        (["import", "csv", "nowhere.csv"], "nowhere.csv: cannot be read"),
        (["import", "dwca", "nowhere.zip"], "nowhere.zip: cannot be read"),
        (["import", "csv", "x", "--cache", "y"], "--cache does nothing for csv"),
        (["import", "csv", "{mine}", "--source-key", "y"], "--source-key does nothing for csv"),
        (["import", "csv", "{mine}", "--add-plants"], "--add-plants does nothing for csv"),
        (["import", "taxa", "--keep-good"], "--keep-good does nothing for taxa"),
        (["import", "csv", "{mine}", "--decisions", "nowhere"], "nowhere: cannot be read"),
        (["import", "dwca", "{mine}"], "mine.csv: is no zip archive"),
    ],
)
def test_what_cannot_be_is_one_line(
    traitbed: Command, mine: Path, tmp_path: Path, arguments: list[str], told: str
) -> None:
    """What is wrong and how to mend it; nothing is written."""
    mine.write_text(HEADER + GOOD, encoding="utf-8")
    store = tmp_path / "own"

    said = traitbed(*(one.format(mine=mine) for one in arguments), "--store", str(store))

    assert 2 == said.code
    assert told in said.err.splitlines()[-1]
    assert not store.exists()


def test_the_shipped_base_is_not_written_to(traitbed: Command, mine: Path) -> None:
    """Without a store of one's own there is nowhere to put it."""
    mine.write_text(HEADER + GOOD, encoding="utf-8")

    said = traitbed("import", "csv", str(mine))

    assert 2 == said.code
    assert "is read-only" in said.err


@pytest.mark.parametrize("form", ["dwca", "jsonld", "turtle"])
def test_adopted_values_are_csv_only(traitbed: Command, form: str) -> None:
    """They are computed; the other forms hold what was recorded."""
    said = traitbed("export", form, "--adopted")

    assert 2 == said.code
    assert "--adopted has no place" in said.err


@pytest.mark.parametrize(("name", "outcome"), [(HERB_ID, "1 matched"), ("nonesuch", "1 unknown")])
def test_a_list_is_matched_on_the_command_line(
    traitbed: Command, mine: Path, name: str, outcome: str
) -> None:
    """Counts first, then what a person has to look at."""
    mine.write_text(f"plant;number\n{name};3\n", encoding="utf-8")

    said = traitbed("match", str(mine))
    as_json = json.loads(traitbed("match", str(mine), "--json").out)

    assert 0 == said.code
    assert outcome in said.out
    assert [2] == [row["row"] for row in as_json["rows"]]


@pytest.mark.parametrize("path", ["nowhere.csv", "."])
def test_a_list_that_is_not_there_is_one_line(traitbed: Command, path: str) -> None:
    """Its name and the reason."""
    said = traitbed("match", path)

    assert 2 == said.code
    assert "cannot be read" in said.err
