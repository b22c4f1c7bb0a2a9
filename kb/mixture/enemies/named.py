"""Named pests and diseases that two plants share: how much they matter here, and what lifts them.

An agent counts once for a pair, by how it travels (`trade` 4.6, `computation-notes` 1.15 and 1.17):

- wind-borne leaf disease, serious on both as main hosts: a hard conflict;
- a rust that needs both plants in turn: hard within the printed distance, lifted by distance;
- what lives in the ground: a condition on the history of that ground, not a share of the loss; what rises
  from it on the wind is left by crops of former years, so that a neighbour adds nothing (`waits_for`);
- what comes with planting stock or only troubles followers: named, not counted;
- all else: v = .6 where it is serious on both as main hosts, .3 where a source prints harm to one;
- of these what lives on plants of many families (`wide_feeders`) one step less: .3 and 0, and all such
  together never below workable (`trade` 4.6: a wide-host disease is a warning that caps the verdict there).

A host of which no source prints any harm is named and not counted, so that a plant of which much is
written is not punished for it. Across families enemies alone never press below workable (`trade` 4.6).
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

import numpy as np

from kb.mixture.enemies.countries import recorded_in
from kb.mixture.enemies.hosts import (
    LIVE_ON,
    Agent,
    Host,
    Mode,
    Role,
    clean_ground,
    through_kin,
    years_in_ground,
)
from kb.mixture.enemies.keepers import keeper_of
from kb.mixture.enemies.loan import Loan
from kb.mixture.profile import Profile
from kb.mixture.relatedness import Kinship, Relation, relation
from kb.mixture.results import Verdict
from kb.mixture.season import FloatArray

SERIOUS, OTHER = 0.6, 0.3
"""v of a shared agent (`trade` 4.6; judgement)."""
MOST: dict[Kinship, float] = {"species": 1.0, "genus": 0.8, "family": 0.8, "unknown": 0.8, "none": 0.55}
"""e at most: two species share no more than two of one genus do; across families enemies alone leave
the pair workable (0.7 x 0.55 < 0.4)."""
COUNTED: frozenset[Mode] = frozenset({"leaf", "air", "flying", "vector", "alternate"})


@dataclass(frozen=True, slots=True)
class SharedAgent:
    """One agent on a pair. ``roles`` in the order of the plants' ids; ``v`` 0-1, 0 where only named.

    ``ceiling`` is what it holds the verdict to, None where it does not; ``lift`` what lifts that, and
    ``given`` the word by which a gardener says so. ``in_ground`` where the ground is known to hold it;
    ``recorded_here`` where a statement on it is from the site's country. ``by_distance`` where the two have
    to stand apart, which leaves ``at_best``; ``or_else`` is what may be done instead. ``goes`` is which of
    the two is set apart.
    """

    agent: str
    name: str
    mode: Mode
    roles: tuple[Role, Role]
    v: float
    text: str
    regions: tuple[str, ...]
    records: tuple[str, ...]
    ceiling: Verdict | None = None
    lift: str | None = None
    given: str | None = None
    in_ground: bool = False
    recorded_here: bool = False
    nematode: bool = False
    wide: bool = False
    by_distance: bool = False
    at_best: Verdict = "good"
    or_else: str | None = None
    goes: int = 1

    @property
    def hard(self) -> bool:
        return self.ceiling == "avoid"


@dataclass(frozen=True, slots=True)
class EnemyFinding:
    """What two plants share. ``value`` is e, 0-1; ``agents`` the weightiest first.

    ``borrowed`` names the plants without a list of their own, whose relatives' lists stand in; ``lend``
    says who lends and what, which is reckoned for words alone.
    """

    value: float
    agents: tuple[SharedAgent, ...]
    borrowed: tuple[str, ...] = ()
    lend: Callable[[], Loan] | None = field(default=None, repr=False, compare=False)

    @property
    def hard(self) -> bool:
        return any(agent.hard for agent in self.agents)

    @property
    def lift(self) -> str | None:
        """What lifts the hardest of them, in words."""
        held = [agent for agent in self.agents if agent.ceiling is not None and agent.lift]
        return held[0].lift if held else None

    @property
    def condition(self) -> str | None:
        """What the ground must be free of, in words."""
        return next((agent.lift for agent in self.agents if agent.given == "clean-ground"), None)


def share_of(agent: Agent, one: Host, other: Host, distance_m: float | None) -> float:
    """Give v of an agent on two of its hosts, so far apart (None: in one bed)."""
    if agent.mode not in COUNTED or not {one.role, other.role} <= LIVE_ON:
        return 0.0
    harms = {one.harm, other.harm} - {None, "slight"}
    if agent.mode == "alternate" and ("alternate" in {one.role, other.role} or not agent.wide):
        return _share_in_turn(agent, one, other, distance_m, harmful=bool(harms))
    if one.serious_main and other.serious_main:
        return OTHER if agent.wide else SERIOUS
    return OTHER if harms and not agent.wide else 0.0


def _share_in_turn(agent: Agent, one: Host, other: Host, distance_m: float | None, *, harmful: bool) -> float:
    """Give v where an agent lives on two kinds of host in turn: most between the two kinds."""
    if one.role == other.role == "alternate":
        return 0.0
    if "alternate" not in {one.role, other.role}:
        return OTHER if harmful else 0.0
    apart, here = _apart(one, other), distance_m or 0.0
    if apart is not None and here >= apart[1]:
        return 0.0
    if not agent.rust:
        return OTHER if harmful else 0.0
    if apart is not None and here >= apart[0]:
        return OTHER
    return SERIOUS if harmful or apart is not None else OTHER


def _apart(one: Host, other: Host) -> tuple[float, float] | None:
    """The printed distance between two hosts: the least that any source prints, and the best."""
    spans = [host.apart_m for host in (one, other) if host.apart_m is not None]
    return (min(low for low, _ in spans), max(high for _, high in spans)) if spans else None


@dataclass(frozen=True, slots=True)
class Pairing:
    """How two plants stand to each other, in the order of their ids."""

    first: Profile
    second: Profile
    distance_m: float | None
    history: frozenset[str] = frozenset()
    place: str | None = None

    @classmethod
    def of(
        cls,
        a: Profile,
        b: Profile,
        distance_m: float | None = None,
        history: Iterable[str] = (),
        *,
        place: str | None = None,
    ) -> "Pairing":
        first, second = sorted((a, b), key=lambda profile: profile.id)
        return cls(first, second, distance_m, frozenset(history), place)


def shared(agent: Agent, one: Host, other: Host, pairing: Pairing) -> SharedAgent | None:
    """One agent on a pair, with the words; None where either is no host or it cannot pass.

    ``one`` and ``other`` are in the order of the plants' ids.
    """
    if not {one.role, other.role} <= LIVE_ON or agent.mode == "replant":
        return None
    v = share_of(agent, one, other, pairing.distance_m)
    if agent.mode == "alternate" and v == 0.0 and "alternate" in {one.role, other.role}:
        return None
    held = _held(agent, one, other, pairing)
    regions = tuple(sorted({*one.regions, *other.regions}))
    return SharedAgent(
        agent=agent.id,
        name=agent.name,
        mode=agent.mode,
        roles=(one.role, other.role),
        v=v,
        text=_text(agent, one, other, pairing),
        regions=regions,
        records=tuple(dict.fromkeys((*one.records, *other.records))),
        ceiling=held.ceiling,
        lift=held.lift,
        given=held.given,
        in_ground=agent.id in pairing.history,
        recorded_here=recorded_in(regions, pairing.place),
        nematode=agent.nematode,
        wide=agent.wide,
        by_distance=held.or_else is not None or held.goes is not None,
        at_best=held.at_best,
        or_else=held.or_else,
        goes=int(one.role != "alternate") if held.goes is None else held.goes,
    )


@dataclass(frozen=True, slots=True)
class _Held:
    ceiling: Verdict | None = None
    lift: str | None = None
    given: str | None = None
    at_best: Verdict = "good"
    or_else: str | None = None
    goes: int | None = None


def _held(agent: Agent, one: Host, other: Host, pairing: Pairing) -> _Held:
    """What an agent holds the verdict to, and what lifts it; poor at most where kin alone make it a host."""
    held = _held_by_hosts(agent, one, other, pairing)
    if held.ceiling == "avoid" and (one.through or other.through):
        return replace(held, ceiling="poor")
    return held


def waits_for(agent: Agent, one: Host, other: Host) -> bool:
    """Whether it lives in the ground and counts: serious on both, or a printed rotation parts both.

    What rises from the ground on the wind does not count: white mould comes of resting bodies that lay in the
    cold of a winter ("several weeks at 40 F or cooler", PNW Plant Disease Handbook, Lettuce: Drop), hence of
    what grew before, here and a field away, and not of what stands beside it this year.
    """
    both = one.serious_main and other.serious_main
    apart = one.gap_years is not None and other.gap_years is not None
    return agent.mode == "soil" and not agent.nematode and not agent.airborne and (both or apart)


def _held_by_hosts(agent: Agent, one: Host, other: Host, pairing: Pairing) -> _Held:
    both = one.serious_main and other.serious_main
    if agent.mode == "leaf" and both and not (one.contested or other.contested):
        names = f"{pairing.first.name} or {pairing.second.name}"
        return _Held("avoid", f"{names} is a kind that resists {agent.name}, or stands under cover")
    if agent.mode == "alternate" and agent.rust and "alternate" in {one.role, other.role}:
        return _held_in_turn(agent, one, other, pairing)
    kept = keeper_of(one, other) if agent.mode in COUNTED else None
    if kept is not None:
        return _Held("poor", kept.lift(pairing.first.name, pairing.second.name), goes=kept.at)
    if agent.mode == "soil" and (agent.id in pairing.history or waits_for(agent, one, other)):
        return _Held("workable", clean_ground(agent), "clean-ground")
    return _Held()


def _held_in_turn(agent: Agent, one: Host, other: Host, pairing: Pairing) -> _Held:
    apart, here = _apart(one, other), pairing.distance_m or 0.0
    serious = "serious" in {one.harm, other.harm}
    immune = pairing.first if other.role == "alternate" else pairing.second
    or_immune = f"{immune.name} is a kind immune to {agent.name}"
    if apart is None:
        lift = "the two stand well apart (how far is not on record)"
        return _Held("avoid" if serious else "workable", lift, or_else=or_immune)
    if here >= apart[1]:
        return _Held()
    better = (
        f"{apart[0]:g} m apart, better {apart[1]:g} m" if apart[1] > apart[0] else f"{apart[0]:g} m apart"
    )
    # The least distance that any source prints leaves a doubt, which the best one lifts.
    best: Verdict = "workable" if here < apart[0] < apart[1] else "good"
    held: Verdict = "avoid" if here < apart[0] else "workable"
    return _Held(held, f"the two stand at least {better}", at_best=best, or_else=or_immune)


def _text(agent: Agent, one: Host, other: Host, pairing: Pairing) -> str:
    aside = through_kin(((one, pairing.first.name), (other, pairing.second.name)))
    return f"{_words(agent, one, other, pairing).rstrip('.')}{aside}."


def _words(agent: Agent, one: Host, other: Host, pairing: Pairing) -> str:
    names = f"{pairing.first.name} and {pairing.second.name}"
    if agent.mode == "alternate" and "alternate" in {one.role, other.role}:
        return f"{agent.name} lives on {names} in turn: each passes it to the other."
    if agent.mode == "soil":
        return f"{agent.name} lives in the ground{years_in_ground(agent)}; both {names} are hosts of it."
    kept = keeper_of(one, other)
    if kept is not None:
        return kept.words(agent.name, pairing.first.name, pairing.second.name)
    if agent.mode == "leaf" and one.serious_main and other.serious_main:
        return f"{agent.name} spreads on the wind and is serious on both {names}."
    return f"{names} share {agent.name}."


def weigh(found: Iterable[SharedAgent]) -> float:
    """1 - the product over agents of (1 - v): each agent once (`computation-notes` 1.15)."""
    spared = spared_by_others = 1.0
    for agent in found:
        spared *= 1 - agent.v
        if not agent.wide:
            spared_by_others *= 1 - agent.v
    return float(held_to_workable(1 - spared, 1 - spared_by_others))


def held_to_workable(by_all: FloatArray | float, by_others: FloatArray | float) -> FloatArray | float:
    """What enemies add up to: by those of many families no further than leaves a pair workable."""
    return np.maximum(by_others, np.minimum(MOST["none"], by_all))


def settled(a: Profile, b: Profile, named: float, kin: Relation | None = None) -> float:
    """e: the larger of what kinship says and what named agents add up to, within the bounds of kinship."""
    kin = kin or relation(a, b)
    return max(kin.shared, min(MOST[kin.kinship], named))


def ranked(found: Iterable[SharedAgent]) -> tuple[SharedAgent, ...]:
    """What holds the verdict lowest first, then what weighs most, nematodes last."""
    steps = {"avoid": 0, "poor": 1, "workable": 2, "good": 3, "like": 3, None: 4}
    return tuple(sorted(found, key=lambda s: (steps[s.ceiling], s.nematode, -s.v, s.agent)))
