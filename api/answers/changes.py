"""The answer to 'what changed between two versions, and which verdicts does it change'."""

from collections.abc import Callable

from api.answers import change_words as words
from api.answers.cautions import source_brief
from api.answers.evidence import adopted_dict, decision_dict
from api.answers.knowledge import Answer
from api.answers.rows import limiting_dict
from kb.errors import BadQuestion
from kb.mixture.lists.verdict_changes import (
    NEAR_SCORE,
    DidIt,
    Known,
    Progress,
    VerdictChange,
    VerdictChanges,
    pairs_to_try,
    verdict_changes,
)
from kb.mixture.site import REFERENCE_SITE
from kb.model import PlantId, TraitId
from kb.snapshot import Snapshot
from kb.versions.changes import CautionChange, Changes, PlantChanges, called, changes
from kb.versions.opened import LeftOut, Version, comparable
from kb.versions.renaming import under_new_ids
from kb.versions.value_changes import REACH, ValueChange

SITE = "51° N, cool oceanic, deep ordinary loam, open ground"
STAND_IN = ", not on record: a guess from its near kin or its form moved"
PART_TRAITS: dict[str, tuple[str, ...]] = {
    "family": ("family",),
    "kind": ("growth-form", "life-cycle"),
    "roots": ("effective-rooting-depth", "rooting-depth", "root-form", "root-depth-50", "root-length"),
    "size": ("mature-height", "crown-width", "crown-base", "reach", "height-gain"),
    "leaf": ("leaf-area-index",),
    "season": (
        "growth-window",
        "leaf-window",
        "leaf-retention",
        "raising",
        "warmth-to-crop",
        "warmth-to-grow",
        "heat-to-harvest",
    ),
    "light": ("light-to-survive", "light-to-crop", "light-to-scorch"),
    "nitrogen": ("nitrogen-fixation", "nitrogen-uptake"),
    "water": ("water-use",),
    "ph": ("soil-reaction", "reaction-indicator-1-9"),
    "moisture": ("moisture",),
    "spread": ("spread",),
    "support": ("support-mode",),
    "digging": ("harvest-disturbance",),
    "winter": ("tender", "hardiness", "tropical-climate"),
    "flowers": ("flowering-window",),
}
"""Traits whose change tells what became of a part of a profile; the first that changed is told."""
HOW = (
    "Both versions are read with the code and the list of traits of today. So only knowledge can differ.",
    (
        "Small differences are counted, not told: a number within a quarter of its doubt, a week within one "
        "week, the end of a range within a tenth of it. A span of doubt is told when it is "
        f"{REACH:g} times as wide or as narrow."
    ),
)
HOW_JUDGED = (
    "{tried} pairs of plants that both versions hold were drawn by a fixed rule and judged in both at the "
    "reference site ({site}), in a bed with half the ground each, or under the grown tree at the edge of its "
    "crown. What did it was found by putting back one part of one plant at a time. 'A near thing' marks a "
    "score that moved by less than {near:g} points of 100."
)


def changes_answer(old: Version, new: Version, *, pairs: int, progress: Progress | None = None) -> Answer:
    """The whole difference, warnings first. Raises BadQuestion where both are the same folders."""
    if old.folders and old.folders == new.folders:
        raise BadQuestion(
            f"OLD and NEW are the same folder ('{old.name}'); name two versions, the older one first."
        )
    before, after, left_out = comparable(old.snapshot, new.snapshot)
    found = changes(before, after)
    before = under_new_ids(before, after)
    judged = _judged(before, after, pairs, progress) if pairs and not found.empty else None
    names = {plant.id: called(plant) for side in (before, after) for plant in side.plants.values()}
    short = {p.id: p.common_name or p.scientific_name for s in (before, after) for p in s.plants.values()}
    source = _source_names(before, after)
    return {
        "question": {"kind": "changes", "old": old.name, "new": new.name, "pairs": pairs},
        "dataset_version": after.version,
        "versions": {
            side: {
                "name": v.name,
                "how": v.how,
                "dataset_version": v.snapshot.version,
                "plants": len(v.snapshot.plants),
            }
            for side, v in (("old", old), ("new", new))
        },
        "changed": not found.empty,
        "cautions": [_caution(after, before, change) for change in found.cautions],
        "verdicts": None if judged is None else _verdicts(judged, found, after, short),
        "fates": [{"plant": f.plant, "fate": f.fate, "name": f.name, "was": f.was} for f in found.fates],
        "plants": [_plant(one, source) for one in found.plants],
        "enemies": {"added": list(found.enemies), "gone": list(found.enemies_gone)},
        "counts": counts_of(found),
        "left_out": [_left_out(one) for one in left_out],
        "names": {name: names[name] for name in sorted(_named(found) & names.keys())},
        "reasons": [],
        "notes": _notes(judged, pairs),
    }


def counts_of(found: Changes) -> dict[str, int]:
    """The whole in numbers; every changed value in use is in exactly one of the first seven."""
    values = [change for plant in found.plants for change in plant.values]
    kinds = [change.kind for change in values]
    return {
        "values_new": kinds.count("new"),
        "values_gone": kinds.count("gone"),
        "values_moved": kinds.count("moved"),
        "values_in_more_or_less_doubt": kinds.count("wider") + kinds.count("narrower"),
        "values_only_surer_or_less_sure": kinds.count("same") + kinds.count("noise"),
        "values_within_noise": sum(plant.noise for plant in found.plants),
        "values_of_the_plant_above": sum(plant.inherited for plant in found.plants),
        "surer": sum(_rise(change) > 0 for change in values),
        "less_sure": sum(_rise(change) < 0 for change in values),
        "records_added": found.records_added,
        "records_gone": found.records_gone,
        "searches_added": found.searches_added,
        "decisions": sum(len(plant.decisions) for plant in found.plants),
        "decisions_gone": sum(len(plant.decisions_gone) for plant in found.plants),
    }


