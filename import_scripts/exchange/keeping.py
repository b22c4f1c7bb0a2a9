"""Keeping what was gathered: all of it judged first, then written, or nothing written at all.

A record that is on file is never edited: the same id with other content is refused with what to do.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from import_scripts.exchange.gathered import Brought, Gathered, NewRecord, Place, Statement
from import_scripts.exchange.joining import Joined, joined
from kb.bench.draft_reading import texts_of
from kb.errors import BadFile, StoreFault
from kb.exchange.archive_rows import cited_by
from kb.exchange.cells import shortened
from kb.letters import holds_control
from kb.model import Plant, PlantId
from kb.namespaces import BASE
from kb.repository import Repository
from kb.snapshot import Snapshot
from kb.statements.curation_model import Review
from kb.statements.enemy_model import Emission, EmissionStatement, Enemy, HostStatement
from kb.stores.enemy_files import text_of
from kb.stores.files import PLAIN
from kb.turtle import plant_from_turtle, plant_to_turtle
from kb.validate import validate_plants
from kb.vocabulary_store import load_vocabulary

Placed = tuple[Place, Statement]
AHEAD = timedelta(days=1)
"""How far a date of entry may lie ahead: it is tomorrow elsewhere on earth already."""

CONTROL = ("holds a control character, which a terminal would obey", "take it out")


def keep(
    gathered: Gathered, repository: Repository, report: Brought, *, on: date, keep_good: bool = False
) -> Brought:
    """Write what is sound, or nothing where some of it is not and ``keep_good`` is not set.

    ``report`` may hold refusals already; those found here are added. Raises StoreFault.
    """
    snapshot = repository.snapshot()
    if snapshot.faults:
        raise StoreFault(
            repository.name,
            f"{snapshot.faults[0]}. Mend it first: an import would write over what it cannot read.",
        )
    fresh = _fresh(gathered, snapshot, report, on)
    gathered.drafts = [(place, new) for place, new in gathered.drafts if _plain(place, new, report, on)]
    changed = _sound(gathered, snapshot, fresh, report, on)
    enemies = _enemies(gathered, snapshot, fresh, report)
    if report.faulty and not keep_good:
        report.added, report.changed = [], []
        return report
    _write(gathered, repository, snapshot, changed, enemies, report)
    return report


def _fresh(gathered: Gathered, snapshot: Snapshot, report: Brought, on: date) -> list[Placed]:
    """The statements that are not on file; each id once, and none that is on file with other content."""
    on_file = {_key(said): said for said in _all_on_file(snapshot)}
    seen: dict[str, Place] = {}
    fresh = []
    for place, said in gathered.statements:
        key = _key(said)
        if PLAIN.fullmatch(said.id) is None:
            mend = "write lower-case letters and digits joined by - and ."
            report.refused.append(place.refused(f"'{shortened(said.id)}' is no id", mend))
            continue
        if (reason := _untrusted(said, snapshot)) is not None:
            report.refused.append(place.refused(*reason))
            continue
        if key in seen:
            first = seen[key]
            report.refused.append(
                place.refused(
                    f"the id {key} stands in line {first.line} too", "give each row its own id, or none"
                )
            )
            continue
        seen[key] = place
        known = on_file.get(key)
        if known is None:
            if (late := _entered_ahead(getattr(said, "entered_on", None), on)) is not None:
                report.refused.append(place.refused(*late))
                continue
            fresh.append((place, said))
        elif known == said:
            report.unchanged += 1
        else:
            report.refused.append(place.refused(*_edited(key, known, said)))
    return fresh


def _untrusted(said: Statement, snapshot: Snapshot) -> tuple[str, str] | None:
    """What no stranger's file may do: play tricks on a terminal, or silence a warning that is on file."""
    if isinstance(said, Review) and said.verdict == "retire":
        plant = snapshot.plants.get(said.plant)
        held = plant and any(one.id == said.caution for one in plant.cautions)
        known = plant and any(one == said for one in plant.reviews)
        if held and not known:
            return (
                f"would help to retire {said.caution}, which is on file",
                "two reviewers with accounts in this store do that (traitbed decide NAME --caution ID)",
            )
    return CONTROL if any(map(holds_control, texts_of(said))) else None


