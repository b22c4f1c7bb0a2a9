"""The curator's bench: add, revise, decide, observe, review, withdraw, undo. Nothing is ever deleted.

Each act makes an ``Edit`` that the repository applies to the plant as it stands on file, under its
lock, and journals. What was read by the curator beforehand is named by a revision; where the plant
has moved on, the write is refused with both versions.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

from kb.adopt import adopt_all, roles_of
from kb.bench.draft_reading import (
    OWN_KNOWLEDGE,
    age_of,
    conditions_of,
    label_of,
    provenance,
    record_name_of,
    revision_name,
    text_of,
)
from kb.bench.drafts import (
    CautionDraft,
    Curator,
    DecisionDraft,
    ObservationDraft,
    RecordDraft,
    ReviewDraft,
    basis_of,
    caution_kind_of,
    day_of,
    fault,
    one_of,
    role_of,
)
from kb.bench.undo import undone
from kb.bench.values import read_value
from kb.errors import NotAllowed, UnknownRecord
from kb.model import (
    Adopted,
    Caution,
    Decision,
    DecisionRole,
    Plant,
    PlantId,
    Record,
    Source,
    TraitId,
)
from kb.namespaces import BASE
from kb.repository import Repository
from kb.snapshot import Snapshot
from kb.statements.curation_model import Observation, Quality, Review, Withdrawal, in_force, number_of
from kb.stores.writing import Change, Edit, acceptable_source

SHORTEST_WHY = 10
MAX_PARTS = 5000
"""How many records a plant's file may come to hold through the bench."""


@dataclass(frozen=True, slots=True)
class Difference:
    """The adopted value of one trait before and after a change."""

    trait: TraitId
    before: Adopted | None
    after: Adopted | None


@dataclass(frozen=True, slots=True)
class Done:
    """What an act did: its parts, the plant's new revision, and what it changed in the values in use."""

    plant: PlantId
    things: tuple[str, ...]
    revision: str
    differences: tuple[Difference, ...]
    notes: tuple[str, ...] = ()


def differences(snapshot: Snapshot, before: Plant, after: Plant) -> tuple[Difference, ...]:
    """The adopted values that differ between two states of a plant."""
    values = [adopt_all(plant, snapshot.above(plant), snapshot.vocabulary) for plant in (before, after)]
    traits = sorted(values[0].keys() | values[1].keys())
    return tuple(
        Difference(trait, values[0].get(trait), values[1].get(trait))
        for trait in traits
        if _shown(values[0].get(trait)) != _shown(values[1].get(trait))
    )


def _shown(value: Adopted | None) -> object:
    return value and (value.low, value.likely, value.high, value.concepts, value.confidence, value.rule)


