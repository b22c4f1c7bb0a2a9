"""Tables of outcomes are read whole or refused with the line. All rows here are invented."""

from dataclasses import replace
from pathlib import Path

import pytest

from kb.errors import BadFile
from kb.model import CommonName, Plant, PlantId
from kb.snapshot import Snapshot
from kb.trials.outcome_names import match
from kb.trials.outcome_studies import COUNT, gave_constants
from kb.trials.outcome_table import read_outcomes
from tests.kb.test_table import BASE

HEADER = "species_a,species_b,study,partial_ler_a,partial_ler_b,ler"


def table(folder: Path, *lines: str) -> Path:
    """Write an invented table."""
    file = folder / "invented.csv"
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return file


def test_rows_are_read_as_printed(tmp_path: Path) -> None:
    """Empty cells are not measured; optional columns may be missing; the line is kept."""
    rows = read_outcomes(table(tmp_path, HEADER, "Inventa prima,Inventa altera,s1,0.5,,1.25"))

    assert [(2, (0.5, None), 1.25, "")] == [(r.line, r.partial_ler, r.ler, r.design) for r in rows]


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (["species_a,study"], "line 1: lacks the columns species_b, partial_ler_a"),
        ([HEADER + ",ler"], "line 1: holds the columns ler more than once"),
        ([HEADER], "holds no rows"),
        ([HEADER, "a,b,s,1,1,2", "a,b,s,much,1,2"], "line 3: partial_ler_a is 'much'"),
        ([HEADER, "a,b,s,1,nan,2"], "line 2: partial_ler_b is 'nan'"),
        ([HEADER, "a,b,s,1,-1,2"], "line 2: partial_ler_b is '-1'"),
        ([HEADER, "a,,s,1,1,2"], "line 2: species_b is empty"),
        ([HEADER, "a,b,s,1,1"], "line 2: has fewer cells"),
        ([HEADER, "a,b,s,1,1,2,3"], "line 2: has more cells"),
        ([HEADER, 'a,"b,s,1,1,2'], "is not CSV"),
    ],
)
def test_a_fault_is_named_with_its_line(tmp_path: Path, lines: list[str], told: str) -> None:
    """Nothing is guessed or left out."""
    with pytest.raises(BadFile) as fault:
        read_outcomes(table(tmp_path, *lines))

    assert told in str(fault.value)


def test_what_is_no_text_is_refused(tmp_path: Path) -> None:
    """Bytes that are not UTF-8, and a folder."""
    file = tmp_path / "bytes.csv"
    file.write_bytes(b"\xff\xfe\x00")
    for path in (file, tmp_path):
        with pytest.raises(BadFile):
            read_outcomes(path)


def plants(*made: Plant) -> Snapshot:
    return Snapshot("test", {plant.id: plant for plant in made}, {})


def named(plant_id: str, name: str, common: str, parent: str | None = None) -> Plant:
    """Give an invented plant."""
    return replace(
        BASE,
        id=PlantId(plant_id),
        scientific_name=name,
        parent=PlantId(parent) if parent else None,
        common_names=(CommonName(common, "en"),),
    )


SPECIES = named("inventa-prima", "Inventa prima", "first wort")
ROOTED = named("inventa-prima.rooted-group", "Inventa prima Rooted Group", "root wort", "inventa-prima")
OTHER = named("fictaria-altera", "Fictaria altera", "other wort")
TWIN = named("fictaria-tertia", "Fictaria tertia", "twin wort")
TWIN_TOO = named("fictaria-quarta", "Fictaria quarta", "twin wort")
KNOWN = plants(SPECIES, ROOTED, OTHER, TWIN, TWIN_TOO)


@pytest.mark.parametrize(
    ("species", "common", "plant"),
    [
        ("Inventa prima", "first wort", "inventa-prima"),
        ("Inventa prima", "", "inventa-prima"),
        ("Inventa prima", "never heard of", "inventa-prima"),
        ("Inventa prima", "root wort", "inventa-prima.rooted-group"),
        ("Inventa prima", "other wort", "inventa-prima"),
        ("Fictaria sp.", "other wort", "fictaria-altera"),
        ("Inventa sp.", "other wort", None),
        ("Fictaria sp.", "twin wort", None),
        ("Fictaria sp.", "", None),
    ],
)
def test_a_printed_name_means_a_plant_or_none(species: str, common: str, plant: str | None) -> None:
    """A common name narrows or stands in inside the genus; an ambiguous one decides nothing."""
    assert plant == match(KNOWN, species, common).plant


def test_no_match_says_why() -> None:
    """The name that is not known is in the reason."""
    assert "No plant is called 'Ignota sp.'" in match(KNOWN, "Ignota sp.", "root wort").how


def test_studies_that_gave_constants_are_known_by_key_or_doi() -> None:
    """The 90 studies of the published compilation (Paut et al. 2024 and ERA); one by any form of its DOI."""
    forms = ("doi:10.1016/j.fcr.2012.07.014", "https://doi.org/10.1016/J.FCR.2012.07.014")

    assert 90 == COUNT
    assert all(gave_constants(form) for form in forms)
    assert gave_constants("a key of its own", forms[1])
    assert not gave_constants("a key of its own", "10.0000/invented")
