"""Answers on what is known: one plant, its records, one record, the sources, the traits."""

from api.answers.cautions import (
    Reader,
    left_out_notes,
    names_of,
    plant_cautions,
    search_dict,
    source_brief,
)
from api.answers.enemies import emission_dict, host_dict
from api.answers.evidence import adopted_dict, decision_dict, record_dict, trait_dict, weighed_by_record
from api.answers.observed import act_dict, local_dict, observation_dict
from api.answers.roots import root_profile
from api.nearest import nearest
from api.questions import (
    PlantQuestion,
    RecordQuestion,
    RecordsQuestion,
    SourcesQuestion,
    TraitsQuestion,
)
from kb.errors import UnknownSource, UnknownTrait
from kb.model import Caution, Decision, Plant, PlantId, Record, Source, SourceKey, Trait, TraitId
from kb.namespaces import iri
from kb.snapshot import Snapshot
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.statements.enemy_model import EmissionStatement, HostStatement
from kb.statements.search_model import Search

Answer = dict[str, object]


def plant_answer(snapshot: Snapshot, question: PlantQuestion) -> Answer:
    """Names, cautions and adopted values of one plant."""
    plant = snapshot.plants[snapshot.resolve(question.plant)]
    reader = Reader(question.audience, question.place)
    adopted = snapshot.adopted(plant.id)
    traits = snapshot.vocabulary.traits
    return {
        "question": {
            "kind": "plant",
            "plant": plant.id,
            "place": question.place,
            "audience": question.audience,
            "observed_at": question.observed_at,
        },
        "dataset_version": snapshot.version,
        "id": plant.id,
        "iri": plant.iri,
        "cautions": plant_cautions(snapshot, plant.id, reader),
        "searches": [search_dict(search) for search in snapshot.searches(plant.id)],
        "names": _names(snapshot, plant),
        "rank": plant.rank,
        "parent": plant.parent,
        "groups": list(plant.groups),
        "traits": {
            trait_id: adopted_dict(trait, adopted[trait_id]) if trait_id in adopted else None
            for trait_id, trait in traits.items()
        },
        "missing": {
            trait_id: _why_missing(plant, trait_id) for trait_id in traits if trait_id not in adopted
        },
        "labels": {trait_id: trait.label for trait_id, trait in traits.items()},
        "local": [local_dict(snapshot, estimate) for estimate in snapshot.local(plant.id)],
        "root_profile": root_profile(snapshot.profile(plant.id)),
        "reasons": [],
        "notes": left_out_notes(snapshot, [plant.id], reader),
    }


def _names(snapshot: Snapshot, plant: Plant) -> Answer:
    return {
        "accepted": plant.scientific_name,
        "authority": plant.authority,
        "according_to": source_brief(snapshot, plant.according_to),
        "synonyms": [
            {"name": name.name, "authority": name.authority, "according_to": name.according_to}
            for name in plant.synonyms
        ],
        "common": [_common_name(name.name, name.lang) for name in plant.common_names],
    }


def _common_name(name: str, lang: str) -> Answer:
    language, _, region = lang.partition("-")
    return {"name": name, "lang": language, "region": region or None}


def _why_missing(plant: Plant, trait: TraitId) -> str:
    """Why a trait has no value: nobody recorded it, or what is recorded does not add up to one."""
    records = [record for record in plant.records if record.trait == trait]
    if not records:
        return "no record"
    if all(record.standing in {"rejected", "superseded"} for record in records):
        return "every record is rejected or superseded"
    if all(record.number_kind == "floor" for record in records):
        return "only 'at least' records (pots, cores); they give no depth"
    return "the records give no usable value"


def records_answer(snapshot: Snapshot, question: RecordsQuestion) -> Answer:
    """All records of one plant, or those of one trait, with their sources and the decisions."""
    plant = snapshot.plants[snapshot.resolve(question.plant)]
    wanted = find_trait(snapshot, question.trait).id if question.trait else None
    weighed = weighed_by_record(snapshot.adopted(plant.id))
    return {
        "question": {"kind": "records", "plant": plant.id, "trait": wanted},
        "dataset_version": snapshot.version,
        "plant": plant.id,
        "cautions": plant_cautions(snapshot, plant.id, Reader()),
        "names": {plant.id: names_of(plant)},
        "records": [
            record_dict(snapshot, record, weighed)
            for record in plant.records
            if wanted is None or record.trait == wanted
        ],
        "decisions": [
            decision_dict(decision)
            for decision in plant.decisions
            if wanted is None or decision.trait == wanted
        ],
        "observations": [
            observation_dict(snapshot, seen)
            for seen in plant.observations
            if wanted is None or seen.trait == wanted
        ],
        "revision": snapshot.revisions.get(plant.id),
        "labels": {trait_id: trait.label for trait_id, trait in snapshot.vocabulary.traits.items()},
        "reasons": [],
        "notes": [],
    }


