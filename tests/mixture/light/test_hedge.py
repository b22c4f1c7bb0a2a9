"""Light and company in a row of hedge."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.answers.judgement import judge_planting
from kb.mixture.answers.pair import judge_pair
from kb.mixture.judging.planting import Planting
from kb.mixture.light.hedge_light import CLOTHED_M, OWN_LENGTH_M, ROW_WIDTH_M, hedge_light, sky_of
from kb.mixture.profile import Choice, Profile
from kb.mixture.season import FloatArray
from kb.mixture.sharing.felt import light_left, rows_of, spot_of_two
from kb.mixture.sharing.place import cut_to, place_for
from kb.mixture.sharing.subject import prepare
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.base import shipped
from tests.mixture.planted import together
from tests.mixture.profiles import about, chosen, invented, lasting

WEEKS = 2
MIDSUMMER = 26
HALVES = Arrangement("hedge", share_a=0.5, share_b=0.5)
LOW = lasting("low-shrub", growth_form=chosen("shrub"), height_m=about(1.0), crown_width_m=about(1.0))
SAPLING = lasting("sapling", growth_form=chosen("tree"), height_m=about(18.0), crown_width_m=about(10.0))
TALL = lasting("tall-shrub", growth_form=chosen("shrub"), height_m=about(5.0), crown_width_m=about(3.0))


def light(*plants: tuple[float, float, float], shares: tuple[float, ...], fine: bool = False) -> list[float]:
    """Relative light of plants told by leaf area index, base and height, m."""
    leaf = np.array([[[index] * WEEKS for index, _, _ in plants]])
    bases, heights = (np.array([[plant[part] for plant in plants]]) for part in (1, 2))
    finer = {"sky": sky_of(20, 40), "slices": 16} if fine else {}
    found: FloatArray = hedge_light(
        leaf, heights, bases, np.full_like(heights, 0.6), np.array(shares), **finer
    )
    return [float(share) for share in found[0, :, 0]]


PLANT = st.tuples(st.floats(0, 8), st.floats(0, 1.5), st.floats(1.6, 9))
ROW = st.lists(st.tuples(PLANT, st.floats(0.05, 0.5)), min_size=2, max_size=4)


@given(row=ROW, data=st.data())
@settings(max_examples=60, deadline=None)
def test_order_and_splitting_change_nothing_and_company_never_brings_light(
    row: list[tuple[tuple[float, float, float], float]], data: st.DataObject
) -> None:
    """Light is 0 to 1, the same in any order, the same for a plant named twice, less with one more."""
    plants, shares = zip(*row, strict=True)
    found = light(*plants, shares=shares)
    order = data.draw(st.permutations(range(len(row))))
    shuffled = light(*(plants[i] for i in order), shares=tuple(shares[i] for i in order))
    first, half = plants[0], shares[0] / 2
    split = light(first, *plants, shares=(half, half, *shares[1:]))

    assert all(0 <= share <= 1 for share in found)
    assert [found[i] for i in order] == pytest.approx(shuffled, abs=1e-12)
    assert [found[0], *found] == pytest.approx(split, abs=1e-12)
    assert all(
        fewer >= more - 1e-12
        for fewer, more in zip(light(*plants[:-1], shares=shares[:-1]), found, strict=False)
    )


@given(plant=PLANT)
@settings(max_examples=30, deadline=None)
def test_a_hedge_of_one_kind_costs_nothing(plant: tuple[float, float, float]) -> None:
    """Clones that have the row among them stand as in a hedge of their own."""
    assert [1.0, 1.0] == pytest.approx(light(plant, plant, shares=(0.3, 0.7)), abs=1e-12)


def test_beside_walls_of_leaf_light_comes_by_the_faces_alone() -> None:
    """Geometry: of directions round the compass a plant sees those in which its own leaf reaches the face.

    The edge of its own length and of the row's width stand at an angle of atan(width/length) from the
    row; sparse leaf of its own lets all of the rest through.
    """
    open_part = 1 - np.arctan(ROW_WIDTH_M / OWN_LENGTH_M) / (np.pi / 2)

    sparse, wall = (0.001, 0.0, 400.0), (400000.0, 0.0, 400.0)

    assert open_part == pytest.approx(light(sparse, wall, shares=(0.5, 0.5), fine=True)[0], abs=0.02)


@given(row=ROW)
@settings(max_examples=25, deadline=None)
def test_a_finer_sky_says_nearly_the_same(row: list[tuple[tuple[float, float, float], float]]) -> None:
    """The few directions and slices that are reckoned stand for many."""
    plants, shares = zip(*row, strict=True)
    coarse, fine = (np.array(light(*plants, shares=shares, fine=grid)) for grid in (False, True))

    assert float(np.abs(coarse - fine).max()) < 0.1


def test_a_low_shrub_gets_more_light_in_a_row_than_in_a_bed() -> None:
    """Beside a tall one it loses less where the faces are open than where leaf is all round."""
    in_bed = judge_pair(LOW, TALL, REFERENCE_SITE, Arrangement("bed", share_a=0.5, share_b=0.5))
    in_row = judge_pair(LOW, TALL, REFERENCE_SITE, HALVES)

    assert 0 <= in_row.loss["low-shrub"].light < in_bed.loss["low-shrub"].light


HEDGES = ("fagus-sylvatica", "carpinus-betulus", "taxus-baccata", "crataegus-monogyna", "buxus-sempervirens")
LOWER = ("lavandula-angustifolia", "fragaria-vesca", "ribes-nigrum", "ribes-uva-crispa", "rosa-rugosa")


@pytest.mark.parametrize("low", LOWER)
@pytest.mark.parametrize("hedge", HEDGES)
def test_a_higher_hedge_never_leaves_more_light_to_who_stays_low(hedge: str, low: str) -> None:
    """Geometry: what is added above the row can only stand in the way of the sky, on shipped plants."""
    tall, short = (shipped(plant) for plant in (hedge, low))
    stays = short.height_m.likely
    got = [_light_at_the_lower(tall, short, kept) for kept in (stays + step / 4 for step in range(25))]

    assert got == sorted(got, reverse=True)
    assert got[-1] < got[0]


def test_who_stands_low_in_a_high_hedge_lives_on_what_the_faces_let_in() -> None:
    """Over a 18 cm strawberry hornbeams close the row (hedge practice: nothing low fruits in its foot).

    It keeps less than half the light of a row of its own; one as high as the hedge keeps nearly all of it.
    """
    hornbeam, strawberry = shipped("carpinus-betulus"), shipped("fragaria-vesca")

    assert _light_at_the_lower(hornbeam, strawberry, 2.0) < 0.5
    assert _light_at_the_lower(hornbeam, shipped("corylus-avellana"), 2.0) > 0.8


def _light_at_the_lower(tall: Profile, short: Profile, kept_m: float) -> float:
    """Light at midsummer of the second of two in halves of a hedge, of that in one of its own."""
    place = place_for(tall, REFERENCE_SITE, replace(HALVES, kept_m=kept_m))
    plants = [prepare(plant, place, draws=0).likely for plant in (tall, short)]
    left = light_left(plants, rows_of(0, again=[False, False]), spot_of_two(place))
    return round(float(left[1][0, MIDSUMMER]), 9)


def test_shears_make_plants_alike() -> None:
    """Kept at 1 m, the tall one takes less light than as it grows; herbs are not cut."""
    kept = judge_pair(LOW, TALL, REFERENCE_SITE, replace(HALVES, kept_m=1.0))
    free = judge_pair(LOW, TALL, REFERENCE_SITE, HALVES)
    herb = invented("tall-herb", height_m=about(3.0))

    assert kept.loss["low-shrub"].light <= free.loss["low-shrub"].light
    assert herb == cut_to(herb, 1.0)


@pytest.mark.parametrize("age", [None, 2.0, 8.0])
@pytest.mark.parametrize("plant", [LOW, TALL, SAPLING], ids=lambda plant: str(plant.id))
def test_shears_take_what_has_grown_past_them_and_no_more(plant: Profile, age: float | None) -> None:
    """A young plant past the height is as high as an old one; roots and leaf go on at their own pace.

    What may grow higher than is likely is cut too.
    """
    place, open_row = (place_for(plant, REFERENCE_SITE, replace(HALVES, kept_m=kept)) for kept in (1.2, None))
    cut, free = (prepare(plant, where, age_years=age, draws=40) for where in (place, open_row))

    for shorn, grown in ((cut.likely, free.likely), (cut.rows, free.rows)):
        assert np.minimum(grown.height, 1.2) == pytest.approx(shorn.height, abs=1e-12)
        assert (shorn.base <= CLOTHED_M).all()
        assert np.array_equal(grown.leaf_area, shorn.leaf_area)
        assert np.array_equal(grown.roots, shorn.roots)


def test_shears_keep_a_modest_climber_in_its_host() -> None:
    """Honeysuckle in clipped hazel (common practice): a vine of 6 m in a row kept at 2.5 m is carried."""
    host = lasting("hazelike", height_m=about(4.5), growth_form=chosen("shrub"))
    vine = lasting(
        "vinelike", growth_form=chosen("climber-woody"), support_mode=chosen("twiner"), reach_m=about(6.0)
    )
    kept, free = (
        judge_pair(host, vine, REFERENCE_SITE, Arrangement(setting="hedge", kept_m=height), draws=0)
        for height in (2.5, None)
    )

    assert kept.verdict in {"good", "workable"}
    assert free.verdict == "avoid"


def test_yearly_cutting_is_what_makes_a_hedge() -> None:
    """Dog rose, bramble and woodbine are parts of mixed hedges, which are cut (common practice, `trade` 5.4).

    Workable with the cutting said, kept at a height or not, low for a rose or not; uncut it is to avoid. A
    climber that overtops the row is taken as held by hard pruning alone.
    """
    host = lasting("hawthornlike", height_m=about(5.0), growth_form=chosen("shrub"))
    woodbine = lasting(
        "woodbine", growth_form=chosen("climber-woody"), support_mode=chosen("twiner"), reach_m=about(4.5)
    )
    rose = replace(woodbine, id="rose", support_mode=chosen("scrambler"), reach_m=about(3.0))
    taller = replace(woodbine, reach_m=about(6.0))
    for climber, kept in ((woodbine, None), (rose, None), (rose, 1.0)):
        row = replace(HALVES, kept_m=kept)
        answer = judge_pair(host, climber, REFERENCE_SITE, row, draws=0)
        cut = next(c for c in answer.conditions if c.kind == "support")

        assert "workable" == answer.verdict
        assert ("the hedge is cut every year", "workable", "avoid") == (
            cut.text,
            cut.verdict_if_met,
            cut.verdict_if_unmet,
        )
    assert "avoid" == judge_pair(host, taller, REFERENCE_SITE, HALVES, draws=0).verdict


def test_vigour_and_not_the_kept_height_tells_what_a_trimmed_hedge_bears() -> None:
    """Honeysuckle in a thorn hedge trimmed at 1.8 m (common practice): the shears take both.

    Ivy clings and is clipped with any hedge; roses and brambles stand on canes of their own and ask for no
    more than the hedge (New Forest National Park Authority, Native species hedge planting guide: dog rose is
    one plant in twenty of a thorn hedge). Left uncut all are to avoid.
    """
    host = lasting("hawthornlike", height_m=about(5.0), growth_form=chosen("shrub"))
    woodbine = lasting(
        "woodbine",
        growth_form=chosen("climber-woody"),
        support_mode=chosen("twiner"),
        reach_m=about(5.3),
        height_m=about(4.0),
    )
    ivy = replace(woodbine, id="ivylike", support_mode=chosen("root-clinger"), reach_m=about(20.0))
    rose = replace(
        woodbine,
        id="rose",
        support_mode=chosen("scrambler"),
        growth_form=chosen("shrub"),
    )
    row = Arrangement("hedge", share_a=0.9, share_b=0.1, kept_m=1.8)

    for climber, word in ((woodbine, "workable"), (ivy, "workable"), (rose, "good")):
        answer = judge_pair(host, climber, REFERENCE_SITE, row, draws=0)
        (cut,) = (c for c in answer.conditions if c.kind == "support")

        assert word == answer.verdict
        assert ("the hedge is cut every year", word, "avoid") == (
            cut.text,
            cut.verdict_if_met,
            cut.verdict_if_unmet,
        )


def test_shears_do_not_keep_a_rampant_climber() -> None:
    """Traveller's joy in a clipped hedge (common practice): a vine of 12 m smothers it all the same."""
    host = lasting("hawthornlike", height_m=about(5.0), growth_form=chosen("shrub"))
    vine = lasting(
        "rampant", growth_form=chosen("climber-woody"), support_mode=chosen("twiner"), reach_m=about(12.0)
    )
    kept = judge_pair(host, vine, REFERENCE_SITE, Arrangement(setting="hedge", kept_m=2.0), draws=0)

    assert kept.verdict == "avoid"


