"""Hosts through their kin: a family that a source names as a whole, a genus where the plant is not named.

A species is a host of what all its cultivar groups with a word on it are hosts of; where they disagree it is
left unsaid, since it may be either. Only what lives in the ground goes through the genus: there it decides
side by side, one after another and in ground with a history alike. A plant without any list takes all of it
from its genus; one with a list what lives on one family alone and on several species of the genus: a list
silent on such an enemy is no word that the plant is safe of it. All such hosts say that they are not
recorded themselves, and none makes a hard conflict.
"""

from collections.abc import Mapping, Sequence

from kb.mixture.enemies.hosts import LIVE_ON, Agent, Host, worst_of

Listing = dict[str, tuple[Agent, Host]]
Named = tuple[str, str, str | None]
"""A plant with its genus and its family."""
Hosts = Mapping[str, dict[str, tuple[Agent, list[Host]]]]
"""By kin, then by agent."""
GROUND = frozenset({"soil", "replant"})
SEVERAL_SPECIES = 2
"""An enemy of so many species of a genus is taken to live on the others too (judgement)."""


def with_kin(
    agents: tuple[Agent, ...],
    plants: Sequence[Named],
    own: Mapping[str, Listing],
    narrow: frozenset[str] = frozenset(),
) -> dict[str, Listing]:
    """The plants' own lists, with what their kin stand for; ``narrow`` are agents of one family alone.

    Their own word counts before all, then that of a species' groups, of the genus, of the family.
    """
    families, genera = _family_hosts(agents, plants), _genus_hosts(plants, own)
    groups = _group_hosts(agents)
    lists = dict(own)
    for plant, genus, family in plants:
        listed = own.get(plant, {})
        through = _through(plant, families.get(family or "", {}), f"as one of its family, {family}")
        lent = {
            agent: found
            for agent, found in genera.get(genus, {}).items()
            if not listed or (agent in narrow and _lives_on_several(*found))
        }
        through |= _through(plant, lent, f"as one of its genus, {genus.capitalize()}")
        through |= _through(plant, groups.get(plant, {}), "through its cultivar groups")
        if through:
            lists[plant] = {**through, **listed}
    return lists


def _lives_on_several(agent: Agent, hosts: Sequence[Host]) -> bool:
    """Whether an enemy in the ground, no replant disease, is on record on several species of a genus."""
    return agent.mode == "soil" and len({host.plant.partition(".")[0] for host in hosts}) >= SEVERAL_SPECIES


def _through(plant: str, kin: Mapping[str, tuple[Agent, list[Host]]], name: str) -> Listing:
    return {agent.id: (agent, worst_of(plant, hosts, name)) for agent, hosts in kin.values()}


def _family_hosts(agents: tuple[Agent, ...], plants: Sequence[Named]) -> Hosts:
    family_of = {plant: family for plant, _, family in plants}
    found: dict[str, dict[str, tuple[Agent, list[Host]]]] = {}
    for agent in agents:
        for host in agent.families:
            family = family_of.get(host.plant)
            if family is not None:
                found.setdefault(family, {}).setdefault(agent.id, (agent, []))[1].append(host)
    return found


def _group_hosts(agents: tuple[Agent, ...]) -> Hosts:
    """By species, what every one of its groups on an agent's list is a host of."""
    found: dict[str, dict[str, tuple[Agent, list[Host]]]] = {}
    for agent in agents:
        groups: dict[str, list[Host]] = {}
        for host in agent.hosts:
            species, _, group = host.plant.partition(".")
            if group:
                groups.setdefault(species, []).append(host)
        for species, hosts in groups.items():
            if all(host.role in LIVE_ON for host in hosts):
                found.setdefault(species, {})[agent.id] = (agent, hosts)
    return found


def _genus_hosts(plants: Sequence[Named], own: Mapping[str, Listing]) -> Hosts:
    found: dict[str, dict[str, tuple[Agent, list[Host]]]] = {}
    for plant, genus, _ in plants:
        for agent, host in own.get(plant, {}).values():
            if agent.mode in GROUND and not agent.nematode and host.role in LIVE_ON:
                found.setdefault(genus, {}).setdefault(agent.id, (agent, []))[1].append(host)
    return found
