"""A ring beneath a tree, and the year of its site, as the loops of `compiled.beneath` take them."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from kb.mixture.ground.crown_ground import MOST_DRAW
from kb.mixture.ground.share import INTERCEPTION, IRRIGATED, IRRIGATED_SCARCITY
from kb.mixture.ground.water import store_of, weather_of
from kb.mixture.kept import KeptBy
from kb.mixture.light.near_tree import (
    CLOSED_SHARE,
    LEAF_EXTINCTION,
    MONTH_TO_WEEK,
    area_factor,
    crowns_of,
    refuse_impossible,
    ring_radii,
)
from kb.mixture.light.ring_light import seen_at
from kb.mixture.light.shaded_need import need_by_sun
from kb.mixture.profile import Activity, Profile
from kb.mixture.season import MONTH_WEIGHTS, FloatArray, activity_by_week, seasons_of
from kb.mixture.site import Site, Tree

COMPILED = "beneath"
Terms = tuple[object, ...]
KEPT = 64
_YEARS: KeptBy[Terms] = KeptBy(KEPT)
NO_WATER = 2.0
"""Stands for ground that nobody waters: no week is so scarce."""


def ring_terms(tree: Tree, ring_m: tuple[float, float], draw: float, *, beneath: bool) -> Terms:
    """The ring and its crowns, and what the tree draws there; ``beneath`` its crown or beyond."""
    refuse_impossible(tree)
    closed = CLOSED_SHARE if tree.stand == "closed" else 0.0
    return (
        (ring_radii(*ring_m), crowns_of(tree)),
        (float(tree.leaf_area_index), closed, LEAF_EXTINCTION),
        (float(draw), bool(beneath), MOST_DRAW, INTERCEPTION),
    )


def rings_terms(
    trees: Sequence[Tree],
    rings_m: Sequence[tuple[float, float]],
    draws: Sequence[float],
    beneath: Sequence[bool],
) -> Terms:
    """The same of several rings (n,), each round a tree of its own, all of one kind and stand."""
    for tree in trees:
        refuse_impossible(tree)
    closed = CLOSED_SHARE if trees[0].stand == "closed" else 0.0
    return (
        (np.array([ring_radii(*ring) for ring in rings_m]), np.array([crowns_of(tree) for tree in trees])),
        (np.array([tree.leaf_area_index for tree in trees], dtype=float), closed, LEAF_EXTINCTION),
        (np.array(draws), np.array(beneath), MOST_DRAW, INTERCEPTION),
    )


def leaf_of(tree: Profile, site: Site) -> FloatArray:
    """The leaf (52,) of a tree: that of its kind, whatever its size, and so kept by that."""
    return _leaf_of(tree.leaf, seasons_of(site))


@lru_cache(maxsize=KEPT)
def _leaf_of(leaf: Activity, seasons: Site) -> FloatArray:
    return activity_by_week(leaf, seasons)


def year_terms(
    site: Site, leaf: FloatArray, scarcity: FloatArray, given: frozenset[str], *, lone: bool
) -> Terms:
    """The sky, the leaf of the tree (52,), the weather and the store of the soil.

    ``scarcity`` (52,) is that of the open ground; ``lone`` where the tree stands in no row.
    Kept by the leaf and the scarcity: the same for trees of every size.
    """
    values = (site, given, lone)
    return _YEARS.of((leaf, scarcity), values, lambda: _year_terms(site, leaf, scarcity, given, lone=lone))


def _year_terms(
    site: Site, leaf: FloatArray, scarcity: FloatArray, given: frozenset[str], *, lone: bool
) -> Terms:
    watered = IRRIGATED_SCARCITY if IRRIGATED in given else NO_WATER
    return (
        seen_at(site.latitude, None, lone=lone),
        (area_factor(MONTH_WEIGHTS @ leaf), MONTH_TO_WEEK, need_by_sun(site.latitude), np.array(leaf)),
        weather_of(site),
        (*store_of(site), scarcity, watered),
    )
