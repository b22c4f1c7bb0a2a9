"""The stress of plants that share ground, before words: the one path of pairs and whole plantings.

Each plant's K comes of what the others leave it of each root layer and of the light, and of the
enemies it shares, each once (`computation-notes` 4). What plants bring each other eases those who
give and those who get. The verdict is that of the worst K', held down by what is not lifted.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from kb.mixture.altered import altered
from kb.mixture.bodies.support import Support
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.harm import Harm
from kb.mixture.judging.bonds import NO_BONDS, Bond, Bonds, Ground, bonds_of
from kb.mixture.judging.conflicts import DARK_SHARE
from kb.mixture.judging.easing import Easing, Given
from kb.mixture.judging.set_limits import limits_among
from kb.mixture.limits import Limit, ceiling_of, holds_of
from kb.mixture.relatedness import Relation
from kb.mixture.results import Verdict
from kb.mixture.season import FloatArray
from kb.mixture.sharing.felt import Felt, LightFelt, RootsFelt, Rows, feel, roots_felt, rows_of
from kb.mixture.sharing.light_kept import light_kept
from kb.mixture.sharing.nitrogen import Giving
from kb.mixture.sharing.subject import Subject
from kb.mixture.sharing.variants import Variants
from kb.mixture.stress import (
    held_down,
    held_in_turn,
    one_in_turn,
    score_of,
)
from kb.mixture.uncertainty import CHECKABLE, percentile

QUARTER = 25
"""The percentile of the draws that ranks (`trade` 4.14)."""
STAND_IN_POINTS = 2.0
"""Taken off the cautious score for each root depth that stands in for a record (two at most). Without it
13 of 1,497 shipped pairs gained over 1.5 points, 3.1 at most, when a record was taken away: the draws of
a stand-in are wider or narrower than those of the record, and a quarter of them may fall higher."""
MOST_MOVED = 8
"""In a larger set the trait whose checking would change most is looked for among so many plants, those
that feel most."""
NUMBERS_AT_ONCE = 8_000_000
"""Rows are taken in parts of so many numbers, 64 MB, so that a large planting fits in memory."""


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """K' of the likely values and of the draws, limits and benefits; ``easing`` turns losses into K'.

    ``each`` (n,) is K of each plant, ``eased_each`` (n,) K' before the limits; ``stress`` of the
    likely values, ``drawn`` and ``again`` (draws,) and ``single`` (14 for each of ``moved``,) are the
    worst K' held down by the limits; ``coarse`` is ``stress`` in the layers of the draws, ``eased``
    before the limits. ``shared`` (n,) is e of each.
    """

    felt: Felt
    each: FloatArray
    eased_each: FloatArray
    eased: float
    shared: FloatArray
    limits: tuple[Limit, ...]
    supports: tuple[Support, ...]
    gifts: tuple[Given, ...]
    bonds: tuple[Bond, ...]
    easing: "Easing"
    stress: float
    coarse: float
    drawn: FloatArray
    again: FloatArray
    single: FloatArray
    moved: tuple[int, ...]
    stand_ins: int

    @property
    def givings(self) -> tuple[Giving, ...]:
        return tuple(gift.giving for gift in self.gifts)

    @property
    def kin(self) -> Relation:
        """Of a pair: how the two are related."""
        return self.bonds[0].kin

    @property
    def harm(self) -> Harm:
        """Of a pair: the enemies they share."""
        return self.bonds[0].harm

    @property
    def one_species(self) -> bool:
        """Whether several plants stand here and all are of one species."""
        return bool(self.bonds) and all(bond.kin.kinship == "species" for bond in self.bonds)

    @property
    def like(self) -> bool:
        """Like with like, on ground where it can grow."""
        return self.one_species and ceiling_of(self.limits) == "good"

    @property
    def cautious(self) -> float:
        """The score that ranks: the lower of the likely one and the 25th percentile of the draws.

        Of the draws with stand-in root depths moved as if recorded too, and less ``STAND_IN_POINTS``
        for each of them, so that not knowing a depth does not lift it.
        """
        likely = score_of(np.array([self.stress]))
        drawn = [percentile(score_of(k), QUARTER) for k in (self.drawn, self.again) if k.size]
        lowest = float(min(likely[0], *drawn, likely[0]))
        return max(0.0, lowest - STAND_IN_POINTS * min(2, self.stand_ins))


def judge_set(
    subjects: Sequence[Subject],
    grounds: Sequence[Ground],
    book: EnemyBook | None = None,
    known: Bonds = NO_BONDS,
) -> Judged:
    """Judge plants that stand together; nothing depends on their order, but a tree comes first.

    ``known`` as in `bonds_of`.
    """
    judged = judge_likely(subjects, grounds, book, known)
    return with_draws(judged, subjects, grounds) if subjects[0].draws else judged


def judge_likely(
    subjects: Sequence[Subject],
    grounds: Sequence[Ground],
    book: EnemyBook | None = None,
    known: Bonds = NO_BONDS,
) -> Judged:
    """By the likely values alone: no draws."""
    still = rows_of(0, again=[False] * len(subjects))
    likely = [subject.likely for subject in subjects]
    felt, by_ground = _feel(likely, still, grounds, fine=True)
    bonds = tuple(bonds_of(subjects, grounds, book, known))
    limits, supports = limits_among(subjects, grounds, bonds, felt)
    easing = Easing.of(
        [subject.profile for subject in subjects], (ground.members for ground in grounds), bonds, supports
    )
    each, eased_each, gifts = easing.apply(grounds, likely, felt, by_ground, still)
    eased = float(eased_each[0].max())
    stress = one_in_turn(eased, holds_of(limits))
    none = np.zeros(0)
    return Judged(
        felt=felt,
        each=each[0],
        eased_each=eased_each[0],
        eased=eased,
        shared=easing.shared,
        limits=limits,
        supports=supports,
        gifts=gifts,
        bonds=bonds,
        easing=easing,
        stress=stress,
        coarse=stress,
        drawn=none,
        again=none,
        single=none,
        moved=tuple(range(len(subjects))) if len(subjects) <= MOST_MOVED else _that_feel_most(each[0]),
        stand_ins=sum(not s.profile.root_d95_m.known for s in subjects),
    )


def with_draws(judged: Judged, subjects: Sequence[Subject], grounds: Sequence[Ground]) -> Judged:
    """The same with its draws of doubt; limits, gifts and what they share are those of the likely values."""
    holds = holds_of(judged.limits)
    coarse, drawn, single, again = _drawn(subjects, grounds, judged.easing, holds, judged.moved)
    return altered(judged, coarse=float(coarse[0]), drawn=drawn, again=again, single=single)


def eased_on(judged: Judged, subjects: Sequence[Subject], grounds: Sequence[Ground]) -> tuple[float, Felt]:
    """The likely K' before limits of the same plants on other terms, and what they feel there.

    On other shares of their ground, or with more water: who stands with whom is as it was judged.
    """
    likely, still = [subject.likely for subject in subjects], rows_of(0, again=[False] * len(subjects))
    felt, by_ground = _feel(likely, still, grounds, fine=True)
    return max(judged.easing.apply(grounds, likely, felt, by_ground, still)[1][0].tolist()), felt


def _feel(
    plants: Sequence[Variants], rows: Rows, grounds: Sequence[Ground], *, fine: bool
) -> tuple[Felt, tuple[RootsFelt, ...]]:
    """What each feels over all its ground, and by roots on each ground."""
    found = [_feel_on(plants, rows, ground, fine=fine) for ground in grounds]
    by_ground = tuple(felt.by_roots for felt in found)
    if len(found) == 1:
        return found[0], by_ground
    shape = (len(rows[0]), len(plants))

    def summed(parts: Iterable[FloatArray]) -> FloatArray:
        """A tree loses on every ground round it; the others stand on one."""
        whole = np.zeros(shape)
        for ground, part in zip(grounds, parts, strict=True):
            whole[:, ground.members] += part
        return np.minimum(whole, 1.0)

    roots = RootsFelt(
        water=summed(part.water for part in by_ground),
        nitrate=summed(part.nitrate for part in by_ground),
        roots=summed(part.roots for part in by_ground),
        relief=np.zeros(shape[0]),
        unmet=np.zeros(shape),
    )
    lights = [felt.by_light for felt in found]
    light = LightFelt(summed(part.loss for part in lights), summed(part.dark for part in lights))
    return Felt(roots, light), by_ground


def _feel_on(plants: Sequence[Variants], rows: Rows, ground: Ground, *, fine: bool) -> Felt:
    """What those on one ground feel, a part of the rows at a time."""
    here = [plants[i] for i in ground.members]
    own = tuple(rows[i] for i in ground.members)
    soil = ground.spot.place.fine if fine else ground.spot.place.coarse
    step = max(1, NUMBERS_AT_ONCE // (len(here) * soil.here.water.size))
    if step >= len(own[0]):
        return Felt(roots_felt(here, own, ground.spot, soil), light_kept(here, own, ground.spot))
    parts = [
        feel(here, tuple(row[start : start + step] for row in own), ground.spot, soil)
        for start in range(0, len(own[0]), step)
    ]
    roots = [part.by_roots for part in parts]
    return Felt(
        RootsFelt(
            water=np.concatenate([part.water for part in roots]),
            nitrate=np.concatenate([part.nitrate for part in roots]),
            roots=np.concatenate([part.roots for part in roots]),
            relief=np.concatenate([part.relief for part in roots]),
            unmet=np.concatenate([part.unmet for part in roots]),
        ),
        LightFelt(
            np.concatenate([part.by_light.loss for part in parts]),
            np.concatenate([part.by_light.dark for part in parts]),
        ),
    )


def _that_feel_most(each: FloatArray) -> tuple[int, ...]:
    return tuple(sorted(np.argsort(-each, kind="stable")[:MOST_MOVED].tolist()))


def _drawn(
    subjects: Sequence[Subject],
    grounds: Sequence[Ground],
    easing: Easing,
    holds: Sequence[Verdict],
    moved: tuple[int, ...],
) -> tuple[FloatArray, ...]:
    """The worst K' in the coarse layers: likely, drawn, one trait at a time, drawn again."""
    draws = subjects[0].draws
    rows = rows_of(draws, again=[not s.profile.root_d95_m.known for s in subjects], moved=moved)
    plants = [subject.rows for subject in subjects]
    felt, by_ground = _feel(plants, rows, grounds, fine=False)
    eased = easing.apply(grounds, plants, felt, by_ground, rows)[1].max(axis=1)
    single = 1 + draws + 2 * len(CHECKABLE) * len(moved)
    held = _held_by_row(eased, holds, felt)
    return held[:1], held[1 : 1 + draws], held[1 + draws : single], held[single:]


def _held_by_row(stress: FloatArray, holds: Sequence[Verdict], many: Felt) -> FloatArray:
    """K' of each row under the limits; a row in which a plant is too dark to keep is one to avoid."""
    found = held_in_turn(stress, holds)
    if "avoid" in holds:
        return found
    dark = many.by_light.dark > DARK_SHARE
    if not dark.any():
        return found
    return np.where(dark.any(axis=1), held_down(found, "avoid"), found)
