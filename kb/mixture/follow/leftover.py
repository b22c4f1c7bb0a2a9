"""Named enemies that wait in the ground: left by the crop before, or known from this ground.

Only the harm to the second crop matters here; the first need be no more than a host that leaves the enemy in
the ground. Of an enemy of several families it has to be one that is known to suffer: half of all trees are on
such lists, and a plant of which much is written is not punished for it (`computation-notes` 1.15). What is
serious on the second holds it:

* to poor inside the three years that rotation asks of kin (`trade` 5.3), where both are of one family and the
  enemy is one of that family, or a source prints a rotation for both: "serious shared disease between two
  crops of one family" (`trade` 4.6). Across families, and of a host by its kin alone, it stays at workable,
  unless a source names the whole family and hosts of several of its genera are on record (clubroot): that is
  no guess, though it never makes it hard. Where a published statement advises against this very crop after
  that one (`kb.statements.forerunners`), it is poor across families too: a list of hosts is no such advice;
* to workable after that, until the longest life in the ground that any source prints is over. One whose life
  nobody prints is taken to last, unless a printed rotation is over: then it is said and holds nothing. So is
  one that comes on the wind too, once its printed rotation is over, or three years where none is printed:
  waiting longer does not keep it away.

Where the first lasts and has stood for less than `BUILT_UP_YEARS`, little has built up: what a source warns
of after it, and what troubles its own kind on the same ground, hold one step milder, and what is not known to
be serious holds nothing.

What is not known to be serious, and a nematode, holds to workable inside the rotation that is printed for
both. All else that both are hosts of, nematodes among it, is named and holds nothing down, as side by side.
"""

from dataclasses import dataclass
from typing import Literal

from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.hosts import LIVE_ON, Agent, Harm, Host, clean_ground, through_kin, years_in_ground
from kb.mixture.follow.grown_after import ROTATION_YEARS
from kb.mixture.limits import Apart, Limit
from kb.mixture.profile import Profile
from kb.mixture.relatedness import Kinship, relation
from kb.mixture.results import Verdict

IN_GROUND = frozenset({"soil", "replant"})
KIN: frozenset[Kinship] = frozenset({"species", "genus", "family"})
SEVERAL_GENERA = 3
"""Hosts of so many genera on record bear out a source that names their whole family (judgement)."""
BUILT_UP_YEARS = 2.0
"""A stand younger than this has built up little in the ground (judgement): wireworms live for three to four
years, and are most in grass that has stood longest (Teagasc, Potatoes: Pests); it is perennial leys of which
an abstract of practice warns (OK-Net Arable)."""
SUFFERS: frozenset[Harm | None] = frozenset({"serious", "moderate"})
State = Literal["held", "gone", "rested", "unjudged"]
"""``gone``: its printed life is over; ``rested``: a printed rotation is over, which is no such promise."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What is known of this ground: years since A, enemies known in it, what the gardener provides.

    ``stood_years`` is how long an A that lasts has stood there; None: long, or not said.
    """

    years_apart: float
    history: frozenset[str]
    given: frozenset[str]
    stood_years: float | None = None


@dataclass(frozen=True, slots=True)
class Waiting:
    """One enemy that the first can leave for the second.

    ``kin`` whether the two are of one family, ``narrow`` whether the enemy lives on one family alone.
    """

    agent: Agent
    first: Host
    second: Host
    kin: bool
    narrow: bool
    years_apart: float
    stood_years: float | None = None

    @property
    def young(self) -> bool:
        """Whether the first stood there for too short to build it up."""
        return self.stood_years is not None and self.stood_years < BUILT_UP_YEARS

    @property
    def rotation(self) -> float | None:
        """The longest rotation printed for either, years."""
        gaps = [host.gap_years for host in (self.first, self.second) if host.gap_years is not None]
        return max(gaps, default=None)

    @property
    def parted(self) -> bool:
        """Whether a printed rotation is about both."""
        return self.first.gap_years is not None and self.second.gap_years is not None

    @property
    def state(self) -> State:
        """Whether it still counts after these years."""
        printed = [year for year in self.agent.years or () if year is not None]
        life, rotation = max(printed, default=None), self.rotation
        if life is not None and self.years_apart >= max(life, rotation or 0.0):
            return "gone"
        if self.agent.mode == "replant":
            return "held"
        left = self.narrow or self.parted or self.first.harm in SUFFERS or self.advice is not None
        serious = self.second.serious_main and left and not self.agent.nematode
        if not (serious or (self.parted and not self.young)):
            return "unjudged"
        if self.agent.airborne and self.years_apart >= (rotation or ROTATION_YEARS):
            return "rested"
        over = rotation is not None and self.years_apart >= rotation
        return "rested" if over and (life is None or not serious) else "held"

    @property
    def advice(self) -> str | None:
        """Who advises against this crop after that one for it, in words; None where nobody does."""
        return dict(self.second.not_after).get(self.first.plant.partition(".")[0])

    @property
    def ceiling(self) -> Verdict:
        if self.agent.mode == "replant":
            return "workable" if self.young else "poor"
        return "poor" if self._badly_left and not self.softened else "workable"

    @property
    def _badly_left(self) -> bool:
        """Whether two of one kin, or one that is advised against after the other, would be poor by it."""
        advised = self.advice is not None and not self.young
        of_both = advised or (self.kin and (self.narrow or self.parted))
        return of_both and self.second.serious_main and self.years_apart < ROTATION_YEARS

    @property
    def softened(self) -> bool:
        """Whether it holds one step milder, since kin alone make one of the two a host."""
        named = self.first.through is None and self.second.through is None
        return self._badly_left and not named and not self._of_whole_family

    @property
    def _of_whole_family(self) -> bool:
        """Whether its source names the whole family, and hosts of several genera of it are on record."""
        genera = {host.plant.partition("-")[0] for host in self.agent.hosts if host.role in LIVE_ON}
        return bool(self.agent.families) and self.narrow and len(genera) >= SEVERAL_GENERA


