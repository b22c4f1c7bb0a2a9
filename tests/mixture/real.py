"""Pairs and plantings drawn by seed from the plants of the shipped base, as they may be asked for."""

import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from kb.mixture.bodies.growth import tree_at
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.judging.planting import Member, Overhead, Planting
from kb.mixture.profile import Profile
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from kb.repository import open_repository

WORDS = ("frame", "barrier", "mown", "mulch", "irrigated", "fed", "clean-ground", "pruned", "careful-lifting")
SITES = (
    REFERENCE_SITE,
    replace(REFERENCE_SITE, moisture=3.0, soil_texture="sand", soil_depth_m=0.6),
    replace(REFERENCE_SITE, soil_ph=5.0, winter_min_c=-18.0),
)


@cache
def shipped() -> tuple[tuple[Profile, ...], EnemyBook]:
    """Every plant with a root depth, height or season on record, and the book of enemies."""
    snapshot = open_repository().snapshot()
    known = (p for p in snapshot.profiles() if p.root_d95_m.known or p.height_m.known or p.activity.known)
    return tuple(known), snapshot.enemy_book


def given_at(draw: random.Random) -> frozenset[str]:
    """Nothing in half the questions, else two words."""
    return frozenset(draw.sample(WORDS, 2)) if draw.random() < 0.5 else frozenset()


def trees() -> tuple[Profile, ...]:
    return tuple(p for p in shipped()[0] if p.growth_form.value == "tree")


def pairs(seed: int, count: int) -> Iterator[tuple[Profile, Profile, Site, Arrangement]]:
    """Pairs, two in three in a bed, the others under a tree; kin more often than chance has them."""
    draw, plants = random.Random(seed), shipped()[0]  # noqa: S311 - a sample, no secret
    for number in range(count):
        site, given = draw.choice(SITES), given_at(draw)
        b = draw.choice(plants)
        if number % 3 == 2:
            a = draw.choice(trees())
            distance_m = draw.choice([0.8, 2.0, 4.0])
            yield a, b, site, Arrangement("under", tree=tree_at(a, None), distance_m=distance_m, given=given)
            continue
        kin = [p for p in plants if p.family.value == b.family.value and p.id != b.id]
        a = draw.choice(kin) if kin and draw.random() < 0.2 else draw.choice(plants)
        shares = draw.choice([(0.5, 0.5), (0.7, 0.5), (0.2, 0.8)])
        yield a, b, site, Arrangement(share_a=shares[0], share_b=shares[1], given=given)


def plantings(seed: int, count: int) -> Iterator[Planting]:
    """Two to five kinds in a bed; every third time under a tree."""
    draw, plants = random.Random(seed), shipped()[0]  # noqa: S311 - a sample, no secret
    for number in range(count):
        kinds = draw.sample(plants, draw.randint(2, 5))
        if number % 3 == 2:
            tree = draw.choice(trees())
            members = tuple(Member(kind, 0.2, distance_m=2.0) for kind in kinds)
            overhead = Overhead(tree, tree_at(tree, None))
            yield Planting(members, draw.choice(SITES), given_at(draw), overhead)
        else:
            members = tuple(Member(kind, draw.choice([0.15, 0.3, 0.5])) for kind in kinds)
            yield Planting(members, draw.choice(SITES), given_at(draw))
