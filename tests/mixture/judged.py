"""Asking about a pair in a bed or under the small invented tree."""

from dataclasses import replace
from typing import Any

from kb.mixture.answers.pair import judge_pair
from kb.mixture.profile import Profile
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site, Tree
from tests.mixture.profiles import (
    SMALL_TREE,
    SMALL_TREE_HERE,
)

HALVES = Arrangement(share_a=0.5, share_b=0.5)


def bed(a: Profile, b: Profile, site: Site = REFERENCE_SITE, **changes: Any) -> PairAnswer:
    return judge_pair(a, b, site, replace(HALVES, **changes))


def under(b: Profile, distance_m: float = 1.2, tree: Tree = SMALL_TREE_HERE, **changes: Any) -> PairAnswer:
    arrangement = Arrangement("under", distance_m=distance_m, tree=tree, **changes)
    return judge_pair(SMALL_TREE, b, REFERENCE_SITE, arrangement)