def test_suckers_in_a_hedge_ask_for_the_scythe_and_no_more() -> None:
    """In a bed a shrub that runs through its neighbour is one to avoid (common practice for hedges)."""
    runner = replace(TALL, id="runner", spread=chosen("invades"))
    in_bed, in_row, mown = (
        judge_pair(replace(LOW, height_m=about(4.0)), runner, REFERENCE_SITE, arrangement)
        for arrangement in (
            Arrangement("bed", share_a=0.5, share_b=0.5),
            HALVES,
            replace(HALVES, given=frozenset({"mown"})),
        )
    )

    assert "avoid" == in_bed.verdict
    assert "workable" == in_row.verdict
    assert [True] == [one.met for one in mown.conditions if one.given == "mown"]


def test_what_takes_the_row_is_told_by_how_it_spreads_and_not_by_its_height() -> None:
    """Blackthorn suckers into the hawthorn above it, which does not into it (hedge-laying manuals)."""
    thorn = replace(LOW, id="thorn", spread=chosen("invades"), height_m=about(2.5))
    high = replace(TALL, id="high", spread=chosen("clump"), height_m=about(6.0))
    answer = judge_pair(high, thorn, REFERENCE_SITE, HALVES, draws=0)
    back = judge_pair(replace(high, spread=chosen("invades")), thorn, REFERENCE_SITE, HALVES, draws=0)

    assert [None] == [one.met for one in answer.conditions if one.given == "mown"]
    assert not [one for one in back.conditions if one.given == "mown"]


def test_a_root_form_alone_only_asks_in_a_hedge() -> None:
    """Guelder rose with no record of spread among hawthorn: the classic mixed hedge (`trade` 5.4)."""
    guessed = replace(TALL, id="guessed", spread=Choice(None, "assumed"), root_form=chosen("suckering"))
    answer = judge_pair(LOW, guessed, REFERENCE_SITE, HALVES, draws=0)
    asked = [one.text for one in answer.conditions if "may sucker" in one.text]

    assert not [one for one in answer.conditions if one.given == "mown"]
    assert 1 == len(asked)
    assert "not on record" in asked[0]


def test_a_pair_in_a_row_is_a_planting_of_two() -> None:
    """One path: the same losses asked as a pair and as a whole planting."""
    bed = together((LOW, 0.5), (TALL, 0.5))
    whole = judge_planting(Planting(bed.members, bed.site, setting="hedge", kept_m=2.0))
    pair = judge_pair(LOW, TALL, REFERENCE_SITE, replace(HALVES, kept_m=2.0))

    for member in whole.members:
        assert pair.loss[member.plant].light == pytest.approx(member.loss.light, abs=1e-12)
        assert pair.loss[member.plant].roots == pytest.approx(member.loss.roots, abs=1e-12)