def _rise(change: ValueChange) -> int:
    """Steps by which the word for sureness rose; sources that come to disagree make it fall."""
    if change.confidence is None:
        return 0
    was, now = (words.RANK.index(word) for word in change.confidence)
    return now - was


def _judged(old: Snapshot, new: Snapshot, pairs: int, progress: Progress | None) -> VerdictChanges:
    both = [name for name in new.plants if name in old.plants]
    before, after = (
        Known({name: version.profile(name) for name in both}, version.enemy_book) for version in (old, new)
    )
    tried = pairs_to_try([after.profiles[name] for name in both], pairs)
    return verdict_changes(before, after, tried, REFERENCE_SITE, progress)


def _source_names(old: Snapshot, new: Snapshot) -> Callable[[str], str]:
    known = {**old.sources, **new.sources}
    by_key = {str(key): words.short_source(source.citation) for key, source in known.items()}
    return lambda key: by_key.get(key, key)


def _named(found: Changes) -> set[PlantId]:
    return {
        *(one.plant for one in found.cautions),
        *(one.plant for one in found.plants),
        *(one.plant for one in found.fates),
    }


def _caution(new: Snapshot, old: Snapshot, change: CautionChange) -> Answer:
    told = change.after or change.before
    side = old if change.after is None else new
    return {
        "plant": change.plant,
        "event": change.event,
        "id": told.iri if told else None,
        "kind": told.kind if told else None,
        "text": words.caution_sentence(change),
        "why": list(change.why),
        "source": source_brief(side, told.source) if told else None,
    }


def _plant(one: PlantChanges, source: Callable[[str], str]) -> Answer:
    return {
        "plant": one.plant,
        "values": [_value(change, source) for change in one.values],
        "within_noise": one.noise,
        "of_the_plant_above": one.inherited,
        "decisions": [decision_dict(decision) for decision in one.decisions],
        "decisions_gone": [decision_dict(decision) for decision in one.decisions_gone],
        "hosts": words.host_words(one.hosts),
        "host_records": [{"of": h.of, "gone": h.gone, "records": [s.iri for s in h.said]} for h in one.hosts],
    }


def _value(change: ValueChange, source: Callable[[str], str]) -> Answer:
    return {
        "trait": change.trait.id,
        "label": change.trait.label,
        "kind": change.kind,
        "before": None if change.before is None else adopted_dict(change.trait, change.before),
        "after": None if change.after is None else adopted_dict(change.trait, change.after),
        "confidence": list(change.confidence) if change.confidence else None,
        "causes": [
            {
                "kind": cause.kind,
                "records": list(cause.records),
                "sources": list(cause.sources),
                "why": cause.why,
                "text": words.cause_words(cause, source),
            }
            for cause in change.causes
        ],
        "said": None if change.after is None else words.value_words(change.trait, change.after),
        "sure": words.sure_words(change) or None,
        "from": words.from_words(change, source),
        "because": words.because_words(change.causes, source),
        "text": words.value_sentence(change, source),
    }


def _verdicts(judged: VerdictChanges, found: Changes, new: Snapshot, names: dict[PlantId, str]) -> Answer:
    values = {one.plant: one.values for one in found.plants}
    return {
        "tried": judged.tried,
        "site": SITE,
        "table": [
            {"from": was, "to": now, "pairs": count} for (was, now), count in sorted(judged.counts.items())
        ],
        "changed": [_verdict(change, values, new, names) for change in judged.changed],
    }


def _verdict(
    change: VerdictChange,
    values: dict[PlantId, tuple[ValueChange, ...]],
    new: Snapshot,
    names: dict[PlantId, str],
) -> Answer:
    pair = [PlantId(change.a), PlantId(change.b)]
    return {
        "a": change.a,
        "b": change.b,
        "names": [names[plant] for plant in pair],
        "setting": change.setting,
        "before": change.before,
        "after": change.after,
        "worse": change.worse,
        "near": change.near,
        "sureness": change.sureness,
        "limiting": limiting_dict(change.limiting),
        "limited": None if change.limited is None else change.limited.text,
        "did_it": [_did_it(told, values, names) for told in change.did_it],
        "needed": change.needed,
        "warned": [names[plant] for plant in pair if new.cautions(plant)],
    }


def _did_it(told: DidIt, values: dict[PlantId, tuple[ValueChange, ...]], names: dict[PlantId, str]) -> Answer:
    plant = None if told.plant is None else PlantId(told.plant)
    text = words.did_it_words(told, names[plant] if plant else "")
    changed = {change.trait.id: change for change in values.get(plant, ())} if plant else {}
    shifts = (
        words.shift_words(changed[trait])
        for trait in map(TraitId, PART_TRAITS.get(told.part, ()))
        if trait in changed
    )
    shift = next((shift for shift in shifts if shift), None)
    return {
        "plant": plant,
        "part": told.part,
        "text": f"{text}{shift or ('' if told.records or plant is None else STAND_IN)}",
        "records": list(told.records),
    }


def _left_out(one: LeftOut) -> Answer:
    return {
        "side": one.side,
        "file": one.file,
        "line": one.line,
        "detail": one.detail,
        "plant": one.plant,
    }


def _notes(judged: VerdictChanges | None, pairs: int) -> list[str]:
    notes = list(HOW)
    if judged is not None:
        notes.append(HOW_JUDGED.format(tried=judged.tried, site=SITE, near=NEAR_SCORE))
        if judged.tried < pairs:
            notes.append(f"There are no more than {judged.tried} such pairs.")
    elif not pairs:
        notes.append("No verdicts were compared (--pairs 0).")
    return notes
