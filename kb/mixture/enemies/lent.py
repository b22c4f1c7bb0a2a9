"""What relatives lend a plant without a list of pests and diseases of its own, and in whose name.

The worst of its listed genus mates, else the mean of its listed family (`computation-notes` 1.15), the
other plant of the two and what is of its species left out: what a plant shares with itself is no sign of
what its cousin shares with it. Where nobody is left to lend, kinship alone counts.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kb.mixture.enemies.hosts import Agent, Host
from kb.mixture.enemies.kin_hosts import Listing
from kb.mixture.enemies.loan import Lent
from kb.mixture.enemies.named import share_of
from kb.mixture.season import FloatArray


@dataclass(frozen=True, slots=True)
class Kin:
    """The nearest relatives with a list, by their place in the book: of the ``genus``, else of the family."""

    places: tuple[int, ...]
    genus: bool


def relatives_of(
    plants: Sequence[tuple[str, str, str | None]], lists: Mapping[str, Listing]
) -> dict[int, Kin]:
    """For every plant without a list (by its place), its nearest listed relatives, where there are any."""
    by_genus: dict[str, list[int]] = {}
    by_family: dict[str, list[int]] = {}
    for place, (plant, genus, family) in enumerate(plants):
        if lists.get(plant):
            by_genus.setdefault(genus, []).append(place)
            if family is not None:
                by_family.setdefault(family, []).append(place)
    found: dict[int, Kin] = {}
    for place, (plant, genus, family) in enumerate(plants):
        near = by_genus.get(genus)
        kin = near or by_family.get(family or "")
        if kin and not lists.get(plant):
            found[place] = Kin(tuple(kin), genus=near is not None)
    return found


def lent_row(matrix: FloatArray, kin: Kin, species: npt.NDArray[np.str_]) -> FloatArray:
    """What relatives lend a plant without a list, towards every plant (n,): the worst, or the mean."""
    places = list(kin.places)
    lends = species[places][:, None] != species[None, :]
    rows = np.where(lends, matrix[places], 0.0)
    found: FloatArray = rows.max(axis=0) if kin.genus else rows.sum(axis=0) / np.maximum(lends.sum(axis=0), 1)
    return found


def lent_agents(sides: tuple[Sequence[Listing], Sequence[Listing]]) -> tuple[Lent, ...]:
    """The agents that two sides of lenders (or a plant's own list) share and that count, weightiest first."""
    found = [_lent(*hosts) for hosts in _shared_hosts(sides)] if all(sides) else []
    return tuple(sorted((one for one in found if one.v > 0), key=lambda one: (-one.v, one.agent)))


def _shared_hosts(
    sides: tuple[Sequence[Listing], Sequence[Listing]],
) -> Iterator[tuple[Agent, list[Host], list[Host], int]]:
    pairs = len(sides[0]) * len(sides[1])
    both = set.intersection(*({agent for listing in side for agent in listing} for side in sides))
    for agent_id in sorted(both):
        hosts = [[listing[agent_id] for listing in side if agent_id in listing] for side in sides]
        yield hosts[0][0][0], [host for _, host in hosts[0]], [host for _, host in hosts[1]], pairs


def _lent(agent: Agent, ones: Sequence[Host], others: Sequence[Host], pairs: int) -> Lent:
    total = 0.0
    having: dict[str, None] = {}
    records: dict[str, None] = {}
    for one in ones:
        for other in others:
            v = 0.0 if _species(one) == _species(other) else share_of(agent, one, other, None)
            if v > 0:
                total += v
                having |= dict.fromkeys((one.plant, other.plant))
                records |= dict.fromkeys((*one.records, *other.records))
    return Lent(agent.id, agent.name, tuple(having), total / pairs, tuple(records))


def _species(host: Host) -> str:
    return host.plant.partition(".")[0]
