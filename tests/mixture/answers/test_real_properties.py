"""Properties of the answer over plants of the shipped base (`trade` 4.16, `computation-notes` 1 and 4).

Where each row of `trade` 4.16 is tested: overlap, its symmetry and itself: `test_roots`, `test_share`
and here; swapping: `test_pair_properties`, `test_harm` and here; deeper copies, shallower soil, drier
sites, farther from the trunk, unknown depths, benefits against hard conflicts, units of length,
hemispheres: here; calendars moved alike: `test_season`; more leaf, sides of a tree: `test_light`; order
of a group: `test_planting_properties`; evidence of harm: `test_allelopathy`, `test_enemies`; degrees and
inches as they are read: tests/kb `test_units`; removing a caution: tests/kb `test_curation`.
"""

import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.growth import tree_at
from kb.mixture.ground.roots import depth_overlap, profile_by_layer
from kb.mixture.judging.planting import Member, Planting
from kb.mixture.profile import Estimate, Profile
from kb.mixture.results import ORDER, Verdict
from kb.mixture.season import activity_by_week
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from kb.mixture.stress import held_down, verdict_of, with_benefits
from kb.mixture.weeks.as_grown import growth_by_week, start_day
from kb.mixture.weeks.sowing import frost_risk
from tests.mixture.answers.test_pair_properties import cautious
from tests.mixture.planted import got
from tests.mixture.profiles import chosen
from tests.mixture.real import SITES, WORDS, shipped, trees

SOUTH = Site(latitude=-51.0, last_frost_day=130 + 182.5, first_frost_day=288 - 182.5)
"""The reference site half a year and half a world away."""


def plants() -> st.SearchStrategy[Profile]:
    """Any plant of the shipped base that has something of its size or roots on record."""
    return st.deferred(lambda: st.sampled_from(shipped()[0]))


def real_trees() -> st.SearchStrategy[Profile]:
    return st.deferred(lambda: st.sampled_from(trees()))


def profile_of(plant: Profile, soil_depth_m: float = 2.2, times: float = 1.0) -> np.ndarray:
    """Root shares by layer of 2 cm, all depths taken so many times."""
    edges = np.linspace(0, 6, 301)
    d50, d95 = plant.root_d50_m.likely * times, plant.root_d95_m.likely * times
    return profile_by_layer(d50, max(d95, 1.6 * d50), soil_depth_m=soil_depth_m, edges=edges)


@given(a=plants(), b=plants(), site=st.sampled_from(SITES), word=st.sampled_from(WORDS))
@settings(max_examples=25, deadline=None)
def test_swapping_real_plants_changes_nothing(a: Profile, b: Profile, site: Site, word: str) -> None:
    """In a bed, with named enemies: verdict, score, losses, words and conditions are those of the mirror."""
    book = shipped()[1]
    one = Arrangement(share_a=0.6, share_b=0.4, given=frozenset({word}))
    other = replace(one, share_a=0.4, share_b=0.6)
    here = judge_pair(a, b, site, one, draws=10, book=book)
    there = judge_pair(b, a, site, other, draws=10, book=book)

    assert (here.verdict, here.saying, here.conditions) == (there.verdict, there.saying, there.conditions)
    assert here.score.likely == pytest.approx(there.score.likely, abs=1e-9)
    if a.id != b.id:
        assert {key: loss.all for key, loss in here.loss.items()} == pytest.approx(
            {key: loss.all for key, loss in there.loss.items()}, abs=1e-9
        )


@given(plant=plants(), times=st.floats(1, 3), more=st.floats(1, 2))
@settings(max_examples=60, deadline=None)
def test_pushing_a_copy_deeper_never_raises_overlap(plant: Profile, times: float, more: float) -> None:
    """`trade` 4.16; in soil deeper than all of them."""
    own = profile_of(plant, soil_depth_m=6.0)
    near = depth_overlap(own, profile_of(plant, 6.0, times))
    far = depth_overlap(own, profile_of(plant, 6.0, times * more))

    assert far <= near + 1e-6


