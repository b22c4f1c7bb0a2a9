"""The lists of all agents as one book, made once per data set, and the answer on any two plants.

A group or cultivar has its own list and that of its species. A plant without any list takes that of
its nearest listed relatives: the worst of its genus, else the mean of its family
(`computation-notes` 1.15: no list, then the nearest listed relative's), the other plant of the two left
out; such a borrowed list never makes a hard conflict, since it may not hold. What lives in the ground is
named through kin too, side by side, one after another and in ground with a history: through the family
where a source names the family, and through the genus (`kin_hosts`).
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any

import numpy as np
import numpy.typing as npt

from kb.mixture.enemies.allelopathy import EmissionFinding, Emitter, emission
from kb.mixture.enemies.hosts import Agent, Host, with_species
from kb.mixture.enemies.kin_hosts import Listing, with_kin
from kb.mixture.enemies.lent import Kin, lent_agents, lent_row, relatives_of
from kb.mixture.enemies.loan import Loan
from kb.mixture.enemies.named import (
    EnemyFinding,
    Pairing,
    SharedAgent,
    held_to_workable,
    ranked,
    settled,
    share_of,
    shared,
    waits_for,
    weigh,
)
from kb.mixture.enemies.wide_feeders import narrow_feeders, with_width
from kb.mixture.kept import KeptBy
from kb.mixture.profile import Profile
from kb.mixture.relatedness import Relation, same_species
from kb.mixture.season import FloatArray
from kb.mixture.site import Site

KEPT = 2048
HARMS_KEPT = 256
"""So many pairs are kept with what they share, some 3 kB each: the next site asks for them again."""
LEAST_RADIUS_M = 0.5
"""A sapling counts as this wide, so that distance in crown radii stays a number."""


def species_of(plant: str) -> str:
    return plant.partition(".")[0]


@dataclass(frozen=True, slots=True, eq=False)
class EnemyBook:
    """Agents with their hosts, and the plants they are asked of.

    ``named`` (n, n) is 1 - product(1 - v) of every two plants side by side, borrowed lists included;
    ``held`` (n, n) whether an agent holds the verdict of the two down; ``narrow`` the ids of those agents
    all of whose hosts are of one family.
    """

    agents: tuple[Agent, ...]
    plants: tuple[str, ...]
    named: FloatArray
    held: npt.NDArray[np.bool_]
    narrow: frozenset[str]
    emitters: Mapping[str, tuple[Emitter, ...]]
    _places: dict[str, int] = field(repr=False)
    _lists: dict[str, Listing] = field(repr=False)
    _own: frozenset[str] = field(repr=False)
    _kin: Mapping[int, Kin] = field(repr=False)
    _names: Mapping[str, str] = field(repr=False)
    _found: dict[Pairing, tuple[SharedAgent, ...]] = field(default_factory=dict, repr=False)
    _loans: dict[tuple[str, str], Loan] = field(default_factory=dict, repr=False)
    _far: dict[tuple[str, str], bool] = field(default_factory=dict, repr=False)
    harms: KeptBy[Any] = field(default_factory=lambda: KeptBy(HARMS_KEPT), repr=False)
    """What two do to each other by this book (`harm.Harm`), kept for those who ask again."""

    @classmethod
    def of(
        cls,
        agents: Iterable[Agent],
        plants: Sequence[tuple[str, str, str | None]],
        emitters: Iterable[Emitter] = (),
        names: Mapping[str, str] | None = None,
    ) -> "EnemyBook":
        """The book for these plants, each with its genus and family; ``names`` by their ids, for words."""
        agents = with_width(sorted(agents, key=lambda agent: agent.id), plants)
        ids = tuple(plant for plant, _, _ in plants)
        own = _lists_of(agents, ids)
        narrow = narrow_feeders(agents, plants)
        lists = with_kin(agents, plants, own, narrow)
        places = {plant: place for place, plant in enumerate(ids)}
        named, held = _side_by_side(agents, ids, lists, places)
        relatives = relatives_of(plants, own)
        species = np.array([species_of(plant) for plant in ids])
        for matrix in (named, named.T):  # first the rows of those without a list, then their columns
            for place, kin in relatives.items():
                matrix[place] = lent_row(matrix, kin, species)
        by_plant: dict[str, tuple[Emitter, ...]] = {}
        for emitter in emitters:
            by_plant[emitter.plant] = (*by_plant.get(emitter.plant, ()), emitter)
        own_lists = frozenset(plant for plant, listed in own.items() if listed)
        named = np.maximum(named, named.T)
        return cls(
            agents, ids, named, held, narrow, by_plant, places, lists, own_lists, relatives, names or {}
        )

    def emits(self, profile: Profile) -> bool:
        """Whether a plant gives off, while it stands, something that is on record."""
        return any(one.acts_through == "living" for one in self.emitters.get(species_of(profile.id), ()))

    def given_off(
        self, emitter: Profile, affected: Profile, *, apart_m: float | None
    ) -> tuple[EmissionFinding, ...]:
        """What one plant does to another by all that it gives off; empty where nothing is on record.

        ``apart_m`` is measured from the trunk, None in one bed.
        """
        emitters = self.emitters.get(species_of(emitter.id), ())
        if not emitters or same_species(emitter, affected):
            return ()
        radius = max(emitter.crown_width_m.likely / 2, LEAST_RADIUS_M)
        radii = (apart_m or 0.0) / radius
        each = (
            emission(emitter, affected, radii, one.on(affected.id), given_off=one, crown_radius_m=radius)
            for one in emitters
        )
        return tuple(found for found in each if found is not None)

    def listed(self, plant: str) -> bool:
        """Whether any statement on enemies is about this plant or its species."""
        return plant in self._own or species_of(plant) in self._own

    def listing(self, profile: Profile) -> tuple[tuple[Agent, Host], ...]:
        """The agents that a plant, its species or its kin for it is listed for, in the order of their ids."""
        found = self._list(profile.id)
        return tuple(found[agent] for agent in sorted(found))

    def both(self, a: Profile, b: Profile) -> tuple[tuple[Agent, Host, Host], ...]:
        """The agents that two plants are both listed for, each with its hosts; a species with itself too."""
        one, other = self._list(a.id), self._list(b.id)
        return tuple(
            (one[agent][0], one[agent][1], other[agent][1]) for agent in sorted(one.keys() & other.keys())
        )

    def by_distance(self, a: Profile, b: Profile) -> bool:
        """Whether it may count how far apart two stand: for what lives on both in turn, or is given off."""
        key = (a.id, b.id)
        found = self._far.get(key)
        if found is None:
            in_turn = any(agent.mode == "alternate" for agent, _, _ in self.both(a, b))
            found = in_turn or any(species_of(plant.id) in self.emitters for plant in (a, b))
            if len(self._far) >= KEPT:
                self._far.clear()
            self._far[key] = found
        return found

    def row(self, profile: Profile, others: Sequence[Profile]) -> FloatArray:
        """Give e of one plant with many at once, side by side."""
        return np.array([settled(profile, other, self._named(profile, other)) for other in others])

    def _named(self, a: Profile, b: Profile) -> float:
        one, other = self._places.get(a.id), self._places.get(b.id)
        if one is not None and other is not None:
            return float(self.named[one, other])
        return weigh(self._shared(Pairing.of(a, b, None, ())))

    def holds(self, a: Profile, b: Profile) -> bool:
        """Whether an agent might hold the verdict on the two down; quick."""
        one, other = self._places.get(a.id), self._places.get(b.id)
        return one is None or other is None or bool(self.held[one, other])

    def shared_enemies(
        self,
        a: Profile,
        b: Profile,
        site: Site,
        *,
        distance_m: float | None = None,
        history: Iterable[str] = (),
        kin: Relation | None = None,
    ) -> EnemyFinding:
        """What two plants share, the same whichever comes first.

        ``distance_m`` apart, None in one bed; ``history`` are agents known to be in this ground; ``kin`` how
        they are related where they stand, None: as anywhere. That
        an agent is not on record for a country does not lower anything: not knowing is no good news.
        """
        if same_species(a, b):
            return EnemyFinding(1.0, ())
        pairing = Pairing.of(a, b, distance_m, history, place=site.place)
        found = self._shared(pairing)
        borrowed = tuple(p.id for p in (pairing.first, pairing.second) if not self.listed(p.id))
        named = weigh(found) if not borrowed else self._named(a, b)
        lend = partial(self.loan, a, b) if borrowed else None
        return EnemyFinding(settled(a, b, named, kin), ranked(found), borrowed, lend)

    def loan(self, a: Profile, b: Profile) -> Loan:
        """Who lends two plants what they have no list of, and the agents that count by it."""
        first, second = sorted((a, b), key=lambda profile: profile.id)
        kept = self._loans.get((first.id, second.id))
        if kept is not None:
            return kept
        one = self._lending(first, second)
        other = self._lending(second, first, one[0] if len(one) == 1 else None)
        lenders = {
            plant.id: tuple(self.plants[place] for place in places)
            for plant, places in ((first, one), (second, other))
            if not self.listed(plant.id)
        }
        sides = [
            [self._list(self.plants[place]) for place in places]
            if plant.id in lenders
            else [self._list(plant.id)]
            for plant, places in ((first, one), (second, other))
        ]
        own = {species_of(plant.id) for plant in (first, second) if plant.id not in lenders}
        agents = [
            replace(agent, of=tuple(plant for plant in agent.of if species_of(plant) not in own))
            for agent in lent_agents((sides[0], sides[1]))
        ]
        told = {plant for agent in agents for plant in agent.of} | {p for of in lenders.values() for p in of}
        names = {plant: self._names.get(plant, plant) for plant in told}
        if len(self._loans) >= KEPT:
            self._loans.clear()
        return self._loans.setdefault((first.id, second.id), Loan(lenders, tuple(agents), names))

    def _lending(self, plant: Profile, partner: Profile, beside: int | None = None) -> list[int]:
        """The places of those who lend a plant their lists beside a partner: of a genus the worst alone.

        ``beside`` is the one who lends to the partner, where that is settled.
        """
        place = self._places.get(plant.id)
        kin = None if place is None or self.listed(plant.id) else self._kin.get(place)
        if kin is None:
            return []
        lend = [at for at in kin.places if species_of(self.plants[at]) != species_of(partner.id)]
        other = self._places.get(partner.id) if beside is None else beside
        if not kin.genus or other is None or not lend:
            return lend
        return [max(lend, key=lambda at: (self._worst_beside(at, other), -at))]

    def _worst_beside(self, place: int, other: int) -> float:
        """What a lender shares with a plant or, where that has no list, with the worst of its mates."""
        kin, own = self._kin.get(other), species_of(self.plants[place])
        mates = kin.places if kin is not None and kin.genus else (other,)
        others = (at for at in mates if species_of(self.plants[at]) != own)
        return max((float(self.named[place, at]) for at in others), default=0.0)

    def _shared(self, pairing: Pairing) -> tuple[SharedAgent, ...]:
        found = self._found.get(pairing)
        if found is None:
            one, other = self._list(pairing.first.id), self._list(pairing.second.id)
            both = sorted(one.keys() & other.keys())
            each = (shared(one[agent][0], one[agent][1], other[agent][1], pairing) for agent in both)
            found = tuple(agent for agent in each if agent is not None)
            if len(self._found) >= KEPT:
                self._found.clear()
            self._found[pairing] = found
        return found

    def _list(self, plant: str) -> Listing:
        return self._lists.get(plant) or self._lists.get(species_of(plant), {})


def _lists_of(agents: tuple[Agent, ...], plants: Iterable[str]) -> dict[str, Listing]:
    """For every plant the agents that list it; its own word counts before its species' (`with_species`)."""
    own: dict[str, Listing] = {}
    for agent in agents:
        for host in agent.hosts:
            own.setdefault(host.plant, {})[agent.id] = (agent, host)
    whole = dict(own)
    for plant in plants:
        above = own.get(species_of(plant), {})
        if above or plant in own:
            group = {
                agent: (found, with_species(host, above[agent][1]) if agent in above else host)
                for agent, (found, host) in own.get(plant, {}).items()
            }
            whole[plant] = {**above, **group}
    return whole


