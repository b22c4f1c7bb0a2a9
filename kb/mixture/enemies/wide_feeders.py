"""How many families of plants an enemy lives on: one alone, or so many that it comes from all around.

What lives on plants of many families is there whatever stands beside, on weeds and in the next field: a step
less of it is the neighbour's doing (`named.share_of`), and all such together are the warning that
`trade` 4.6 makes of a wide-host disease.
"""

from collections.abc import Sequence
from dataclasses import replace

from kb.mixture.enemies.hosts import LIVE_ON, Agent

MANY_FAMILIES = 5
"""An enemy of so many families on record is one of many (judgement); what is on record is a part of them."""

Named = tuple[str, str, str | None]
"""A plant with its genus and its family."""


def with_width(agents: Sequence[Agent], plants: Sequence[Named]) -> tuple[Agent, ...]:
    """The agents, with whether they live on plants of many families, as far as it is on record."""
    found = _families_of(agents, plants)
    return tuple(replace(agent, wide=len(found[agent.id] - {None}) >= MANY_FAMILIES) for agent in agents)


def narrow_feeders(agents: Sequence[Agent], plants: Sequence[Named]) -> frozenset[str]:
    """Ids of the agents that live on plants of one family alone, as far as it is on record."""
    found = _families_of(agents, plants)
    return frozenset(
        agent for agent, families in found.items() if len(families) == 1 and None not in families
    )


def _families_of(agents: Sequence[Agent], plants: Sequence[Named]) -> dict[str, set[str | None]]:
    """The families of the plants that each agent lives on; None among them where one is not known."""
    family_of = {plant: family for plant, _, family in plants}
    return {
        agent.id: {family_of.get(host.plant) for host in agent.hosts if host.role in LIVE_ON}
        for agent in agents
    }
