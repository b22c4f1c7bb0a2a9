"""Who stands with whom: the pieces of ground of a set, and what every two plants of it share."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.harm import ASKED, Harm, harm_between
from kb.mixture.enemies.named import MOST, held_to_workable
from kb.mixture.enemies.sward import relation_in
from kb.mixture.judging.encounter import meeting_at
from kb.mixture.limits import Meeting
from kb.mixture.profile import Profile
from kb.mixture.relatedness import Relation
from kb.mixture.sharing.felt import Spot
from kb.mixture.sharing.place import ring_round
from kb.mixture.sharing.subject import Subject


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """One piece of ground, and the places in the set of those who stand on it (a tree first).

    ``stands_m`` is how far from the trunk each was said to stand, where several distances share a ring.
    """

    spot: Spot
    members: tuple[int, ...]
    stands_m: tuple[float | None, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Bond:
    """Two plants of a set, by their places in it: how they are related, how they meet, what they share.

    ``near`` is False where they stand in different rings round a tree.
    """

    places: tuple[int, int]
    kin: Relation
    meeting: Meeting
    harm: Harm
    near: bool = True


Bonds = Mapping[tuple[int, int], Bond]
"""By the places of the two."""
NO_BONDS: Bonds = MappingProxyType({})


def bonds_of(
    subjects: Sequence[Subject],
    grounds: Sequence[Ground],
    book: EnemyBook | None,
    known: Bonds = NO_BONDS,
) -> list[Bond]:
    """Every two of the set.

    Of those ``known`` that they are related so, and share this, only how they meet is told anew: they are
    judged again on terms that move no more (`harm.ASKED`), and a large set has some 20,000 of them.
    """
    where = {
        (i, j): ground
        for ground in grounds
        for at, i in enumerate(ground.members)
        for j in ground.members[at + 1 :]
    }
    found = []
    for i in range(len(subjects)):
        for j in range(i + 1, len(subjects)):
            ground = where.get((i, j))
            meeting = _apart(grounds, i, j) if ground is None else _together(ground, i, j)
            if (before := known.get((i, j))) is not None:
                found.append(Bond((i, j), before.kin, meeting, before.harm, ground is not None))
                continue
            one, other = subjects[i].profile, subjects[j].profile
            kinds = subjects[i].kind, subjects[j].kind
            found.append(bond_between((one, other), kinds, meeting, book, (i, j), near=ground is not None))
    return found


def bond_between(
    two: tuple[Profile, Profile],
    kinds: tuple[Profile, Profile],
    meeting: Meeting,
    book: EnemyBook | None,
    places: tuple[int, int] = (0, 1),
    *,
    near: bool = True,
) -> Bond:
    """What two plants share as they meet; ``kinds`` as in `subject.Subject`."""
    kin = relation_in(*kinds, meeting.setting, meeting.given)
    return Bond(places, kin, meeting, _harm(two, kinds, meeting, book), near)


def _harm(
    two: tuple[Profile, Profile], kinds: tuple[Profile, Profile], meeting: Meeting, book: EnemyBook | None
) -> Harm:
    """`harm_between`, kept with the book by all that it asks of how they meet: no soil or light moves it.

    How far apart they stand, and how large a tree is, counts for few.
    """

    def found() -> Harm:
        return harm_between(*two, meeting, book)

    if book is None:
        return found()
    asked = (meeting.site.place, meeting.setting, meeting.given & ASKED)
    kept: Harm
    if book.by_distance(*two):
        near = (meeting.nearest_m, meeting.farthest_m)
        kept = book.harms.of(two, (*asked, *near), found)
    else:
        kept = book.harms.of(kinds, asked, found)
    return kept


def _together(ground: Ground, first: int, second: int) -> Meeting:
    """How two meet on one ground: a tree with what stands round it, or two side by side."""
    meeting = meeting_at(ground.spot.place)
    if ground.spot.under and first == ground.members[0]:
        stands = ground.stands_m[ground.members.index(second)] if ground.stands_m else None
        if stands is None:
            return meeting
        near, far = ring_round(stands)
        return replace(meeting, nearest_m=near, farthest_m=far, at_m=stands)
    if not ground.spot.under:
        return meeting
    return Meeting(meeting.site, "bed", meeting.given)


def _apart(grounds: Sequence[Ground], i: int, j: int) -> Meeting:
    """How two in different rings meet: as far apart as the middles of the rings."""
    one, other = (
        meeting_at(next(ground for ground in grounds if plant in ground.members).spot.place)
        for plant in (i, j)
    )
    middles = [((m.nearest_m or 0.0) + (m.farthest_m or 0.0)) / 2 for m in (one, other)]
    apart = abs(middles[0] - middles[1])
    return Meeting(one.site, "bed", one.given, nearest_m=apart, farthest_m=apart)


def shared_by(bonds: Iterable[Bond]) -> float:
    """Give e of one plant among others: the most that any two share, or all named agents, each once.

    ``bonds`` are those of the plant with others not of its species (`computation-notes` 4).
    """
    weights: dict[str, float] = {}
    wide: set[str] = set()
    most = at_least = 0.0
    for bond in bonds:
        at_least = max(at_least, bond.harm.shared)
        most = max(most, MOST[bond.kin.kinship])
        for agent in bond.harm.counted:
            weights[agent.agent] = max(weights.get(agent.agent, 0.0), agent.v)
            wide |= {agent.agent} if agent.wide else set()
    spared = spared_by_others = 1.0
    for agent_id in sorted(weights):
        spared *= 1 - weights[agent_id]
        spared_by_others *= 1.0 if agent_id in wide else 1 - weights[agent_id]
    return max(at_least, min(most, float(held_to_workable(1 - spared, 1 - spared_by_others))))
