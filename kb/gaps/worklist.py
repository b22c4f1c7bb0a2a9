"""What a curator should look up next, and what to do about it: the worth of checking first, then doubts.

The first part is reckoned over real pairs of the knowledge base (`kb.mixture.lists.worth`); the rest are
values on which sources disagree, names that mean several plants, and the rows of ``shapes/reports``.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import pyoxigraph
from pyoxigraph import RdfFormat, Store

from kb.gaps.coverage import rejected_by
from kb.mixture.lists.worth import Worth, partners, worth_of_checking
from kb.mixture.profile import Estimate, Origin, Profile
from kb.mixture.site import REFERENCE_SITE
from kb.model import PlantId, TraitId
from kb.namespaces import BASE
from kb.snapshot import Snapshot
from kb.soundness.cross_checks import ask
from kb.soundness.shape_library import vocabulary_texts
from kb.stores.files import PLANTS, SOURCES, read_text, turtle_files
from kb.turtle import plant_to_turtle, source_to_turtle

Kind = Literal["verdicts", "contradictions", "floors", "copies", "impossible", "missing", "names"]
KINDS: tuple[Kind, ...] = (
    "verdicts", "contradictions", "floors", "copies", "impossible", "missing", "names",
)  # fmt: skip
OF_REPORT: dict[str, Kind] = {
    "annuals-cut-after-growth": "impossible",
    "ferns-with-flowers": "impossible",
    "climbers-without-mode": "missing",
    "climbers-without-reach": "missing",
    "copied-values": "copies",
    "depths-that-disagree": "contradictions",
    "evergreens-with-leaf-fall": "contradictions",
    "far-from-relatives": "impossible",
    "fixers-without-partner": "missing",
    "possible-floors": "floors",
    "said-twice": "copies",
}
"""What each report is to a curator (a test holds this equal to the folder)."""
FIELDS: dict[str, str] = {
    "effective-rooting-depth": "root_d95_m",
    "mature-height": "height_m",
    "leaf-area-index": "leaf_area_index",
    "growth-window": "activity",
    "light-to-crop": "light_to_crop_full",
    "water-use": "water_use",
    "nitrogen-uptake": "nitrogen_demand_g_m2",
}
"""Trait that a record could settle -> the field of the profile that it feeds."""
STANDS: dict[Origin, str] = {
    "cited": "cited, but in doubt",
    "common-practice": "common practice, not cited",
    "recalled": "recalled from memory",
    "genus": "not on record: its genus stands in",
    "form": "not on record: plants of its form stand in",
    "assumed": "not on record: a usual value stands in",
}
UNITS: dict[str, str] = {"g/m2": "g/m²", "m2/m2": "m² of leaf over each m² of ground"}
"""Units as a sentence says them, where their label is short."""
DO: dict[Origin, str] = {
    "cited": "find a second study, or measure and log an observation",
    "common-practice": "find a source that prints it, and add the record",
    "recalled": "replace it by a cited value",
    "genus": "find a source that prints it, and add the record",
    "form": "find a source that prints it, and add the record",
    "assumed": "find a source that prints it, and add the record",
}


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to look up. ``changed`` of ``tried`` verdicts hang on it, where that was reckoned."""

    kind: Kind
    text: str
    do: str
    plant: PlantId | None = None
    trait: TraitId | None = None
    changed: float | None = None
    tried: int | None = None
    records: tuple[str, ...] = ()


def worklist(snapshot: Snapshot, *, each: int = 2) -> tuple[Task, ...]:
    """Everything worth a look, what changes most verdicts first.

    ``each`` is how many partners every plant is tried with; more is slower and steadier.
    """
    return (
        *_worth(snapshot, each),
        *sorted(
            (*_reported(snapshot), *_contested(snapshot), *_names(snapshot)),
            key=lambda task: (KINDS.index(task.kind), task.plant or "", task.text),
        ),
    )


