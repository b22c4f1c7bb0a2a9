"""The bench on every kind of store: what is added stays, what is undone comes back, who may do what."""

import tempfile
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.curation import Bench, Done
from kb.drafts import CautionDraft, Curator, DecisionDraft, ObservationDraft, RecordDraft, ReviewDraft
from kb.errors import (
    BadParameter,
    NotAllowed,
    Refused,
    StaleWrite,
    StoreFault,
    UnknownRecord,
    UnknownSource,
)
from kb.history import history
from kb.model import Plant, PlantId, Source, SourceKey, TraitId
from kb.repository import FilesRepository, MemoryRepository, Repository, open_repository
from kb.validate import validate_folder
from kb.writing import things_of
from tests.api.invented import HERB, SOURCE

TODAY = date(2026, 11, 26)
HEIGHT = TraitId("mature-height")
PLANT_ID = HERB.id
AUTHOR, REVIEWER, SECOND = (
    Curator("curator-a", "author"),
    Curator("curator-b", "reviewer"),
    Curator("curator-c", "reviewer"),
)
BARE = replace(HERB, decisions=())


def bench(repository: Repository, who: Curator = REVIEWER) -> Bench:
    """Sit down at the bench."""
    return Bench(repository, who, TODAY)


def record(value: str = "40 cm", **more: str) -> RecordDraft:
    """Give a draft of an invented record."""
    fields = {
        "plant": str(PLANT_ID),
        "trait": "mature-height",
        "basis": "read-in-source",
        "why": "Entered from an invented book.",
        "source": "invented",
        "locator": "p. 9",
        "verbatim": value,
        "name_as_printed": "Inventa herbacea",
        **more,
    }
    return RecordDraft(value=value, **fields)  # type: ignore[arg-type]


def observation(value: str = "30 cm") -> ObservationDraft:
    """Give a draft of an invented observation."""
    return ObservationDraft(str(PLANT_ID), "mature-height", value, "home", "ruler", "2026-07-01")


def likely(repository: Repository) -> float | None:
    """Give the height in use."""
    return repository.snapshot().adopted(PLANT_ID)[HEIGHT].likely


def name(done: Done) -> str:
    """Give the one thing that an act added."""
    (thing,) = done.things
    return thing


