"""From host statements to the agents, and from lists to the emitters, that the computation works on.

All statements on one plant and one enemy are taken together: the worst role and the worst harm that
any of them prints count, and where they disagree on the role the host is contested.
"""

from collections.abc import Iterable
from decimal import Decimal

from kb.mixture.enemies.allelopathy import Emitter, Evidence
from kb.mixture.enemies.hosts import HARMS_WORST_FIRST, ROLES_WORST_FIRST, Agent, Host, Mode
from kb.statements.enemy_model import (
    Emission,
    EmissionStatement,
    Enemy,
    EnemyId,
    EnemyKind,
    HostStatement,
)
from kb.statements.forerunners import advised_against
from kb.statements.neighbours import wanted_away

CARRIED_BY_NEMATODES = frozenset({EnemyId("arabis-mosaic-virus"), EnemyId("tobacco-rattle-virus")})
"""Viruses that live in the ground with the nematodes that carry them (common practice); the Dutch
nematode table lists them beside their carriers."""

MODE_OF_KIND: dict[EnemyKind, Mode] = {
    "nematode": "soil",
    "insect": "flying",
    "mite": "flying",
    "virus": "vector",
}
"""Kinds that pass in one way, however their statements put it."""


def agent_of(enemy: Enemy) -> Agent:
    """One enemy as the computation sees it."""
    by_plant: dict[str, list[HostStatement]] = {}
    families: dict[str, list[HostStatement]] = {}
    for said in enemy.statements:
        if said.counts:
            by_plant.setdefault(said.plant, []).append(said)
            if said.scope == "family":
                families.setdefault(said.plant, []).append(said)
    mode = mode_of(enemy)
    return Agent(
        id=enemy.id,
        name=enemy.name,
        mode=mode,
        hosts=tuple(_host(plant, said, enemy) for plant, said in sorted(by_plant.items())),
        rust=enemy.kind == "fungus",
        nematode=enemy.kind == "nematode",
        years=_years(enemy.persistence),
        families=tuple(_host(plant, said, enemy) for plant, said in sorted(families.items())),
        airborne=mode == "soil" and "air" in enemy.travels,
    )


def mode_of(enemy: Enemy) -> Mode:
    """How it passes from plant to plant, from its kind, its hosts and how it travels."""
    if enemy.kind == "complex" and "replant" in enemy.id:
        return "replant"
    if any(said.role == "alternate" for said in enemy.statements if said.counts):
        return "alternate"
    if enemy.id in CARRIED_BY_NEMATODES:
        return "soil"
    if enemy.kind == "insect" and set(enemy.travels) == {"soil"}:
        return "soil"  # grubs that stay in the ground for years
    return MODE_OF_KIND.get(enemy.kind) or _mode_of_routes(enemy)


def _mode_of_routes(enemy: Enemy) -> Mode:
    travels = set(enemy.travels)
    waits = "soil" in travels and enemy.persistence is not None  # for years, as a source prints
    if "air" in travels and not waits:
        return "leaf" if enemy.kind in {"fungus", "oomycete"} and "leaf" in enemy.attacks else "air"
    if travels <= {"planting-stock", "seed"} or (enemy.kind == "bacterium" and "soil" not in travels):
        return "stock"
    return "soil"


def _host(plant: str, said: list[HostStatement], enemy: Enemy) -> Host:
    roles = {one.role for one in said}
    harms = {one.severity for one in said if one.severity is not None}
    spans = [_span(one) for one in said if one.distance_m and one.distance_meaning == "between-hosts"]
    role = next(role for role in ROLES_WORST_FIRST if role in roles)
    harm = next((harm for harm in HARMS_WORST_FIRST if harm in harms), None)
    gaps = [one.years for one in said if one.years and one.years_meaning == "rotation"]
    years = [float(end) for gap in gaps for end in gap if end is not None]
    carrier = enemy.kind == "nematode" and harm is None and role in {"main", "side"}
    return Host(
        plant=plant,
        # A nematode that breeds on a plant without harming it, as far as is known, is no enemy of it.
        role="non-host" if carrier else role,
        harm=harm,
        contested=len(roles) > 1,
        apart_m=(min(low for low, _ in spans), max(high for _, high in spans)) if spans else None,
        regions=tuple(sorted({one.region for one in said if one.region})),
        records=tuple(one.iri for one in sorted(said, key=lambda one: one.id)),
        gap_years=max(years, default=None),
        not_after=advised_against(enemy.id, plant),
        not_beside=wanted_away(enemy.id, plant),
    )


def _span(said: HostStatement) -> tuple[float, float]:
    low, high = said.distance_m or (None, None)
    return float(low or 0), float(high if high is not None else low or 0)


def _years(span: tuple[Decimal | None, Decimal | None] | None) -> tuple[float | None, float | None] | None:
    if span is None:
        return None
    low, high = span
    return (None if low is None else float(low)), (None if high is None else float(high))


def emitter_of(emission: Emission) -> Emitter:
    """One emission as the computation sees it: what is on record for each plant."""
    by_plant: dict[str, list[EmissionStatement]] = {}
    others = [said for said in emission.statements if said.counts and said.scope == "unnamed"]
    for said in emission.statements:
        if said.counts and said.scope != "unnamed":
            by_plant.setdefault(said.plant, []).append(said)
    return Emitter(
        plant=emission.emitter,
        substance=emission.name,
        strength=emission.strength,
        evidence={plant: _evidence(said) for plant, said in sorted(by_plant.items())},
        acts_through=emission.acts_through,
        reach_m=_span_of_reach(emission),
        others=_evidence(others) if others else None,
    )


def _span_of_reach(emission: Emission) -> tuple[float, float] | None:
    if emission.reach_m is None:
        return None
    low, high = emission.reach_m
    ends = [float(end) for end in (low, high) if end is not None]
    return min(ends), max(ends)


def _evidence(said: list[EmissionStatement]) -> Evidence:
    """How many sources (each once) list a plant as sensitive, how many as tolerant, by what grade.

    Laboratory evidence counts only where there is no other: it decides nothing and outvotes nothing.
    """
    records = tuple(one.iri for one in sorted(said, key=lambda one: one.id))
    said = [one for one in said if one.grade != "C"] or said
    sensitive = {one.source for one in said if one.listed_as == "sensitive"}
    tolerant = {one.source for one in said if one.listed_as == "tolerant"}
    grades = [one.grade for one in said if one.listed_as == "sensitive"] or [one.grade for one in said]
    return Evidence(
        sensitive=len(sensitive),
        tolerant=len(tolerant),
        grade=min(grades),
        records=records,
        pots=len(
            {one.source for one in said if one.listed_as == "sensitive" and one.grade == "B"}
            - {one.source for one in said if one.listed_as == "sensitive" and one.grade != "B"}
        ),
    )


def agents_of(enemies: Iterable[Enemy]) -> tuple[Agent, ...]:
    """All enemies as agents, in the order of their ids."""
    return tuple(agent_of(enemy) for enemy in sorted(enemies, key=lambda enemy: enemy.id))
