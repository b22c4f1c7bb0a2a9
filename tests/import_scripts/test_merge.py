"""Drafts merge into a plant so that nothing on file is edited, moved or lost."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from import_scripts.base import CautionDraft, Draft
from import_scripts.merge import merge
from kb.model import Decision, Plant, PlantId, SourceKey, TraitId

FIRST, LATER = date(2026, 1, 1), date(2026, 6, 1)
PLANT = Plant(
    id=PlantId("ficta-inventa"),
    scientific_name="Ficta inventa",
    authority=None,
    rank="species",
    according_to=SourceKey("taxa"),
    parent=None,
    groups=(),
)


def depth(value: str, row: int) -> Draft:
    """An invented depth in row ``row`` of an invented table."""
    return Draft(
        plant=PLANT.id,
        trait=TraitId("rooting-depth"),
        low=None,
        likely=Decimal(value),
        high=None,
        concepts=(),
        number_kind="single",
        conditions=(("method", "trench"),),
        verbatim=value,
        name_as_printed="Ficta inventa",
        source=SourceKey("table"),
        locator=f"row {row}",
        basis="read-in-source",
        note=None,
    )


def test_one_record_has_no_number_and_several_count_from_one() -> None:
    """Ids are plant, trait and source, with a number only where a source has several."""
    one = merge(PLANT, [depth("0.5", 1)], importer="table", on=FIRST)
    several = merge(PLANT, [depth("0.5", 1), depth("0.7", 2)], importer="table", on=FIRST)

    assert ("ficta-inventa.rooting-depth.table",) == one.records.added
    assert (
        "ficta-inventa.rooting-depth.table.1",
        "ficta-inventa.rooting-depth.table.2",
    ) == several.records.added


def test_a_second_run_changes_nothing() -> None:
    """The same rows again, on another day: the same plant, first dates kept."""
    drafts = [depth("0.5", 1), depth("0.7", 2)]
    first = merge(PLANT, drafts, importer="table", on=FIRST)

    again = merge(first.plant, drafts, importer="table", on=LATER)

    assert first.plant == again.plant
    assert 2 == again.records.unchanged


def test_a_row_added_in_the_middle_moves_no_id() -> None:
    """Ids belong to statements, not to places in the table."""
    first = merge(PLANT, [depth("0.5", 1), depth("0.7", 2)], importer="table", on=FIRST)

    again = merge(
        first.plant, [depth("0.5", 1), depth("0.6", 9), depth("0.7", 2)], importer="table", on=LATER
    )

    kept = {record.id: record.likely for record in again.plant.records}
    assert Decimal("0.7") == kept["ficta-inventa.rooting-depth.table.2"]
    assert Decimal("0.6") == kept["ficta-inventa.rooting-depth.table.3"]


def test_a_changed_row_becomes_a_revision_and_the_old_record_stays() -> None:
    """Upstream changed a value: the record on file is not edited; a new one revises it."""
    first = merge(PLANT, [depth("0.5", 1)], importer="table", on=FIRST)

    again = merge(first.plant, [depth("0.8", 1)], importer="table", on=LATER)

    old, new = again.plant.records
    assert (("ficta-inventa.rooting-depth.table", "ficta-inventa.rooting-depth.table.r2"),) == (
        again.records.changed
    )
    assert (Decimal("0.5"), FIRST) == (old.likely, old.entered_on)
    assert (Decimal("0.8"), old.id, LATER) == (new.likely, new.revises, new.entered_on)


def test_a_change_back_is_a_further_revision() -> None:
    """What upstream states now is always the newest revision, even where it returns to the first value."""
    first = merge(PLANT, [depth("0.5", 1)], importer="table", on=FIRST)
    second = merge(first.plant, [depth("0.8", 1)], importer="table", on=LATER)

    third = merge(second.plant, [depth("0.5", 1)], importer="table", on=LATER)
    fourth = merge(third.plant, [depth("0.5", 1)], importer="table", on=LATER)

    assert "ficta-inventa.rooting-depth.table.r3" == third.records.changed[0][1]
    assert third.plant == fourth.plant


def test_what_upstream_dropped_is_kept_and_reported() -> None:
    """A row that is gone leaves its record in place; the report names it."""
    first = merge(PLANT, [depth("0.5", 1), depth("0.7", 2)], importer="table", on=FIRST)

    again = merge(first.plant, [depth("0.5", 1)], importer="table", on=LATER)

    assert first.plant == again.plant
    assert ("ficta-inventa.rooting-depth.table.2",) == again.records.absent


def test_other_hands_are_left_alone() -> None:
    """Records of other importers, decisions, and a standing that a person changed, pass through."""
    mine = merge(PLANT, [depth("0.5", 1)], importer="table", on=FIRST).plant
    record = replace(mine.records[0], standing="accepted")
    other = replace(record, id="ficta-inventa.rooting-depth.table.7", entered_by="importer other")
    decision = Decision(
        "d1",
        PLANT.id,
        TraitId("rooting-depth"),
        "invented curator",
        FIRST,
        "why",
        ((record.id, "preferred"),),
    )
    held = replace(mine, records=(record, other), decisions=(decision,))

    again = merge(held, [depth("0.5", 1)], importer="table", on=LATER)

    assert held == again.plant


def test_a_statement_printed_twice_is_one_record() -> None:
    """Two equal rows at the same place are one statement."""
    merged = merge(PLANT, [depth("0.5", 1), depth("0.5", 1)], importer="table", on=FIRST)

    assert 1 == len(merged.plant.records)


def test_cautions_merge_like_records() -> None:
    """A caution gets an id of its kind and source, once."""
    caution = CautionDraft(
        PLANT.id, "toxic", "Poisonous: invented.", None, None, None, None, None, None,
        "invented", "Ficta inventa", SourceKey("list"), "row 1", "read-in-source",
    )  # fmt: skip
    first = merge(PLANT, [caution], importer="cautions", on=FIRST)

    again = merge(first.plant, [caution], importer="cautions", on=LATER)

    assert "ficta-inventa.toxic.list" == first.plant.cautions[0].id
    assert first.plant == again.plant