class BenchContract:
    """What the bench promises on every store."""

    @pytest.fixture
    def repository(self, tmp_path: Path) -> Repository:
        raise AssertionError

    def test_a_record_is_added_with_its_unit_and_counts(self, repository: Repository) -> None:
        """40 cm becomes 0.4 m with its printed words, by whom and when; the value in use moves."""
        before = likely(repository)

        done = bench(repository, AUTHOR).add_record(record())

        added = repository.snapshot().record(name(done))
        assert ("0.4", "40 cm", "curator-a", TODAY) == (
            str(added.likely),  # type: ignore[union-attr]
            added.verbatim,  # type: ignore[union-attr]
            added.entered_by,  # type: ignore[union-attr]
            added.entered_on,  # type: ignore[union-attr]
        )
        (change,) = done.differences
        assert change.before is not None
        assert change.after is not None
        assert (HEIGHT, before, likely(repository)) == (
            change.trait,
            change.before.likely,
            change.after.likely,
        )
        assert done.revision == repository.revision(PLANT_ID) == repository.snapshot().revisions[PLANT_ID]

    def test_a_revision_replaces_without_erasing_and_undo_brings_the_first_back(
        self, repository: Repository
    ) -> None:
        """The corrected record stays on file; rejecting the correction makes it count again."""
        first = name(bench(repository).add_record(record("90 cm")))
        with_first = likely(repository)

        second = name(bench(repository).add_record(record("20 cm", revises=first)))
        corrected = likely(repository)
        bench(repository).undo(second, "The first reading was right.")

        assert second.startswith(f"{first}.r")
        assert {first, second} <= things_of(repository.snapshot().plants[PLANT_ID])
        assert corrected != with_first
        assert with_first == likely(repository)

    def test_a_revision_is_of_the_same_statement_and_made_once(self, repository: Repository) -> None:
        """Another trait's record, or one revised already, is refused."""
        first = name(bench(repository).add_record(record()))
        with pytest.raises(BadParameter, match="same statement"):
            bench(repository).add_record(record("60 cm", trait="crown-width", revises=first))
        bench(repository).add_record(record("50 cm", revises=first))

        with pytest.raises(BadParameter, match="revise that one"):
            bench(repository).add_record(record("60 cm", revises=first))

    def test_a_decision_outweighs_what_was_preferred_and_undo_restores_it(
        self, repository: Repository
    ) -> None:
        """Preferring a second record puts the first aside; undoing that prefers the first again."""
        own = name(bench(repository).add_record(record("40 cm")))
        other = name(bench(repository).add_record(record("80 cm")))
        plain = likely(repository)
        bench(repository).decide(_prefer(own))
        first = likely(repository)

        second = name(bench(repository).decide(_prefer(other)))
        assert likely(repository) not in {first, plain}
        bench(repository).undo(second, "Read it again: it was not measured.")

        assert first == likely(repository)
        assert "decision" == repository.snapshot().adopted(PLANT_ID)[HEIGHT].rule

    def test_an_earlier_decision_is_not_undone_under_a_later_one(self, repository: Repository) -> None:
        """The later one is named."""
        own = name(bench(repository).add_record(record("40 cm")))
        first = name(bench(repository).decide(_prefer(own)))
        second = name(bench(repository).decide(_prefer(own)))

        with pytest.raises(BadParameter, match=second):
            bench(repository).undo(first, "Changed my mind about it.")

    def test_an_observation_bends_and_is_withdrawn(self, repository: Repository) -> None:
        """The value moves towards it and back to the last digit; it stays on file."""
        before = likely(repository)
        seen = name(bench(repository, AUTHOR).observe(observation()))
        bent = likely(repository)

        withdrawn = bench(repository, AUTHOR).undo(seen, "Measured the wrong plant.")

        assert before is not None
        assert bent is not None
        assert 0.3 < bent < before
        assert before == likely(repository)
        assert (f"{seen} no longer counts",) == withdrawn.notes
        assert seen in things_of(repository.snapshot().plants[PLANT_ID])
        with pytest.raises(BadParameter, match="withdrawn already"):
            bench(repository).undo(seen, "Measured the wrong plant.")

    def test_a_caution_is_retired_by_two_others_only(self, repository: Repository) -> None:
        """Its author may not, one reviewer twice is not enough; a second one retires it."""
        author = bench(repository, REVIEWER)
        warning = name(
            author.add_caution(
                CautionDraft(
                    str(PLANT_ID),
                    "skin",
                    "The invented sap burns the skin.",
                    "read-in-source",
                    "Entered from an invented book.",
                    "invented",
                    "p. 3",
                    "burns",
                    "Inventa herbacea",
                )
            )
        ).removeprefix("caution.")

        def shown() -> bool:
            return warning in {c.id for c in repository.snapshot().cautions(PLANT_ID)}

        def say(who: Curator, verdict: str = "retire") -> None:
            bench(repository, who).review(
                ReviewDraft(str(PLANT_ID), warning, verdict, "It was another plant.")
            )

        third = Curator("tom", "reviewer")
        with pytest.raises(NotAllowed, match="own caution"):
            say(REVIEWER)
        with pytest.raises(NotAllowed, match="reviewer"):
            say(AUTHOR)
        with pytest.raises(NotAllowed, match="account"):
            say(Curator("whoever", "reviewer", known=False))
        say(SECOND)
        say(SECOND)
        assert shown()
        say(third)
        assert not shown()
        say(third, "keep")
        assert shown()
        assert warning in {c.id for c in repository.snapshot().plants[PLANT_ID].cautions}

    def test_a_role_limits_what_may_be_done(self, repository: Repository) -> None:
        """An author adds, observes, takes back their own; deciding and others' work take a reviewer."""
        own = name(bench(repository, AUTHOR).add_record(record()))
        others = name(bench(repository, REVIEWER).add_record(record("50 cm")))

        with pytest.raises(NotAllowed, match="reviewer"):
            bench(repository, AUTHOR).decide(_prefer(own))
        with pytest.raises(NotAllowed, match="curator-b"):
            bench(repository, AUTHOR).undo(others, "I do not like it at all.")
        assert bench(repository, AUTHOR).undo(own, "A slip of the pen.").things

    def test_a_stale_write_shows_both_versions_and_writes_nothing(self, repository: Repository) -> None:
        """Two curators read the same revision; the second is told what the first did."""
        read = repository.revision(PLANT_ID)
        first = name(bench(repository, AUTHOR).add_record(record("40 cm"), expected=read))
        stands = repository.revision(PLANT_ID)

        with pytest.raises(StaleWrite) as caught:
            bench(repository).add_record(record("50 cm"), expected=read)

        fault = caught.value
        assert (read, stands) == (fault.expected, fault.current)
        assert first in fault.since[0]
        assert "curator-a" in fault.since[0]
        assert "40 cm" in fault.stands
        assert "50 cm" not in fault.stands
        assert "50 cm" in fault.yours
        assert stands == repository.revision(PLANT_ID)
        assert bench(repository).add_record(record("50 cm"), expected=stands).things

    @pytest.mark.parametrize(
        ("draft", "error", "told"),
        [
            (record(locator=""), BadParameter, "locator"),
            (record(verbatim=""), BadParameter, "verbatim"),
            (record(source="nowhere"), UnknownSource, "nowhere"),
            (record("40 kg"), BadParameter, "no length"),
            (record("400 m"), Refused, "impossible"),
            (record(basis="heard"), BadParameter, "none of"),
            (record(why="because"), BadParameter, "too short"),
            (record(locator="https://example.org/x"), Refused, "address alone"),
            (record(note="x" * 3000), BadParameter, "longer"),
            (record(note="a\x07b"), BadParameter, "control"),
            (record(basis="derived"), BadParameter, "derived from"),
            (record(revises="nothing.of.the.kind"), UnknownRecord, "nothing.of.the.kind"),
        ],
    )
    def test_what_breaks_a_rule_is_refused_and_nothing_changes(
        self, repository: Repository, draft: RecordDraft, error: type[Exception], told: str
    ) -> None:
        """Each refusal says what; no file, journal line or source is left behind."""
        before = (repository.revision(PLANT_ID), repository.journal(), dict(repository.snapshot().sources))

        with pytest.raises(error, match=told):
            bench(repository).add_record(draft)
        after = (repository.revision(PLANT_ID), repository.journal(), dict(repository.snapshot().sources))
        assert before == after

    def test_a_new_source_comes_with_its_first_record_and_is_not_redefined(
        self, repository: Repository
    ) -> None:
        """Described in other words the second time, it is refused."""
        new = Source(
            SourceKey("new-book"), "A new book, 2020", None, "2020", "facts only", None, "B", "read", "credit"
        )
        draft = replace(record(source="new-book"), new_source=new)

        bench(repository).add_record(draft)

        assert new == repository.snapshot().sources[new.key]
        with pytest.raises(BadParameter, match="other words"):
            bench(repository).add_record(replace(draft, new_source=replace(new, citation="Another book")))

    def test_history_tells_who_when_why_and_the_value_before_and_after(self, repository: Repository) -> None:
        """The steps of the bench stand last, in order, with the moment from the journal."""
        seen = name(bench(repository, AUTHOR).observe(observation()))
        before = likely(repository)
        back = name(bench(repository).undo(seen, "Measured the wrong plant."))

        events = history(repository.snapshot(), PLANT_ID)
        of_seen = history(repository.snapshot(), PLANT_ID, seen)

        assert [("curator-a", (seen,)), ("curator-b", (back,))] == [(e.who, e.things) for e in events[-2:]]
        assert events[-2:] == of_seen
        assert "Measured the wrong plant." == events[-1].why
        assert "T" in events[-1].at
        (change,) = events[-1].changes
        assert change.before is not None
        assert change.after is not None
        assert (before, likely(repository)) == (change.before.likely, change.after.likely)
        assert {thing for event in events for thing in event.things} == things_of(
            repository.snapshot().plants[PLANT_ID]
        )


