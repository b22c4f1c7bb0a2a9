"""The command line on what is known: readable, exact as JSON, one line for every error."""

import csv
import io
import json
from pathlib import Path

import pytest

from tests.api.invented import BEAN_ID, HERB, HERB_ID, ROOT_ID, TREE_ID
from tests.cli.conftest import Command


def test_plants_lists_what_it_finds(traitbed: Command) -> None:
    """Several words are one search; each row names the plant, its family and its cautions."""
    said = traitbed("plants", "trial", "tree")

    assert 0 == said.code
    assert TREE_ID in said.out
    assert "poisonous" in said.out
    assert HERB_ID not in said.out


def test_filters_are_those_of_http(traitbed: Command) -> None:
    """Options carry the names of the parameters."""
    said = traitbed("plants", "--trait", "growth-form=herb", "--family", "Fabaceae", "--json")

    assert [BEAN_ID] == [plant["id"] for plant in json.loads(said.out)["plants"]]


def test_a_long_list_says_how_to_go_on(traitbed: Command) -> None:
    """The printed token continues the list."""
    first = traitbed("plants", "--limit", "2")
    token = first.out.split("--after ")[1].split()[0]

    assert HERB_ID in traitbed("plants", "--limit", "9", "--after", token).out


def test_plant_shows_cautions_before_values(traitbed: Command) -> None:
    """What can hurt comes before what is useful."""
    out = traitbed("plant", "trial tree").out

    assert 0 < out.index("bitter") < out.index("Values in use")
    assert "mature-height" in out


def test_no_caution_is_not_the_same_as_safe(traitbed: Command) -> None:
    """Nothing on record is said as such."""
    assert "not the same as safe" in traitbed("plant", "trial herb").out


@pytest.mark.parametrize("name", [HERB_ID, "Inventa herbacea", "inventa vetusta", "Trial Herb"])
def test_a_plant_is_found_by_any_of_its_names(traitbed: Command, name: str) -> None:
    """Id, accepted name, synonym and common name mean the same plant."""
    assert HERB_ID == json.loads(traitbed("plant", name, "--json").out)["id"]


def test_records_show_their_evidence(traitbed: Command) -> None:
    """What was printed, where, and how it counts."""
    out = " ".join(traitbed("records", HERB_ID, "--trait", "mature-height").out.split())

    assert "printed '0.3-0.5'" in out
    assert "invented, p. 1" in out
    assert "Invented: it is the only one." in out


@pytest.mark.parametrize("record", [HERB.records[0].iri, HERB.records[0].id, f"record.{HERB.records[0].id}"])
def test_a_record_opens_by_iri_or_id(traitbed: Command, record: str) -> None:
    """Every IRI that a reason prints opens."""
    assert (
        HERB.records[0].iri
        == json.loads(traitbed("records", "--record", record, "--json").out)["record"]["id"]
    )


def test_readable_record_shows_its_source(traitbed: Command) -> None:
    """The record as text holds the citation."""
    out = traitbed("records", "--record", HERB.records[0].id).out

    assert "Invented for the tests" in " ".join(out.split())


def test_sources_and_traits_are_listed_and_opened(traitbed: Command) -> None:
    """All of them, or one."""
    assert "Invented for the tests" in traitbed("sources").out
    assert ["invented"] == [
        s["key"] for s in json.loads(traitbed("sources", "invented", "--json").out)["sources"]
    ]
    assert "mature-height (number, m)" in traitbed("traits", "mature-height").out
    assert "growth-form" in traitbed("traits").out


def test_export_is_the_table_of_http(traitbed: Command, tmp_path: Path) -> None:
    """To stdout, or whole into a file; the columns are fixed by the interface."""
    printed = traitbed("export", "csv").out
    target = tmp_path / "records.csv"
    said = traitbed("export", "csv", "--out", str(target))

    assert 0 == said.code
    assert target.read_bytes().decode() == printed.replace("\r\n", "\n").replace("\n", "\r\n")
    rows = list(csv.DictReader(io.StringIO(target.read_text(encoding="utf-8"))))
    assert HERB.records[0].iri in {row["record"] for row in rows}
    adopted = csv.DictReader(io.StringIO(traitbed("export", "csv", "--adopted").out))
    assert [
        "plant",
        "trait",
        "low",
        "likely",
        "high",
        "concept",
        "unit",
        "confidence",
        "rule",
        "records",
    ] == list(adopted.fieldnames or ())


