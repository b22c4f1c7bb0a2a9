"""Promises of what fits under a tree: rings, sides, years, and when a plant stops fitting."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture.answers.pair import judge, prepare, prepare_tree
from kb.mixture.bodies.growth import tree_from_measure
from kb.mixture.ground.roots import root_radius, sideways_draw
from kb.mixture.judging.crowd import crowd_at
from kb.mixture.lists.screening import Ground, least_under, stress_under
from kb.mixture.lists.under import RINGS, SIDES, RingAnswer, plants_under
from kb.mixture.season import activity_by_week
from kb.mixture.sharing.place import place_in_ring
from kb.mixture.site import REFERENCE_SITE, Site, Tree
from kb.repository import open_repository
from tests.mixture.judged import under
from tests.mixture.profiles import (
    BULB,
    CLIMBER,
    COVER,
    SMALL_TREE,
    SMALL_TREE_HERE,
    SPRING_BULB,
    TALL_GRASS,
    TAPROOT,
    about,
    chosen,
    lasting,
    season,
    woody,
)

SUN_LOVER = lasting(
    "sunlover",
    light_to_survive=about(0.3),
    light_to_crop_zero=about(0.3),
    light_to_crop_full=about(0.9),
    activity=season(16, 22, 36, 42),
)
VINE = woody("vine", "climber-woody", 9.0, support_mode=chosen("twiner"), reach_m=about(9))
OTHERS = (SPRING_BULB, TAPROOT, BULB, TALL_GRASS, COVER, SUN_LOVER)


def answers(
    tree: Tree = SMALL_TREE_HERE, site: Site = REFERENCE_SITE, **options: object
) -> tuple[RingAnswer, ...]:
    return plants_under(SMALL_TREE, tree, OTHERS, site, **options)  # type: ignore[arg-type]


def one(found: tuple[RingAnswer, ...], ring: str, side: str, year: int = 0) -> RingAnswer:
    return next(a for a in found if (a.ring, a.side, a.year) == (ring, side, year))


def test_every_year_ring_and_side_is_answered_in_order() -> None:
    """One answer each, years first, then rings from the trunk outwards, then sides."""
    found = answers(years=(0, 5), draws=4)

    expected = [(year, ring.name, side) for year in (0, 5) for ring in RINGS for side in SIDES]
    assert expected == [(a.year, a.ring, a.side) for a in found]
    assert all(a.total == len(OTHERS) for a in found)


def test_rings_are_of_the_crown_and_meet() -> None:
    """Inner 0.1-0.5, mid to 0.9, edge to 1.2, outside to 2 crown radii, without a gap."""
    rings = answers(sides=("N",), draws=0)
    edges = [(a.from_m, a.to_m) for a in rings]

    assert [pytest.approx(x * 2.25) for x in (0.1, 0.5, 0.9, 1.2)] == [from_m for from_m, _ in edges]
    assert [to_m for _, to_m in edges[:-1]] == [from_m for from_m, _ in edges[1:]]


def test_root_draw_falls_outwards_and_is_the_mean_of_the_curve() -> None:
    """The tree's draw of a ring lies between those at its edges, and less is drawn farther out."""
    rings = answers(sides=("N",), draws=0)
    radius = root_radius(SMALL_TREE_HERE)
    for ring in rings[1:]:
        assert sideways_draw(ring.to_m / radius) <= ring.root_draw <= sideways_draw(ring.from_m / radius)
    assert sorted((ring.root_draw for ring in rings), reverse=True) == [ring.root_draw for ring in rings]


def test_the_shaded_side_turns_with_the_hemisphere() -> None:
    """North of the tree is darker in the north, south of it in the south."""
    southern = Site(latitude=-45, last_frost_day=312.5, first_frost_day=105.5)
    north, south = answers(draws=0), answers(site=southern, draws=0)

    assert sum(one(north, "mid", "N").light) < sum(one(north, "mid", "S").light)
    assert sum(one(south, "mid", "N").light) > sum(one(south, "mid", "S").light)
    assert all(len(a.light) == 12 and all(0 < share <= 1 for share in a.light) for a in north)


def test_a_sun_lover_is_ranked_lower_in_the_shade() -> None:
    """What needs light is worse off near the trunk than outside; a spring bulb is good in both."""
    found = answers()
    scores = {
        ring: {row.b: row.score.likely for row, _ in one(found, ring, "N").plants}
        for ring in ("inner", "outside")
    }

    assert scores["inner"]["sunlover"] < scores["outside"]["sunlover"] - 20
    assert scores["inner"]["springbulb"] >= 60
    assert one(found, "inner", "N").plants[0][0].b == "springbulb"


def test_light_that_does_not_keep_a_plant_crops_nothing_either() -> None:
    """Survival light on record and crop light not: the stand-in for no crop is at least the first.

    A plant of full sun (survives from 0.4 of open light) is then no better off for our not knowing
    what it crops in, nor for a trial that says the light of a full crop alone; where both are on record
    they stand as they are.
    """
    full = replace(about(0.75), low=0.65, high=0.85)
    recorded = replace(SUN_LOVER, light_to_survive=about(0.4), light_to_crop_zero=about(0.1))
    recorded = replace(recorded, light_to_crop_full=full)
    blind = replace(recorded, light_to_crop_full=replace(full, origin="assumed", records=()))

    trial_alone = replace(recorded, light_to_crop_zero=replace(about(0.1), origin="assumed", records=()))

    lost = [under(plant, 1.2).loss["sunlover"].light for plant in (recorded, blind, trial_alone)]
    like_it = under(replace(recorded, light_to_crop_zero=about(0.4)), 1.2).loss["sunlover"].light

    assert lost[0] + 0.1 < lost[1]
    assert lost[1] == pytest.approx(like_it)
    assert lost[2] == pytest.approx(like_it)


