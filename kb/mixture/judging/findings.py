"""What was found of a pair or a planting, before it is put into words."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, wraps
from typing import Any, TypeVar

from kb.mixture.bodies.support import Support
from kb.mixture.enemies.harm import Harm
from kb.mixture.ground.roots import depth_overlap
from kb.mixture.limits import Apart, Limit, ceiling_of, ceiling_with, same_lift, worst
from kb.mixture.profile import Profile
from kb.mixture.relatedness import Relation
from kb.mixture.results import Verdict
from kb.mixture.season import FloatArray, season_overlap
from kb.mixture.sharing.felt import Felt
from kb.mixture.sharing.nitrogen import Giving
from kb.mixture.sharing.place import Place
from kb.mixture.sharing.variants import Variants
from kb.mixture.site import Setting
from kb.mixture.stress import verdict_of

HARDLY_ROOTED, UNSHADED = 0.01, 0.005
"""Where a tree draws so little of what it draws under its crown, and costs so little light, it does not reach
(judgement)."""
EMISSIONS_END_M = 24.0
"""Nothing that a tree gives off is reported to harm farther from its trunk (black walnut, `trade` 4.9)."""


@dataclass(frozen=True, slots=True, eq=False)
class SetApart:
    """What is found where plants are set apart: K' before limits, the worst of any, and all limits there."""

    eased: float
    limits: tuple[Limit, ...]

    def word(self, done: Iterable[Limit] = ()) -> Verdict:
        """The verdict there, with what lifts these limits done too."""
        lifted = tuple(done)
        limits = (
            replace(one, met=True) if any(same_lift(one, other) for other in lifted) else one
            for one in self.limits
        )
        return worst(verdict_of(self.eased), ceiling_of(limits))


SetsApart = Callable[[frozenset[Apart]], SetApart | None]


def nowhere(_: frozenset[Apart]) -> SetApart | None:
    """Where nobody asks what becomes of plants that are set apart."""
    return None


@dataclass(frozen=True, eq=False)
class Held:
    """A verdict, K' before limits (``eased``), and the limits that may hold it down.

    ``again`` holds the verdict for each word that changes more than limits, with that word given, or
    taken back where it was given. ``one_kind`` where all plants are of one species. ``set_apart`` judges
    again with plants on other ground or farther from the trunk; None where that is not reckoned.
    """

    verdict: Verdict
    eased: float
    limits: tuple[Limit, ...]
    again: Mapping[str, Verdict]
    one_kind: bool
    set_apart: SetsApart = field(default=nowhere, kw_only=True)

    def verdict_done(self, limit: Limit) -> Verdict:
        """The verdict once what lifts this limit is done: of plants set apart, as they then stand."""
        there = None if limit.apart is None else self.set_apart(frozenset({limit.apart}))
        if there is None:
            return self.verdict_with(limit, lifted=True)
        return worst(there.word([limit]), limit.ceiling_if_lifted)

    def verdict_with(self, limit: Limit, *, lifted: bool) -> Verdict:
        """The verdict if what lifts this limit were done, or not: it lifts all that ask for the same."""
        again = self.again.get(limit.given or "")
        ceiling = ceiling_with(self.limits, limit, lifted=lifted)
        if again is not None and lifted != (limit.met is True):
            # Asked again without the word, what any gardener does is done all the same: here it is not.
            return worst(again, ceiling) if limit.small and not lifted else again
        return "like" if self.one_kind and ceiling == "good" else worst(verdict_of(self.eased), ceiling)

    @cached_property
    def holding(self) -> tuple[Limit, ...]:
        """Hard limits not lifted, and those that hold the verdict below what the plants feel.

        What is lifted and holds all the same (labour of every year) comes last.
        """
        free = verdict_of(self.eased)
        found = [
            limit
            for limit in self.limits
            if (limit.hard and not limit.lifted) or worst(free, limit.allows(lifted=limit.lifted)) != free
        ]
        return tuple(sorted(found, key=lambda limit: limit.lifted))