def _entered_ahead(entered_on: date | None, on: date) -> tuple[str, str] | None:
    """What is wrong with a date of entry that is not there yet: no one can have entered it."""
    if entered_on is None or entered_on <= on + AHEAD:
        return None
    return f"was entered on {entered_on}, which lies ahead", "write the day of entry, or leave it empty"


def _plain(place: Place, new: NewRecord, report: Brought, on: date) -> bool:
    """Whether a draft may be shown by a terminal and is of the past; if not, it is refused."""
    fault = CONTROL if any(map(holds_control, texts_of(new))) else _entered_ahead(new.entered_on, on)
    if fault is None:
        return True
    report.refused.append(place.refused(*fault))
    return False


def _all_on_file(snapshot: Snapshot) -> Iterable[Statement]:
    for plant in snapshot.plants.values():
        yield from plant.records
        yield from plant.cautions
        yield from plant.decisions
        yield from plant.observations
        yield from plant.withdrawals
        yield from plant.reviews
        yield from plant.searches
    yield from snapshot.statements()


def _key(said: Statement) -> str:
    return said.iri.removeprefix(BASE)


def _edited(key: str, known: Statement, said: Statement) -> tuple[str, str]:
    """What to say where a row has the id of something on file and states something else."""
    differing = [name for name in type(known).__slots__ if getattr(known, name) != getattr(said, name, None)]
    reason = f"{key} is on file with other content ({', '.join(map(str, differing))})"
    if differing == ["standing"]:
        return reason, "the standing of a record is changed by a decision; leave it as it is"
    return (
        reason,
        "what is on file is never edited: empty its id, standing and entry, and put the id under revises",
    )


def _sound(
    gathered: Gathered, snapshot: Snapshot, fresh: list[Placed], report: Brought, on: date
) -> dict[PlantId, Plant]:
    """Every plant that changes, with what keeps the rules of the knowledge base; the rest is refused."""
    judge = _Judge(gathered, snapshot)
    ids = {said.plant for _, said in fresh if not isinstance(said, HostStatement | EmissionStatement)}
    ids |= {new.draft.plant for _, new in gathered.drafts}
    ids |= {plant_id for plant_id in gathered.plants if plant_id not in snapshot.plants}
    changed = {}
    for plant_id in sorted(ids):
        about: list[Placed] = [
            (place, one)
            for place, one in fresh
            if one.plant == plant_id and not isinstance(one, HostStatement | EmissionStatement)
        ]
        drafts = [(place, new) for place, new in gathered.drafts if new.draft.plant == plant_id]
        result = _one_plant(plant_id, about, drafts, judge, report, on)
        if result is not None:
            report.added += result.added
            report.changed += result.changed
            report.unchanged += result.unchanged
            if result.plant != snapshot.plants.get(plant_id):
                changed[plant_id] = result.plant
    return changed


class _Judge:
    """The rules of the knowledge base, asked of one plant at a time."""

    def __init__(self, gathered: Gathered, snapshot: Snapshot) -> None:
        self.added = gathered.plants
        self.on_file = snapshot.plants
        self.sources = tuple({**snapshot.sources, **gathered.sources}.values())
        self.known = {*snapshot.plants, *gathered.plants}

    def base(self, plant_id: PlantId) -> Plant:
        return self.on_file.get(plant_id) or self.added[plant_id][1]

    def first_fault(self, plant: Plant) -> tuple[str, str] | None:
        """The part of the plant that breaks a rule (``record.<id>`` ...), and what is wrong with it."""
        try:
            found = validate_plants((plant,), load_vocabulary(), self.sources, known_plants=self.known)
            same = plant_from_turtle(plant_to_turtle(plant), "plant") == plant
        except (BadFile, ValueError) as fault:
            return "", f"would not read back as it is written ({fault})"
        for finding in found:
            if finding.severity == "violation":
                where = f"{finding.path}: " if finding.path else ""
                return _part(finding.subject or ""), f"{where}{finding.message}"
        return None if same else ("", "would not read back as it is written")


def _part(subject: str) -> str:
    """The part of a plant that a finding is about: what a decision weighed belongs to the decision."""
    if subject.startswith("usage."):
        return "decision." + subject.removeprefix("usage.").rpartition(".")[0]
    return subject


