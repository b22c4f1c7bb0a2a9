"""Running an importer: all rows first, then one merge and one replacement per changed plant."""

from collections.abc import Iterable
from dataclasses import dataclass, field, fields, replace
from datetime import date
from pathlib import Path
from typing import Any

from import_scripts.base import (
    CautionDraft,
    Draft,
    EmissionDraft,
    HostDraft,
    Identity,
    Importer,
    Refused,
)
from import_scripts.enemy_merge import merge_emission, merge_enemy
from import_scripts.http import fetch
from import_scripts.merge import Merged, MergedPlant, merge
from import_scripts.names import PlantNames
from kb.errors import SourceFault, StoreFault
from kb.model import Plant, PlantId, Source
from kb.repository import Repository
from kb.snapshot import Snapshot
from kb.statements.enemy_model import Emission, EmissionId, EmissionStatement, Enemy, EnemyId, HostStatement
from kb.statements.search_model import Search


@dataclass(slots=True)
class Report:
    """What an import did. ``changed`` holds pairs: the record on file, and its revision."""

    importer: str
    rows: int = 0
    added: list[str] = field(default_factory=list)
    changed: list[tuple[str, str]] = field(default_factory=list)
    unchanged: int = 0
    absent: list[str] = field(default_factory=list)
    refused: list[Refused] = field(default_factory=list)
    unmatched: list[Refused] = field(default_factory=list)
    plants_written: list[str] = field(default_factory=list)
    sources_written: list[str] = field(default_factory=list)
    enemies_written: list[str] = field(default_factory=list)

    def as_dict(self) -> dict[str, Any]:
        """The report for machines: counts, and each refused row with its reason."""
        return {
            "importer": self.importer,
            "rows": self.rows,
            "added": len(self.added),
            "changed": [{"record": old, "revision": new} for old, new in self.changed],
            "unchanged": self.unchanged,
            "absent": self.absent,
            "refused": [_refusal(one) for one in self.refused],
            "unmatched": [_refusal(one) for one in self.unmatched],
            "plants_written": len(self.plants_written),
            "sources_written": self.sources_written,
            "enemies_written": self.enemies_written,
        }

    def lines(self) -> list[str]:
        """The report for a person, one line each."""
        lines = [
            (
                f"{self.importer}: {self.rows} rows read; {len(self.added)} records added, "
                f"{len(self.changed)} changed upstream, {self.unchanged} unchanged; "
                f"{len(self.refused)} statements refused, {len(self.unmatched)} rows about plants not "
                f"held here."
            )
        ]
        lines += [f"changed: {old} stays; {new} revises it, decide between them" for old, new in self.changed]
        lines += [f"no longer in the source, kept: {name}" for name in self.absent]
        lines += [f"refused: {r.file}, line {r.row}, '{r.name}': {r.reason}; {r.mend}" for r in self.refused]
        return lines


def _refusal(refused: Refused) -> dict[str, Any]:
    return {
        "file": refused.file,
        "row": refused.row,
        "name": refused.name,
        "reason": refused.reason,
        "mend": refused.mend,
    }


