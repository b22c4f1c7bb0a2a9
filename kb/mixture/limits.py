"""What holds a verdict down: hard conflicts, ceilings and what lifts them."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import chain

from kb.mixture.deeds import told
from kb.mixture.profile import Profile
from kb.mixture.results import ORDER, Kind, Verdict
from kb.mixture.season import FloatArray
from kb.mixture.site import Setting, Site

HOLDS_BACK: dict[Verdict, int] = {verdict: step for step, verdict in enumerate(ORDER)}


@dataclass(frozen=True, slots=True)
class OtherWay:
    """A second deed that lifts a limit, up to a verdict of its own: ``given`` is the word for it."""

    lift: str
    given: str | None
    ceiling: Verdict


@dataclass(frozen=True, slots=True)
class Apart:
    """A plant that is set apart to lift a limit: so far from the trunk (m), or, None, on other ground.

    Other ground is chosen to be right in ``kind`` (reaction, water) for the plants that it ``suits``.
    """

    plant: str
    from_trunk_m: float | None = None
    kind: Kind | None = None
    suits: tuple[str, ...] = ()

    def lifts(self, limit: "Limit") -> bool:
        """Whether a limit asks for nothing but this."""
        suited = limit.kind == self.kind and limit.of in self.suits
        return limit.apart == self or suited


@dataclass(frozen=True, slots=True)
class Limit:
    """One thing that keeps the verdict at ``ceiling`` or below unless it is lifted.

    ``given`` is the word by which a gardener says that it is provided; ``lift`` says in words what
    lifts it, up to ``ceiling_if_lifted``. ``met`` is None where nothing was said; then it counts as
    not lifted, unless it is ``small``: what any gardener does (pea sticks, lifting with care), so
    that the answer reads "good, given sticks". ``check`` marks one that rests on a value that stands
    in for a missing record: it holds all the same, since not knowing must not read as good news.
    ``ask`` marks what has to be checked before planting; the verdict is held only as far as its
    ceiling says. ``thin`` marks one for which little is on record: it holds, and the answer is not sure.
    ``moves_week`` marks one that another week of sowing lifts, where cover would leave the week as it is.
    ``minor`` is said after the others that hold as much. ``chance`` is the share of draws of the doubtful
    value ``rests_on`` (trait, plant) in which the rule behind it applies at all; 1 where none moves it.
    ``other_way`` is what may be done instead of ``lift``; ``apart`` who is set apart by ``lift``.
    """

    kind: Kind
    of: str
    text: str
    records: tuple[str, ...]
    ceiling: Verdict
    lift: str | None = None
    given: str | None = None
    met: bool | None = None
    ceiling_if_lifted: Verdict = "good"
    small: bool = False
    check: bool = False
    ask: bool = False
    thin: bool = False
    moves_week: bool = False
    minor: bool = False
    chance: float = 1.0
    rests_on: tuple[str, str] | None = None
    other_way: OtherWay | None = None
    apart: Apart | None = None

    @property
    def lifted(self) -> bool:
        return self.met is True or (self.met is None and self.small)

    @property
    def question(self) -> str | None:
        """What has to be checked first, in words; None for a limit that asks nothing."""
        return f"check first: {self.text.rstrip('.')}" if self.ask else None

    @property
    def hard(self) -> bool:
        return self.ceiling == "avoid"

    @property
    def unproved(self) -> bool:
        """Whether it decides though what it rests on stands in: hard, or poor for that doubt alone."""
        doubted = self.ceiling == "poor" and self.rests_on is not None
        return self.check and (self.hard or doubted)

    def by_other_way(self) -> "Limit":
        """The same with the second deed in place of the first."""
        way = self.other_way
        if way is None:
            return self
        return replace(
            self,
            lift=way.lift,
            given=way.given,
            met=None,
            ceiling_if_lifted=way.ceiling,
            other_way=None,
            apart=None,
        )

    def allows(self, *, lifted: bool) -> Verdict:
        return self.ceiling_if_lifted if lifted else self.ceiling


@dataclass(frozen=True, slots=True, eq=False)
class Party:
    """One of two plants as it stands here, with likely values.

    ``height_m`` and ``d50_m`` are of its size now; ``local`` is its root draw per m2 of this ground
    (h for the tree overhead, 1 for a plant in its own bed); ``activity`` (52,).
    """

    profile: Profile
    height_m: float
    d50_m: float
    local: float
    activity: FloatArray
    overhead: bool = False
    age_years: float | None = None


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where two parties meet.

    ``nearest_m``, ``farthest_m`` are from the trunk to the edges of the planting (None: in one bed);
    ``at_m`` the distance at which the plants stand, where one was said; ``edge_m`` the radius by which a
    tree's roots are measured, ``crowding`` how many times denser they draw than others for that;
    ``tree_ends_m`` the height that a tree of known age will end at.
    """

    site: Site
    setting: Setting
    given: frozenset[str]
    nearest_m: float | None = None
    farthest_m: float | None = None
    edge_m: float | None = None
    at_m: float | None = None
    crowding: float = 1.0
    tree_ends_m: float | None = None

    def met(self, word: str) -> bool | None:
        """True where the gardener said so; None where nothing was said."""
        return True if word in self.given else None


