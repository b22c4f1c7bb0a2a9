"""A folder is checked to the end whatever is broken in it, and what is broken is named where it stands."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from kb.model import Plant, PlantId, SourceKey, TraitId
from kb.stores.files import plant_path, source_path
from kb.turtle import plant_to_turtle, source_to_turtle
from kb.validate import validate_folder
from tests.kb.invented import DECISION, PLANT, RECORD, SOURCE, other


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Make a folder that holds the invented plant and its source."""
    place(tmp_path, PLANT)
    path = source_path(tmp_path, SOURCE.key)
    path.parent.mkdir(parents=True)
    path.write_text(source_to_turtle(SOURCE), encoding="utf-8")
    return tmp_path


def place(folder: Path, plant: Plant, text: str | None = None) -> Path:
    """Write a plant (or another text in its place) where it belongs."""
    path = plant_path(folder, plant.id)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(plant_to_turtle(plant) if text is None else text, encoding="utf-8")
    return path


def test_a_sound_folder_is_sound(folder: Path) -> None:
    """Nothing to mend: the verdict says so and counts what was read."""
    report = validate_folder(folder)

    assert () == report.findings
    assert report.sound
    counted = {
        "plants": 1,
        "records": 1,
        "cautions": 1,
        "decisions": 1,
        "observations": 0,
        "searches": 0,
        "sources": 1,
    }
    assert counted == report.counts
    assert "1 records" in report.lines()[-1]
    assert report.lines()[-1].endswith("sound.")


def broken_syntax(folder: Path) -> None:
    text = plant_to_turtle(PLANT)
    lines = text.splitlines()
    line = next(number for number, line in enumerate(lines) if "tb:locator" in line)
    lines[line] = "    tb:locator table 1, row 2 ;"
    place(folder, PLANT, "\n".join(lines))


