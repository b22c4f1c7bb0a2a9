"""What changed between two versions of the knowledge base: plants, cautions, values, decisions, enemies.

Both versions are read with the code and the list of traits of today, so that only knowledge can differ.
Order matters: the first is the old one. What a plant takes from the one it belongs to is told there, and
counted here.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from kb.model import Caution, Decision, Plant, PlantId
from kb.snapshot import Snapshot
from kb.statements.enemy_model import Emission, EmissionStatement, Enemy, HostStatement
from kb.versions.renaming import moved_ids, under_new_ids
from kb.versions.value_changes import ValueChange, value_change
from kb.vocabulary_store import load_vocabulary

CautionEvent = Literal["retired", "gone", "reworded", "back", "added"]
CAUTION_EVENTS: tuple[CautionEvent, ...] = ("retired", "gone", "reworded", "back", "added")
"""What can befall a caution; what takes a warning away is said first."""
Fate = Literal["added", "gone", "renamed"]
Listed = HostStatement | EmissionStatement


@dataclass(frozen=True, slots=True)
class CautionChange:
    """One warning that came, went or is worded anew. ``why`` are the words of those who retired it."""

    plant: PlantId
    event: CautionEvent
    before: Caution | None
    after: Caution | None
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlantFate:
    """A plant that came, went, or goes by another name now. ``was`` is its earlier name or id."""

    plant: PlantId
    fate: Fate
    name: str
    was: str | None = None


@dataclass(frozen=True, slots=True)
class HostChange:
    """Statements on one plant and one enemy (or what a plant gives off) that came or went.

    ``known`` where others say so too in the other version: then only the number of sources changed.
    """

    plant: PlantId
    of: str
    name: str
    said: tuple[Listed, ...]
    gone: bool
    known: bool


@dataclass(frozen=True, slots=True)
class PlantChanges:
    """All that changed of one plant, cautions and its own coming and going apart.

    ``values`` are to be listed; ``noise`` and ``inherited`` count the rest of the changed values.
    """

    plant: PlantId
    values: tuple[ValueChange, ...] = ()
    noise: int = 0
    inherited: int = 0
    decisions: tuple[Decision, ...] = ()
    decisions_gone: tuple[Decision, ...] = ()
    hosts: tuple[HostChange, ...] = ()

    @property
    def empty(self) -> bool:
        return not (
            self.values or self.noise or self.inherited or self.decisions or self.decisions_gone or self.hosts
        )


@dataclass(frozen=True, slots=True)
class Changes:
    """The whole difference; empty where nothing that a reader would see changed.

    ``enemies`` and ``enemies_gone`` are names of pests, diseases and substances given off.
    """

    cautions: tuple[CautionChange, ...]
    fates: tuple[PlantFate, ...]
    plants: tuple[PlantChanges, ...]
    enemies: tuple[str, ...]
    enemies_gone: tuple[str, ...]
    records_added: int
    records_gone: int
    searches_added: int

    @property
    def empty(self) -> bool:
        return not (
            self.cautions
            or self.fates
            or self.plants
            or self.enemies
            or self.enemies_gone
            or self.records_added
            or self.records_gone
            or self.searches_added
        )


def changes(old: Snapshot, new: Snapshot) -> Changes:
    """What changed from ``old`` to ``new``, in the order of the plants' ids."""
    fates = _fates(old, new)
    old = under_new_ids(old, new)
    hosts = _hosts(old, new)
    told = [_plant_changes(name, old, new, hosts.get(name, ())) for name in _either(old, new)]
    had, has = (_statement_ids(version) for version in (old, new))
    seen, searched = ({s.id for p in v.plants.values() for s in p.searches} for v in (old, new))
    names = [{thing.name for thing in _things(version)} for version in (old, new)]
    return Changes(
        cautions=tuple(change for name in _either(old, new) for change in _cautions(name, old, new)),
        fates=fates,
        plants=tuple(one for one in told if not one.empty),
        enemies=tuple(sorted(names[1] - names[0])),
        enemies_gone=tuple(sorted(names[0] - names[1])),
        records_added=len(has - had),
        records_gone=len(had - has),
        searches_added=len(searched - seen),
    )


def _either(old: Snapshot, new: Snapshot) -> list[PlantId]:
    listed = {said.plant for v in (old, new) for said in v.statements()}
    return sorted({*old.plants, *new.plants, *listed})


def _statement_ids(snapshot: Snapshot) -> set[str]:
    own = {record.id for plant in snapshot.plants.values() for record in plant.records}
    return own | {said.id for said in snapshot.statements()}