@dataclass(frozen=True, eq=False)
class Two:
    """Two plants of a set with what they share, in the order of their ids (a tree first)."""

    profiles: tuple[Profile, Profile]
    kin: Relation
    harm: Harm
    setting: Setting
    beyond: bool = False
    """Whether the second stands farther from the tree than anything of it is reported to reach."""
    kinds: tuple[Profile, ...] = ()
    """The two as on record, whatever their size (`subject.Subject`); none where that is not told apart."""

    @property
    def same(self) -> tuple[Profile, ...]:
        """The two, by which to keep what no size moves; of one kind, each as it stands."""
        told = bool(self.kinds) and self.kinds[0] is not self.kinds[1]
        return self.kinds if told else self.profiles

    @cached_property
    def in_order(self) -> tuple[Profile, Profile]:
        """Tree first under a tree; else by their ids, so that words do not depend on who was named first."""
        one, other = self.profiles
        return (one, other) if self.setting == "under" or one.id <= other.id else (other, one)

    def named(self, plant_id: str) -> Profile:
        return self.profiles[0] if self.profiles[0].id == plant_id else self.profiles[1]


@dataclass(frozen=True, eq=False)
class Findings(Held):
    """The likely values of a pair. ``each`` is K of a and of b."""

    a: Variants
    b: Variants
    place: Place
    felt: Felt
    each: tuple[float, float]
    supports: tuple[Support, ...]
    givings: tuple[Giving, ...]
    kin: Relation
    harm: Harm
    kinds: tuple[Profile, Profile]
    """Of a and of b: as on record, whatever their size."""
    said: dict[Callable[..., Any], Any] = field(default_factory=dict, kw_only=True)
    """What was said of this pair already (`once`)."""

    @cached_property
    def two(self) -> Two:
        beyond = self.out_of_reach and (self.place.at_m or 0.0) >= EMISSIONS_END_M
        return Two(self.profiles, self.kin, self.harm, self.place.setting, beyond, self.kinds)

    @cached_property
    def out_of_reach(self) -> bool:
        """Whether neither the roots nor the shade of the tree come to where the other stands."""
        unshaded = float(self.felt.light[0].max()) < UNSHADED
        return self.place.setting == "under" and self.place.share_a < HARDLY_ROOTED and unshaded

    @property
    def profiles(self) -> tuple[Profile, Profile]:
        return self.a.profile, self.b.profile

    @property
    def in_order(self) -> tuple[Profile, Profile]:
        return self.two.in_order

    @cached_property
    def depth_shared(self) -> float:
        """Shared part of their root depths over their seasons, 0-1."""
        return depth_overlap(mean_depth(self.a), mean_depth(self.b))

    @cached_property
    def season_shared(self) -> float:
        """Shared part of the shorter season, 0-1."""
        return season_overlap(self.a.activity[0], self.b.activity[0])

    def named(self, plant_id: str) -> Profile:
        return self.two.named(plant_id)

    def other_than(self, plant_id: str) -> Profile:
        return self.profiles[1] if self.profiles[0].id == plant_id else self.profiles[0]


Said = TypeVar("Said")


def once(say: Callable[[Findings], Said]) -> Callable[[Findings], Said]:
    """Said of the same findings in several places, found once."""

    @wraps(say)
    def kept(findings: Findings) -> Said:
        if say not in findings.said:
            findings.said[say] = say(findings)
        found: Said = findings.said[say]
        return found

    return kept


def mean_depth(plant: Variants) -> FloatArray:
    roots, activity = plant.roots[0], plant.activity[0]
    season = float(activity.sum())
    if roots.shape[1] == 1 or season <= 0:
        mean: FloatArray = roots[:, 0] if roots.shape[1] == 1 else roots.mean(axis=1)
        return mean
    weighted: FloatArray = roots @ activity / season
    return weighted