def _worth(snapshot: Snapshot, each: int) -> Iterator[Task]:
    profiles = snapshot.profiles()
    pairs = partners(profiles, each)
    by_id = {profile.id: profile for profile in profiles}
    for worth in worth_of_checking(profiles, pairs, REFERENCE_SITE, snapshot.enemy_book):
        yield _worth_task(snapshot, by_id[worth.plant], worth)


def _worth_task(snapshot: Snapshot, profile: Profile, worth: Worth) -> Task:
    held = getattr(profile, FIELDS[worth.trait])
    trait = snapshot.vocabulary.traits[TraitId(worth.trait)]
    value = f" ({_span(held, trait.unit_label or '')})" if isinstance(held, Estimate) else ""
    return Task(
        kind="verdicts",
        text=f"{trait.label} of {profile.name} is {STANDS[held.origin]}{value}.",
        do=DO[held.origin],
        plant=PlantId(profile.id),
        trait=TraitId(worth.trait),
        changed=worth.changed,
        tried=worth.tried,
        records=held.records,
    )


def _span(held: Estimate, unit: str) -> str:
    """A value with its ends: "about 75 % of open light, 50 to 92 %"; a share in per cent."""
    if unit.startswith("share"):
        likely, low, high = (f"{100 * value:.0f}" for value in (held.likely, held.low, held.high))
        return f"about {likely} %{unit.removeprefix('share')}, {low} to {high} %"
    said = UNITS.get(unit, unit)
    return f"about {held.likely:.3g}, {held.low:.3g} to {held.high:.3g} {said}".rstrip()


def _contested(snapshot: Snapshot) -> Iterator[Task]:
    for plant_id, plant in snapshot.plants.items():
        for trait_id, adopted in snapshot.adopted(plant_id).items():
            if adopted.confidence == "contested" and adopted.inherited_from is None:
                label = snapshot.vocabulary.traits[trait_id].label
                yield Task(
                    kind="contradictions",
                    text=f"Sources on {label} of {plant.common_name or plant.scientific_name} disagree.",
                    do="open the records; weigh them in a decision, or find what was measured differently",
                    plant=plant_id,
                    trait=trait_id,
                    records=adopted.records,
                )


def _names(snapshot: Snapshot) -> Iterator[Task]:
    for step in snapshot.names.by_step:
        for name, plants in sorted(step.items()):
            if len(plants) > 1:
                yield Task(
                    kind="names",
                    text=f"'{snapshot.names.spellings[name]}' means {', '.join(plants)}.",
                    do="give each a name of its own, or leave it: a question by this name offers the choice",
                    plant=plants[0],
                )


def _reported(snapshot: Snapshot) -> Iterator[Task]:
    store = Store()
    for text in (*vocabulary_texts(), *_texts(snapshot)):
        store.extend(pyoxigraph.parse(text.encode(), format=RdfFormat.TURTLE))
    settled = {f"record.{name}" for plant in snapshot.plants.values() for name in rejected_by(plant)}
    for query, rows in ask(store, "reports"):
        for row in rows:
            name = row.subject.removeprefix(BASE)
            if name in settled:
                continue
            yield Task(
                kind=OF_REPORT[query.name],
                text=f"{name}: {row.detail.replace(BASE, '')} ({query.question.rstrip('?')})",
                do=query.mend,
                plant=_plant_of(snapshot, name),
                records=(row.subject,) if name.startswith("record.") else (),
            )


def _plant_of(snapshot: Snapshot, name: str) -> PlantId | None:
    """The plant that a subject of a report is, or is about."""
    kind, _, rest = name.partition(".")
    if kind == "plant":
        return PlantId(rest) if rest in snapshot.plants else None
    record = snapshot.find(name)
    return None if record is None else record.plant


def _texts(snapshot: Snapshot) -> Iterator[str]:
    """The Turtle of plants and sources: the store's files, or what they would be."""
    for folder in snapshot.folders:
        for room in (PLANTS, SOURCES):
            for path in turtle_files(folder, room):
                yield read_text(path, path.name)
    if not snapshot.folders:
        yield from (plant_to_turtle(plant) for plant in snapshot.plants.values())
        yield from (source_to_turtle(source) for source in snapshot.sources.values())