def test_rows_are_ranked_and_no_more_than_asked_for() -> None:
    """Avoid last; at most ``limit`` rows a place, though all plants were screened."""
    found = answers(limit=3)

    assert all(len(a.plants) == 3 for a in found)
    for a in answers():
        avoided = [row.verdict == "avoid" for row, _ in a.plants]
        assert sorted(avoided) == avoided


def test_the_best_of_a_place_are_not_lost_by_screening() -> None:
    """The few rows asked for are the top of the full list."""
    few, all_of_them = answers(limit=2), answers(limit=len(OTHERS))
    for a in few:
        full = one(all_of_them, a.ring, a.side)
        assert [row.b for row, _ in a.plants] == [row.b for row, _ in full.plants[:2]]


def test_screening_reckons_as_the_full_answer_does() -> None:
    """Many plants at once under a tree: the same stress as each judged alone in the same layers."""
    leaf = activity_by_week(SMALL_TREE.leaf, REFERENCE_SITE)
    place = place_in_ring(
        REFERENCE_SITE, SMALL_TREE_HERE, leaf, from_m=1.0, to_m=2.2, given=frozenset({"mown"}), side="E"
    )
    tree = prepare_tree(SMALL_TREE, SMALL_TREE_HERE, REFERENCE_SITE, place.given, draws=2)
    plants = (*OTHERS, CLIMBER, VINE, replace(COVER, id="smalltree.twin"))
    crowd = crowd_at(REFERENCE_SITE, place.coarse.open, plants)

    stress = stress_under(tree.rows, crowd, place, Ground(tree.rows, crowd, place, tree.age_years))

    for plant, screened in zip(plants, stress, strict=True):
        judged = judge(tree, prepare(plant, place, draws=2), place)
        expected = 0.5 if judged.kin.kinship == "species" else judged.coarse
        assert expected == pytest.approx(screened, abs=1e-9), plant.id


@pytest.mark.parametrize("count", [1, 3, 8, 2000])
def test_the_least_are_found_without_looking_everything_up(count: int) -> None:
    """The same plants in the same order as when all that a tree forbids every plant has been looked up."""
    snapshot = open_repository().snapshot()
    profile = snapshot.profile("juglans-nigra")
    others = [other for other in snapshot.profiles() if other.id != profile.id]
    tree = Tree(12.0, 5.0, 3.0, 2.5)
    leaf = activity_by_week(profile.leaf, REFERENCE_SITE)
    place = place_in_ring(
        REFERENCE_SITE, tree, leaf, from_m=2.0, to_m=4.0, given=frozenset({"mown"}), side="N"
    )
    subject = prepare_tree(profile, tree, REFERENCE_SITE, place.given, draws=2)
    crowd = crowd_at(REFERENCE_SITE, place.coarse.open, others)
    told = (subject.rows, crowd, place)

    least = least_under(*told, Ground(*told, subject.age_years, snapshot.enemy_book), count)

    stress = stress_under(*told, Ground(*told, subject.age_years, snapshot.enemy_book))
    assert least == np.argsort(stress, kind="stable")[:count].tolist()


def test_a_young_tree_pushes_a_sun_lover_out_as_it_grows() -> None:
    """A place outside a small crown turns dark in time: the year it stops fitting is given."""
    forest = woody(
        "forest", height_m=16.0, crown_width_m=about(13), leaf_area_index=about(4.5), spread=chosen("clump")
    )
    young, _ = tree_from_measure(forest, age_years=6)
    found = plants_under(forest, young, (SUN_LOVER, SPRING_BULB), REFERENCE_SITE, sides=("N",))
    stops = {row.b: stop for row, stop in one(found, "outside", "N").plants}
    words = {row.b: row.verdict for row, _ in one(found, "outside", "N").plants}

    assert words["sunlover"] in {"good", "workable"}
    stop = stops["sunlover"]
    assert stop is not None
    assert 1 <= stop <= 30
    assert stops["springbulb"] is None or stops["springbulb"] > stop


def test_what_does_not_fit_now_has_stopped_this_year() -> None:
    """A plant that is poor or to avoid where it is shown carries that year; others do not."""
    grown = replace(SMALL_TREE_HERE, planted_years=60)
    for a in answers(grown):
        for row, stop in a.plants:
            assert (stop == a.year) == (row.verdict in {"poor", "avoid"})


def test_years_ahead_are_of_the_grown_tree() -> None:
    """In a later year the ring is of the crown as it will be, and the ground under it darker."""
    young, _ = tree_from_measure(SMALL_TREE, age_years=2)
    found = answers(young, years=(0, 10), sides=("N",), draws=0)

    assert one(found, "mid", "N", 10).to_m > one(found, "mid", "N").to_m
    assert one(found, "inner", "N", 10).light[6] < one(found, "inner", "N").light[6]


def test_no_plants_still_light_and_draw() -> None:
    """With nothing to plant, light and root draw are answered all the same."""
    found = plants_under(SMALL_TREE, SMALL_TREE_HERE, (), REFERENCE_SITE, sides=("E",))

    assert [a.plants for a in found] == [()] * len(RINGS)
    assert all(a.root_draw > 0 for a in found)