def leftovers(a: Profile, b: Profile, ground: Ground, book: EnemyBook) -> tuple[Limit, ...]:
    """What A, or the ground itself, holds against B; hardest as its printed harm says."""
    limits = [in_this_ground(agent, host, b) for agent, host in book.listing(b) if agent.id in ground.history]
    limits += [_left(found, (a, b), ground) for found in waiting(a, b, ground, book) if found.state == "held"]
    return tuple(limit for limit in limits if limit is not None)


def waiting(a: Profile, b: Profile, ground: Ground, book: EnemyBook) -> tuple[Waiting, ...]:
    """All that live in the ground and on both; what the ground is known to hold is judged by itself."""
    kin = relation(a, b).kinship in KIN
    return tuple(
        Waiting(agent, first, second, kin, agent.id in book.narrow, ground.years_apart, ground.stood_years)
        for agent, first, second in book.both(a, b)
        if agent.mode in IN_GROUND and {first.role, second.role} <= LIVE_ON and agent.id not in ground.history
    )


def in_this_ground(agent: Agent, host: Host, b: Profile) -> Limit | None:
    """What an enemy known to be in the ground holds against a host; None where it cannot live on it.

    What comes on the wind too holds to poor at most: rotation does not prevent it and only lowers what the
    soil holds (UC IPM, Celery: Pink Rot).
    """
    if host.role not in LIVE_ON:
        return None
    lasts = years_in_ground(agent)
    lift = f"{b.name} goes to other ground" + (
        f" until {agent.name} is gone: it lasts{lasts}" if lasts else ""
    )
    hard = (host.harm == "serious" and not agent.airborne) or agent.mode == "replant"
    ceiling: Verdict = "avoid" if hard and host.through is None else "poor"
    return Limit(
        kind="enemies",
        of=b.id,
        text=f"This ground has {agent.name}, which can attack {_as_kin(host, b.name)}.",
        records=host.records,
        ceiling=ceiling,
        lift=lift,
        apart=Apart(b.id),
    )


def _as_kin(host: Host, name: str) -> str:
    return f"{name} {host.through} (not recorded for {name} itself)" if host.through else name


def _left(found: Waiting, plants: tuple[Profile, Profile], ground: Ground) -> Limit:
    (a, b), agent = plants, found.agent
    replant = agent.mode == "replant"
    hence = ", hence workable and not poor" if found.softened else ""
    aside = through_kin(((found.first, a.name), (found.second, b.name)), "" if replant else hence)
    lasts = years_in_ground(agent)
    printed = found.rotation
    asked = (
        f", and a printed rotation asks for {printed:g} year{'' if printed == 1 else 's'} between"
        if printed is not None and found.years_apart < printed
        else ""
    )
    short = found.young and (replant or found.advice is not None)
    little = f"; {a.name} did not stand long enough to build up much" if short else ""
    text = (
        f"{b.name} after {a.name} may grow poorly: {agent.name}{aside}{little}."
        if replant
        else f"{a.name} can leave {agent.name} in the ground{f', where it lasts{lasts}' if lasts else ''}; "
        f"{b.name} is a host{aside}{asked}{'' if found.advice is None else f': {found.advice}'}{little}."
    )
    return Limit(
        kind="enemies",
        of=b.id,
        text=text,
        records=tuple(dict.fromkeys((*found.first.records, *found.second.records))),
        ceiling=found.ceiling,
        lift="it gets fresh soil in a lined hole, or another place" if replant else clean_ground(agent),
        given=None if replant else "clean-ground",
        met=True if not replant and "clean-ground" in ground.given else None,
        minor=not found.second.serious_main,
        apart=Apart(b.id) if replant else None,
    )
