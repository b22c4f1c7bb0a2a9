"""The word on a plant beneath a tree of another size, or nearer its trunk, by the likely values.

An answer that hangs on the size of a tree, or on the place beneath it, is held against three more words. Each
is found as that of the pair itself is; where compiled loops serve, what the two feel there is found in one of
them (`compiled_beneath`), without a place and plants made for it, and their limits and all else as ever. What
is said of it, where something is, is put together from that.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from kb.mixture import kernels
from kb.mixture.bonds import Bond, bond_between
from kb.mixture.encounter import ring_meeting
from kb.mixture.enemy_book import EnemyBook
from kb.mixture.felt import Felt, LightFelt, RootsFelt, lit, rooted
from kb.mixture.findings import Findings
from kb.mixture.judged import Easing
from kb.mixture.limits import Limit, Party, ceiling_of, hardest_first
from kb.mixture.nitrogen import is_giver
from kb.mixture.place import RingGround, open_soil, place_under, ring_round
from kb.mixture.profile import Profile
from kb.mixture.results import Verdict
from kb.mixture.ring_terms import COMPILED, Terms, ring_terms, year_terms
from kb.mixture.roots import (
    LAYER_EDGES_M,
    SHAPE,
    draw_of,
    planted_share,
    root_radius,
    usual_root_radius,
)
from kb.mixture.season import FloatArray, activity_by_week, seasons_of
from kb.mixture.set_limits import limits_of_two
from kb.mixture.share import FED
from kb.mixture.site import Arrangement, Site, Tree
from kb.mixture.standing_tree import as_it_stands, root_size
from kb.mixture.stress import held, verdict_of
from kb.mixture.subject import Subject, prepare_likely_tree
from kb.mixture.support import Support
from kb.mixture.variants import (
    LEAST_HEIGHT_M,
    MOST_BASE,
    FullStand,
    Same,
    kept_stand,
    root_depths,
)

_AS_LIKELY, _NO_RELIEF = (np.ones(1), np.ones(1)), np.zeros(1)
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
    tree: Profile, plant: Subject, site: Site, arrangement: Arrangement, book: EnemyBook | None
) -> Beneath | None:
    """The two where the arrangement puts a plant beneath a tree, whose profile is that of its kind.

    None where only the plain way knows it (`felt_beneath`).
    """
    found, here, distance = (
        felt_beneath(tree, plant, site, arrangement),
        arrangement.tree,
        arrangement.distance_m,
    )
    if found is None or here is None or distance is None:
        return None
    standing, own = as_it_stands(tree, here), plant.likely
    above = Party(standing, _height(here), found.d50_m, found.draw, found.course[0], True, here.planted_years)
    height_m, d50_m = float(own.height[0]), float(own.d50[0])
    below = Party(own.profile, height_m, d50_m, 1.0, own.activity[0], False, plant.age_years)
    meeting = ring_meeting(site, here, arrangement.given, ring_round(distance), distance)
    bond = bond_between((standing, own.profile), (tree, plant.kind), meeting, book)
    same = ((tree, found.course), (plant.kind, own.activity))
    dark = found.felt.by_light.dark[0].tolist()
    limits, supports = limits_of_two((above, below), same, bond, meeting, dark)
    easing = Easing.of((standing, own.profile), ((0, 1),), (bond,), supports)
    each, eased_each = easing.without_gifts(found.felt, _NO_RELIEF)
    eased, ceiling = max(eased_each[0].tolist()), ceiling_of(limits)
    like = bond.kin.kinship == "species" and ceiling == "good"
    word = "like" if like else verdict_of(held(eased, ceiling))
    return Beneath(word, found, each[0], eased, limits, supports, bond)


def findings_of(
    beneath: Beneath, tree: Profile, plant: Subject, site: Site, arrangement: Arrangement, size: Tree
) -> Findings:
    """What was found beneath a tree of this size, to be put into words."""
    place = place_under(tree, site, arrangement, beneath.found.ground)
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


def felt_beneath(tree: Profile, plant: Subject, site: Site, arrangement: Arrangement) -> FeltBeneath | None:
    """What the two feel there, by the compiled loop.

    None where nothing compiled is loaded, what one gives the other counts, the ring is seen from one side or
    fed, the plant reaches into the crown, or more light than it bears may reach it there.
    """
    loop, here, distance = kernels.ready(COMPILED), arrangement.tree, arrangement.distance_m
    if loop is None or here is None or distance is None:
        return None
    gives = is_giver(tree, plant.kind) or is_giver(plant.kind, tree)
    apart = arrangement.side is not None or arrangement.at_trunk or FED in arrangement.given
    if gives or apart or tree.annual or plant.kind.most_light is not None:
        return None
    own, draw = plant.likely, float(draw_of(here, distance))
    deep = root_depths(tree, _AS_LIKELY, root_size(tree, here))
    depths = float(deep[0][0]), float(deep[1][0])
    usual, ground = _ground(Same(tree), site, arrangement.given, lone=here.stand != "row")
    by_roots, (losses, darks, tall), ring = loop.felt(
        *_ring(here, distance, draw, arrangement.share_b or 1.0),
        *ground,
        depths,
        _tree(usual, here),
        (rooted(own), lit(own), float(own.leaf_height[0])),
    )
    if tall:
        return None
    felt = Felt(RootsFelt(*by_roots), LightFelt(losses, darks))
    return FeltBeneath(felt, ring, draw, depths[0], usual.year.activity)


def _height(tree: Tree) -> float:
    return max(tree.height_m, LEAST_HEIGHT_M)


def _ring(tree: Tree, distance: float, draw: float, share_b: float) -> Terms:
    """The ring beneath a tree, and the shares of both there, as `compiled_beneath.felt` has them."""
    from_m, to_m = ring_round(distance)
    radius = root_radius(tree)
    planted = float(planted_share(from_m / radius, to_m / radius)) * share_b
    beneath = (from_m + to_m) / 2 <= usual_root_radius(tree)
    return *ring_terms(tree, (from_m, to_m), draw, beneath=beneath), (draw, share_b, planted)


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


def _tree(usual: FullStand, tree: Tree) -> Terms:
    """What the tree asks, and where its leaves begin, likewise."""
    base = np.array([_height(tree) * min(MOST_BASE, max(0.0, tree.crown_base_m / tree.height_m))])
    own = usual.traits
    return usual.water_course, usual.nitrate_course, own.nitrogen, own.fixer, usual.hunger, base
