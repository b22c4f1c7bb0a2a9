"""Two invented plants as they meet in a bed or under a tree, and what is asked of their gardener."""

from typing import Any

from kb.mixture.answers.pair import judge_pair
from kb.mixture.profile import Estimate, Profile
from kb.mixture.results import Condition, PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site, Tree
from tests.mixture.profiles import SMALL_TREE_HERE, about, chosen, invented, lasting

LOW = lasting("low", height_m=about(0.3))
DUG = invented("dug", dug_depth_m=Estimate(0.25, 0.3, 0.35, "cited", ("record:dug.harvest-disturbance",)))
BAMBOO = lasting(
    "bamboo", growth_form=chosen("graminoid"), spread=chosen("runs"), travels_by=chosen("rhizome")
)


def bed(a: Profile, b: Profile, *given: str, site: Site = REFERENCE_SITE, **changes: Any) -> PairAnswer:
    arrangement = Arrangement(share_a=0.5, share_b=0.5, given=frozenset(given), **changes)
    return judge_pair(a, b, site, arrangement)


def under(
    tree: Profile, b: Profile, distance_m: float, *given: str, size: Tree = SMALL_TREE_HERE
) -> PairAnswer:
    arrangement = Arrangement("under", tree=size, distance_m=distance_m, given=frozenset(given))
    return judge_pair(tree, b, REFERENCE_SITE, arrangement)


def condition(answer: PairAnswer, kind: str) -> Condition:
    return next(condition for condition in answer.conditions if condition.kind == kind)
