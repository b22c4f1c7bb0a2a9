"""Records, adopted values and decisions as JSON-ready dicts, named as ``interface.md`` names them."""

from collections.abc import Mapping
from decimal import Decimal

from api.answers.cautions import source_brief
from kb.model import Adopted, Bent, Decision, Record, Sowing, Trait, TraitId, Weighed
from kb.namespaces import iri
from kb.snapshot import Snapshot

SIGNIFICANT = 4
"""Digits kept of a computed number; the inputs rarely have more than two."""


def rounded(value: float | None) -> float | None:
    """A computed number without digits that mean nothing."""
    return None if value is None else float(f"{value:.{SIGNIFICANT}g}")


def _number(value: Decimal | None) -> float | None:
    """A recorded number as it stands; JSON has no decimals, and doubles keep 15 digits."""
    return None if value is None else float(value)


def concept_word(concepts: tuple[str, ...]) -> str | None:
    """The values of a record or trait in one text, None where there is none."""
    return ", ".join(concepts) or None


def adopted_dict(trait: Trait, adopted: Adopted) -> dict[str, object]:
    """One adopted value; a window's low and high are its first and last week."""
    return {
        "low": rounded(adopted.low),
        "likely": rounded(adopted.likely),
        "high": rounded(adopted.high),
        "concept": concept_word(adopted.concepts),
        "concepts": list(adopted.concepts),
        "unit": trait.unit_label,
        "confidence": adopted.confidence,
        "rule": adopted.rule,
        "records": list(adopted.records),
        "inherited_from": adopted.inherited_from,
        "other_sowings": [_sowing_dict(sowing) for sowing in adopted.sowings],
        "bent": bent_dict(adopted.bent),
    }


def _sowing_dict(sowing: Sowing) -> dict[str, object]:
    """The weeks of a crop from another time of sowing than its usual one, and the records that say so."""
    return {
        "low": rounded(sowing.low),
        "high": rounded(sowing.high),
        "records": [iri("record", record) for record in sowing.records],
    }


def bent_dict(bent: Bent | None) -> dict[str, object] | None:
    """How one's own observations moved the value, and from where; None where they did not."""
    if bent is None:
        return None
    return {
        "site_years": rounded(bent.site_years),
        "weight": rounded(bent.weight),
        "low": rounded(bent.low),
        "likely": rounded(bent.likely),
        "high": rounded(bent.high),
        "observations": [iri("observation", name) for name in bent.observations],
    }


def record_dict(
    snapshot: Snapshot, record: Record, weighed: Mapping[str, Weighed] | None = None
) -> dict[str, object]:
    """One record with its source; ``weight`` is its share in the adopted value, None where not asked."""
    trait = snapshot.vocabulary.traits.get(record.trait)
    counted = (weighed or {}).get(record.id)
    return {
        "id": record.iri,
        "plant": record.plant,
        "trait": record.trait,
        "low": _number(record.low),
        "likely": _number(record.likely),
        "high": _number(record.high),
        "concept": concept_word(record.concepts),
        "concepts": list(record.concepts),
        "unit": trait.unit_label if trait else None,
        "number_kind": record.number_kind,
        "conditions": dict(record.conditions),
        "verbatim": record.verbatim,
        "name_as_printed": record.name_as_printed,
        "source": source_brief(snapshot, record.source),
        "locator": record.locator,
        "basis": record.basis,
        "standing": record.standing,
        "weight": rounded(counted.weight) if counted else 0.0,
        "counted_as": counted.counted_as if counted else "not counted",
        "entered_by": record.entered_by,
        "entered_on": record.entered_on.isoformat(),
        "note": record.note,
        "revises": iri("record", record.revises) if record.revises else None,
    }


def decision_dict(decision: Decision) -> dict[str, object]:
    """One decision, with the records it weighed and their roles."""
    return {
        "id": decision.iri,
        "plant": decision.plant,
        "trait": decision.trait,
        "decided_by": decision.decided_by,
        "decided_on": decision.decided_on.isoformat(),
        "why": decision.why,
        "weighed": [{"record": iri("record", r), "role": role} for r, role in decision.weighed],
    }


def trait_dict(trait: Trait) -> dict[str, object]:
    """One trait of the vocabulary."""
    return {
        "id": trait.id,
        "iri": iri("trait", trait.id),
        "label": trait.label,
        "definition": trait.definition,
        "kind": trait.kind,
        "unit": trait.unit_label,
        "unit_iri": trait.unit,
        "allowed": [float(end) for end in trait.allowed] if trait.allowed else None,
        "usual": [float(end) for end in trait.usual] if trait.usual else None,
        "scheme": trait.scheme,
        "rule": trait.adoption,
        "matches": [{"relation": relation, "iri": match} for relation, match in trait.matches],
    }


def weighed_by_record(adopted: Mapping[TraitId, Adopted]) -> dict[str, Weighed]:
    """How each record counted, over all traits of a plant."""
    return {w.record: w for value in adopted.values() if not value.inherited_from for w in value.weighed}
