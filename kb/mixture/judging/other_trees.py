"""The word on a plant beneath a tree of another size, or nearer its trunk, by the likely values.

An answer that hangs on the size of a tree, or on the place beneath it, is held against three more words. Each
is found as that of the pair itself is; where compiled loops serve, what the two feel there is found in one of
them (`compiled.beneath`), without a place and plants made for it, and their limits and all else as ever. What
is said of it, where something is, is put together from that.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from kb.mixture import kernels
from kb.mixture.altered import altered
from kb.mixture.bodies.support import Support
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.ground.roots import (
    LAYER_EDGES_M,
    SHAPE,
    depth_scale,
    draw_at,
    planted_share,
    root_radius,
    usual_root_radius,
)
from kb.mixture.ground.share import FED
from kb.mixture.judging.bonds import Bond, bond_between
from kb.mixture.judging.easing import Easing, shares_of
from kb.mixture.judging.encounter import ring_meeting
from kb.mixture.judging.findings import Findings
from kb.mixture.judging.set_limits import limits_of_two
from kb.mixture.limits import Limit, Party, ceiling_of, hardest_first
from kb.mixture.profile import Profile
from kb.mixture.results import Verdict
from kb.mixture.season import FloatArray, activity_by_week, seasons_of
from kb.mixture.sharing.felt import Felt, LightFelt, RootsFelt, lit, rooted
from kb.mixture.sharing.nitrogen import is_giver
from kb.mixture.sharing.place import RingGround, open_soil, place_under, ring_round
from kb.mixture.sharing.ring_terms import COMPILED, Terms, rings_terms, year_terms
from kb.mixture.sharing.sizes import LEAST_HEIGHT_M, MOST_BASE, root_depths
from kb.mixture.sharing.standing_tree import as_it_stands, root_size
from kb.mixture.sharing.subject import Subject, prepare_likely_tree
from kb.mixture.sharing.variants import FullStand, Same, kept_stand
from kb.mixture.site import Arrangement, Site, Tree
from kb.mixture.stress import held, verdict_of

Elsewhere = tuple[Tree, float]
"""A tree of another size, or the same one, and how far from its trunk a plant stands, m."""
_NO_RELIEF = np.zeros(1)
KEPT = 16
"""So many trees at their sites are kept with what does not hang on their size."""


@dataclass(frozen=True, slots=True, eq=False)
class FeltBeneath:
    """What a tree and a plant beneath it feel by their likely values, one row, and the ground of their ring.

    ``draw`` is the tree's per m2 there, ``d50_m`` that of its roots, ``course`` (1, 52) its year.
    """

    felt: Felt
    ground: RingGround
    draw: float
    d50_m: float
    course: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Beneath:
    """Their word, and what it comes of; ``limits`` in no order."""

    word: Verdict
    found: FeltBeneath
    each: FloatArray
    eased: float
    limits: list[Limit]
    supports: tuple[Support, ...]
    bond: Bond


def judged_beneath(
    tree: Profile,
    plant: Subject,
    site: Site,
    arrangement: Arrangement,
    elsewhere: Sequence[Elsewhere],
    book: EnemyBook | None,
) -> list[Beneath | None]:
    """The two as the arrangement has them, but elsewhere; the profile of the tree is that of its kind.

    None where only the plain way knows it (`felt_beneath`).
    """
    found = felt_beneath(tree, plant, site, arrangement, elsewhere)
    return [
        None if one is None else _judged(tree, plant, site, arrangement.given, there, one, book)
        for there, one in zip(elsewhere, found, strict=True)
    ]


def _judged(
    tree: Profile,
    plant: Subject,
    site: Site,
    given: frozenset[str],
    there: Elsewhere,
    found: FeltBeneath,
    book: EnemyBook | None,
) -> Beneath:
    (here, distance), own = there, plant.likely
    standing = as_it_stands(tree, here)
    above = Party(standing, _height(here), found.d50_m, found.draw, found.course[0], True, here.planted_years)
    height_m, d50_m = float(own.height[0]), float(own.d50[0])
    below = Party(own.profile, height_m, d50_m, 1.0, own.activity[0], False, plant.age_years)
    meeting = ring_meeting(site, here, given, ring_round(distance), distance)
    bond = bond_between((standing, own.profile), (tree, plant.kind), meeting, book)
    same = ((tree, found.course), (plant.kind, own.activity))
    dark = found.felt.by_light.dark[0].tolist()
    limits, supports = limits_of_two((above, below), same, bond, meeting, dark)
    easing = Easing(*shares_of(2, (bond,), supports), (False,))
    each, eased_each = easing.without_gifts(found.felt, _NO_RELIEF)
    eased, ceiling = max(eased_each[0].tolist()), ceiling_of(limits)
    like = bond.kin.kinship == "species" and ceiling == "good"
    word = "like" if like else verdict_of(held(eased, ceiling))
    return Beneath(word, found, each[0], eased, limits, supports, bond)


def findings_of(
    beneath: Beneath,
    tree: Profile,
    plant: Subject,
    site: Site,
    arrangement: Arrangement,
    elsewhere: Elsewhere,
) -> Findings:
    """What was found there, to be put into words."""
    size, distance = elsewhere
    there = altered(arrangement, tree=size, distance_m=distance)
    place = place_under(tree, site, there, beneath.found.ground)
    above = prepare_likely_tree(tree, size, site, place.given)
    bond, each = beneath.bond, beneath.each
    return Findings(
        a=above.likely,
        b=plant.likely,
        place=place,
        felt=beneath.found.felt,
        each=(float(each[0]), float(each[1])),
        verdict=beneath.word,
        eased=beneath.eased,
        limits=hardest_first(dict.fromkeys(beneath.limits)),
        again={},
        one_kind=bond.kin.kinship == "species",
        supports=beneath.supports,
        givings=(),
        kin=bond.kin,
        harm=bond.harm,
        kinds=(above.kind, plant.kind),
    )


def felt_beneath(
    tree: Profile, plant: Subject, site: Site, arrangement: Arrangement, elsewhere: Sequence[Elsewhere]
) -> list[FeltBeneath | None]:
    """What the two feel at each of these, by the compiled loop: all in one call, whose terms cost most.

    None where nothing compiled is loaded, what one gives the other counts, the ring is seen from one side or
    fed, the plant reaches into the crown, or more light than it bears may reach it there.
    """
    loop = kernels.ready(COMPILED)
    gives = is_giver(tree, plant.kind) or is_giver(plant.kind, tree)
    apart = arrangement.side is not None or arrangement.at_trunk or FED in arrangement.given
    bright = plant.kind.most_light is not None
    if loop is None or not elsewhere or gives or apart or tree.annual or bright:
        return [None] * len(elsewhere)
    own, trees = plant.likely, [here for here, _ in elsewhere]
    draws, scales = [draw_at(*there) for there in elsewhere], [_depth_scale(tree, here) for here in trees]
    d50, d95 = root_depths(tree, (np.array(scales),) * 2, 1.0)
    usual, ground = _ground(Same(tree), site, arrangement.given, lone=trees[0].stand != "row")
    (dry, hungry, lost, unmet), (shaded, dark), tall, (light, scarcity, left) = loop.felt(
        *_rings(elsewhere, draws, arrangement.share_b or 1.0),
        *ground,
        (d50, d95, np.array([_base(here) for here in trees])),
        (usual.water_course, usual.nitrate_course, usual.traits.nitrogen, usual.traits.fixer, usual.hunger),
        (rooted(own), lit(own), float(own.leaf_height[0])),
    )
    found: list[FeltBeneath | None] = []
    for i, draw in enumerate(draws):
        if tall[i]:
            found.append(None)
            continue
        row, ground_there = slice(i, i + 1), (light[i], scarcity[i], left[i])
        roots = RootsFelt(dry[row], hungry[row], lost[row], _NO_RELIEF, unmet[row])
        felt = Felt(roots, LightFelt(shaded[row], dark[row]))
        found.append(FeltBeneath(felt, ground_there, draw, float(d50[i]), usual.year.activity))
    return found


def _height(tree: Tree) -> float:
    return max(tree.height_m, LEAST_HEIGHT_M)


def _base(tree: Tree) -> float:
    """Where its leaves begin, m (`sizes.outline`)."""
    return _height(tree) * min(MOST_BASE, max(0.0, tree.crown_base_m / tree.height_m))


def _depth_scale(kind: Profile, tree: Tree) -> float:
    """How deep its roots have come, of those of a grown one (`variants.root_depths`)."""
    return depth_scale(root_size(kind, tree)) if kind.woody else 1.0


def _rings(elsewhere: Sequence[Elsewhere], draws: Sequence[float], share_b: float) -> Terms:
    """The rings beneath trees, and the shares of both there, as `compiled.beneath.felt` has them."""
    trees, rings, beneath, planted = [], [], [], []
    for tree, distance in elsewhere:
        near, far = ring_round(distance)
        radius = root_radius(tree)
        trees.append(tree)
        rings.append((near, far))
        beneath.append((near + far) / 2 <= usual_root_radius(tree))
        planted.append(planted_share(near / radius, far / radius) * share_b)
    return *rings_terms(trees, rings, draws, beneath), (share_b, np.array(planted))


@lru_cache(maxsize=KEPT)
def _ground(tree: Same[Profile], site: Site, given: frozenset[str], *, lone: bool) -> tuple[FullStand, Terms]:
    """A full stand of the tree's kind, and the year, sky and soil of the site, likewise.

    They are the same for every size and distance, so that they are kept.
    """
    usual = kept_stand(tree, seasons_of(site), None, 0, 1.0, Same(LAYER_EDGES_M))
    supply = open_soil(site, fine=True, given=given)
    year = year_terms(site, activity_by_week(tree.thing.leaf, site), supply.scarcity, given, lone=lone)
    soil = (supply.edges, site.soil_depth_m, supply.water, supply.nitrate, SHAPE, site.open_light)
    return usual, (*year, soil)
