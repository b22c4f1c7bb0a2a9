"""What changed between two versions: nothing is missed, nothing invented, and old and new are never mixed up.

Every plant, source and number here is invented (`tests.api.invented`).
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.errors import BadFile
from kb.model import CommonName, Decision, Name, Plant, PlantId, Record, Source, SourceKey, TraitId
from kb.repository import MemoryRepository
from kb.snapshot import Snapshot
from kb.statements.curation_model import Review
from kb.statements.enemy_model import Enemy, EnemyId, HostStatement
from kb.versions.changes import Changes, changes
from kb.versions.opened import comparable
from kb.versions.value_changes import ValueChange, step_of
from kb.vocabulary_store import load_vocabulary
from tests.api.invented import HERB, HERB_ID, PLANTS, ROOT, SOURCE, TREE, TREE_ID, concept, number, plant

SECOND = replace(SOURCE, key=SourceKey("second"), citation="Second Invented Book (1901)")


def version(*plants: Plant, enemies: tuple[Enemy, ...] = ()) -> Snapshot:
    """Give a version that holds these plants."""
    held = {one.id: one for one in plants}
    sources: dict[SourceKey, Source] = {source.key: source for source in (SOURCE, SECOND)}
    return Snapshot("invented", held, sources, enemies={enemy.id: enemy for enemy in enemies})


def study(record: Record, name: str, **changed: Any) -> Record:
    """Give the same record as another study would print it."""
    own: dict[str, Any] = {
        "id": f"{record.plant}.{record.trait}.{name}",
        "source": SourceKey("second"),
        "conditions": (("study", name),),
    }
    return replace(record, **(own | changed))


def values_of(found: Changes, name: str) -> dict[str, ValueChange]:
    """Give the listed changes of a plant by trait."""
    return {change.trait.id: change for one in found.plants if one.plant == name for change in one.values}


HEIGHT = next(record for record in TREE.records if record.trait == "mature-height")
WIDTH = number(TREE_ID, "crown-width", None, "4", None, kind="single")
PLAIN = replace(TREE, records=(concept(TREE_ID, "growth-form", "tree"), WIDTH))
WIDER = replace(
    PLAIN,
    records=(
        *PLAIN.records,
        study(WIDTH, "field-a", likely=Decimal(7)),
        study(WIDTH, "field-b", likely=Decimal("7.5")),
    ),
)


def test_an_added_study_moves_a_value_and_is_named() -> None:
    """Two studies of a wider crown move it from 4 to 7 m, and are told as the cause with their source."""
    change = values_of(changes(version(PLAIN), version(WIDER)), TREE_ID)["crown-width"]

    assert "moved" == change.kind
    assert (4.0, 7.0) == (change.before and change.before.likely, change.after and change.after.likely)
    assert [("added", 2, ("second",))] == [(c.kind, len(c.studies), c.sources) for c in change.causes]


def test_old_and_new_are_told_apart() -> None:
    """The same two versions the other way round: the crown shrank, since two records went."""
    change = values_of(changes(version(WIDER), version(PLAIN)), TREE_ID)["crown-width"]

    assert (7.0, 4.0) == (change.before and change.before.likely, change.after and change.after.likely)
    assert ["removed"] == [cause.kind for cause in change.causes]


def test_what_is_within_noise_is_counted_and_not_listed() -> None:
    """A crown of 4.1 m instead of 4.0 m, in doubt by metres, is one difference too small to tell."""
    nearly = replace(WIDTH, likely=Decimal("4.1"))
    found = changes(version(PLAIN), version(replace(PLAIN, records=(PLAIN.records[0], nearly))))

    assert {} == values_of(found, TREE_ID)
    assert [1] == [one.noise for one in found.plants]


def test_a_record_changed_in_place_is_named_as_such() -> None:
    """The same id with another value is no new study: somebody changed it where it stood."""
    other = replace(PLAIN, records=(PLAIN.records[0], replace(WIDTH, likely=Decimal(9))))

    change = values_of(changes(version(PLAIN), version(other)), TREE_ID)["crown-width"]

    assert ["corrected"] == [cause.kind for cause in change.causes]


def test_a_decision_is_told_with_its_why() -> None:
    """A decision that rejects a record is listed, and is the cause of the value that moves."""
    rejected = WIDER.records[2].id, WIDER.records[3].id
    decision = Decision(
        id=f"{TREE_ID}.crown-width.1",
        plant=PlantId(TREE_ID),
        trait=TraitId("crown-width"),
        decided_by="a curator of the tests",
        decided_on=date(2026, 11, 26),
        why="Invented: both were pruned.",
        weighed=tuple((name, "rejected") for name in rejected),
    )
    found = changes(version(WIDER), version(replace(WIDER, decisions=(decision,))))
    change = values_of(found, TREE_ID)["crown-width"]

    assert [(decision,)] == [one.decisions for one in found.plants]
    assert {"decided", "set-aside"} == {cause.kind for cause in change.causes}
    assert "Invented: both were pruned." == change.causes[0].why


def test_confidence_that_rose_is_told_though_the_value_stayed() -> None:
    """A second study that says the same makes the value surer; that is no noise."""
    agreed = replace(PLAIN, records=(*PLAIN.records, study(WIDTH, "field-a")))
    change = values_of(changes(version(PLAIN), version(agreed)), TREE_ID)["crown-width"]

    assert ("same", ("low", "medium")) == (change.kind, change.confidence)


def test_a_retired_warning_comes_first_with_the_reasons() -> None:
    """A warning that two reviewers retired stands before one that was added, with what they wrote."""
    gone, *kept = ROOT.cautions
    reviews = tuple(
        Review(f"{gone.id}.review.{i}", ROOT.id, gone.id, "retire", who, date(2026, 11, 26), f"Reason {who}")
        for i, who in enumerate(("one", "other"))
    )
    added = replace(gone, id=f"{ROOT.id}.thorn.invented", kind="thorn")
    new = replace(ROOT, cautions=(gone, *kept, added), reviews=reviews)

    found = changes(version(ROOT), version(new)).cautions

    assert [("retired", gone.id), ("added", added.id)] == [
        (one.event, (one.after or one.before or gone).id) for one in found
    ]
    assert ("Reason one", "Reason other") == found[0].why


def test_a_warning_that_nobody_retired_is_gone_and_one_with_other_words_is_reworded() -> None:
    """Gone, reworded and retired are three things."""
    _first, second, *rest = ROOT.cautions
    new = replace(ROOT, cautions=(replace(second, text="Invented: other words."), *rest))

    assert ["gone", "reworded"] == [one.event for one in changes(version(ROOT), version(new)).cautions]


def test_plants_that_come_go_or_are_renamed() -> None:
    """A new common name and an id that became a synonym are renamings; the rest came or went."""
    elsewhere = replace(
        HERB,
        id=PlantId("nova-herbacea"),
        scientific_name="Nova herbacea",
        synonyms=(Name(HERB.scientific_name, None, None),),
    )
    called = replace(TREE, common_names=(CommonName("proof tree", "en"),))
    found = changes(version(HERB, TREE, ROOT), version(elsewhere, called, PLANTS[4]))

    assert [
        ("fictaria-radicosa", "gone", None),
        ("inventa-arborea", "renamed", "trial tree (Inventa arborea)"),
        ("inventa-falsa", "added", None),
        ("nova-herbacea", "renamed", "trial herb (Inventa herbacea)"),
    ] == [(one.plant, one.fate, one.was) for one in found.fates]


def test_a_new_id_takes_warnings_records_and_hosts_along() -> None:
    """A plant under a new id lost no warning and gained none, and only the depth that moved is told."""
    moved = replace(
        ROOT,
        id=PlantId("nova-radicosa"),
        scientific_name="Nova radicosa",
        synonyms=(Name(ROOT.scientific_name, None, None),),
        records=tuple(
            replace(
                record,
                id=record.id.replace(ROOT.id, "nova-radicosa"),
                plant=PlantId("nova-radicosa"),
                **({"high": Decimal(3)} if record.trait == "effective-rooting-depth" else {}),
            )
            for record in ROOT.records
        ),
        cautions=tuple(
            replace(c, id=c.id.replace(ROOT.id, "nova-radicosa"), plant=PlantId("nova-radicosa"))
            for c in ROOT.cautions
        ),
    )
    rot, later = _enemy(ROOT.id), _enemy("nova-radicosa")
    found = changes(version(ROOT, enemies=(rot,)), version(moved, enemies=(later,)))

    assert [("nova-radicosa", "renamed")] == [(one.plant, one.fate) for one in found.fates]
    assert () == found.cautions
    assert (0, 0) == (found.records_added, found.records_gone)
    assert [("nova-radicosa", ())] == [(one.plant, one.hosts) for one in found.plants]
    assert [["corrected"]] == [[c.kind for c in v.causes] for v in found.plants[0].values]


def test_what_is_broken_in_one_version_is_left_out_of_both() -> None:
    """A broken plant goes with those that take from it, a broken enemy with its hosts; nothing is 'gone'."""
    below = replace(TREE, id=PlantId(f"{TREE_ID}.cv-x"), rank="cultivar", parent=TREE.id, cautions=())
    old = version(TREE, below, HERB, enemies=(_enemy(HERB_ID),))
    broken = (
        BadFile("plants/inventa/arborea.ttl", 3, "is broken"),
        BadFile("enemies/invented-rot.ttl", None, "is broken"),
    )
    new = Snapshot("later", {below.id: below, HERB.id: HERB}, {SOURCE.key: SOURCE}, faults=broken)

    before, after, left_out = comparable(old, new)

    assert [(TREE_ID, "new"), (None, "new")] == [(one.plant, one.side) for one in left_out]
    assert [HERB.id] == list(before.plants) == list(after.plants)
    assert changes(before, after).empty
    assert not changes(old, new).empty


def _enemy(*plants: str) -> Enemy:
    said = HostStatement(
        id="invented-rot.x.invented", enemy=EnemyId("invented-rot"), plant=PlantId("x"), role="main",
        severity=None, route=None, distance_m=None, distance_meaning=None, years=None, years_meaning=None,
        years_as_printed=None, region=None, scope="taxon", verbatim="host", name_as_printed="x",
        enemy_as_printed="rot", source=SOURCE.key, locator="p. 3", basis="read-in-source",
        standing="proposed", entered_by="tests", entered_on=date(2026, 11, 26),
    )  # fmt: skip
    hosts = tuple(replace(said, id=f"invented-rot.{p}.invented", plant=PlantId(p)) for p in plants)
    return Enemy(EnemyId("invented-rot"), "invented rot", None, "fungus", (), hosts)


def test_enemies_and_hosts_that_come_are_told_by_plant() -> None:
    """A new enemy is named once; each plant that it attacks is told of it."""
    found = changes(version(TREE, HERB), version(TREE, HERB, enemies=(_enemy(TREE_ID),)))

    assert ("invented rot",) == found.enemies
    assert [(TREE_ID, False, False)] == [(h.plant, h.gone, h.known) for p in found.plants for h in p.hosts]


def test_what_a_plant_takes_from_its_species_is_counted_once_there() -> None:
    """A cultivar that takes its width from the species is not told of again; its change is counted."""
    below = replace(
        TREE, id=PlantId(f"{TREE_ID}.cv-x"), rank="cultivar", parent=TREE.id, records=(), cautions=()
    )
    found = changes(version(PLAIN, below), version(WIDER, below))

    assert {TREE_ID: (1, 0), below.id: (0, 1)} == {
        one.plant: (len(one.values), one.inherited) for one in found.plants
    }


@pytest.mark.parametrize(
    ("low", "likely", "high", "step"),
    [("4", None, "6", 0.5), (None, "4", None, 0.5), ("6.0", None, "7.5", 0.1)],
)
def test_numbers_are_told_no_finer_than_their_doubt(
    low: str | None, likely: str | None, high: str | None, step: float
) -> None:
    """The step is a quarter of the interval (a tenth of a range that is borne)."""
    trait = "soil-reaction" if step == 0.1 else "crown-width"
    record = number("x-y", trait, low, likely, high, kind="single" if likely else "range")
    held = version(plant("x-y", "X y", "xy", (record,))).adopted(PlantId("x-y"))[TraitId(trait)]

    assert step == step_of(load_vocabulary().traits[TraitId(trait)], held)


MOVABLE = [(p.id, r.id) for p in PLANTS for r in p.records if r.low is not None or r.likely is not None]


@st.composite
def versions(draw: st.DrawFn) -> tuple[Plant, ...]:
    """The invented planting with some values scaled, some records left out, some plants gone."""
    scaled = draw(st.dictionaries(st.sampled_from(MOVABLE), st.sampled_from(["0.97", "1.02", "0.8"])))
    left = draw(st.sets(st.sampled_from(MOVABLE), max_size=3))
    gone = draw(st.sets(st.sampled_from([p.id for p in PLANTS]), max_size=2))
    made = []
    for one in PLANTS:
        records = tuple(
            _scaled(record, Decimal(scaled.get((one.id, record.id), "1")))
            for record in one.records
            if (one.id, record.id) not in left
        )
        if one.id not in gone:
            kept = {record.id for record in records}
            decisions = tuple(d for d in one.decisions if {name for name, _ in d.weighed} <= kept)
            made.append(replace(one, records=records, decisions=decisions))
    return tuple(made)


def _scaled(record: Record, times: Decimal) -> Record:
    ends = {end: getattr(record, end) for end in ("low", "likely", "high")}
    return replace(record, **{end: n if n is None else n * times for end, n in ends.items()})


@settings(deadline=None, max_examples=60)
@given(versions())
def test_a_version_does_not_differ_from_itself(plants: tuple[Plant, ...]) -> None:
    """changes(x, x) is empty, however x came about."""
    assert changes(version(*plants), version(*plants)).empty


@settings(deadline=None, max_examples=60)
@given(versions(), versions())
def test_every_changed_value_is_listed_or_counted(old: tuple[Plant, ...], new: tuple[Plant, ...]) -> None:
    """Of plants in both versions, what differs in value or confidence is told or counted, exactly once."""
    before, after = version(*old), version(*new)
    found = changes(before, after)
    listed = sum(len(one.values) + one.noise + one.inherited for one in found.plants)

    assert listed == sum(
        _said(before, name).get(trait) != _said(after, name).get(trait)
        for name in before.plants.keys() & after.plants.keys()
        for trait in _said(before, name).keys() | _said(after, name).keys()
    )
    assert sorted(before.plants.keys() ^ after.plants.keys()) == sorted(f.plant for f in found.fates)


def _said(held: Snapshot, name: PlantId) -> dict[TraitId, tuple[object, ...]]:
    values = held.adopted(name).items()
    return {trait: (v.low, v.likely, v.high, v.concepts, v.confidence) for trait, v in values}


def test_the_invented_planting_is_what_it_is_in_any_store() -> None:
    """A version in memory equals the same one built by hand."""
    assert changes(MemoryRepository(PLANTS, (SOURCE,)).snapshot(), version(*PLANTS)).empty
    assert HERB_ID in version(*PLANTS).plants
    assert HEIGHT in TREE.records