@given(a=plants(), b=plants())
@settings(max_examples=60, deadline=None)
def test_in_ever_shallower_soil_all_roots_meet(a: Profile, b: Profile) -> None:
    """Overlap goes to 1 as the depth of the soil goes to 0 (not asserted to rise at every step)."""
    assert depth_overlap(profile_of(a, 0.02), profile_of(b, 0.02)) == pytest.approx(1.0)


def test_shallower_soil_raises_overlap_on_average() -> None:
    """Mean over 300 pairs, for soils of 2.2, 1, 0.5, 0.25 and 0.1 m (`trade` 4.16)."""
    draw = random.Random(5)  # noqa: S311 - a sample, no secret
    some = [draw.sample(shipped()[0], 2) for _ in range(300)]
    means = [
        float(np.mean([depth_overlap(profile_of(a, depth), profile_of(b, depth)) for a, b in some]))
        for depth in (2.2, 1.0, 0.5, 0.25, 0.1)
    ]

    assert sorted(means) == means


@given(plant=plants(), unit=st.sampled_from([100.0, 1 / 0.0254, 1 / 0.3048]))
@settings(max_examples=30, deadline=None)
def test_root_shares_are_alike_in_any_unit_of_length(plant: Profile, unit: float) -> None:
    """Centimetres, inches or feet: the same shares of the same layers."""
    edges = np.linspace(0, 2.2, 12)
    d50, d95 = plant.root_d50_m.likely, plant.root_d95_m.likely
    metres = profile_by_layer(d50, d95, soil_depth_m=2.2, edges=edges)
    other = profile_by_layer(d50 * unit, d95 * unit, soil_depth_m=2.2 * unit, edges=edges * unit)

    np.testing.assert_allclose(metres, other, atol=1e-12)


@given(tree=real_trees(), b=plants(), near=st.floats(0.5, 3), step=st.floats(0, 3))
@settings(max_examples=25, deadline=None)
def test_farther_from_a_real_tree_its_roots_never_cost_more(
    tree: Profile, b: Profile, near: float, step: float
) -> None:
    """Beyond half a crown radius (`trade` 4.16), for any shipped tree and plant.

    Of a tree without leaf: shade lowers what a plant asks, so that okra close to a coconut loses less.
    """
    here = replace(tree_at(tree, None), leaf_area_index=0.0)
    losses = []
    for radii in (near, near + step):
        arrangement = Arrangement("under", tree=here, distance_m=radii * here.crown_radius_m)
        answer = judge_pair(tree, b, REFERENCE_SITE, arrangement, draws=0)
        losses.append(list(answer.loss.values())[-1].roots)

    assert losses[1] <= losses[0] + 1e-9


@given(
    some=st.lists(plants(), min_size=2, max_size=4, unique_by=lambda plant: plant.id),
    moisture=st.floats(2, 9),
    drier=st.floats(0, 4),
)
@settings(max_examples=25, deadline=None)
def test_drier_ground_never_raises_what_a_plant_takes(
    some: list[Profile], moisture: float, drier: float
) -> None:
    """`computation-notes` 4: uptake of water never rises as the supply falls, layer by layer."""
    members = tuple(Member(plant, 1 / len(some)) for plant in some)
    wet = Planting(members, replace(REFERENCE_SITE, moisture=moisture))
    dry = replace(wet, site=replace(REFERENCE_SITE, moisture=max(1.0, moisture - drier)))

    assert np.all(got(dry)[0].taken <= got(wet)[0].taken * (1 + 1e-9) + 1e-12)


def unknown(depth: Estimate) -> Estimate:
    """The same likely value, as if it stood in for a missing record of the form."""
    return replace(depth, origin="form", records=())


@given(a=plants(), b=plants())
@settings(max_examples=25, deadline=None)
def test_not_knowing_a_real_root_depth_betters_no_word_and_no_rank(a: Profile, b: Profile) -> None:
    """Take the root record away and keep its value: no better word; the score that ranks gains under 1.5."""
    assume(a.id != b.id and a.root_d95_m.known)
    blind = replace(a, root_d95_m=unknown(a.root_d95_m), root_d50_m=unknown(a.root_d50_m))
    halves = Arrangement(share_a=0.5, share_b=0.5)

    with_it, without = (judge_pair(plant, b, REFERENCE_SITE, halves, draws=0) for plant in (a, blind))
    if with_it.verdict != "like":
        assert ORDER.index(without.verdict) <= ORDER.index(with_it.verdict)
    assert cautious(blind, b, REFERENCE_SITE, halves) < cautious(a, b, REFERENCE_SITE, halves) + 1.5


