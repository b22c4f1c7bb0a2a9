"""The word beneath other trees, compiled: the plain way of a place and its plants is the reference."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture import kernels
from kb.mixture.answers.pair import found_under, prepare, prepare_tree
from kb.mixture.answers.reasons import limiting
from kb.mixture.bodies.growth import tree_at
from kb.mixture.judging.other_trees import COMPILED, felt_beneath, findings_of, judged_beneath
from kb.mixture.sharing.felt import feel, feel_light, feel_roots, rows_of, spot_of_two
from kb.mixture.sharing.place import open_soil, place_for
from kb.mixture.sharing.standing_tree import as_it_stands, as_standing, root_size
from kb.mixture.sharing.subject import prepare_likely
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site, Stand, Tree
from tests.mixture.profiles import BULB, COVER, SMALL_TREE, SPRING_BULB, TALL_GRASS, TAPROOT, about

PLANTS = (TAPROOT, BULB, SPRING_BULB, COVER, TALL_GRASS)
SHADE_LOVER = replace(TAPROOT, id="shadelover", light_to_crop_zero=about(0.05), light_to_crop_full=about(0.2))
SOUTHERN = Site(
    latitude=-38.0, last_frost_day=260.0, first_frost_day=157.0, soil_depth_m=0.5, soil_texture="sand"
)
SITES = (REFERENCE_SITE, SOUTHERN, Site(latitude=5.0))


@pytest.fixture(autouse=True)
def _warmed(monkeypatch: pytest.MonkeyPatch) -> None:
    """As a service."""
    monkeypatch.setattr(kernels, "_READY", {})
    kernels.warm(*kernels.SERVED)


@pytest.mark.parametrize("site", SITES)
@pytest.mark.parametrize("stand", ["lone", "row", "closed"])
@pytest.mark.parametrize("given", [frozenset(), frozenset({"irrigated"})])
def test_what_is_felt_there_is_that_of_the_plain_way(
    site: Site, stand: Stand, given: frozenset[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Trees of many ages, near the trunk and beyond the crown: losses, dark weeks and the word."""
    asked = 0
    trees = [replace(tree_at(SMALL_TREE, age), stand=stand) for age in (2.0, 7.3, 25.0)]
    elsewhere = [
        (tree, distance) for tree in trees for distance in (0.4, tree.crown_radius_m, 3 * tree.crown_radius_m)
    ]
    for plant in (*PLANTS, SHADE_LOVER):
        second = prepare_likely(plant, site, given, sow_week=None, age_years=None)
        where = Arrangement("under", given=given)
        judged = judged_beneath(SMALL_TREE, second, site, where, elsewhere, None)
        for (tree, distance), beneath in zip(elsewhere, judged, strict=True):
            if beneath is None:
                continue
            here = replace(where, tree=tree, distance_m=distance, age_a_years=tree.planted_years)
            told = findings_of(beneath, SMALL_TREE, second, site, where, (tree, distance))
            with monkeypatch.context() as plainly:
                plainly.setattr(kernels, "_READY", {})
                found = found_under(SMALL_TREE, tree, second, site, here, None)
            for name in ("water", "nitrate", "roots", "relief", "unmet"):
                plain, fast = (getattr(one.felt.by_roots, name) for one in (found, told))
                assert plain == pytest.approx(fast, abs=1e-12)
            assert found.felt.light == pytest.approx(told.felt.light, abs=1e-12)
            assert found.felt.by_light.dark == pytest.approx(told.felt.by_light.dark, abs=1e-12)
            assert found.place.fine.here.water == pytest.approx(told.place.fine.here.water, abs=1e-12)
            assert (found.verdict, found.limits) == (told.verdict, told.limits)
            assert limiting(found) == limiting(told)
            asked += 1

    assert asked > 20


@pytest.mark.parametrize(
    "other",
    [
        Arrangement("under", side="N"),
        Arrangement("under", given=frozenset({"fed"})),
        Arrangement("under", at_trunk=True),
    ],
)
def test_what_it_does_not_reckon_is_left_to_the_plain_way(other: Arrangement) -> None:
    """A ring that is seen from one side, fed ground, the foot of the trunk; and where nothing is compiled."""
    tree = tree_at(SMALL_TREE, 7.0)
    asked, there = Arrangement("under"), [(tree, 1.5)]
    second = prepare_likely(TAPROOT, REFERENCE_SITE, frozenset(), sow_week=None, age_years=None)

    assert felt_beneath(SMALL_TREE, second, REFERENCE_SITE, asked, there) != [None]
    assert felt_beneath(SMALL_TREE, second, REFERENCE_SITE, other, there) == [None]
    kernels._READY.pop(COMPILED)
    assert felt_beneath(SMALL_TREE, second, REFERENCE_SITE, asked, there) == [None]


def test_both_ways_feel_the_same_beneath_a_tree(monkeypatch: pytest.MonkeyPatch) -> None:
    """With all their draws: a young tree and a grown one, and plants that reach into the crown."""
    for age, plant in ((3.0, TALL_GRASS), (3.0, TAPROOT), (30.0, COVER), (30.0, SPRING_BULB)):
        tree: Tree = tree_at(SMALL_TREE, age)
        here = Arrangement("under", tree=tree, distance_m=tree.crown_radius_m, age_a_years=age)
        place = place_for(SMALL_TREE, REFERENCE_SITE, here)
        first = prepare_tree(SMALL_TREE, tree, REFERENCE_SITE, frozenset()).rows
        second = prepare(plant, place).rows
        rows = rows_of(60, again=[not p.root_d95_m.known for p in (SMALL_TREE, plant)])
        spot = spot_of_two(place)
        fast = feel((first, second), rows, spot, place.coarse)
        with monkeypatch.context() as plainly:
            plainly.setattr(kernels, "_READY", {})
            roots = feel_roots(first, second, rows, place, place.coarse)
            light = feel_light(first, second, rows, place)

        for name in ("water", "nitrate", "roots", "relief", "unmet"):
            assert getattr(roots, name) == pytest.approx(getattr(fast.by_roots, name), abs=1e-12)
        assert light.loss == pytest.approx(fast.by_light.loss, abs=1e-12)
        assert light.dark == pytest.approx(fast.by_light.dark, abs=1e-12)
        assert np.isfinite(light.loss).all()


@pytest.mark.parametrize("soil_depth_m", [0.4, 1.1, 3.0])
def test_both_ways_a_tree_of_some_size_is_the_same(
    soil_depth_m: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its depths, outline, leaf and roots, and what a stand of it gets, with all their draws."""
    site = Site(soil_depth_m=soil_depth_m)
    tree = tree_at(SMALL_TREE, 6.0)
    standing, size = as_it_stands(SMALL_TREE, tree), root_size(SMALL_TREE, tree)
    for draws, fine in ((0, True), (60, False)):
        supply = open_soil(site, fine=fine, given=frozenset())
        fast = as_standing(standing, SMALL_TREE, site, supply, draws=draws, root_size=size)
        with monkeypatch.context() as plainly:
            plainly.setattr(kernels, "_READY", {})
            plain = as_standing(standing, SMALL_TREE, site, supply, draws=draws, root_size=size)
        for name in ("d50", "height", "base", "leaf_area", "roots", "sole_water", "sole_nitrate"):
            assert getattr(plain, name) == pytest.approx(getattr(fast, name), abs=1e-12)
        assert fast.roots.sum(axis=1) == pytest.approx(1.0)