KINDS: dict[type, str] = {
    Record: "record",
    Caution: "caution",
    Decision: "decision",
    Search: "search",
    Observation: "observation",
    Withdrawal: "withdrawal",
    Review: "review",
    HostStatement: "enemy",
    EmissionStatement: "emission",
}
"""What an opened statement is called in an answer."""


def record_answer(snapshot: Snapshot, question: RecordQuestion) -> Answer:
    """One record, caution or decision; every IRI in a reason opens here."""
    found = snapshot.record(question.record)
    plant = snapshot.plants[found.plant]
    kind = KINDS[type(found)]
    return {
        "question": {"kind": "record", "record": found.iri},
        "dataset_version": snapshot.version,
        "plant": plant.id,
        "cautions": plant_cautions(snapshot, plant.id, Reader()),
        "names": {plant.id: names_of(plant)},
        "kind": kind,
        "record": _opened(snapshot, found.plant, found.iri),
        "decisions": [
            decision_dict(decision)
            for decision in plant.decisions
            if isinstance(found, Record) and any(record == found.id for record, _ in decision.weighed)
        ],
        "reasons": [],
        "notes": [],
    }


def _opened(snapshot: Snapshot, plant: PlantId, record_iri: str) -> Answer:
    found = snapshot.record(record_iri)
    if isinstance(found, Record):
        return record_dict(snapshot, found, weighed_by_record(snapshot.adopted(plant)))
    if isinstance(found, Caution):
        return {
            "id": found.iri,
            "plant": plant,
            "kind": found.kind,
            "text": found.text,
            "part": found.part,
            "agent": found.agent,
            "group": found.group,
            "place": found.place,
            "as_of": found.as_of,
            "lookalike": found.lookalike,
            "verbatim": found.verbatim,
            "name_as_printed": found.name_as_printed,
            "source": source_brief(snapshot, found.source),
            "locator": found.locator,
            "basis": found.basis,
            "standing": found.standing,
            "entered_by": found.entered_by,
            "entered_on": found.entered_on.isoformat(),
        }
    return _act_or_statement(snapshot, found)


def _act_or_statement(
    snapshot: Snapshot,
    found: Decision | Observation | Withdrawal | Review | Search | HostStatement | EmissionStatement,
) -> Answer:
    match found:
        case Observation():
            return observation_dict(snapshot, found)
        case Withdrawal() | Review():
            return act_dict(found)
        case HostStatement():
            return host_dict(snapshot, found)
        case EmissionStatement():
            return emission_dict(snapshot, found)
        case Search():
            return search_dict(found)
        case Decision():
            return decision_dict(found)


def sources_answer(snapshot: Snapshot, question: SourcesQuestion) -> Answer:
    """All sources with licence and credit, or one; with how many records each gave."""
    if question.source is not None and question.source not in snapshot.sources:
        known = nearest(question.source, snapshot.sources) or tuple(snapshot.sources)
        raise UnknownSource(question.source, known)
    counts: dict[SourceKey, int] = {}
    for plant in snapshot.plants.values():
        for key in (*(r.source for r in plant.records), *(c.source for c in plant.cautions)):
            counts[key] = counts.get(key, 0) + 1
    for said in snapshot.statements():
        counts[said.source] = counts.get(said.source, 0) + 1
    return {
        "question": {"kind": "sources", "source": question.source},
        "dataset_version": snapshot.version,
        "cautions": [],
        "sources": [
            {**_source(source), "records": counts.get(key, 0)}
            for key, source in snapshot.sources.items()
            if question.source in {None, key}
        ],
        "reasons": [],
        "notes": [],
    }


def _source(source: Source) -> Answer:
    return {
        "key": source.key,
        "iri": iri("source", source.key),
        "citation": source.citation,
        "identifier": source.identifier,
        "year": source.year,
        "licence": source.licence,
        "licence_iri": source.licence_iri,
        "tier": source.tier,
        "how_read": source.how_read,
        "credit": source.credit,
    }


def find_trait(snapshot: Snapshot, trait: str) -> Trait:
    """The trait of this id. Raises UnknownTrait with the nearest ids."""
    found = snapshot.vocabulary.traits.get(TraitId(trait))
    if found is None:
        raise UnknownTrait(trait, nearest(trait, snapshot.vocabulary.traits))
    return found


def traits_answer(snapshot: Snapshot, question: TraitsQuestion) -> Answer:
    """The vocabulary: every trait with definition, unit, range, rule and values; or one of them."""
    vocabulary = snapshot.vocabulary
    wanted = [find_trait(snapshot, question.trait)] if question.trait else list(vocabulary.traits.values())
    return {
        "question": {"kind": "traits", "trait": question.trait},
        "dataset_version": snapshot.version,
        "cautions": [],
        "traits": [
            {
                **trait_dict(trait),
                "values": [
                    {"id": concept.id, "label": concept.label, "definition": concept.definition}
                    for concept in vocabulary.concepts.get(trait.scheme or "", {}).values()
                ],
            }
            for trait in wanted
        ],
        "reasons": [],
        "notes": [],
    }