@given(felt=st.floats(0, 1), benefit=st.floats(0, 5), ceiling=st.sampled_from(["avoid", "poor", "workable"]))
def test_no_benefit_lifts_a_limit(felt: float, benefit: float, ceiling: Verdict) -> None:
    """Whatever they bring each other, K' stays in the band of its ceiling or worse."""
    eased = with_benefits(np.array([felt]), np.array([benefit]))

    assert ORDER.index(verdict_of(float(held_down(eased, ceiling)[0]))) <= ORDER.index(ceiling)


@given(a=plants(), b=plants(), site=st.sampled_from(SITES))
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_a_real_hard_conflict_outlasts_a_gift_of_nitrogen(a: Profile, b: Profile, site: Site) -> None:
    """What is to avoid with a plant stays to avoid if that plant fixed nitrogen for the other."""
    halves, book = Arrangement(share_a=0.5, share_b=0.5), shipped()[1]
    before = judge_pair(a, b, site, halves, draws=0, book=book)
    hard = before.verdict == "avoid" and before.limiting is not None
    assume(hard and before.limiting is not None and before.limiting.kind not in {"roots", "light"})
    giver = replace(b, nitrogen_fixing=chosen("yes", "record:b.nitrogen-fixation"))

    assert "avoid" == judge_pair(a, giver, site, halves, draws=0, book=book).verdict


@given(a=plants(), b=plants())
@settings(max_examples=25, deadline=None)
def test_the_south_judges_real_pairs_as_the_north_does(a: Profile, b: Profile) -> None:
    """The same climate half a year later: each plant loses as much, to the rounding of days to weeks."""
    halves = Arrangement(share_a=0.5, share_b=0.5)
    north, south = (judge_pair(a, b, site, halves, draws=0) for site in (REFERENCE_SITE, SOUTH))

    for one, other in zip(north.loss.values(), south.loss.values(), strict=True):
        assert one.roots == pytest.approx(other.roots, abs=0.03)
        assert one.light == pytest.approx(other.light, abs=0.03)


def tender_annuals() -> st.SearchStrategy[Profile]:
    """Plants of the shipped base that are sown each year and that frost kills."""
    return st.deferred(
        lambda: st.sampled_from([p for p in shipped()[0] if p.annual and p.tender.value == "yes"])
    )


@given(plant=tender_annuals(), last=st.floats(90, 160), spread=st.floats(3, 15))
@settings(max_examples=60, deadline=None)
def test_no_tender_annual_starts_into_the_frosts(plant: Profile, last: float, spread: float) -> None:
    """`trade` 5.3, 5.4 (the average frost date is no safe date): at most one year in five, by whole weeks."""
    site = replace(REFERENCE_SITE, last_frost_day=last, frost_sd_days=spread)
    usual = growth_by_week(plant, site)

    risk = frost_risk(usual, site, sown_day=start_day(plant, site))
    assert risk is not None
    assert risk.spring <= 0.2
    risk = frost_risk(growth_by_week(plant, REFERENCE_SITE), REFERENCE_SITE)
    assert risk is not None
    assert risk.spring <= 0.2


@given(plant=tender_annuals())
@settings(max_examples=40, deadline=None)
def test_the_south_sows_real_tender_crops_half_a_year_on(plant: Profile) -> None:
    """By symmetry; and where no frost comes, in the weeks of their windows."""
    free = replace(REFERENCE_SITE, last_frost_day=None, first_frost_day=None)

    north, south = (growth_by_week(plant, site) for site in (REFERENCE_SITE, SOUTH))
    np.testing.assert_allclose(np.roll(north, 26), south, atol=1e-9)
    np.testing.assert_array_equal(activity_by_week(plant.activity, free), growth_by_week(plant, free))
