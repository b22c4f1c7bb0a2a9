"""Host statements and lists of sensitive plants as JSON-ready dicts."""

from decimal import Decimal

from api.answers.cautions import source_brief
from kb.namespaces import iri
from kb.snapshot import Snapshot
from kb.statements.enemy_model import EmissionStatement, HostStatement


def _span(span: tuple[Decimal | None, Decimal | None] | None) -> list[float | None] | None:
    return None if span is None else [None if end is None else float(end) for end in span]


def _entry(snapshot: Snapshot, said: HostStatement | EmissionStatement) -> dict[str, object]:
    """What every statement has: printed words, source, basis, standing, entry."""
    return {
        "scope": said.scope,
        "verbatim": said.verbatim,
        "name_as_printed": said.name_as_printed,
        "source": source_brief(snapshot, said.source),
        "locator": said.locator,
        "basis": said.basis,
        "standing": said.standing,
        "entered_by": said.entered_by,
        "entered_on": said.entered_on.isoformat(),
        "note": said.note,
        "revises": iri("record", said.revises) if said.revises else None,
    }


def host_dict(snapshot: Snapshot, said: HostStatement) -> dict[str, object]:
    """One source on one plant and one enemy; distances in m and years as (low, high)."""
    enemy = snapshot.enemies[said.enemy]
    return {
        "id": said.iri,
        "plant": said.plant,
        "enemy": said.enemy,
        "enemy_name": enemy.name,
        "organism": enemy.organism,
        "enemy_kind": enemy.kind,
        "enemy_as_printed": said.enemy_as_printed,
        "role": said.role,
        "severity": said.severity,
        "travels_by": said.route,
        "distance_m": _span(said.distance_m),
        "distance_meaning": said.distance_meaning,
        "years": _span(said.years),
        "years_meaning": said.years_meaning,
        "years_as_printed": said.years_as_printed,
        "region": said.region,
        **_entry(snapshot, said),
    }


def emission_dict(snapshot: Snapshot, said: EmissionStatement) -> dict[str, object]:
    """One list that says how one plant does near a plant that gives something off."""
    emission = snapshot.emissions[said.emission]
    return {
        "id": said.iri,
        "plant": said.plant,
        "emission": emission.name,
        "emitter": emission.emitter,
        "listed_as": said.listed_as,
        "grade": said.grade,
        **_entry(snapshot, said),
    }
