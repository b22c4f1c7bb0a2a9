"""Where two plants stand together: their shares of the ground, its supply, the light that is left."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property, lru_cache
from math import pi

from kb.mixture import kernels
from kb.mixture.bodies.growth import tree_at
from kb.mixture.ground.crown_ground import CrownGround, crown_ground
from kb.mixture.ground.roots import (
    DRAW_EDGES_M,
    LAYER_EDGES_M,
    draw_at,
    draw_in_ring,
    planted_share,
    root_radius,
    usual_root_radius,
)
from kb.mixture.ground.share import CARE, Supply, supply_at
from kb.mixture.light.hedge_light import ROW_WIDTH_M
from kb.mixture.light.near_tree import monthly_to_weekly, ring_light_by_side
from kb.mixture.light.ring_light import RingLight
from kb.mixture.profile import Profile
from kb.mixture.season import FloatArray
from kb.mixture.sharing.ring_terms import COMPILED, leaf_of, ring_terms, year_terms
from kb.mixture.sharing.sizes import LIGHT_HEIGHTS_M
from kb.mixture.site import Arrangement, Setting, Side, Site, Tree

RingGround = tuple[FloatArray, FloatArray, FloatArray]
"""Light on the ground of a ring, how scarce water is there and what part of it is left, (52,) each."""
HALF = 0.5
"""Share of the ground of each where none is given: half and half. The answer prints it."""
ROW_NOTE = (
    f"The row is taken as {ROW_WIDTH_M:g} m from face to face, its kinds in turn, its faces in the open. "
    "Which way it runs was not said: light is that of the whole sky."
)
RING_WIDTH_M = 1.2
"""Width of the planted ring round a tree when a distance is asked for (`computation-notes` 1.7)."""


HALFWAY = 0.5
"""In a closed stand crowns touch: halfway from the trunk to the crown's edge stands for the ground under them
(`trade` 4.4 reads its beech wood at 3 m of 6.5; judgement)."""
AT_TRUNK_M = 0.3
"""How far from the trunk the foot of a root-clinger is set (judgement)."""


def usual_distance(tree: Tree) -> tuple[float, str]:
    """How far from the trunk (m) a plant is taken to stand where nothing is said, and that place in words."""
    if tree.stand == "closed":
        return HALFWAY * tree.crown_radius_m, "halfway to the edge of the crown, since the crowns touch"
    return tree.crown_radius_m, "the edge of the crown"


@dataclass(frozen=True, eq=False)
class Soil:
    """One grid of layers: ``open`` ground, and what is left of it ``here``, beneath a crown.

    ``left`` (52,) is the part of its water that is; None in the open.
    """

    open: Supply
    left: FloatArray | None = None

    @cached_property
    def here(self) -> Supply:
        """Made where it is asked for: words need none."""
        return self.open if self.left is None else self.open.drawn_down(self.left)


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """The ground of a pair.

    In a bed ``share_a`` and ``share_b`` are shares of the ground. Under a tree ``share_a`` is h, the
    tree's root draw there, ``planted`` the share of its roots in the planted ring, and ``light``
    gives the weekly share of open light (52,) at a height in m; in a bed it is None. In a hedge they
    are shares of the row, which is kept no higher than ``kept_m``. ``at_m`` is the distance from the trunk
    that was said: there the plants stand, in the middle of their ring.
    """

    site: Site
    setting: Setting
    share_a: float
    share_b: float
    fine: Soil
    coarse: Soil
    given: frozenset[str]
    tree: Tree | None = None
    from_m: float | None = None
    to_m: float | None = None
    at_m: float | None = None
    planted: float = 1.0
    light: Callable[[float], FloatArray] | None = None
    kept_m: float | None = None
    ground: CrownGround | None = None
    notes: tuple[str, ...] = ()
    elsewhere: Callable[[float], "Place"] | None = None
    """Under a tree: the same at another distance from its trunk (m)."""

    @property
    def root_radius_m(self) -> float | None:
        return None if self.tree is None else root_radius(self.tree)


def place_for(a: Profile, site: Site, arrangement: Arrangement) -> Place:
    """The ground of a pair whose first plant is ``a``."""
    if arrangement.setting == "under":
        return place_under(a, site, arrangement)
    return place_in_bed(site, arrangement)


def place_in_bed(site: Site, arrangement: Arrangement) -> Place:
    """Both in one bed or row of hedge, on the shares given or on half each, which the notes then say."""
    a, b = arrangement.share_a, arrangement.share_b
    if a is None and b is None:
        notes: tuple[str, ...] = (
            "Ground shares were not given: each is taken on half the ground. Shares move the verdict most.",
        )
        a = b = HALF
    elif a is None or b is None:
        said = a if a is not None else b
        rest = 1.0 - (said or 0.0)
        if rest <= 0:
            raise ValueError("one plant has the whole ground: give the share of the other too")
        notes = (f"One ground share was not given: taken as the rest, {100 * rest:.0f} %.",)
        a, b = (rest, b) if a is None else (a, rest)
    else:
        notes = ()
    if not (a is not None and b is not None and 0 < a <= 1 and 0 < b <= 1):
        raise ValueError(f"ground shares must be above 0 and at most 1, not {a} and {b}")
    given = arrangement.given
    if arrangement.setting == "hedge":
        notes = (*notes, ROW_NOTE)
        if arrangement.kept_m is not None:
            notes = (*notes, f"Kept at {arrangement.kept_m:g} m: taken as pruned hard every year.")
            given = given | {"pruned"}
    fine, coarse = (open_soil(site, fine=grid, given=given) for grid in (True, False))
    return Place(
        site=site,
        setting=arrangement.setting,
        share_a=a,
        share_b=b,
        fine=Soil(fine),
        coarse=Soil(coarse),
        given=given,
        kept_m=arrangement.kept_m,
        notes=notes,
    )


def place_under(
    tree_profile: Profile, site: Site, arrangement: Arrangement, known: RingGround | None = None
) -> Place:
    """At a distance and side of a tree: a ring of ground 1.2 m wide, planted all round.

    ``known`` as in `place_in_ring`.
    """
    if arrangement.tree is not None and arrangement.at_trunk:
        return _place_at_trunk(tree_profile, arrangement.tree, site, arrangement)
    notes: list[str] = []
    tree = arrangement.tree
    if tree is None:
        tree = tree_at(tree_profile, arrangement.age_a_years)
        notes.append("The size of the tree was not given: taken from its kind.")
    distance = arrangement.distance_m
    if distance is None:
        distance, where = usual_distance(tree)
        notes.append(f"Distance from the trunk was not given: {where}, {distance:.1f} m.")
    if not distance >= 0:
        raise ValueError(f"the distance from the trunk must be 0 m or more, not {distance:g} m")
    from_m, to_m = ring_round(distance)
    leaf = leaf_of(tree_profile, site)
    if arrangement.share_b is None:
        notes.append(
            f"A ring {RING_WIDTH_M:g} m wide is taken as fully planted, all round the tree"
            f"{'' if arrangement.side is None else '; the light is that of one side'}."
        )
    return place_in_ring(
        site,
        tree,
        leaf,
        from_m=from_m,
        to_m=to_m,
        side=arrangement.side,
        draw=draw_at(tree, distance),
        given=arrangement.given,
        share_b=1.0 if arrangement.share_b is None else arrangement.share_b,
        at_m=arrangement.distance_m,
        notes=tuple(notes),
        known=known,
    )


def _place_at_trunk(tree_profile: Profile, tree: Tree, site: Site, arrangement: Arrangement) -> Place:
    """The ground under the crown for the roots of what climbs the trunk, in the light at the trunk."""
    leaf = leaf_of(tree_profile, site)
    ground = place_in_ring(
        site,
        tree,
        leaf,
        from_m=0.0,
        to_m=tree.crown_radius_m,
        given=arrangement.given,
        share_b=1.0 if arrangement.share_b is None else arrangement.share_b,
    )
    from_m, to_m = ring_round(AT_TRUNK_M)
    foot = place_in_ring(
        site, tree, leaf, from_m=from_m, to_m=to_m, side=arrangement.side, given=arrangement.given
    )
    return replace(ground, light=foot.light, at_m=AT_TRUNK_M)


def ring_round(distance_m: float) -> tuple[float, float]:
    """From where to where, m from the trunk, the ring of a distance is taken."""
    return max(0.0, distance_m - RING_WIDTH_M / 2), distance_m + RING_WIDTH_M / 2


def area(from_m: float, to_m: float) -> float:
    """Ground of a ring, m2."""
    return pi * (to_m**2 - from_m**2)


def place_in_joint_ring(
    tree_profile: Profile,
    site: Site,
    arrangement: Arrangement,
    stands_m: Sequence[float],
    shares: Sequence[float],
    ring_m: tuple[float, float],
) -> Place:
    """Plants at several distances from a tree (``stands_m``) whose rings overlap: one ring for all.

    The tree's draw is its mean where they stand, by their shares of the ring.
    """
    tree = arrangement.tree
    if tree is None:
        raise ValueError("a joint ring needs the size of its tree")
    draws = [draw_at(tree, distance) for distance in stands_m]
    draw = sum(share * each for share, each in zip(shares, draws, strict=True)) / sum(shares)
    from_m, to_m = ring_m
    *first, last = [f"{each:g}" for each in sorted(set(stands_m))]
    note = (
        f"The rings of what stands {', '.join(first)} and {last} m from the trunk overlap: they share one "
        f"ring from {from_m:g} to {to_m:g} m, and each has as much of it as its share of its own ring "
        "comes to."
    )
    return place_in_ring(
        site,
        tree,
        leaf_of(tree_profile, site),
        from_m=from_m,
        to_m=to_m,
        side=arrangement.side,
        draw=draw,
        given=arrangement.given,
        share_b=arrangement.share_b or 1.0,
        notes=(note,),
    )


def place_in_ring(
    site: Site,
    tree: Tree,
    leaf_by_week: FloatArray,
    *,
    from_m: float,
    to_m: float,
    given: frozenset[str],
    side: Side | None = None,
    draw: float | None = None,
    share_b: float = 1.0,
    at_m: float | None = None,
    notes: tuple[str, ...] = (),
    known: RingGround | None = None,
) -> Place:
    """A ring of ground round a tree, or one side of it, for the light.

    ``draw`` is h where one distance is meant, else its mean over the ring. ``known`` is what a loop has found
    of this ground already.
    """
    if not 0 < share_b <= 1:
        raise ValueError(f"ground shares must be above 0 and at most 1, not {share_b}")

    inner, outer = from_m / root_radius(tree), to_m / root_radius(tree)
    drawn = draw_in_ring(tree, from_m, to_m) if draw is None else draw
    beneath = (from_m + to_m) / 2 <= usual_root_radius(tree)
    fine, coarse = (open_soil(site, fine=grid, given=given) for grid in (True, False))
    # One store for all sides: the ring is planted all round.
    loop = kernels.ready(COMPILED)
    if known is not None:
        all_round, scarcity, left = known
        ground = CrownGround(leaf_by_week if beneath else None, scarcity)
    elif loop is None:
        all_round = RingLight(tree, leaf_by_week, site, (from_m, to_m), None).at(0.0)
        ground = crown_ground(site, draw=drawn, leaf=leaf_by_week, light=all_round, beneath=beneath)
        left = ground.left(fine.scarcity, given)
    else:
        year = year_terms(site, leaf_by_week, fine.scarcity, given, lone=tree.stand != "row")
        here = ring_terms(tree, (from_m, to_m), drawn, beneath=beneath)
        all_round, scarcity, left = loop.ground(*here, *year)
        ground = CrownGround(leaf_by_week if beneath else None, scarcity)

    light = RingLight(tree, leaf_by_week, site, (from_m, to_m), side)
    if side is None:
        light.found[0.0] = all_round
    return Place(
        site=site,
        setting="under",
        share_a=drawn,
        share_b=share_b,
        fine=Soil(fine, left),
        coarse=Soil(coarse, left),
        ground=ground,
        given=given,
        tree=tree,
        from_m=from_m,
        to_m=to_m,
        at_m=at_m,
        planted=planted_share(inner, outer) * share_b,
        light=light.at,
        notes=notes,
        elsewhere=_at_distance(site, tree, leaf_by_week, given=given, side=side, share_b=share_b),
    )


def _at_distance(
    site: Site, tree: Tree, leaf: FloatArray, *, given: frozenset[str], side: Side | None, share_b: float
) -> Callable[[float], Place]:
    """The rings at other distances, each made once."""

    @cache
    def there(distance_m: float) -> Place:
        near, far = ring_round(distance_m)
        draw = draw_at(tree, distance_m)
        return place_in_ring(
            site,
            tree,
            leaf,
            from_m=near,
            to_m=far,
            side=side,
            draw=draw,
            given=given,
            share_b=share_b,
            at_m=distance_m,
        )

    return there


def places_by_side(
    site: Site,
    tree: Tree,
    leaf_by_week: FloatArray,
    *,
    from_m: float,
    to_m: float,
    sides: Sequence[Side],
    given: frozenset[str],
) -> dict[Side, Place]:
    """`place_in_ring` on several sides: they differ in their light alone, which is reckoned together."""
    ring = place_in_ring(site, tree, leaf_by_week, from_m=from_m, to_m=to_m, given=given)

    @cache
    def lights() -> FloatArray:
        """By side, height and week."""
        monthly = ring_light_by_side(
            tree, leaf_by_week, site, from_m=from_m, to_m=to_m, sides=sides, heights_m=LIGHT_HEIGHTS_M
        )
        return monthly_to_weekly(monthly)

    def light_on(at: int) -> Callable[[float], FloatArray]:
        return lambda height_m: lights()[at, LIGHT_HEIGHTS_M.index(height_m)]

    return {
        side: replace(
            ring,
            light=light_on(at),
            elsewhere=_at_distance(site, tree, leaf_by_week, given=given, side=side, share_b=1.0),
        )
        for at, side in enumerate(sides)
    }


def cut_to(profile: Profile, kept_m: float | None) -> Profile:
    """The profile of what shears cut in a hedge kept at a height: woody plants, bamboos; no herbs."""
    cut = profile.woody or (profile.growth_form.value == "graminoid" and not profile.annual)
    return replace(profile, kept_m=kept_m) if kept_m is not None and cut else profile


def open_soil(site: Site, *, fine: bool, given: frozenset[str]) -> Supply:
    """The supply of open ground at a site, in fine layers or in those of the draws."""
    return _kept_soil(site, given & CARE, fine=fine)


@lru_cache(maxsize=64)
def _kept_soil(site: Site, care: frozenset[str], *, fine: bool) -> Supply:
    return supply_at(site, LAYER_EDGES_M if fine else DRAW_EDGES_M, care=care)
