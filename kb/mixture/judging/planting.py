"""A whole planting: plants that share a bed, or stand in rings round one tree, judged at once.

A pair is the case of two (`judged.judge_set`). Plants that are the same, sown and aged alike, in the
same place, are one, however many times they are named; so splitting a plant changes nothing. All
are put in one order first, so the order in which they were named changes nothing either.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.judging.bonds import Ground
from kb.mixture.judging.judged import Judged, judge_set
from kb.mixture.judging.set_apart import AtDistance
from kb.mixture.profile import Activity, Profile
from kb.mixture.sharing.felt import Spot
from kb.mixture.sharing.place import (
    RING_WIDTH_M,
    Place,
    area,
    place_in_bed,
    place_in_joint_ring,
    place_under,
    ring_round,
    usual_distance,
)
from kb.mixture.sharing.subject import Subject, prepare, prepare_tree
from kb.mixture.site import Arrangement, Side, Site, Tree
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
    """Judge a planting. Raises BadPlanting where it cannot be (see `merged`)."""
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


def members_at_distance(stand: Stand, book: EnemyBook | None) -> AtDistance:
    """The planting with some of its plants so far from the trunk of its tree."""

    def there(moved: Mapping[str, float]) -> Judged | None:
        planting = stand.planting
        if planting.overhead is None or planting.overhead.profile.id in moved:
            return None
        members = tuple(
            replace(member, distance_m=moved.get(member.profile.id, member.distance_m))
            for member in stand.members
        )
        try:
            return stand_of(replace(planting, members=members), draws=0, book=book).judged
        except BadPlanting:
            return None

    return there


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
    """One ground for each ring and side; sides of one ring part it among them."""
    usual_m, _ = usual_distance(overhead.tree)
    stands_m = [usual_m if member.distance_m is None else member.distance_m for member in members]
    grounds = []
    for distances in _joined(stands_m):
        ring = [at for at, distance in enumerate(stands_m) if distance in distances]
        sides = {members[at].side: None for at in ring}
        for side in sides:
            here = [at for at in ring if members[at].side == side]
            grounds.append(_ring(planting, overhead, members, here, (distances, stands_m, side, len(sides))))
    return tuple(grounds)


def _joined(stands_m: Sequence[float]) -> list[tuple[float, ...]]:
    """The distances from the trunk, those together whose rings would take the same ground."""
    joined: list[tuple[float, ...]] = []
    for distance in sorted(set(stands_m)):
        if joined and distance - joined[-1][-1] < RING_WIDTH_M - A_LITTLE:
            joined[-1] = (*joined[-1], distance)
        else:
            joined.append((distance,))
    return joined


def _ring(
    planting: Planting,
    overhead: Overhead,
    members: tuple[Member, ...],
    here: list[int],
    where: tuple[tuple[float, ...], list[float], Side | None, int],
) -> Ground:
    """One ring and those who stand in it.

    ``where`` is the distances that share it, those of all members, its side, and how many sides part it.
    A ground share is of the ring at the distance that was said: of a joint ring it is less, by area.
    """
    distances, stands_m, side, sides = where
    from_m, to_m = ring_round(distances[0])[0], ring_round(distances[-1])[1]
    shares = tuple(members[at].share * area(*ring_round(stands_m[at])) / area(from_m, to_m) for at in here)
    arrangement = Arrangement(
        "under",
        share_b=min(1.0, sum(shares)),
        distance_m=None if len(distances) > 1 else distances[0],
        side=side,
        tree=overhead.tree,
        given=planting.given,
    )
    if len(distances) == 1:
        place = place_under(overhead.profile, planting.site, arrangement)
    else:
        place = place_in_joint_ring(
            overhead.profile,
            planting.site,
            arrangement,
            [stands_m[at] for at in here],
            shares,
            (from_m, to_m),
        )
    spot = Spot(place, (place.share_a, *shares), place.planted / sides)
    stands = (None, *(members[at].distance_m for at in here))
    return Ground(spot, (0, *(1 + at for at in here)), stands)


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
