"""What is found where plants of a set are set apart: judged again as they then stand, not guessed.

A remedy that moves a plant off is kept by what it does: on other ground it shares nothing with those that it
leaves, and they nothing with it; farther from a trunk it feels what is left of the tree there. The word is
the worst of all that are then judged, each set by itself.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.judging.bonds import NO_BONDS, Bond, Bonds, Ground
from kb.mixture.judging.findings import SetApart, SetsApart
from kb.mixture.judging.judged import Judged, judge_likely
from kb.mixture.limits import Apart, Limit
from kb.mixture.sharing.felt import Spot, spot_of_two
from kb.mixture.sharing.place import Place, place_in_bed
from kb.mixture.sharing.subject import Subject
from kb.mixture.site import Arrangement

MOST_JUDGED = 12
"""So many ways of setting plants apart are judged again in one answer, the first that are asked for; of more
the word is that of the plants where they stand."""
MOST_PLANTS_JUDGED = 144
"""In a large planting each way takes longer, so fewer are: so many plants in all, one way at least."""

AtDistance = Callable[[Mapping[str, float]], Judged | None]
"""Judges the set again with plants (by id) so far from the trunk, m; None where that cannot be."""


def setting_apart(
    subjects: Sequence[Subject],
    grounds: Sequence[Ground],
    book: EnemyBook | None,
    at_distance: AtDistance,
    bonds: Sequence[Bond] = (),
) -> SetsApart:
    """Judge a set again with plants on other ground, or farther from the trunk; ``bonds`` as judged."""
    judged: dict[frozenset[Apart], SetApart | None] = {}
    most = max(1, min(MOST_JUDGED, MOST_PLANTS_JUDGED // len(subjects)))

    def there(moves: frozenset[Apart]) -> SetApart | None:
        if moves not in judged and len(judged) < most:
            judged[moves] = _judged(moves, subjects, grounds, book, at_distance, bonds)
        return judged.get(moves)

    return there


def pair_at_distance(a: Subject, b: Subject, place: Place, book: EnemyBook | None) -> AtDistance:
    """A tree and the plant under it, with that plant so far from its trunk."""
    found: dict[float, Judged] = {}

    def there(moves: Mapping[str, float]) -> Judged | None:
        if place.elsewhere is None:
            return None
        distance_m = max(moves.values())
        if distance_m not in found:
            moved = place.elsewhere(distance_m)
            found[distance_m] = judge_likely((a, b), (Ground(spot_of_two(moved), (0, 1)),), book)
        return found[distance_m]

    return there


def _judged(
    moves: frozenset[Apart],
    subjects: Sequence[Subject],
    grounds: Sequence[Ground],
    book: EnemyBook | None,
    at_distance: AtDistance,
    bonds: Sequence[Bond],
) -> SetApart | None:
    off = {move.plant for move in moves if move.from_trunk_m is None}
    farther = {move.plant: move.from_trunk_m for move in moves if move.from_trunk_m is not None}
    if farther:
        there = None if off else at_distance(farther)
        return None if there is None else SetApart(there.eased, _done(there.limits, moves))
    goes = [i for i, subject in enumerate(subjects) if subject.profile.id in off]
    stays = [i for i in range(len(subjects)) if i not in goes]
    found = [_alone(subjects[i], grounds, book) for i in goes]
    if stays:
        stay = [subjects[i] for i in stays]
        found.append(judge_likely(stay, _kept(grounds, stays), book, _of_those(bonds, grounds, stays)))
    return SetApart(
        max(one.eased for one in found),
        tuple(limit for one in found for limit in _done(one.limits, moves)),
    )


def _of_those(bonds: Sequence[Bond], grounds: Sequence[Ground], stays: Sequence[int]) -> Bonds:
    """The bonds of those who stay in one bed, by their new places; round a tree they may meet otherwise."""
    if len(grounds) > 1 or grounds[0].spot.under:
        return NO_BONDS
    place_of = {old: new for new, old in enumerate(stays)}
    return {
        (place_of[bond.places[0]], place_of[bond.places[1]]): bond
        for bond in bonds
        if bond.places[0] in place_of and bond.places[1] in place_of
    }


def _done(limits: Sequence[Limit], moves: frozenset[Apart]) -> tuple[Limit, ...]:
    """What is left of the limits once this is done."""
    return tuple(one for one in limits if not any(move.lifts(one) for move in moves))


def _alone(subject: Subject, grounds: Sequence[Ground], book: EnemyBook | None) -> Judged:
    """One plant on ground of its own, as open as the site."""
    return judge_likely([subject], [_open(grounds[0].spot.place, (1.0,), (0,))], book)


def _open(place: Place, shares: tuple[float, ...], members: tuple[int, ...]) -> Ground:
    bed = place_in_bed(place.site, Arrangement(share_a=1.0, share_b=1.0, given=place.given))
    return Ground(Spot(bed, shares), members)


def _kept(grounds: Sequence[Ground], stays: Sequence[int]) -> list[Ground]:
    """The ground of those who stay, by their new places; under no tree where the tree is gone or alone."""
    place_of = {old: new for new, old in enumerate(stays)}
    found = []
    for ground in grounds:
        kept = [at for at, old in enumerate(ground.members) if old in place_of]
        members = tuple(place_of[ground.members[at]] for at in kept)
        shares = tuple(ground.spot.shares[at] for at in kept)
        if ground.spot.under and (0 not in kept or len(kept) == 1):
            kept_open = [at for at in range(len(kept)) if kept[at] != 0]
            if kept_open:
                found.append(
                    _open(
                        ground.spot.place,
                        tuple(shares[at] for at in kept_open),
                        tuple(members[at] for at in kept_open),
                    )
                )
            continue
        stands = tuple(ground.stands_m[at] for at in kept) if ground.stands_m else ()
        found.append(Ground(replace(ground.spot, shares=shares), members, stands))
    return found or [_open(grounds[0].spot.place, (1.0,), (0,))]
