"""What happened to a plant's records, in order, and what each step did to the values in use.

Nothing is deleted, so the history is worked out from what stands on file: who and when are on every
part. The journal adds the time of day, the reason of an addition and the true order of a store's own
changes; what came with the base stands before them, a day's entries of one person in one step.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from kb.curation import Difference, differences
from kb.model import Plant, PlantId
from kb.snapshot import Snapshot

KINDS = ("records", "cautions", "decisions", "observations", "withdrawals", "reviews", "searches")
SAID = {
    "records": "entered",
    "cautions": "entered",
    "decisions": "decided",
    "observations": "observed",
    "withdrawals": "took back",
    "reviews": "reviewed",
    "searches": "searched",
}


@dataclass(frozen=True, slots=True)
class Event:
    """One step: when (a day, or a moment where the journal knows it), who, what and why."""

    at: str
    who: str
    action: str
    things: tuple[str, ...]
    why: str | None
    changes: tuple[Difference, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a plant with who put it there and when."""

    kind: str
    thing: str
    part: Any
    who: str
    day: str
    why: str | None
    about: tuple[str, ...] = ()
    """Other parts that it speaks of: weighed records, the record revised, what is withdrawn or reviewed."""


def history(snapshot: Snapshot, plant_id: PlantId, thing: str | None = None) -> tuple[Event, ...]:
    """Every step of one plant, oldest first; with ``thing`` only those that touch that part."""
    plant = snapshot.plants[plant_id]
    nothing: dict[str, Any] = dict.fromkeys(KINDS, ())
    state = replace(plant, **nothing)
    events = []
    for event, parts in _steps(snapshot, plant):
        after = _with(state, parts)
        touched = {name for part in parts for name in (part.thing, *part.about)}
        if thing is None or thing in touched:
            events.append(replace(event, changes=differences(snapshot, state, after)))
        state = after
    return tuple(events)


def _with(plant: Plant, parts: tuple[Part, ...]) -> Plant:
    more: dict[str, Any] = {
        kind: (*getattr(plant, kind), *(part.part for part in parts if part.kind == kind)) for kind in KINDS
    }
    return replace(plant, **more)


def _steps(snapshot: Snapshot, plant: Plant) -> Iterator[tuple[Event, tuple[Part, ...]]]:
    """The parts of a plant gathered into steps, in the order in which they came."""
    parts = {part.thing: part for part in _parts(plant)}
    journal = [entry for entry in snapshot.journal if entry.plant == plant.id]
    journalled = {thing for entry in journal for thing in entry.things}
    groups: dict[tuple[str, int, str, str], list[Part]] = {}
    for part in parts.values():
        if part.thing not in journalled:
            alone = part.thing if part.kind not in {"records", "cautions"} else ""
            groups.setdefault((part.day, bool(alone), part.who, alone), []).append(part)
    for (day, _, who, _), members in sorted(groups.items()):
        things = tuple(part.thing for part in members)
        yield Event(day, who, SAID[members[0].kind], things, members[0].why), tuple(members)
    for entry in journal:
        members = [parts[thing] for thing in entry.things if thing in parts]
        yield Event(entry.at, entry.who, entry.action, entry.things, entry.why), tuple(members)


def _parts(plant: Plant) -> Iterator[Part]:
    for record in plant.records:
        about: tuple[str, ...] = (f"record.{record.revises}",) if record.revises else ()
        day = record.entered_on.isoformat()
        yield Part("records", f"record.{record.id}", record, record.entered_by, day, None, about)
    for caution in plant.cautions:
        day = caution.entered_on.isoformat()
        yield Part("cautions", f"caution.{caution.id}", caution, caution.entered_by, day, None)
    for decision in plant.decisions:
        about = tuple(f"record.{name}" for name, _ in decision.weighed)
        day = decision.decided_on.isoformat()
        thing = f"decision.{decision.id}"
        yield Part("decisions", thing, decision, decision.decided_by, day, decision.why, about)
    for seen in plant.observations:
        day = seen.entered_on.isoformat()
        yield Part("observations", f"observation.{seen.id}", seen, seen.observer, day, None)
    for act in plant.withdrawals:
        day = act.decided_on.isoformat()
        yield Part("withdrawals", f"withdrawal.{act.id}", act, act.decided_by, day, act.why, (act.withdraws,))
    for review in plant.reviews:
        day = review.decided_on.isoformat()
        about = (f"caution.{review.caution}",)
        yield Part("reviews", f"review.{review.id}", review, review.decided_by, day, review.why, about)
    for search in plant.searches:
        day = search.searched_on.isoformat()
        why = f"{search.outcome.replace('-', ' ')}: {'; '.join(search.queries)}"
        yield Part("searches", f"search.{search.id}", search, search.searched_by, day, why)