def _side_by_side(
    agents: tuple[Agent, ...], plants: tuple[str, ...], lists: dict[str, Listing], places: dict[str, int]
) -> tuple[FloatArray, npt.NDArray[np.bool_]]:
    """1 - product(1 - v) and whether any agent may hold a verdict, for every two plants.

    An agent has many hosts and few kinds of them: what two kinds share is asked once.
    """
    spared = np.ones((len(plants), len(plants)))
    by_others = spared.copy()
    held = np.zeros(spared.shape, dtype=bool)
    kinds: dict[str, dict[Host, list[int]]] = {agent.id: {} for agent in agents}
    for plant in plants:
        for agent_id, (_, host) in lists.get(plant, {}).items():
            kind = replace(host, plant="", regions=(), records=(), not_after=(), not_beside=())
            kinds[agent_id].setdefault(kind, []).append(places[plant])
    for agent in agents:
        for one, rows in kinds[agent.id].items():
            for other, columns in kinds[agent.id].items():
                both = np.ix_(rows, columns)
                v = share_of(agent, one, other, None)
                spared[both] *= 1 - v
                if not agent.wide:
                    by_others[both] *= 1 - v
                held[both] |= _may_hold(agent, one, other)
    for crop, keeper in _kept_apart(plants, lists, places):
        held[crop, keeper] = held[keeper, crop] = True
    return np.asarray(held_to_workable(1 - spared, 1 - by_others)), held


def _kept_apart(
    plants: tuple[str, ...], lists: dict[str, Listing], places: dict[str, int]
) -> Iterator[tuple[int, int]]:
    """The places of crops and of neighbours that a source wants away from them."""
    for crop in plants:
        for _, host in lists.get(crop, {}).values():
            away = {keeper for keeper, _ in host.not_beside}
            if away:
                yield from ((places[crop], places[plant]) for plant in plants if species_of(plant) in away)


def _may_hold(agent: Agent, one: Host, other: Host) -> bool:
    if agent.mode == "alternate":
        return agent.rust and "alternate" in {one.role, other.role}
    return waits_for(agent, one, other) or (agent.mode == "leaf" and one.serious_main and other.serious_main)