def _parts(repository: Repository) -> dict[str, object]:
    """Give every part of the plant by its local IRI."""
    plant = repository.snapshot().plants[PLANT_ID]
    kinds = ("record", "caution", "decision", "observation", "withdrawal", "review")
    return {f"{kind}.{part.id}": part for kind in kinds for part in getattr(plant, f"{kind}s")}


def _prefer(thing: str) -> DecisionDraft:
    return DecisionDraft(str(PLANT_ID), "mature-height", "The only one measured.", ((thing, "preferred"),))


class TestMemory(BenchContract):
    """In memory."""

    @pytest.fixture
    def repository(self, tmp_path: Path) -> Repository:
        return MemoryRepository((BARE,), (SOURCE,))


class TestFiles(BenchContract):
    """A folder of its own."""

    @pytest.fixture
    def repository(self, tmp_path: Path) -> Repository:
        return made(tmp_path / "store", BARE)


class TestOverlay(BenchContract):
    """A user's folder laid over a base."""

    @pytest.fixture
    def repository(self, tmp_path: Path) -> Repository:
        made(tmp_path / "base", BARE)
        return FilesRepository(tmp_path / "base", tmp_path / "own")


def made(folder: Path, *plants: Plant) -> FilesRepository:
    """Fill a folder with invented plants."""
    repository = FilesRepository(None, folder)
    repository.put_source(SOURCE)
    for plant in plants:
        repository.put_plant(plant)
    return repository


