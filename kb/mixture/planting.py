"""A whole planting: plants that share a bed, or stand in rings round one tree, judged at once.

A pair is the case of two (`judged.judge_set`). Plants that are the same, sown and aged alike, in the
same place, are one, however many times they are named; so splitting a plant changes nothing. All
are put in one order first, so the order in which they were named changes nothing either.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Literal

from kb.mixture.bonds import Ground
from kb.mixture.enemy_book import EnemyBook
from kb.mixture.felt import Spot
from kb.mixture.judged import Judged, judge_set
from kb.mixture.place import RING_WIDTH_M, Place, place_in_bed, place_under
from kb.mixture.profile import Activity, Profile
from kb.mixture.site import Arrangement, Side, Site, Tree
from kb.mixture.subject import Subject, prepare, prepare_tree
from kb.mixture.uncertainty import DRAWS

MOST_PLANTS = 200
MANY, DRAWS_OF_MANY = 24, 24
"""A planting of more kinds than this is judged with so many draws, so that the answer comes in seconds."""
A_LITTLE = 1e-9


class BadPlanting(ValueError):
    """A planting that cannot be; ``str()`` says why, and what could."""


@dataclass(frozen=True, slots=True)
class Member:
    """One kind of plant in a planting. ``share`` of the ground, above 0 to 1; weeks [1, 53).

    ``distance_m`` from the trunk and ``side`` where it stands under the tree of the planting.
    ``harvest`` is its window (start to end), None where none is on record.
    """

    profile: Profile
    share: float
    sow_week: float | None = None
    clear_week: float | None = None
    age_years: float | None = None
    distance_m: float | None = None
    side: Side | None = None
    harvest: Activity | None = None

    @property
    def key(self) -> tuple[object, ...]:
        """What sorts it and tells it from another."""
        told = (self.sow_week, self.clear_week, self.age_years, self.distance_m, self.side)
        return (self.profile.id, *((value is not None, value or 0) for value in told))


@dataclass(frozen=True, slots=True)
class Overhead:
    """The tree that a planting stands under."""

    profile: Profile
    tree: Tree
    harvest: Activity | None = None


@dataclass(frozen=True, slots=True)
class Planting:
    """Plants at a site; all under ``overhead`` where there is a tree, else all in one bed or hedge.

    ``given`` is what the gardener provides, ``kept_m`` the height of a hedge (`site.Arrangement`).
    """

    members: tuple[Member, ...]
    site: Site
    given: frozenset[str] = frozenset()
    overhead: Overhead | None = None
    setting: Literal["bed", "hedge"] = "bed"
    kept_m: float | None = None


@dataclass(frozen=True, eq=False)
class Stand:
    """A planting made ready: ``subjects`` in the order of ``members``, the tree before them."""

    planting: Planting
    members: tuple[Member, ...]
    subjects: tuple[Subject, ...]
    grounds: tuple[Ground, ...]
    judged: Judged

    @cached_property
    def profiles(self) -> tuple[Profile, ...]:
        return tuple(subject.profile for subject in self.subjects)

    @property
    def first(self) -> int:
        """The place of the first member among the subjects: 1 behind a tree."""
        return len(self.subjects) - len(self.members)

    @cached_property
    def shares(self) -> tuple[float, ...]:
        """Shares of the ground, a tree's as the whole ring, subject by subject."""
        return (*(1.0 for _ in range(self.first)), *(member.share for member in self.members))


def stand_of(planting: Planting, *, draws: int = DRAWS, book: EnemyBook | None = None) -> Stand:
    """Judge a planting. Raises BadPlanting where it cannot be (see `merged`, `_rings`)."""
    members = merged(planting.members)
    if planting.overhead is None:
        grounds: tuple[Ground, ...] = (_bed(planting, members),)
    else:
        grounds = _rings(planting, planting.overhead, members)
    if len(members) > MANY:
        draws = min(draws, DRAWS_OF_MANY)
    subjects = [] if planting.overhead is None else [_tree(planting, planting.overhead, draws)]
    first = len(subjects)
    place_of = {i: ground.spot.place for ground in grounds for i in ground.members}
    for at, member in enumerate(members):
        subjects.append(_ready(member, place_of[first + at], draws))
    judged = judge_set(subjects, grounds, book)
    return Stand(planting, members, tuple(subjects), grounds, judged)