def worst(*verdicts: Verdict) -> Verdict:
    return min(verdicts, key=HOLDS_BACK.__getitem__)


def records_of(*groups: tuple[str, ...]) -> tuple[str, ...]:
    """The records of several values, each once."""
    return tuple(dict.fromkeys(chain.from_iterable(groups)))


def hardest_first(limits: Iterable[Limit]) -> tuple[Limit, ...]:
    """In the order in which they are said; nothing in it depends on which plant came first."""
    return tuple(
        sorted(
            limits,
            key=lambda limit: (
                HOLDS_BACK[limit.ceiling],
                limit.lifted,
                limit.minor,
                limit.kind,
                limit.of,
                limit.text,
            ),
        )
    )


def ceiling_of(limits: Iterable[Limit]) -> Verdict:
    """The best verdict that all limits together allow, as they are met or not."""
    return worst("good", *(limit.allows(lifted=limit.lifted) for limit in limits))


TOLD_OF_A_PLACE: frozenset[Kind] = frozenset({"law", "site", "ph", "water"})
"""What an asker tells of a place and those near it, and each plant there meets by itself: law, people, soil.
Its winters and seasons are mostly reckoned (judgement)."""


def holds_of(limits: Iterable[Limit]) -> tuple[Verdict, ...]:
    """What holds the verdict down, mildest first: one word for each plant and kind of `TOLD_OF_A_PLACE`.

    Several limits of one kind of a plant hold as the hardest of them does, so that what much is known of is
    held no lower for that; so do all of other kinds together.
    """
    held: dict[tuple[str, Kind] | None, Verdict] = {}
    for limit in limits:
        allowed = limit.allows(lifted=limit.lifted)
        if allowed != "good":
            key = (limit.of, limit.kind) if limit.kind in TOLD_OF_A_PLACE else None
            held[key] = worst(held.get(key, "good"), allowed)
    return tuple(sorted(held.values(), key=HOLDS_BACK.__getitem__, reverse=True))


def ceiling_with(limits: Iterable[Limit], limit: Limit, *, lifted: bool) -> Verdict:
    """The same, with one of them, and all that the same would lift, taken as lifted or not."""
    ceiling: Verdict = "good"
    for other in limits:
        ceiling = worst(ceiling, other.allows(lifted=lifted if same_lift(other, limit) else other.lifted))
        if ceiling == ORDER[0]:
            break
    return ceiling


def same_lift(one: Limit, other: Limit) -> bool:
    """Whether what lifts the one lifts the other: the same deed, or the same word of the gardener."""
    if one.given is not None and one.given == other.given:
        return True
    return one is other or (one.lift is not None and one.lift == other.lift)


def deed(limits: Iterable[Limit], limit: Limit, *, most: int) -> str:
    """All that has to be done for what lifts one of them, at most so many deeds by name."""
    lifts = (other.lift for other in limits if same_lift(other, limit))
    return told((lift for lift in lifts if lift is not None), most=most)
