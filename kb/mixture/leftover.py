"""Named enemies that wait in the ground: left by the crop before, or known from this ground.

What lives in the soil counts while it lasts (its printed years); one whose years no source prints is
taken to last. It counts where it is serious on both, or where a printed rotation keeps both apart. A
nematode is named by its own list and holds nothing down, as side by side.
"""

from dataclasses import dataclass

from kb.mixture.enemies import LIVE_ON, Agent, Host, clean_ground, through_kin, waits_for, years_in_ground
from kb.mixture.enemy_book import EnemyBook
from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.results import Verdict

IN_GROUND = frozenset({"soil", "replant"})


@dataclass(frozen=True, slots=True)
class Ground:
    """What is known of this ground: years since A, enemies known in it, what the gardener provides."""

    years_apart: float
    history: frozenset[str]
    given: frozenset[str]


def leftovers(a: Profile, b: Profile, ground: Ground, book: EnemyBook) -> tuple[Limit, ...]:
    """What A, or the ground itself, holds against B; hardest as its printed harm says."""
    limits = [in_this_ground(agent, host, b) for agent, host in book.listing(b) if agent.id in ground.history]
    limits += [
        _left(agent, mine, theirs, (a, b), ground)
        for agent, mine, theirs in book.both(a, b)
        if agent.id not in ground.history
    ]
    return tuple(limit for limit in limits if limit is not None)


def outlived(a: Profile, b: Profile, ground: Ground, book: EnemyBook) -> tuple[str, ...]:
    """Names of the shared enemies of the soil that the years between are long enough for."""
    found = ((agent, hosts) for agent, *hosts in book.both(a, b) if _waits(agent, *hosts))
    return tuple(agent.name for agent, hosts in found if not _lasts(agent, ground.years_apart, *hosts))


def _waits(agent: Agent, *hosts: Host) -> bool:
    return agent.mode in IN_GROUND and all(host.role in LIVE_ON for host in hosts)


def _lasts(agent: Agent, years_apart: float, *hosts: Host) -> bool:
    """Whether it still counts: by the longest life that any source prints.

    Where it is not serious on all of these hosts, the longest rotation says so.
    """
    gaps = [host.gap_years for host in hosts if host.gap_years is not None]
    if gaps and not all(host.serious_main for host in hosts):
        return years_apart < max(gaps)
    printed = [year for year in agent.years or () if year is not None]
    return not printed or years_apart < max(printed)


def in_this_ground(agent: Agent, host: Host, b: Profile) -> Limit | None:
    """What an enemy known to be in the ground holds against a host; None where it cannot live on it."""
    if host.role not in LIVE_ON:
        return None
    lasts = years_in_ground(agent)
    lift = f"{b.name} goes to other ground" + (
        f", or waits until {agent.name} is gone: it lasts{lasts}" if lasts else ""
    )
    hard = host.harm == "serious" or agent.mode == "replant"
    ceiling: Verdict = "avoid" if hard and host.through is None else "poor"
    return Limit(
        kind="enemies",
        of=b.id,
        text=f"This ground has {agent.name}, which attacks {_as_kin(host, b.name)}.",
        records=host.records,
        ceiling=ceiling,
        lift=lift,
    )


def _as_kin(host: Host, name: str) -> str:
    return f"{name} as one of {host.through} (not recorded for {name} itself)" if host.through else name


def _left(
    agent: Agent, mine: Host, theirs: Host, plants: tuple[Profile, Profile], ground: Ground
) -> Limit | None:
    a, b = plants
    if agent.nematode or not _waits(agent, mine, theirs):
        return None
    if not _lasts(agent, ground.years_apart, mine, theirs):
        return None
    replant = agent.mode == "replant"
    if not replant and not waits_for(agent, mine, theirs):
        return None
    aside = through_kin(((mine, a.name), (theirs, b.name)))
    lasts = years_in_ground(agent)
    text = (
        f"{b.name} after {a.name} may grow poorly: {agent.name}{aside}."
        if replant
        else f"{a.name} can leave {agent.name} in the ground{f', where it lasts{lasts}' if lasts else ''}; "
        f"{b.name} is a host{aside}."
    )
    return Limit(
        kind="enemies",
        of=b.id,
        text=text,
        records=tuple(dict.fromkeys((*mine.records, *theirs.records))),
        ceiling="poor" if replant else "workable",
        lift="it gets fresh soil in a lined hole, or another place" if replant else clean_ground(agent),
        given=None if replant else "clean-ground",
        met=True if not replant and "clean-ground" in ground.given else None,
        minor=not (mine.serious_main and theirs.serious_main),
    )
