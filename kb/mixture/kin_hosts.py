"""Hosts through their kin: a family that a source names as a whole, a genus for a plant without any list.

Only what lives in the ground goes through the genus: there it decides side by side, one after another and
in ground with a history alike. All such hosts say that they are not recorded themselves, and none makes a
hard conflict.
"""

from collections.abc import Iterator, Mapping, Sequence

from kb.mixture.enemies import LIVE_ON, Agent, Host, worst_of

Listing = dict[str, tuple[Agent, Host]]
Named = tuple[str, str, str | None]
"""A plant with its genus and its family."""
Hosts = Mapping[tuple[str, str], list[Host]]
"""By agent and kin."""
GROUND = frozenset({"soil", "replant"})


def with_kin(
    agents: tuple[Agent, ...], plants: Sequence[Named], own: Mapping[str, Listing]
) -> dict[str, Listing]:
    """The plants' own lists, with what their kin stand for; their own word counts before."""
    families, genera = _family_hosts(agents, plants), _genus_hosts(plants, own)
    lists = dict(own)
    for plant, genus, family in plants:
        listed = own.get(plant, {})
        through = {
            agent.id: (agent, worst_of(plant, hosts, kin))
            for agent in agents
            if agent.id not in listed
            for kin, hosts in _kin(agent, genus if not listed else None, family, families, genera)
        }
        if through:
            lists[plant] = {**through, **listed}
    return lists


def _kin(
    agent: Agent, genus: str | None, family: str | None, families: Hosts, genera: Hosts
) -> Iterator[tuple[str, list[Host]]]:
    """The nearest kin that an agent is on record for: of the genus, else of the family."""
    near = genera.get((agent.id, genus or ""))
    far = families.get((agent.id, family or ""))
    if near:
        yield f"its genus, {(genus or '').capitalize()}", near
    elif far:
        yield f"its family, {family}", far


def _family_hosts(agents: tuple[Agent, ...], plants: Sequence[Named]) -> Hosts:
    family_of = {plant: family for plant, _, family in plants}
    found: dict[tuple[str, str], list[Host]] = {}
    for agent in agents:
        for host in agent.families:
            family = family_of.get(host.plant)
            if family is not None:
                found.setdefault((agent.id, family), []).append(host)
    return found


def _genus_hosts(plants: Sequence[Named], own: Mapping[str, Listing]) -> Hosts:
    found: dict[tuple[str, str], list[Host]] = {}
    for plant, genus, _ in plants:
        for agent, host in own.get(plant, {}).values():
            if agent.mode in GROUND and not agent.nematode and host.role in LIVE_ON:
                found.setdefault((agent.id, genus), []).append(host)
    return found
