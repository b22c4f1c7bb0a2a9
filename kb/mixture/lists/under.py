"""What fits under or near a tree: by ring, side and year, with light, root draw and ranked plants.

Every plant is screened everywhere by its likely values; the best of each place are then judged in
full, with draws of doubt, and ranked by the cautious score. A plant stands where it was planted:
whether it still fits in later years is asked of the same ground under the grown tree.
"""

from bisect import insort
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil

from kb.mixture.answers.pair import (
    Subject,
    answer,
    first_rank,
    judge_first,
    judge_further,
    prepare,
    prepare_tree,
    rank_of,
)
from kb.mixture.bodies.growth import grow
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.judging.crowd import Crowd, crowd_at
from kb.mixture.judging.judged import Judged
from kb.mixture.light.ring_light import ring_light
from kb.mixture.lists.screening import Ground, least_under, shared_with, stress_under
from kb.mixture.profile import Profile
from kb.mixture.results import PairAnswer
from kb.mixture.season import FloatArray, activity_by_week
from kb.mixture.sharing.place import Place, open_soil, places_by_side
from kb.mixture.site import Side, Site, Tree
from kb.mixture.stress import verdict_of
from kb.mixture.uncertainty import DRAWS


@dataclass(frozen=True, slots=True)
class Ring:
    """A ring of ground round a tree, in crown radii from the trunk."""

    name: str
    inner: float
    outer: float


RINGS = (
    Ring("inner", 0.1, 0.5),
    Ring("mid", 0.5, 0.9),
    Ring("crown edge", 0.9, 1.2),
    Ring("outside", 1.2, 2.0),
)
"""Judgement: where the ground is much drier, under the crown, at its drip line, and beyond it."""
SIDES: tuple[Side, ...] = ("N", "E", "S", "W")
AHEAD_YEARS = (1, 2, 3, 5, 7, 10, 15, 20, 30)
"""Years ahead that are looked at for whether a plant still fits."""
LIMIT = 10
CLOSER_LOOK = 1.5
"""How many times the plants shown are judged with draws, since doubt changes the order of the best."""
UNFIT = {"poor", "avoid"}

Rank = tuple[bool, float, bool, float, str]


@dataclass(frozen=True, slots=True)
class RingAnswer:
    """One ring on one side in one year: ``from_m``, ``to_m`` from the trunk.

    ``light`` is the share of open light at the ground, January to December; ``root_draw`` the tree's
    draw per m2 there over that per m2 of its crown; ``plants`` the best, each with the year (from
    now) in which it stops fitting, None where it fits for 30 years; ``total`` how many were screened.
    """

    ring: str
    side: Side
    year: int
    from_m: float
    to_m: float
    light: tuple[float, ...]
    root_draw: float
    plants: tuple[tuple[PairAnswer, int | None], ...]
    total: int


class _UnderTree:
    """One tree at one site, at any age, with the plants that might stand under it."""

    def __init__(
        self,
        profile: Profile,
        tree: Tree,
        others: Sequence[Profile],
        site: Site,
        given: frozenset[str],
        draws: int,
        book: EnemyBook | None,
    ) -> None:
        self.profile, self.tree, self.site, self.given, self.draws = profile, tree, site, given, draws
        self.others, self.book = others, book
        self.leaf = activity_by_week(profile.leaf, site)
        self._trees: dict[int, tuple[Tree, Subject]] = {}
        self._ready: dict[int, Subject] = {}

    def in_year(self, year: int) -> tuple[Tree, Subject]:
        """The tree so many years from now, ready to be judged."""
        if year not in self._trees:
            tree = grow(self.tree, self.profile, year) if year else self.tree
            self._trees[year] = (
                tree,
                prepare_tree(self.profile, tree, self.site, self.given, draws=self.draws),
            )
        return self._trees[year]

    def places(self, tree: Tree, sides: Sequence[Side], from_m: float, to_m: float) -> dict[Side, Place]:
        return places_by_side(
            self.site, tree, self.leaf, from_m=from_m, to_m=to_m, sides=sides, given=self.given
        )

    @cached_property
    def crowd(self) -> Crowd:
        """The plants, by their likely values."""
        soil = open_soil(self.site, fine=False, given=self.given)
        return crowd_at(self.site, soil, self.others)

    @cached_property
    def shared(self) -> FloatArray:
        """The chance that each shares enemies with the tree (n,)."""
        return shared_with(self.profile, self.crowd, self.book)

    def ready(self, index: int, place: Place) -> Subject:
        if index not in self._ready:
            self._ready[index] = prepare(self.others[index], place, draws=self.draws)
        return self._ready[index]

    def ground_light(self, tree: Tree, side: Side, from_m: float, to_m: float) -> FloatArray:
        return ring_light(tree, self.leaf, self.site, from_m=from_m, to_m=to_m, side=side)


