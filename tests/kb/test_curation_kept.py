"""What the bench wrote is kept: over upgrades, imports, broken files and any sequence of acts."""

import tempfile
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.bench.drafts import ObservationDraft
from kb.curation import Bench
from kb.errors import (
    BadParameter,
    StoreFault,
)
from kb.model import PlantId
from kb.repository import FilesRepository, MemoryRepository, Repository, open_repository
from kb.stores.writing import things_of
from kb.validate import validate_folder
from tests.api.invented import SOURCE
from tests.kb.benching import (
    AUTHOR,
    BARE,
    HEIGHT,
    PLANT_ID,
    REVIEWER,
    bench,
    likely,
    made,
    name,
    observation,
    parts_of,
    prefer,
    record,
)


def test_an_upgrade_of_the_base_takes_no_id_of_ones_own(tmp_path: Path) -> None:
    """The base grows the records and decisions that numbering would have given next; both stand."""
    base = made(tmp_path / "base", BARE)
    own = FilesRepository(tmp_path / "base", tmp_path / "own")
    mine = {name(bench(own).add_record(record("40 cm"))), name(bench(own).add_record(record("45 cm")))}
    mine.add(name(bench(own).decide(prefer(min(mine)))))

    theirs = {name(bench(base).add_record(record("70 cm"))), name(bench(base).add_record(record("75 cm")))}
    theirs.add(name(bench(base).decide(prefer(min(theirs)))))

    there = things_of(FilesRepository(tmp_path / "base", tmp_path / "own").snapshot().plants[PLANT_ID])
    assert not mine & theirs
    assert mine | theirs <= there


def test_ones_own_decision_holds_over_a_later_one_of_the_base(tmp_path: Path) -> None:
    """An upgrade never overrules the user."""
    base = made(tmp_path / "base", BARE)
    theirs = name(bench(base).add_record(record("70 cm")))
    own = FilesRepository(tmp_path / "base", tmp_path / "own")
    mine = name(bench(own).add_record(record("40 cm")))
    bench(own).decide(prefer(mine))
    decided = likely(own)

    Bench(base, REVIEWER, date(2027, 1, 1)).decide(prefer(theirs))

    weighed = FilesRepository(tmp_path / "base", tmp_path / "own").snapshot().adopted(PLANT_ID)[HEIGHT]
    assert mine.removeprefix("record.") in {w.record for w in weighed.weighed if w.weight > 0}
    assert decided is not None


def test_what_the_bench_wrote_is_sound(tmp_path: Path) -> None:
    """A store with all sorts of acts passes `traitbed check`."""
    repository = made(tmp_path, BARE)
    seen = name(bench(repository).observe(observation()))
    bench(repository).undo(seen, "Measured the wrong plant.")
    own = name(bench(repository).add_record(record()))
    bench(repository).add_record(record("45 cm", revises=own))
    bench(repository).decide(prefer(own))

    assert () == validate_folder(tmp_path).violations


def test_an_import_that_read_the_plant_before_loses_nothing_of_the_bench(tmp_path: Path) -> None:
    """A whole plant put back as it was read an act ago keeps what the bench wrote in between."""
    repository = made(tmp_path, BARE)
    read = repository.snapshot().plants[PLANT_ID]
    seen = name(bench(repository).observe(observation()))
    own = name(bench(repository).add_record(record()))

    repository.put_plant(replace(read, groups=("herb", "bulb")))

    after = repository.snapshot().plants[PLANT_ID]
    assert {seen, own} <= things_of(after)
    assert ("bulb", "herb") == after.groups


def test_a_file_with_a_broken_part_is_not_written_over(tmp_path: Path) -> None:
    """The part that cannot be read would be lost; the write is refused and the file stays."""
    made(tmp_path, BARE)
    (path,) = (tmp_path / "plants").rglob("*.ttl")
    broken = path.read_text().replace('tb:locator "p. 1"', "", 1)
    path.write_text(broken)

    with pytest.raises(StoreFault, match="not written over"):
        bench(FilesRepository(None, tmp_path)).add_record(record())
    assert broken == path.read_text()


def test_the_shipped_base_is_not_written() -> None:
    """Without a store of one's own the bench refuses."""
    plant = PlantId("malus-domestica")
    draft = ObservationDraft(plant, "crown-width", "4 m", "home", "tape", "2026-07-01", age_years="8")

    with pytest.raises(StoreFault, match="--store"):
        bench(open_repository(None)).observe(draft)


@pytest.mark.parametrize("kind", ["memory", "overlay"])
def test_no_sequence_of_acts_loses_anything(kind: str) -> None:
    """Whatever is added, decided, observed and undone, every part stays as it was."""

    @settings(max_examples=10, deadline=None, derandomize=True)
    @given(data=st.data())
    def lived_through(data: st.DataObject) -> None:
        with tempfile.TemporaryDirectory() as folder:
            repository = _store(kind, Path(folder))
            kept = parts_of(repository)
            for _ in range(data.draw(st.integers(1, 6))):
                _act(repository, data)
                now = parts_of(repository)
                assert kept.items() <= now.items()
                kept = now

    lived_through()


def _store(kind: str, folder: Path) -> Repository:
    if kind == "memory":
        return MemoryRepository((BARE,), (SOURCE,))
    made(folder / "base", BARE)
    return FilesRepository(folder / "base", folder / "own")


def _act(repository: Repository, data: st.DataObject) -> None:
    """Do one thing drawn by lot; what was undone before, or carries something later, is refused."""
    things = sorted(set(parts_of(repository)) - {f"caution.{c.id}" for c in BARE.cautions})
    act = data.draw(st.sampled_from(["add", "observe", "decide", "undo"]))
    value = f"{data.draw(st.integers(10, 90))} cm"
    heights = [t for t in things if ".mature-height." in t and t.startswith("record.")]
    try:
        if act == "add":
            bench(repository, AUTHOR).add_record(record(value))
        elif act == "observe":
            bench(repository, AUTHOR).observe(observation(value))
        elif act == "decide":
            bench(repository).decide(prefer(data.draw(st.sampled_from(heights))))
        else:
            bench(repository).undo(data.draw(st.sampled_from(things)), "Drawn by lot to be undone.")
    except BadParameter as refused:
        if act != "undo":
            raise AssertionError(act) from refused


def test_taking_back_the_last_act_restores_the_value_in_use() -> None:
    """Whatever came before, an act and its undoing leave every value in use as it was."""

    @settings(max_examples=15, deadline=None, derandomize=True)
    @given(data=st.data())
    def lived_through(data: st.DataObject) -> None:
        repository = MemoryRepository((BARE,), (SOURCE,))
        for _ in range(data.draw(st.integers(0, 4))):
            _act(repository, data)
        before, parts = _in_use(repository), parts_of(repository)
        _act(repository, data)
        for thing in parts_of(repository).keys() - parts.keys():
            bench(repository).undo(thing, "Taken back at once, by lot.")
        assert before == _in_use(repository)

    lived_through()


def _in_use(repository: Repository) -> dict[str, object]:
    values = repository.snapshot().adopted(PLANT_ID)
    return {trait: (v.low, v.likely, v.high, v.concepts, v.confidence) for trait, v in values.items()}