def merged(members: Sequence[Member]) -> tuple[Member, ...]:
    """The members in one order, those alike taken together.

    Raises BadPlanting for none, for more than `MOST_PLANTS`, and for shares that cannot be.
    """
    if not members:
        raise BadPlanting("a planting needs at least one plant")
    if len(members) > MOST_PLANTS:
        raise BadPlanting(f"a planting of {len(members)} plants is too large: at most {MOST_PLANTS}")
    for member in members:
        if not 0 < member.share <= 1:
            raise BadPlanting(
                f"the ground share of {member.profile.id} must be above 0 and at most 1, not {member.share}"
            )
    found: dict[tuple[object, ...], Member] = {}
    for member in sorted(members, key=lambda m: (m.key, m.share)):
        same = found.get(member.key)
        found[member.key] = member if same is None else replace(same, share=same.share + member.share)
    for member in found.values():
        if member.share > 1 + A_LITTLE:
            raise BadPlanting(
                f"{member.profile.id} has {member.share:.3g} of the ground in all: a plant cannot have more "
                "than a full stand of its own"
            )
    return tuple(replace(member, share=min(1.0, member.share)) for member in found.values())


def _bed(planting: Planting, members: tuple[Member, ...]) -> Ground:
    shares = tuple(member.share for member in members)
    arrangement = Arrangement(
        planting.setting,
        share_a=shares[0],
        share_b=shares[-1],
        given=planting.given,
        kept_m=planting.kept_m,
    )
    place = place_in_bed(planting.site, arrangement)
    return Ground(Spot(place, shares), tuple(range(len(members))))


def _rings(planting: Planting, overhead: Overhead, members: tuple[Member, ...]) -> tuple[Ground, ...]:
    """One ground for each distance and side; sides at one distance part the ring among them.

    Raises BadPlanting where two rings would take the same ground.
    """
    edge = overhead.tree.crown_radius_m
    spots: dict[tuple[float, Side | None], list[int]] = {}
    for at, member in enumerate(members):
        distance = edge if member.distance_m is None else member.distance_m
        spots.setdefault((distance, member.side), []).append(at)
    distances = sorted({distance for distance, _ in spots})
    for near, far in pairwise(distances):
        if far - near < RING_WIDTH_M - A_LITTLE:
            raise BadPlanting(
                f"rings {near:g} m and {far:g} m from the trunk take the same ground (each is "
                f"{RING_WIDTH_M:g} m wide): give one distance, or {RING_WIDTH_M:g} m or more between them"
            )
    sides = {distance: sum(1 for other, _ in spots if other == distance) for distance in distances}
    grounds = []
    for (distance, side), here in spots.items():
        shares = tuple(members[at].share for at in here)
        arrangement = Arrangement(
            "under",
            share_b=min(1.0, sum(shares)),
            distance_m=distance,
            side=side,
            tree=overhead.tree,
            given=planting.given,
        )
        place = place_under(overhead.profile, planting.site, arrangement)
        spot = Spot(place, (place.share_a, *shares), place.planted / sides[distance])
        grounds.append(Ground(spot, (0, *(1 + at for at in here))))
    return tuple(grounds)


def _tree(planting: Planting, overhead: Overhead, draws: int) -> Subject:
    return prepare_tree(overhead.profile, overhead.tree, planting.site, planting.given, draws=draws)


def _ready(member: Member, place: Place, draws: int) -> Subject:
    return prepare(
        member.profile,
        place,
        sow_week=member.sow_week,
        clear_week=member.clear_week,
        age_years=member.age_years,
        draws=draws,
    )
