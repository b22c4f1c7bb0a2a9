"""A plant file and its dataclasses are the same thing in two notations."""

from datetime import date
from decimal import Decimal

import pytest

from kb.errors import BadFile
from kb.model import (
    Caution,
    CommonName,
    Decision,
    Name,
    Plant,
    PlantId,
    Record,
    Source,
    SourceKey,
    TraitId,
    canonical,
)
from kb.text.turtle_reading import parse_plant
from kb.turtle import plant_from_turtle, plant_to_turtle, source_from_turtle, source_to_turtle

PLANT_ID = PlantId("inventa-x-exempla.cv-test")


def a_record(**changes: object) -> Record:
    """Give an invented record of an invented plant."""
    values: dict[str, object] = {
        "id": "inventa-x-exempla.cv-test.rooting-depth.invented.1",
        "plant": PLANT_ID,
        "trait": TraitId("rooting-depth"),
        "low": Decimal("1.2"),
        "likely": None,
        "high": Decimal("1.80"),
        "concepts": (),
        "number_kind": "range",
        "conditions": (("method", "trench"), ("study", "Invented 1900")),
        "verbatim": '1,2–1,8 m "as printed"\nsecond line',
        "name_as_printed": "Inventa × exempla",
        "source": SourceKey("invented"),
        "locator": "table 4, row 12",
        "basis": "read-in-source",
        "standing": "proposed",
        "entered_by": "tests",
        "entered_on": date(2026, 11, 25),
        "note": "invented",
        "revises": "inventa-x-exempla.cv-test.rooting-depth.invented",
    }
    return Record(**{**values, **changes})  # type: ignore[arg-type]


@pytest.fixture
def plant() -> Plant:
    """Give an invented plant that uses every part a file can hold."""
    window = a_record(
        id="inventa-x-exempla.cv-test.growth-window.invented",
        trait=TraitId("growth-window"),
        low=Decimal(44),
        high=Decimal("16.5"),
        revises=None,
    )
    family = a_record(
        id="inventa-x-exempla.cv-test.family.invented",
        trait=TraitId("family"),
        low=None,
        high=None,
        concepts=("Rosaceae",),
        number_kind="class",
    )
    caution = Caution(
        id="inventa-x-exempla.cv-test.toxic.invented",
        plant=PLANT_ID,
        kind="toxic",
        text="Invented warning.",
        part="leaf",
        agent=None,
        group="people",
        place="GB",
        as_of="2026",
        lookalike=None,
        verbatim="poisonous",
        name_as_printed="Inventa",
        source=SourceKey("invented"),
        locator="p. 1",
        basis="second-hand",
        standing="proposed",
        entered_by="tests",
        entered_on=date(2026, 11, 25),
    )
    decision = Decision(
        id="inventa-x-exempla.cv-test.rooting-depth.1",
        plant=PLANT_ID,
        trait=TraitId("rooting-depth"),
        decided_by="a curator (invented)",
        decided_on=date(2026, 11, 25),
        why="First-year plants only.",
        weighed=((window.id, "preferred"), (family.id, "outweighed")),
    )
    return Plant(
        id=PLANT_ID,
        scientific_name="Inventa × exempla 'Test'",
        authority="(L.) Inv.",
        rank="cultivar",
        according_to=SourceKey("invented"),
        parent=PlantId("inventa-x-exempla"),
        groups=("herb", "fruit-tree"),
        synonyms=(Name("Exempla inventa", "L.", "invented"), Name("Altera inventa", None, None)),
        common_names=(CommonName("zed-plant", "en"), CommonName("b", "en-GB"), CommonName("a", "fr")),
        records=(window, a_record(), family),
        cautions=(caution,),
        decisions=(decision,),
    )


def test_reading_what_was_written_gives_the_plant_back(plant: Plant) -> None:
    """No part of a plant is lost or changed by its file."""
    assert canonical(plant) == plant_from_turtle(plant_to_turtle(plant), "x.ttl")


def test_the_same_plant_is_always_the_same_text(plant: Plant) -> None:
    """Writing, reading and writing again changes no byte, whatever the order of the parts."""
    text = plant_to_turtle(plant)

    assert text == plant_to_turtle(plant_from_turtle(text, "x.ttl"))
    assert text == plant_to_turtle(canonical(plant))


def test_a_syntax_fault_names_file_and_line(plant: Plant) -> None:
    """A broken Turtle file is reported with its line."""
    lines = plant_to_turtle(plant).splitlines()
    broken = "\n".join([*lines[:20], "this is not Turtle", *lines[20:]])

    with pytest.raises(BadFile) as caught:
        plant_from_turtle(broken, "kb/plants/x.ttl")

    assert ("kb/plants/x.ttl", 21) == (caught.value.file, caught.value.line)


def test_one_faulty_record_does_not_spoil_the_file(plant: Plant) -> None:
    """A record without a locator is left out and named; the others stay."""
    text = plant_to_turtle(plant).replace('    tb:locator "table 4, row 12" ;\n', "", 1)

    parsed = parse_plant(text, "x.ttl")

    assert parsed.plant is not None
    assert 2 == len(parsed.plant.records)
    assert ["has no tb:locator; add it" in str(fault) for fault in parsed.faults] == [True]


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('"2026-11-25"', '"last week"', "is not a date"),
        ("tb:basis.read-in-source", "tb:basis.hearsay", "is not one of"),
        ("tb:maxValue 1.8", 'tb:maxValue "NaN"', "not a finite number"),
        ("tb:condition\n", 'tb:condition\n        "nothing" ,\n', "must read key=value"),
    ],
)
def test_a_value_outside_the_rules_is_named(plant: Plant, old: str, new: str, says: str) -> None:
    """Each kind of wrong value is reported in words that say what is wrong."""
    text = plant_to_turtle(plant)
    assert old in text

    parsed = parse_plant(text.replace(old, new), "x.ttl")

    assert any(says in str(fault) for fault in parsed.faults)


def test_source_round_trip() -> None:
    """A source file gives back the source."""
    source = Source(
        key=SourceKey("invented"),
        citation="Invented, A. (1900) An invented handbook.",
        identifier="10.0000/invented",
        year="1900",
        licence="invented",
        licence_iri="http://creativecommons.org/licenses/by/4.0/",
        tier="A",
        how_read="whole",
        credit="Invented handbook",
    )

    assert source == source_from_turtle(source_to_turtle(source), "invented.ttl")