def test_an_export_that_cannot_be_written_leaves_nothing(traitbed: Command, tmp_path: Path) -> None:
    """A folder that is not there is an error, not half a file."""
    said = traitbed("export", "csv", "--out", str(tmp_path / "none" / "x.csv"))

    assert 2 == said.code
    assert "cannot be written" in said.err
    assert [] == list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["plant", "nonesuch"], "No plant is called 'nonesuch'"),
        (["plant", "trial hreb"], "trial herb"),
        (["plant", "trialwort"], "can mean several plants: "),
        (["plant"], "NAME"),
        (["records"], "--record IRI"),
        (["records", HERB_ID, "--record", "x"], "leave out NAME"),
        (["records", "--record", "nonesuch"], "no record 'nonesuch'"),
        (["records", HERB_ID, "--trait", "mature-hight"], "mature-height"),
        (["plants", "--trait", "mature-height"], "ID=VALUE"),
        (["plants", "--limit", "0"], "--limit 0 is out of range"),
        (["plants", "--limt", "3"], "--limit"),
        (["plants", "--years", "3"], "--years is not used by this question"),
        (["pair", HERB_ID, ROOT_ID, "--clear-week-b", "3"], "not used yet"),
        (["pair", HERB_ID, ROOT_ID, "--soil-texture", "gravel"], "is not one of sand, loamy-sand"),
        (["pair", HERB_ID, ROOT_ID, "--latitude", "-90.1"], "--latitude -90.1 is out of range"),
        (["pair", HERB_ID, ROOT_ID, "--last-frost", "never", "--winter-min-c", "-4"], "--winter-min-c"),
        (["pair", HERB_ID, ROOT_ID, "--years", "3"], "not used by this question"),
        (["pair", HERB_ID, ROOT_ID, "--setting", "hedge", "--spacing-a-m", "1"], "in a bed (--setting bed)"),
        (["pair", HERB_ID, ROOT_ID, "--side", "N"], "--setting under"),
        (["pair", HERB_ID], "Missing argument 'B'"),
        (["pair", HERB_ID, ROOT_ID, "--soil-depth-m", "9"], "--soil-depth-m 9 is out of range"),
        (["under", TREE_ID, "--stock", "M9"], "no stock is on record"),
        (["under", TREE_ID, "--height-m", ""], "--height-m is empty"),
        (["traits", "nonesuch"], "no trait 'nonesuch'"),
        (["sources", "nonesuch"], "no source 'nonesuch'"),
        (["export", "pdf"], "no export 'pdf'"),
        (["check", "--coverages"], "--coverages"),
        (["import", "nonesuch"], "no source 'nonesuch'"),
        (["serve", "--port", "99999"], "--port 99999 is out of range"),
        (["nonesuch"], "no command 'nonesuch'"),
        (["plnt"], "Did you mean 'plant'?"),
        (["--nonesuch"], "--nonesuch"),
    ],
)
def test_bad_questions_are_one_line_and_exit_2(traitbed: Command, arguments: list[str], told: str) -> None:
    """One line says what is wrong and how to mend it; nothing goes to stdout."""
    said = traitbed(*arguments)

    assert (2, "") == (said.code, said.out)
    assert 1 == len(said.err.splitlines())
    assert told in said.err
    assert "Traceback" not in said.err


@pytest.mark.parametrize(
    "arguments", [["plants"], ["pair", "x", "y"], ["under", "x"], ["serve"], ["export", "csv"]]
)
def test_a_store_that_is_not_there_is_one_line(
    traitbed: Command, tmp_path: Path, arguments: list[str]
) -> None:
    """A missing store is said; nothing is answered from another one."""
    said = traitbed(*arguments, "--store", str(tmp_path / "none"))

    assert (2, "") == (said.code, said.out)
    assert "is not there" in said.err


def test_the_shipped_base_takes_no_import(traitbed: Command) -> None:
    """The read-only base says what to do instead."""
    said = traitbed("import", "taxa")

    assert 2 == said.code
    assert "--store FOLDER" in said.err


def test_a_broken_file_is_told_on_stderr(traitbed: Command, tmp_path: Path) -> None:
    """The rest is answered; the warning does not touch stdout."""
    broken = tmp_path / "plants" / "inventa" / "fracta.ttl"
    broken.parent.mkdir(parents=True)
    broken.write_bytes(b"\xff\xfe not Turtle")

    said = traitbed("plants", "--json", "--store", str(tmp_path))

    assert 0 == said.code
    assert 5 == json.loads(said.out)["total"]
    assert "left out as broken" in said.err


def test_help_lists_every_command(traitbed: Command) -> None:
    """The help needs no store and fits 80 columns."""
    said = traitbed("--help")

    assert 0 == said.code
    for command in ("under", "pair", "candidates", "plants", "check", "import", "export", "serve"):
        assert f"  {command} " in said.out
    assert max(len(line) for line in said.out.splitlines()) <= 80


@pytest.mark.parametrize("command", ["under", "pair", "candidates", "plants", "records", "check", "serve"])
def test_every_command_has_help(traitbed: Command, command: str) -> None:
    """So has each command."""
    said = traitbed(command, "--help")

    assert 0 == said.code
    assert "--store" in said.out
    assert max(len(line) for line in said.out.splitlines()) <= 80


def test_version_is_that_of_the_package(traitbed: Command) -> None:
    """The version is told and nothing else."""
    assert traitbed("--version").out.startswith("traitbed 0.")