def plants_under(
    tree_profile: Profile,
    tree: Tree,
    others: Sequence[Profile],
    site: Site,
    *,
    years: Sequence[int] = (0,),
    rings: Sequence[Ring] | None = None,
    sides: Sequence[Side] | None = None,
    given: frozenset[str] = frozenset(),
    limit: int = LIMIT,
    draws: int = DRAWS,
    book: EnemyBook | None = None,
) -> tuple[RingAnswer, ...]:
    """Ranked plants for every year, ring and side, in that order.

    ``years`` from now, 0 or more; ``limit`` plants each. ``rings`` and ``sides`` default to all.
    """
    here = _UnderTree(tree_profile, tree, others, site, given, draws, book)
    answers: list[RingAnswer] = []
    for year in years:
        for ring in rings or RINGS:
            answers += _ring(here, year, ring, tuple(sides or SIDES), limit)
    return tuple(answers)


def _ring(here: _UnderTree, year: int, ring: Ring, sides: tuple[Side, ...], limit: int) -> list[RingAnswer]:
    tree, subject = here.in_year(year)
    from_m, to_m = ring.inner * tree.crown_radius_m, ring.outer * tree.crown_radius_m
    places = here.places(tree, sides, from_m, to_m)
    first = places[sides[0]]
    best: dict[Side, list[tuple[int, PairAnswer]]] = {side: [] for side in sides}
    if here.others:
        crowd = here.crowd
        ground = Ground(subject.rows, crowd, first, subject.age_years, here.book, shared=here.shared)
        for side, place in places.items():
            closer = least_under(subject.rows, crowd, place, ground, ceil(CLOSER_LOOK * limit))
            best[side] = _ranked(here, subject, place, closer, limit)
    shown = sorted({index for rows in best.values() for index, _ in rows})
    stops = _stops(here, year, (from_m, to_m), sides, shown)
    return [
        RingAnswer(
            ring=ring.name,
            side=side,
            year=year,
            from_m=from_m,
            to_m=to_m,
            light=tuple(here.ground_light(tree, side, from_m, to_m).tolist()),
            root_draw=first.share_a,
            plants=tuple(
                (row, year if row.verdict in UNFIT else stops.get((side, index))) for index, row in best[side]
            ),
            total=len(here.others),
        )
        for side in sides
    ]


def _ranked(
    here: _UnderTree, tree: Subject, place: Place, chosen: list[int], limit: int
) -> list[tuple[int, PairAnswer]]:
    """Full answers on the best of some plants, by the cautious score, those to avoid last.

    Draws are made in the order of the likely values, and only until no plant that is left can come
    before those asked for.
    """
    likely = {index: judge_first(tree, here.ready(index, place), place, here.book) for index in chosen}
    judged: dict[int, Judged] = {}
    ranks: list[tuple[Rank, int]] = []
    for least, index in sorted((first_rank(likely[index]), index) for index in chosen):
        if len(ranks) >= limit and ranks[limit - 1][0][:2] < least:
            break
        judged[index] = likely[index]
        if here.draws:
            judged[index] = judge_further(likely[index], tree, here.ready(index, place), place)
        insort(ranks, (rank_of(here.others[index].id, judged[index]), index))
    return [
        (index, answer(tree, here.ready(index, place), place, judged[index], here.book))
        for _, index in ranks[:limit]
    ]


def _stops(
    here: _UnderTree, year: int, ring_m: tuple[float, float], sides: tuple[Side, ...], shown: list[int]
) -> dict[tuple[Side, int], int]:
    """The first year looked at in which a plant shown on a side no longer fits where it stands."""
    stops: dict[tuple[Side, int], int] = {}
    now = here.in_year(year)[0]
    if not shown:
        return stops
    crowd = here.crowd.only(shown)
    for ahead in AHEAD_YEARS:
        tree, subject = here.in_year(year + ahead)
        if (tree.height_m, tree.crown_radius_m) == (now.height_m, now.crown_radius_m):
            continue
        places = here.places(tree, sides, *ring_m)
        first = places[sides[0]]
        shared = here.shared[shown]
        ground = Ground(subject.rows, crowd, first, subject.age_years, here.book, shared=shared)
        for side, place in places.items():
            for index, stress in zip(shown, stress_under(subject.rows, crowd, place, ground), strict=True):
                if verdict_of(float(stress)) in UNFIT:
                    stops.setdefault((side, index), year + ahead)
    return stops