def truncated(folder: Path) -> None:
    text = plant_to_turtle(PLANT)
    place(folder, PLANT, text[: len(text) // 2])


def not_utf8(folder: Path) -> None:
    path = plant_path(folder, PLANT.id)
    path.write_bytes(path.read_bytes() + b"\n# caf\xe9\n")


@pytest.mark.parametrize(
    ("spoil", "words"),
    [(broken_syntax, "is not Turtle"), (truncated, "is not Turtle"), (not_utf8, "is not UTF-8")],
)
def test_a_broken_file_is_named_and_the_rest_is_read(
    folder: Path, spoil: Callable[[Path], None], words: str
) -> None:
    """File and line of the fault are named; another broken plant beside it is judged all the same."""
    spoil(folder)
    place(folder, other("altera"))
    place(folder, replace(other("tertia"), according_to=SourceKey("nowhere")))

    report = validate_folder(folder)

    files = [finding.file for finding in report.violations]
    fault = report.violations[0]
    assert ["plants/inventa/exemplaris.ttl", "plants/inventa/tertia.ttl"] == files
    assert words in fault.message
    assert fault.line is not None
    assert fault.line > 1
    assert f"plants/inventa/exemplaris.ttl, line {fault.line}: " in report.lines()[0]
    assert 2 == report.counts["plants"]
    assert not report.sound


def test_a_record_that_breaks_a_shape_is_named_with_line_and_remedy(folder: Path) -> None:
    """Which record, on which line of which file, which property, and how to mend it."""
    swapped = replace(RECORD, low=Decimal("1.9"))
    path = place(folder, replace(PLANT, records=(swapped,)))
    lines = path.read_text(encoding="utf-8").splitlines()

    finding = validate_folder(folder).violations[0]

    assert finding.line is not None
    assert f"tb:record.{RECORD.id}" == lines[finding.line - 1]
    assert f"record.{RECORD.id}" == finding.subject
    assert "tb:minValue" == finding.path
    assert "put them in order" in finding.message
    assert "LessThanOrEqualsConstraintComponent" == finding.component


def test_a_missing_folder_content_is_no_silent_success(tmp_path: Path) -> None:
    """A folder without plants and sources is not called sound."""
    report = validate_folder(tmp_path)

    assert not report.sound
    assert "nothing to check" in report.violations[0].message


def test_a_plant_in_the_wrong_file_is_told_where_it_belongs(folder: Path) -> None:
    """A misplaced file would be written a second time, so it is named with its place."""
    path = plant_path(folder, PLANT.id)
    path.rename(path.with_name("wrong.ttl"))

    found = validate_folder(folder).violations

    assert ["plants/inventa/wrong.ttl"] == [finding.file for finding in found]
    assert "belongs into plants/inventa/exemplaris.ttl" in found[0].message


def test_what_stands_twice_is_named(folder: Path) -> None:
    """A record that stands in two files is named with both."""
    text = plant_to_turtle(PLANT)
    head, _, tail = text.partition("tb:record.")
    record = "tb:record." + tail.partition("\n.\n")[0] + "\n.\n"
    prefixes = "\n".join(line for line in head.splitlines() if line.startswith("PREFIX"))
    plain = plant_to_turtle(other("altera"))
    own = "\n".join(line for line in plain.splitlines() if not line.startswith("PREFIX"))
    place(folder, other("altera"), f"{prefixes}\n{own}\n{record}")

    messages = [finding.message for finding in validate_folder(folder).violations]

    assert "is described in plants/inventa/altera.ttl too; keep it in one file" in messages


def test_a_file_that_is_not_read_is_pointed_out(folder: Path) -> None:
    """A file with another ending would be passed over in silence; it is a warning, not a fault."""
    (folder / "plants" / "inventa" / "exemplaris.ttl.bak").write_text("", encoding="utf-8")

    report = validate_folder(folder)

    assert report.sound
    assert ["plants/inventa/exemplaris.ttl.bak"] == [finding.file for finding in report.warnings]
    assert report.lines()[0].startswith("look again: plants/inventa/exemplaris.ttl.bak: is not read")


def test_what_loading_leaves_out_is_a_finding(folder: Path) -> None:
    """A record about another plant passes the shapes but would not be loaded from this file."""
    place(folder, other("altera"))
    moved = replace(RECORD, id="inventa-altera.rooting-depth.invented-book", plant=PlantId("inventa-altera"))
    place(folder, replace(PLANT, records=(moved,), decisions=()))

    found = validate_folder(folder).violations

    assert ["loading"] == [finding.shape for finding in found]
    assert "move it to that file" in found[0].message


def test_a_fault_of_loading_shows_beside_a_broken_shape(folder: Path) -> None:
    """A record that breaks a shape does not hide another one that would be left out in loading."""
    place(folder, other("altera"))
    moved = replace(RECORD, id="inventa-altera.rooting-depth.invented-book", plant=PlantId("inventa-altera"))
    swapped = replace(RECORD, low=Decimal("1.9"))
    place(folder, replace(PLANT, records=(moved, swapped), decisions=()))

    found = validate_folder(folder).violations

    assert {"loading", "shape.number-record.low-not-above-high"} == {finding.shape for finding in found}


def test_a_source_in_two_minds_is_left_to_its_reader(folder: Path) -> None:
    """A file that describes two sources would not be loaded, though each of them is sound."""
    text = source_to_turtle(SOURCE)
    twin = source_to_turtle(replace(SOURCE, key=SourceKey("invented-twin")))
    own = twin[twin.index("tb:source.") :]
    source_path(folder, SOURCE.key).write_text(f"{text}\n{own}", encoding="utf-8")

    shapes = [finding.shape for finding in validate_folder(folder).violations]

    assert ["file-name", "loading"] == sorted(shapes)


def test_an_unreadable_source_is_named(folder: Path) -> None:
    """A source without what it needs is a finding, and so is each record that rests on it."""
    path = source_path(folder, SOURCE.key)
    path.write_text("nothing", encoding="utf-8")

    report = validate_folder(folder)

    assert {"sources/invented-book.ttl", "plants/inventa/exemplaris.ttl"} == {
        finding.file for finding in report.violations
    }


def test_a_folder_of_ones_own_may_name_the_shipped_base(folder: Path) -> None:
    """Records laid over the base may name its plants and its sources."""
    place(folder, replace(other("altera"), parent=PlantId("malus-domestica"), according_to=SourceKey("taxa")))
    decision = replace(
        DECISION,
        id="malus-domestica.mature-height.own",
        plant=PlantId("malus-domestica"),
        trait=TraitId("mature-height"),
        weighed=(("malus-domestica.mature-height.biflora.1", "preferred"),),
    )
    apple = replace(
        other("x"),
        id=PlantId("malus-domestica"),
        scientific_name="Malus domestica",
        decisions=(decision,),
    )
    place(folder, apple)

    assert () == validate_folder(folder).violations


def test_rules_across_records_are_asked(folder: Path) -> None:
    """Half of the roots below nearly all of them in one source: a finding with file and line."""
    deep = replace(
        RECORD,
        id="inventa-exemplaris.root-depth-50.invented-book",
        trait=TraitId("root-depth-50"),
        low=Decimal("0.5"),
        high=Decimal("0.6"),
    )
    shallow = replace(
        RECORD,
        id="inventa-exemplaris.effective-rooting-depth.invented-book",
        trait=TraitId("effective-rooting-depth"),
        low=Decimal("0.3"),
        high=Decimal("0.4"),
    )
    place(folder, replace(PLANT, records=(RECORD, deep, shallow)))

    found = validate_folder(folder).violations

    assert ["checks/depth-order-violation"] == [finding.shape for finding in found]
    assert found[0].line is not None
    assert "0.5 m against at most 0.4 m" in found[0].message


def test_notes_are_no_faults(folder: Path) -> None:
    """A fixer without a partner is news for a curator, printed and kept for machines."""
    fixer = replace(
        RECORD,
        id="inventa-exemplaris.nitrogen-fixation.invented-book",
        trait=TraitId("nitrogen-fixation"),
        low=None,
        high=None,
        concepts=("fixes",),
        number_kind="membership",
    )
    place(folder, replace(PLANT, records=(RECORD, fixer)))

    report = validate_folder(folder)

    assert report.sound
    assert any(
        line.startswith("note: ") and "plant.inventa-exemplaris" in line and "partner" in line
        for line in report.lines()
    )
    note = next(n for n in report.as_dict()["notes"] if n["name"] == "fixers-without-partner")
    assert [
        {"subject": "plant.inventa-exemplaris", "detail": f"record.{fixer.id}"},
    ] == note["rows"]


def test_a_report_can_be_read_by_machines(folder: Path) -> None:
    """Every finding is handed out with all its facts."""
    place(folder, replace(PLANT, records=(replace(RECORD, likely=Decimal(12)),)))

    answer = validate_folder(folder).as_dict()

    assert answer["sound"] is False
    assert {"severity", "file", "line", "subject", "path", "message", "shape", "component"} == set(
        answer["findings"][0]
    )


def test_an_illegal_decimal_is_seen(folder: Path) -> None:
    """1e1 is no xsd:decimal (XML Schema 1.1, part 2, 3.3.3), though rdflib reads it as 10."""
    text = plant_to_turtle(PLANT).replace("tb:maxValue 1.8", 'tb:maxValue "1e1"^^xsd:decimal')
    place(folder, PLANT, text)

    found = validate_folder(folder).violations

    assert {"shape.number-record.high"} == {finding.shape for finding in found if finding.path}
    assert "as a decimal such as 1.2" in found[0].message
