"""Plantings of invented plants, for tests of whole sets."""

from typing import Any

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.judging.gets import Shares, shares_of
from kb.mixture.judging.planting import Member, Overhead, Planting, stand_of
from kb.mixture.profile import Profile
from kb.mixture.results import MemberAnswer, PlantingAnswer
from kb.mixture.site import REFERENCE_SITE, Site, Tree
from tests.mixture.profiles import SMALL_TREE, SMALL_TREE_HERE

Standing = tuple[Profile, float]


def together(*standing: Standing, site: Site = REFERENCE_SITE, given: tuple[str, ...] = ()) -> Planting:
    """Plants with their ground shares in one bed."""
    members = tuple(Member(profile, share) for profile, share in standing)
    return Planting(members, site, frozenset(given))


def beneath(
    *members: Member, tree: Tree = SMALL_TREE_HERE, site: Site = REFERENCE_SITE, given: tuple[str, ...] = ()
) -> Planting:
    """Plants round the small invented tree."""
    return Planting(members, site, frozenset(given), Overhead(SMALL_TREE, tree))


def answered(*standing: Standing, **changes: Any) -> PlantingAnswer:
    return judge_planting(together(*standing, **changes))


def got(planting: Planting) -> tuple[Shares, tuple[str, ...]]:
    """What each gets, and the ids in the same order."""
    stand = stand_of(planting, draws=0)
    plants = [subject.likely for subject in stand.subjects]
    return shares_of(plants, stand.grounds), tuple(profile.id for profile in stand.profiles)


def member(answer: PlantingAnswer, plant: str) -> MemberAnswer:
    return next(one for one in answer.members if one.plant == plant)
