"""Observations of one's own, the estimates for their places, and a plant's history, as JSON-ready dicts."""

from api.answers.cautions import Reader, names_of, plant_cautions
from api.answers.evidence import adopted_dict, concept_word, rounded
from api.questions import HistoryQuestion
from kb.adoption.observed import LocalEstimate
from kb.bench.history import Event, history
from kb.curation import Difference
from kb.model import Adopted
from kb.namespaces import BASE, iri
from kb.snapshot import Snapshot
from kb.statements.curation_model import Observation, Review, Withdrawal, in_force

Answer = dict[str, object]


def observation_dict(snapshot: Snapshot, seen: Observation) -> Answer:
    """One observation; ``withdrawn`` says whether it still counts."""
    plant = snapshot.plants[seen.plant]
    trait = snapshot.vocabulary.traits.get(seen.trait)
    return {
        "id": seen.iri,
        "plant": seen.plant,
        "trait": seen.trait,
        "low": None if seen.low is None else float(seen.low),
        "likely": None if seen.likely is None else float(seen.likely),
        "high": None if seen.high is None else float(seen.high),
        "concept": concept_word(seen.concepts),
        "concepts": list(seen.concepts),
        "unit": trait.unit_label if trait else None,
        "verbatim": seen.verbatim,
        "observed_by": seen.observer,
        "observed_on": seen.observed_on.isoformat(),
        "place": seen.place,
        "age_years": None if seen.age_years is None else float(seen.age_years),
        "stock": seen.stock,
        "procedure": seen.procedure,
        "quality": seen.quality,
        "quality_note": seen.quality_note,
        "entered_on": seen.entered_on.isoformat(),
        "withdrawn": seen not in in_force(plant.observations, plant.withdrawals),
    }


def local_dict(snapshot: Snapshot, estimate: LocalEstimate) -> Answer:
    """The estimate for one place where the plant was observed, with the rule that made it."""
    trait = snapshot.vocabulary.traits[estimate.trait]
    return {
        "trait": estimate.trait,
        "place": estimate.place,
        "stock": estimate.stock,
        "site_years": rounded(estimate.site_years),
        "weight": rounded(estimate.weight),
        "seen": rounded(estimate.seen),
        "low": rounded(estimate.low),
        "likely": rounded(estimate.likely),
        "high": rounded(estimate.high),
        "concept": concept_word(estimate.concepts),
        "unit": trait.unit_label,
        "rule": estimate.words,
        "observations": [iri("observation", name) for name in estimate.observations],
    }


def difference_dict(snapshot: Snapshot, difference: Difference) -> Answer:
    """The value in use of one trait before and after; None where there was none."""

    def shown(value: Adopted | None) -> Answer | None:
        return None if value is None else adopted_dict(snapshot.vocabulary.traits[difference.trait], value)

    return {
        "trait": difference.trait,
        "before": shown(difference.before),
        "after": shown(difference.after),
    }


def event_dict(snapshot: Snapshot, event: Event) -> Answer:
    return {
        "at": event.at,
        "who": event.who,
        "action": event.action,
        "things": [BASE + thing for thing in event.things],
        "why": event.why,
        "changes": [difference_dict(snapshot, change) for change in event.changes],
    }


def history_answer(snapshot: Snapshot, question: HistoryQuestion) -> Answer:
    """What happened to a plant (or one part of it), and what each step did to the values in use."""
    plant = snapshot.plants[snapshot.resolve(question.plant)]
    thing = None
    if question.record is not None:
        thing = snapshot.record(question.record).iri.removeprefix(BASE)
    return {
        "question": {"kind": "history", "plant": plant.id, "record": thing and BASE + thing},
        "dataset_version": snapshot.version,
        "plant": plant.id,
        "revision": snapshot.revisions.get(plant.id),
        "cautions": plant_cautions(snapshot, plant.id, Reader()),
        "names": {plant.id: names_of(plant)},
        "events": [event_dict(snapshot, event) for event in history(snapshot, plant.id, thing)],
        "labels": {trait_id: trait.label for trait_id, trait in snapshot.vocabulary.traits.items()},
        "reasons": [],
        "notes": [] if snapshot.revisions else ["This store is read-only; nothing can be added to it."],
    }


def act_dict(act: Withdrawal | Review) -> Answer:
    """A withdrawal of an observation, or a review of a caution."""
    about = act.withdraws if isinstance(act, Withdrawal) else f"caution.{act.caution}"
    return {
        "id": act.iri,
        "plant": act.plant,
        "about": BASE + about,
        "verdict": None if isinstance(act, Withdrawal) else act.verdict,
        "decided_by": act.decided_by,
        "decided_on": act.decided_on.isoformat(),
        "why": act.why,
    }


def revision_of(snapshot: Snapshot, plant: str) -> str:
    """The revision of a plant that is named in any way; of a store that is read-only, the data set's."""
    return snapshot.revisions.get(snapshot.resolve(plant)) or snapshot.version