def _fates(old: Snapshot, new: Snapshot) -> tuple[PlantFate, ...]:
    """Plants that came, went or are called otherwise; an id that became a synonym is a new name."""
    moved = {now: was for was, now in moved_ids(old, new).items()}
    found = []
    for name in sorted({*old.plants, *new.plants}):
        before, after = old.plants.get(name), new.plants.get(name)
        if after is None and before is not None and name not in moved.values():
            found.append(PlantFate(name, "gone", called(before)))
        elif before is None and after is not None and name in moved:
            found.append(PlantFate(name, "renamed", called(after), called(old.plants[moved[name]])))
        elif before is None and after is not None:
            found.append(PlantFate(name, "added", called(after)))
        elif before is not None and after is not None and called(before) != called(after):
            found.append(PlantFate(name, "renamed", called(after), called(before)))
    return tuple(found)


def called(plant: Plant) -> str:
    """Common and scientific name."""
    common = plant.common_name
    return f"{common} ({plant.scientific_name})" if common else plant.scientific_name


def _cautions(name: PlantId, old: Snapshot, new: Snapshot) -> list[CautionChange]:
    """Changes of a plant's own cautions, what takes one away first."""
    before, after = (_in_force(version.plants.get(name)) for version in (old, new))
    had, has = old.plants.get(name), new.plants.get(name)
    found = []
    for key in sorted({*before, *after}):
        was, now = before.get(key), after.get(key)
        if was is not None and now is None:
            there = has is not None and key in {caution.id for caution in has.cautions}
            why = () if has is None else tuple(r.why for r in has.reviews if r.caution == key)
            found.append(CautionChange(name, "retired" if there else "gone", was, None, why))
        elif was is None and now is not None:
            there = had is not None and key in {caution.id for caution in had.cautions}
            found.append(CautionChange(name, "back" if there else "added", None, now))
        elif was is not None and now is not None and _bare(was) != _bare(now):
            found.append(CautionChange(name, "reworded", was, now))
    return sorted(found, key=lambda change: CAUTION_EVENTS.index(change.event))


def _in_force(plant: Plant | None) -> dict[str, Caution]:
    if plant is None:
        return {}
    kept = (c for c in plant.cautions if c.standing not in {"rejected", "superseded"})
    return {caution.id: caution for caution in kept if not plant.retired(caution)}


def _bare(caution: Caution) -> Caution:
    """What a caution says, whoever entered it and when."""
    return replace(caution, entered_by="", entered_on=caution.entered_on.min, standing="proposed")


def _plant_changes(
    name: PlantId, old: Snapshot, new: Snapshot, hosts: tuple[HostChange, ...]
) -> PlantChanges:
    before, after = old.plants.get(name), new.plants.get(name)
    if before is None or after is None:
        return PlantChanges(name, hosts=hosts)
    found = _values((before, after), old, new)
    handed = [change for change in found if _inherited(change)]
    own = [change for change in found if not _inherited(change)]
    taken, known = ({d.id: d for d in plant.decisions} for plant in (after, before))
    return PlantChanges(
        plant=name,
        values=tuple(change for change in own if not change.counted_only),
        noise=sum(change.counted_only for change in own),
        inherited=len(handed),
        decisions=tuple(d for key, d in taken.items() if key not in known),
        decisions_gone=tuple(d for key, d in known.items() if key not in taken),
        hosts=hosts,
    )


def _values(plants: tuple[Plant, Plant], old: Snapshot, new: Snapshot) -> list[ValueChange]:
    before, after = old.adopted(plants[0].id), new.adopted(plants[1].id)
    traits = load_vocabulary().traits
    found = (value_change(traits[t], before.get(t), after.get(t), plants) for t in traits)
    return [change for change in found if change is not None]


def _inherited(change: ValueChange) -> bool:
    """Whether every side that has a value took it from the plant above."""
    held: Sequence[object] = [v.inherited_from for v in (change.before, change.after) if v is not None]
    return all(parent is not None for parent in held)


def _hosts(old: Snapshot, new: Snapshot) -> dict[PlantId, tuple[HostChange, ...]]:
    before, after = (_listed(version) for version in (old, new))
    found: dict[PlantId, list[HostChange]] = {}
    for one, other, gone in ((after, before, False), (before, after, True)):
        for (plant, of), (name, said) in one.items():
            there = other.get((plant, of), ("", {}))[1]
            fresh = tuple(one for key, one in said.items() if key not in there)
            if fresh:
                change = HostChange(plant, of, name, fresh, gone, known=bool(there))
                found.setdefault(plant, []).append(change)
    return {plant: tuple(sorted(told, key=lambda t: (not t.gone, t.name))) for plant, told in found.items()}


def _listed(snapshot: Snapshot) -> dict[tuple[PlantId, str], tuple[str, dict[str, Listed]]]:
    """The statements that count, by plant and enemy (or emission), with its name."""
    found: dict[tuple[PlantId, str], tuple[str, dict[str, Listed]]] = {}
    for thing in _things(snapshot):
        for said in thing.statements:
            if said.counts:
                found.setdefault((said.plant, thing.id), (thing.name, {}))[1][said.id] = said
    return found


def _things(snapshot: Snapshot) -> Iterable[Enemy | Emission]:
    yield from snapshot.enemies.values()
    yield from snapshot.emissions.values()