def _one_plant(
    plant_id: PlantId,
    said: list[Placed],
    drafts: list[tuple[Place, NewRecord]],
    judge: _Judge,
    report: Brought,
    on: date,
) -> Joined | None:
    """One plant with all of its new statements that are sound; None where none can be taken."""
    while True:
        result = joined(judge.base(plant_id), said, drafts, on)
        fault = judge.first_fault(result.plant)
        if fault is None:
            return result
        subject, message = fault
        place = result.places.get(subject)
        mend = "mend it and bring the file again"
        if place is None:
            places = list(result.places.values()) or [judge.added[plant_id][0]]
            report.refused += [one.refused(f"{subject}: {message}", mend) for one in places]
            return None
        report.refused.append(place.refused(message, mend))
        said = [pair for pair in said if pair[0] != place]
        drafts = [pair for pair in drafts if pair[0] != place]


def _enemies(
    gathered: Gathered, snapshot: Snapshot, fresh: list[Placed], report: Brought
) -> list[Enemy | Emission]:
    """Every pest, disease or emission that changes, with its new statements that are sound."""
    odd = {key for key in (*gathered.enemies, *gathered.emissions) if PLAIN.fullmatch(key) is None}
    things: dict[str, Enemy | Emission] = {}
    for held in (gathered.enemies, gathered.emissions, snapshot.enemies, snapshot.emissions):
        things.update({str(key): thing for key, thing in held.items()})
    plants = {*snapshot.plants, *gathered.plants}
    sources = {*snapshot.sources, *gathered.sources}
    grown: dict[str, list[tuple[Place, HostStatement | EmissionStatement]]] = {}
    for place, said in fresh:
        if isinstance(said, HostStatement | EmissionStatement):
            missing = said.plant if said.plant not in plants else said.source
            key = said.enemy if isinstance(said, HostStatement) else said.emission
            if key in odd:
                mend = "write lower-case letters and digits joined by -"
                report.refused.append(place.refused(f"'{shortened(key)}' is no id", mend))
            elif said.plant in plants and said.source in sources:
                grown.setdefault(key, []).append((place, said))
            else:
                report.refused.append(place.refused(f"names {missing}, which is not here", "add it first"))
    return [thing for key, said in grown.items() if (thing := _grown(things[key], said, report))]


def _grown(
    thing: Enemy | Emission,
    placed: list[tuple[Place, HostStatement | EmissionStatement]],
    report: Brought,
) -> Enemy | Emission | None:
    """The enemy or emission with its new statements; None where they would not read back as written."""
    said = (*thing.statements, *(one for _, one in placed))
    whole: Enemy | Emission = replace(thing, statements=said)  # type: ignore[arg-type]
    try:
        text_of(whole)
    except (BadFile, ValueError) as fault:
        report.refused += [
            place.refused(str(fault), "mend it and bring the file again") for place, _ in placed
        ]
        return None
    report.added += [one.id for _, one in placed]
    return whole


def _write(
    gathered: Gathered,
    repository: Repository,
    snapshot: Snapshot,
    changed: dict[PlantId, Plant],
    enemies: list[Enemy | Emission],
    report: Brought,
) -> None:
    """Sources, then plants (a parent before those below it), then enemies; each file is replaced whole."""
    cited = {key for plant in changed.values() for key in cited_by(plant)}
    cited |= {said.source for thing in enemies for said in thing.statements}
    try:
        for source in gathered.sources.values():
            new = source.key in cited and snapshot.sources.get(source.key) != source
            if new and repository.put_source(source):
                report.sources_written.append(source.key)
        for plant in sorted(changed.values(), key=lambda plant: (_depth(plant, changed), plant.id)):
            if repository.put_plant(plant):
                report.plants_written.append(plant.id)
        for thing in enemies:
            if repository.put_enemy(thing):
                report.enemies_written.append(thing.id)
    except StoreFault as fault:
        done = len(report.plants_written)
        raise StoreFault(
            repository.name,
            f"took {done} of {len(changed)} plants, then failed ({fault}); every file is "
            "whole: make room and bring the same file again, what is on file is not taken twice",
        ) from None
    written = (report.sources_written, report.plants_written, report.enemies_written)
    report.kept = any(written)


def _depth(plant: Plant, changed: dict[PlantId, Plant]) -> int:
    """How many plants of this import stand above it."""
    depth = 0
    while plant.parent is not None and plant.parent in changed:
        plant = changed[plant.parent]
        depth += 1
    return depth