def run(
    importer: Importer,
    folder: Path | None,
    repository: Repository,
    on: date,
    *,
    cache: Path | None = None,
    accept_changed: bool = False,
) -> Report:
    """Merge what an importer reads in a folder (or file) into a store.

    ``folder`` None reads the input that the project carries, else the published address (kept in
    ``cache``; a file that is not the pinned one needs ``accept_changed``). Everything is read and converted
    before anything is written; each plant file is then replaced whole, so that a killed run
    leaves a sound store and the next run completes it. Running twice changes no byte.
    Raises SourceFault for input that is not as expected, StoreFault for a store that cannot take it.
    """
    folder = _input(importer, folder, cache, accept_changed=accept_changed)
    snapshot = repository.snapshot()
    if snapshot.faults:
        raise StoreFault(
            repository.name,
            f"{snapshot.faults[0]}. Mend it first: an import would write over what it cannot read.",
        )
    plants = dict(snapshot.plants)
    report = Report(importer.key)
    stated = _statements(importer, folder, plants, report)
    drafts, identities = stated.drafts, stated.identities
    sources = importer.sources(folder)
    _check_sources(importer, (*drafts, *stated.hosts, *stated.listed), sources)
    for identity in identities:
        plants[identity.id] = _identified(plants.get(identity.id), identity)
    merged = _merge_all(plants, drafts, importer.key, on)
    searched = _searched(plants, merged, stated.searches, report)
    enemies = _merge_enemies(snapshot, stated, importer.key, on)
    cited = {draft.source for draft in (*drafts, *stated.hosts, *stated.listed)}
    for source in sources:
        # One that nothing cites any more is not brought back: it would stand there as if something did.
        wanted = bool(identities) or source.key in cited or source.key in snapshot.sources
        if wanted and snapshot.sources.get(source.key) != source and repository.put_source(source):
            report.sources_written.append(source.key)
    for plant_id in sorted({identity.id for identity in identities} | set(merged) | set(searched)):
        result = merged.get(plant_id)
        plant = result.plant if result else plants[plant_id]
        plant = replace(plant, searches=searched.get(plant_id, plant.searches))
        if result:
            _count(report, result)
        if plant != snapshot.plants.get(plant_id) and repository.put_plant(plant):
            report.plants_written.append(plant_id)
    for thing, said in enemies:
        _count_part(report, said)
        if repository.put_enemy(thing):
            report.enemies_written.append(thing.id)
    return report


def _input(importer: Importer, folder: Path | None, cache: Path | None, *, accept_changed: bool) -> Path:
    """The folder or file to read: as named, as the project carries it, or as it is published."""
    folder = folder if folder is not None else importer.carried
    if folder is None:
        folder = fetch(importer, cache, accept_changed=accept_changed)
    if not folder.exists():
        raise SourceFault(
            importer.key, f"there is no '{folder.name}'; name the folder or file that holds the data"
        )
    return folder


IDENTITY = frozenset(part.name for part in fields(Identity))
"""The parts of a plant that the taxa importer writes; all others are what is said of it."""


@dataclass(slots=True)
class _Stated:
    """What the rows of a source state, sorted by what it is about."""

    drafts: list[Draft | CautionDraft] = field(default_factory=list)
    searches: list[Search] = field(default_factory=list)
    identities: list[Identity] = field(default_factory=list)
    hosts: list[HostDraft] = field(default_factory=list)
    listed: list[EmissionDraft] = field(default_factory=list)
    enemies: dict[EnemyId, Enemy] = field(default_factory=dict)
    emissions: dict[EmissionId, Emission] = field(default_factory=dict)

    def named(self, who: Identity | Enemy | Emission) -> None:
        """Keep who a plant, an enemy or an emission is."""
        match who:
            case Identity():
                self.identities.append(who)
            case Enemy():
                self.enemies[who.id] = who
            case Emission():
                self.emissions[who.id] = who

    def said(self, statement: Draft | CautionDraft | Search | HostDraft | EmissionDraft) -> None:
        """Keep what is said of a plant."""
        match statement:
            case HostDraft():
                self.hosts.append(statement)
            case EmissionDraft():
                self.listed.append(statement)
            case Search():
                self.searches.append(statement)
            case _:
                self.drafts.append(statement)


def _statements(importer: Importer, folder: Path, plants: dict[PlantId, Plant], report: Report) -> _Stated:
    """Every row converted; refusals go to the report."""
    names = PlantNames.of(plants.values())
    stated = _Stated()
    for row in importer.rows(folder):
        report.rows += 1
        for statement in importer.convert(row, names):
            if isinstance(statement, Refused):
                (report.unmatched if statement.unmatched else report.refused).append(statement)
            elif isinstance(statement, Identity | Enemy | Emission):
                stated.named(statement)
            elif statement.plant not in plants:
                report.unmatched.append(
                    _no_plant(importer.key, row.file, row.number, statement.plant, row.name)
                )
            else:
                stated.said(statement)
    return stated


