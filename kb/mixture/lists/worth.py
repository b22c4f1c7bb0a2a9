"""What would change most verdicts if it were looked up: the worth of checking one trait of one plant.

Every pair that is tried is judged with each trait moved alone one standard deviation up and down
(`uncertainty`); a move that changes the word counts half a verdict. Added up over the pairs in which
a plant was tried, and divided by them, this is the share of its verdicts that hang on the trait: the
expected value of information in its plainest form (Howard 1966, IEEE Trans. Syst. Sci. Cybern. 2:22),
with a changed word as the only thing of worth.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kb.mixture.answers.pair import judge, prepare, prepare_first
from kb.mixture.bodies.growth import tree_from_measure
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.limits import HOLDS_BACK
from kb.mixture.profile import Profile
from kb.mixture.relatedness import same_species
from kb.mixture.sharing.place import place_for
from kb.mixture.site import Arrangement, Site
from kb.mixture.stress import verdict_of, verdict_steps
from kb.mixture.uncertainty import CHECKABLE

SEED = 7
DRAWS = 2
"""The draws themselves are not read here; two are the fewest that come balanced."""
HALVES = Arrangement(share_a=0.5, share_b=0.5)
OVERHEAD = frozenset({"tree"})


@dataclass(frozen=True, slots=True)
class Worth:
    """One trait of one plant: ``changed`` verdicts (half a verdict a move) of ``tried`` pairs."""

    plant: str
    trait: str
    changed: float
    tried: int

    @property
    def share(self) -> float:
        return self.changed / self.tried if self.tried else 0.0


def partners(profiles: Sequence[Profile], each: int) -> Iterator[tuple[int, int]]:
    """Pairs of places in which every plant has at least ``each`` others; the same every time.

    Trees come first in theirs and stand over the other plant; two trees make no pair, since people
    ask what goes under a tree, not what goes beside it.
    """
    order = np.random.default_rng(SEED)
    low = np.array([i for i, plant in enumerate(profiles) if not overhead(plant)], dtype=int)
    trees = [i for i, plant in enumerate(profiles) if overhead(plant)]
    if len(low) == 0:
        return
    for _ in range(max(1, (each + 1) // 2)):
        ring = order.permutation(low)
        if len(ring) > 1:
            yield from zip(ring.tolist(), np.roll(ring, 1).tolist(), strict=True)
    for tree in trees:
        for other in order.choice(low, size=min(each, len(low)), replace=False).tolist():
            yield tree, other


def worth_of_checking(
    profiles: Sequence[Profile],
    pairs: Iterable[tuple[int, int]],
    site: Site,
    book: EnemyBook | None = None,
) -> tuple[Worth, ...]:
    """Worth of every trait that changed any verdict, the most verdicts first.

    Pairs of one species are left out: like with like hangs on nothing. In a bed each has half the
    ground; under a tree, grown, the other stands at the edge of its crown.
    """
    tried = dict.fromkeys(range(len(profiles)), 0)
    changed: dict[tuple[int, str], float] = {}
    for one, other in pairs:
        a, b = profiles[one], profiles[other]
        if same_species(a, b):
            continue
        moves = _moves(a, b, site, book)
        for place, plant in enumerate((one, other)):
            tried[plant] += 1
            for trait, flips in zip(CHECKABLE, moves[place].tolist(), strict=True):
                if flips:
                    changed[plant, trait] = changed.get((plant, trait), 0.0) + flips / 2
    found = (Worth(profiles[plant].id, trait, n, tried[plant]) for (plant, trait), n in changed.items())
    return tuple(sorted(found, key=lambda worth: (-worth.changed, -worth.share, worth.plant, worth.trait)))


def overhead(plant: Profile) -> bool:
    """Whether others stand under it and not beside it."""
    return plant.growth_form.value in OVERHEAD


def arrangement_of(a: Profile, *, under: bool) -> Arrangement:
    """How a pair is tried: half the ground each, or the other at the edge of the grown crown of ``a``."""
    if not under:
        return HALVES
    tree, _ = tree_from_measure(a)
    return Arrangement("under", distance_m=tree.crown_radius_m, tree=tree)


def _moves(a: Profile, b: Profile, site: Site, book: EnemyBook | None) -> npt.NDArray[np.int_]:
    """How many of the two moves of each trait change the word: (2 plants, traits), 0-2."""
    arrangement = arrangement_of(a, under=overhead(a))
    place = place_for(a, site, arrangement)
    first = prepare_first(a, place, arrangement, draws=DRAWS)
    judged = judge(first, prepare(b, place, draws=DRAWS), place, book)
    # the moves are reckoned in coarse layers: they are held against the word of those layers
    differs = verdict_steps(judged.single) != HOLDS_BACK[verdict_of(judged.coarse)]
    flips: npt.NDArray[np.int_] = differs.reshape(2, len(CHECKABLE), 2).sum(axis=2)
    return flips