class Bench:
    """One curator at one store. ``expected`` of each act is the revision that was read, or None."""

    def __init__(self, repository: Repository, curator: Curator, today: date) -> None:
        self._repository = repository
        self._curator = curator
        self._today = today
        self._snapshot = repository.snapshot()

    def add_record(self, draft: RecordDraft, *, expected: str | None = None) -> Done:
        """Add one statement of a source; with ``revises`` it corrects an earlier one, which stays."""
        basis = basis_of(draft.basis)
        trait = self._snapshot.vocabulary.trait(draft.trait)
        value = read_value(trait, draft.value, draft.number_kind, self._snapshot.vocabulary)
        source, locator, verbatim, printed = provenance(self._snapshot, draft, basis, draft.value)
        note = text_of("note", draft.note) if draft.note else None
        conditions = conditions_of(draft.conditions)
        if basis == "derived" and note is None:
            raise fault("note", "is missing; say what the value was derived from")

        def make(plant: Plant) -> Plant:
            name = f"{plant.id}.{trait.id}.{source}"
            revises = record_name_of(draft.revises) if draft.revises else None
            if revises is None:
                name = self._free(name, [record.id for record in plant.records])
            else:
                name = revision_name(plant, revises, name, self._repository.own_from)
            record = Record(
                id=name, plant=plant.id, trait=trait.id, low=value.low, likely=value.likely, high=value.high,
                concepts=value.concepts, number_kind=value.number_kind, conditions=conditions,
                verbatim=verbatim, name_as_printed=printed, source=source, locator=locator, basis=basis,
                standing="proposed", entered_by=self._curator.handle, entered_on=self._today,
                note=note, revises=revises,
            )  # fmt: skip
            return replace(plant, records=(*plant.records, record))

        action = "revised" if draft.revises else "added"
        return self._write(
            draft.plant, action, draft.why, make, expected, source=self._new(draft.new_source, source)
        )

    def add_caution(self, draft: CautionDraft, *, expected: str | None = None) -> Done:
        """Add a warning. Anyone with an account may; retiring one takes two reviewers."""
        basis, kind = basis_of(draft.basis), caution_kind_of(draft.kind)
        source, locator, verbatim, printed = provenance(self._snapshot, draft, basis, draft.text)

        def make(plant: Plant) -> Plant:
            name = self._free(f"{plant.id}.{kind}.{source}", [caution.id for caution in plant.cautions])
            caution = Caution(
                id=name, plant=plant.id, kind=kind, text=text_of("text", draft.text), part=draft.part,
                agent=draft.agent, group=draft.group, place=draft.place, as_of=draft.as_of,
                lookalike=draft.lookalike, verbatim=verbatim, name_as_printed=printed, source=source,
                locator=locator, basis=basis, standing="proposed", entered_by=self._curator.handle,
                entered_on=self._today,
            )  # fmt: skip
            return replace(plant, cautions=(*plant.cautions, caution))

        return self._write(
            draft.plant, "added", draft.why, make, expected, source=self._new(draft.new_source, source)
        )

    def decide(self, draft: DecisionDraft, *, expected: str | None = None) -> Done:
        """Choose between records. What was preferred before and is not named now is outweighed."""
        self._curator.must_review("deciding between records")
        trait = self._snapshot.vocabulary.trait(draft.trait)
        weighed = tuple((record_name_of(name), role_of(role)) for name, role in draft.weighed)
        names = [name for name, _ in weighed]
        if not weighed:
            raise fault("weighed", "is empty; name at least one record and its role")
        if len(set(names)) < len(names):
            raise fault("weighed", "names a record twice; give each one role")

        def make(plant: Plant) -> Plant:
            known = {record.id for record in plant.records if record.trait == trait.id}
            for name in names:
                if name not in known:
                    raise UnknownRecord(f"{name}' among those of {trait.id} of '{plant.id}")
            before = roles_of(plant.decisions, trait.id)
            preferring = any(role == "preferred" for _, role in weighed)
            outdone = [n for n, role in before.items() if role == "preferred" and n not in names]
            more = tuple((name, role_of("outweighed")) for name in outdone if preferring)
            return self._decided(plant, trait.id, draft.why, (*weighed, *more))

        return self._write(draft.plant, "decided", draft.why, make, expected)

    def _decided(
        self, plant: Plant, trait: TraitId, why: str, weighed: tuple[tuple[str, DecisionRole], ...]
    ) -> Plant:
        name = self._numbered(f"{plant.id}.{trait}", [decision.id for decision in plant.decisions])
        decision = Decision(
            name, plant.id, trait, self._curator.handle, self._today, text_of("why", why), weighed
        )
        return replace(plant, decisions=(*plant.decisions, decision))

    def observe(self, draft: ObservationDraft, *, expected: str | None = None) -> Done:
        """Log what was seen on a plant of one's own; it bends the estimate for its place first."""
        trait = self._snapshot.vocabulary.trait(draft.trait)
        value = read_value(trait, draft.value, None, self._snapshot.vocabulary)
        quality = one_of("quality", draft.quality, Quality)
        day = day_of("observed_on", draft.observed_on, self._today)
        age = age_of(draft.age_years)

        def make(plant: Plant) -> Plant:
            head = f"{plant.id}.{trait.id}.{self._curator.handle}"
            observation = Observation(
                id=self._numbered(head, [seen.id for seen in plant.observations]), plant=plant.id,
                trait=trait.id, low=value.low, likely=value.likely, high=value.high, concepts=value.concepts,
                verbatim=draft.value.strip(), observer=self._curator.handle, observed_on=day,
                place=label_of("place", draft.place), age_years=age,
                stock=label_of("stock", draft.stock) if draft.stock else None,
                procedure=text_of("procedure", draft.procedure),
                quality="measured" if quality == "measured" else "estimated",
                quality_note=text_of("quality_note", draft.quality_note) if draft.quality_note else None,
                entered_on=self._today,
            )  # fmt: skip
            return replace(plant, observations=(*plant.observations, observation))

        return self._write(draft.plant, "observed", f"seen at {draft.place.strip()}", make, expected)

    def review(self, draft: ReviewDraft, *, expected: str | None = None) -> Done:
        """Say whether a caution should stand. Two different reviewers retire it, never its author."""
        self._curator.must_review("reviewing a caution")
        if not self._curator.known:
            raise NotAllowed(
                self._curator.handle,
                "a caution is reviewed by two reviewers with accounts; make them with 'traitbed account add'",
            )
        name = draft.caution.removeprefix(BASE).removeprefix("caution.")
        if draft.verdict not in {"retire", "keep"}:
            raise fault("verdict", f"'{draft.verdict[:40]}' is neither retire nor keep")

        def make(plant: Plant) -> Plant:
            caution = next((one for one in plant.cautions if one.id == name), None)
            if caution is None:
                raise UnknownRecord(name)
            if caution.entered_by == self._curator.handle:
                raise NotAllowed(self._curator.handle, "an author does not review their own caution")
            review = Review(
                self._numbered(str(plant.id), [one.id for one in plant.reviews]), plant.id, name,
                "retire" if draft.verdict == "retire" else "keep",
                self._curator.handle, self._today, text_of("why", draft.why),
            )  # fmt: skip
            return replace(plant, reviews=(*plant.reviews, review))

        return self._write(draft.plant, "reviewed", draft.why, make, expected)

    def undo(self, thing: str, why: str, *, expected: str | None = None) -> Done:
        """Take an act back by a further one: a record is rejected, a decision reversed, others withdrawn."""
        name = thing.removeprefix(BASE)
        plant_id = self._plant_with(name)

        def make(plant: Plant) -> Plant:
            act = undone(plant, name, self._curator)
            if act.weighed:
                return self._decided(plant, TraitId(act.trait), why, act.weighed)
            withdrawal = Withdrawal(
                self._numbered(str(plant.id), [one.id for one in plant.withdrawals]), plant.id, act.withdraws,
                self._curator.handle, self._today, text_of("why", why),
            )  # fmt: skip
            return replace(plant, withdrawals=(*plant.withdrawals, withdrawal))

        return self._write(plant_id, "took back", why, make, expected)

    def _plant_with(self, name: str) -> PlantId:
        """The plant that has a record, decision, observation, caution or withdrawal of that name."""
        kinds = ("records", "decisions", "observations", "withdrawals", "cautions", "reviews")
        for plant in self._snapshot.plants.values():
            for kind in kinds:
                if any(f"{kind[:-1]}.{part.id}" == name for part in getattr(plant, kind)):
                    return plant.id
        hint = (
            ""
            if "." in name and name.partition(".")[0] + "s" in kinds
            else " (record.…, decision.…, observation.…)"
        )
        raise UnknownRecord(name + hint)

    def _write(
        self,
        plant: str,
        action: str,
        why: str,
        make: Callable[[Plant], Plant],
        expected: str | None,
        *,
        source: Source | None = None,
    ) -> Done:
        why = text_of("why", why)
        if len(why) < SHORTEST_WHY:
            raise fault("why", f"is too short; give the reason in {SHORTEST_WHY} letters or more")
        plant_id = self._snapshot.resolve(plant)
        if len(self._snapshot.plants[plant_id].records) > MAX_PARTS:
            raise fault("plant", f"{plant_id} has more than {MAX_PARTS} records; the bench adds no more")
        edit = Edit(action, self._curator.handle, why, make, source)
        change = self._repository.change(plant_id, edit, expected=expected)
        return Done(
            plant_id,
            change.things,
            change.revision,
            differences(self._snapshot, change.before, change.after),
            _notes(change),
        )

    def _new(self, described: Source | None, key: str) -> Source | None:
        """The source that comes into the store with this act, if any."""
        new = described or (OWN_KNOWLEDGE if key == OWN_KNOWLEDGE.key else None)
        return None if new is None or key in self._snapshot.sources else acceptable_source(new)

    def _free(self, name: str, taken: list[str]) -> str:
        """The name itself where it is free (and no later base can take it), else with a number behind."""
        if self._repository.own_from == 1 and name not in taken:
            return name
        return self._numbered(name, taken)

    def _numbered(self, head: str, taken: list[str]) -> str:
        used = [number_of(name) for name in taken if name.rpartition(".")[0] == head]
        return f"{head}.{max([self._repository.own_from, *(number + 1 for number in used)])}"


def _notes(change: Change) -> tuple[str, ...]:
    """What a person should know of a write beside the values that it changed."""
    notes = []
    for caution in change.after.cautions:
        words = [review for review in change.after.reviews if review.caution == caution.id]
        if words and words != [r for r in change.before.reviews if r.caution == caution.id]:
            state = (
                "retired" if change.after.retired(caution) else "still shown; two reviewers retire a caution"
            )
            notes.append(f"caution.{caution.id} is {state}")
    seen = {one.id for one in in_force(change.after.observations, change.after.withdrawals)}
    had = {one.id for one in in_force(change.before.observations, change.before.withdrawals)}
    notes += [f"observation.{name} no longer counts" for name in sorted(had - seen)]
    return tuple(notes)