def _merge_enemies(
    snapshot: Snapshot, stated: _Stated, importer: str, on: date
) -> list[tuple[Enemy | Emission, Merged[HostStatement] | Merged[EmissionStatement]]]:
    """Every enemy and emission that the source names, merged with what is on file."""
    found: list[tuple[Enemy | Emission, Merged[HostStatement] | Merged[EmissionStatement]]] = []
    for enemy_id, enemy in sorted(stated.enemies.items()):
        hosts = [draft for draft in stated.hosts if draft.enemy == enemy_id]
        known = snapshot.enemies.get(enemy_id)
        result = merge_enemy(known, enemy, hosts, importer=importer, on=on)
        if result.enemy.statements:
            found.append((result.enemy, result.statements))
    for emission_id, emission in sorted(stated.emissions.items()):
        listed = [draft for draft in stated.listed if draft.emission == emission_id]
        there = snapshot.emissions.get(emission_id)
        whole = merge_emission(there, emission, listed, importer=importer, on=on)
        found.append((whole.emission, whole.statements))
    return found


def _no_plant(key: str, file: str, row: int, plant: PlantId, name: str) -> Refused:
    return Refused(
        file,
        row,
        name,
        f"means {plant}, which is not in this store",
        f"run the importer taxa first, or mend the mapping of {key}",
        unmatched=True,
    )


def _check_sources(
    importer: Importer,
    drafts: Iterable[Draft | CautionDraft | HostDraft | EmissionDraft],
    sources: Iterable[Source],
) -> None:
    known = {source.key for source in sources}
    missing = sorted({draft.source for draft in drafts} - known)
    if missing:
        raise SourceFault(
            importer.key, f"cites {', '.join(missing)} without describing it; add it to its sources"
        )


def _identified(plant: Plant | None, identity: Identity) -> Plant:
    """The plant with this identity; everything that is said of it stays."""
    named = Plant(
        id=identity.id,
        scientific_name=identity.scientific_name,
        authority=identity.authority,
        rank=identity.rank,
        according_to=identity.according_to,
        parent=identity.parent,
        groups=tuple(sorted(set(identity.groups))),
        synonyms=tuple(sorted(identity.synonyms, key=lambda name: name.name)),
        common_names=identity.common_names[:1]
        + tuple(sorted(identity.common_names[1:], key=lambda name: (name.lang, name.name))),
    )
    if plant is None:
        return named
    kept = {part.name: getattr(plant, part.name) for part in fields(Plant) if part.name not in IDENTITY}
    return replace(named, **kept)


def _merge_all(
    plants: dict[PlantId, Plant], drafts: Iterable[Draft | CautionDraft], importer: str, on: date
) -> dict[PlantId, MergedPlant]:
    by_plant: dict[PlantId, list[Draft | CautionDraft]] = {}
    for draft in drafts:
        by_plant.setdefault(draft.plant, []).append(draft)
    by = f"importer {importer}"
    for plant in plants.values():
        if by in {*(r.entered_by for r in plant.records), *(c.entered_by for c in plant.cautions)}:
            by_plant.setdefault(plant.id, [])
    return {
        plant_id: merge(plants[plant_id], found, importer=importer, on=on)
        for plant_id, found in by_plant.items()
    }


def _searched(
    plants: dict[PlantId, Plant],
    merged: dict[PlantId, MergedPlant],
    searches: Iterable[Search],
    report: Report,
) -> dict[PlantId, tuple[Search, ...]]:
    """The searches of each plant with the new ones; what is on file for a day stays as it is."""
    found: dict[PlantId, tuple[Search, ...]] = {}
    for search in searches:
        plant = merged[search.plant].plant if search.plant in merged else plants[search.plant]
        known = found.get(search.plant, plant.searches)
        on_file = next((one for one in known if one.id == search.id), None)
        if on_file == search:
            report.unchanged += 1
        elif on_file is not None:
            reason = f"a search of {search.searched_on} is on file with other words"
            mend = "give a search of another day its own date; the one on file stays"
            report.refused.append(Refused("searches", 0, search.plant, reason, mend))
        else:
            found[search.plant] = (*known, search)
            report.added.append(f"search.{search.id}")
    return found


def _count(report: Report, merged: MergedPlant) -> None:
    for part in (merged.records, merged.cautions):
        _count_part(report, part)


def _count_part(report: Report, part: Merged[Any]) -> None:
    report.added += part.added
    report.changed += part.changed
    report.unchanged += part.unchanged
    report.absent += part.absent