def test_an_upgrade_of_the_base_takes_no_id_of_ones_own(tmp_path: Path) -> None:
    """The base grows the records and decisions that numbering would have given next; both stand."""
    base = made(tmp_path / "base", BARE)
    own = FilesRepository(tmp_path / "base", tmp_path / "own")
    mine = {name(bench(own).add_record(record("40 cm"))), name(bench(own).add_record(record("45 cm")))}
    mine.add(name(bench(own).decide(_prefer(min(mine)))))

    theirs = {name(bench(base).add_record(record("70 cm"))), name(bench(base).add_record(record("75 cm")))}
    theirs.add(name(bench(base).decide(_prefer(min(theirs)))))

    there = things_of(FilesRepository(tmp_path / "base", tmp_path / "own").snapshot().plants[PLANT_ID])
    assert not mine & theirs
    assert mine | theirs <= there


def test_ones_own_decision_holds_over_a_later_one_of_the_base(tmp_path: Path) -> None:
    """An upgrade never overrules the user."""
    base = made(tmp_path / "base", BARE)
    theirs = name(bench(base).add_record(record("70 cm")))
    own = FilesRepository(tmp_path / "base", tmp_path / "own")
    mine = name(bench(own).add_record(record("40 cm")))
    bench(own).decide(_prefer(mine))
    decided = likely(own)

    Bench(base, REVIEWER, date(2027, 1, 1)).decide(_prefer(theirs))

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
    bench(repository).decide(_prefer(own))

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
            kept = _parts(repository)
            for _ in range(data.draw(st.integers(1, 6))):
                _act(repository, data)
                now = _parts(repository)
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
    things = sorted(set(_parts(repository)) - {f"caution.{c.id}" for c in BARE.cautions})
    act = data.draw(st.sampled_from(["add", "observe", "decide", "undo"]))
    value = f"{data.draw(st.integers(10, 90))} cm"
    heights = [t for t in things if ".mature-height." in t and t.startswith("record.")]
    try:
        if act == "add":
            bench(repository, AUTHOR).add_record(record(value))
        elif act == "observe":
            bench(repository, AUTHOR).observe(observation(value))
        elif act == "decide":
            bench(repository).decide(_prefer(data.draw(st.sampled_from(heights))))
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
        before, parts = _in_use(repository), _parts(repository)
        _act(repository, data)
        for thing in _parts(repository).keys() - parts.keys():
            bench(repository).undo(thing, "Taken back at once, by lot.")
        assert before == _in_use(repository)

    lived_through()


def _in_use(repository: Repository) -> dict[str, object]:
    values = repository.snapshot().adopted(PLANT_ID)
    return {trait: (v.low, v.likely, v.high, v.concepts, v.confidence) for trait, v in values.items()}
