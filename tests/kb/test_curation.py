"""The bench on every kind of store: what is added stays, what is undone comes back, who may do what."""

from dataclasses import replace
from pathlib import Path

import pytest

from kb.bench.drafts import CautionDraft, Curator, RecordDraft, ReviewDraft
from kb.bench.history import history
from kb.errors import (
    BadParameter,
    NotAllowed,
    Refused,
    StaleWrite,
    UnknownRecord,
    UnknownSource,
)
from kb.model import Source, SourceKey
from kb.repository import FilesRepository, MemoryRepository, Repository
from kb.stores.writing import things_of
from tests.api.invented import SOURCE
from tests.kb.benching import (
    AUTHOR,
    BARE,
    HEIGHT,
    PLANT_ID,
    REVIEWER,
    SECOND,
    TODAY,
    bench,
    likely,
    made,
    name,
    observation,
    prefer,
    record,
)


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
        bench(repository).decide(prefer(own))
        first = likely(repository)

        second = name(bench(repository).decide(prefer(other)))
        assert likely(repository) not in {first, plain}
        bench(repository).undo(second, "Read it again: it was not measured.")

        assert first == likely(repository)
        assert "decision" == repository.snapshot().adopted(PLANT_ID)[HEIGHT].rule

    def test_an_earlier_decision_is_not_undone_under_a_later_one(self, repository: Repository) -> None:
        """The later one is named."""
        own = name(bench(repository).add_record(record("40 cm")))
        first = name(bench(repository).decide(prefer(own)))
        second = name(bench(repository).decide(prefer(own)))

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
            bench(repository, AUTHOR).decide(prefer(own))
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

    def test_a_revision_that_never_was_is_told_so(self, repository: Repository) -> None:
        """No change is claimed that the journal does not hold (append-only history, trade.md 9.9)."""
        with pytest.raises(StaleWrite, match="the journal knows no such revision of it") as caught:
            bench(repository).add_record(record("50 cm"), expected="made-up")

        assert "changed since" not in caught.value.since[0]

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

    @pytest.mark.parametrize(("field", "text"), [("year", "20x5"), ("citation", "A book"), ("licence", "?")])
    def test_a_new_source_keeps_the_shape_of_sources(
        self, repository: Repository, field: str, text: str
    ) -> None:
        """shapes/source.ttl: what `traitbed check` would mend is not written; nothing is."""
        new = Source(
            SourceKey("new-book"), "A new book, 2020", None, "2020", "facts only", None, "B", "read", "credit"
        )
        draft = replace(record(source="new-book"), new_source=replace(new, **{field: text}))  # type: ignore[arg-type]

        with pytest.raises(Refused, match=r"source\.new-book"):
            bench(repository).add_record(draft)
        assert new.key not in repository.snapshot().sources

    @pytest.mark.parametrize("place", ["home\nbed 2", "x" * 201])
    def test_a_place_can_be_asked_for_again(self, repository: Repository, place: str) -> None:
        """A parameter holds one line of 200 letters (api.values): more could never be named (observed_at)."""
        with pytest.raises(BadParameter, match="write"):
            bench(repository).observe(replace(observation(), place=place))

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
