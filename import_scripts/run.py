"""Running an importer: all rows first, then one merge and one replacement per changed plant."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from import_scripts.base import CautionDraft, Draft, Identity, Importer, Refused
from import_scripts.http import fetch
from import_scripts.merge import MergedPlant, merge
from import_scripts.names import PlantNames
from kb.errors import SourceFault, StoreFault
from kb.model import Plant, PlantId, Source
from kb.repository import Repository


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
    folder = folder if folder is not None else importer.carried
    if folder is None:
        folder = fetch(importer, cache, accept_changed=accept_changed)
    if not folder.exists():
        raise SourceFault(
            importer.key, f"there is no '{folder.name}'; name the folder or file that holds the data"
        )
    snapshot = repository.snapshot()
    if snapshot.faults:
        raise StoreFault(
            repository.name,
            f"{snapshot.faults[0]}. Mend it first: an import would write over what it cannot read.",
        )
    plants = dict(snapshot.plants)
    report = Report(importer.key)
    drafts, identities = _statements(importer, folder, plants, report)
    sources = importer.sources(folder)
    _check_sources(importer, drafts, sources)
    for identity in identities:
        plants[identity.id] = _identified(plants.get(identity.id), identity)
    merged = _merge_all(plants, drafts, importer.key, on)
    for source in sources:
        if snapshot.sources.get(source.key) != source and repository.put_source(source):
            report.sources_written.append(source.key)
    for plant_id in sorted({identity.id for identity in identities} | set(merged)):
        result = merged.get(plant_id)
        plant = result.plant if result else plants[plant_id]
        if result:
            _count(report, result)
        if plant != snapshot.plants.get(plant_id) and repository.put_plant(plant):
            report.plants_written.append(plant_id)
    return report


def _statements(
    importer: Importer, folder: Path, plants: dict[PlantId, Plant], report: Report
) -> tuple[list[Draft | CautionDraft], list[Identity]]:
    """Every row converted; refusals go to the report."""
    names = PlantNames.of(plants.values())
    drafts: list[Draft | CautionDraft] = []
    identities: list[Identity] = []
    for row in importer.rows(folder):
        report.rows += 1
        for statement in importer.convert(row, names):
            if isinstance(statement, Refused):
                (report.unmatched if statement.unmatched else report.refused).append(statement)
            elif isinstance(statement, Identity):
                identities.append(statement)
            elif statement.plant in plants:
                drafts.append(statement)
            else:
                report.unmatched.append(
                    _no_plant(importer.key, row.file, row.number, statement.plant, row.name)
                )
    return drafts, identities


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
    importer: Importer, drafts: Iterable[Draft | CautionDraft], sources: Iterable[Source]
) -> None:
    known = {source.key for source in sources}
    missing = sorted({draft.source for draft in drafts} - known)
    if missing:
        raise SourceFault(
            importer.key, f"cites {', '.join(missing)} without describing it; add it to its sources"
        )


def _identified(plant: Plant | None, identity: Identity) -> Plant:
    """The plant with this identity; its records, cautions and decisions stay."""
    return Plant(
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
        records=plant.records if plant else (),
        cautions=plant.cautions if plant else (),
        decisions=plant.decisions if plant else (),
    )


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


def _count(report: Report, merged: MergedPlant) -> None:
    for part in (merged.records, merged.cautions):
        report.added += part.added
        report.changed += part.changed
        report.unchanged += part.unchanged
        report.absent += part.absent
