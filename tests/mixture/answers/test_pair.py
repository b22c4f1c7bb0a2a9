"""Promises of the answer on two plants, all invented."""

import math
from dataclasses import asdict, replace
from typing import Any

import numpy as np
import pytest

from kb.mixture.answers.pair import judge, judge_pair, prepare, prepare_first
from kb.mixture.profile import Estimate
from kb.mixture.sharing.place import place_for
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site, Tree
from tests.mixture.judged import HALVES, bed, under
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
    invented,
    lasting,
    season,
)


def test_like_with_like_gains_and_loses_nothing() -> None:
    """Two of one plant: no band, no loss, its own words; and the losses of both can be told apart."""
    answer = bed(TAPROOT, TAPROOT)

    assert answer.verdict == "like"
    assert set(answer.loss) == {"taproot", "taproot#2"}
    assert all(loss.all == pytest.approx(0, abs=1e-9) for loss in answer.loss.values())
    assert answer.saying == "Like with like: nothing gained or lost; keep to its own spacing."
    assert answer.sharing == pytest.approx(1.0)


def test_two_forms_of_one_species_are_like_with_like() -> None:
    """A group or cultivar of a species stands with it as like with like."""
    one, other = invented("inventia-una.early-group"), invented("inventia-una.late-group")

    assert bed(one, other).verdict == "like"


def test_shares_are_never_defaulted_in_silence() -> None:
    """Without shares each gets half the ground, and the notes say so; with them they do not."""
    silent = judge_pair(TAPROOT, BULB, REFERENCE_SITE, Arrangement())

    assert any("half the ground" in note for note in silent.notes)
    assert not any("half the ground" in note for note in bed(TAPROOT, BULB).notes)
    assert silent.score == bed(TAPROOT, BULB).score


def test_one_share_leaves_the_rest_to_the_other() -> None:
    """The other share is what is left, and said; the whole ground for one leaves nothing to judge."""
    some = judge_pair(TAPROOT, BULB, REFERENCE_SITE, Arrangement(share_b=0.3))

    assert some.score == bed(TAPROOT, BULB, share_a=0.7, share_b=0.3).score
    assert any("70 %" in note for note in some.notes)
    with pytest.raises(ValueError, match="share of the other"):
        judge_pair(TAPROOT, BULB, REFERENCE_SITE, Arrangement(share_a=1.0))


@pytest.mark.parametrize("share", [0.0, -0.2, 1.5, math.nan])
def test_impossible_shares_are_refused(share: float) -> None:
    """A share of nothing, or of more than all, is no answerable question."""
    with pytest.raises(ValueError, match="ground shares"):
        bed(TAPROOT, BULB, share_a=share)
    with pytest.raises(ValueError, match="ground shares"):
        under(TAPROOT, share_b=share)


def test_more_ground_costs_the_other_more() -> None:
    """Ground shares move the verdict most: fuller ground raises the loss of both."""
    losses = [bed(TALL_GRASS, TAPROOT, share_a=share).loss["taproot"].all for share in (0.3, 0.6, 1.0)]

    assert sorted(losses) == losses
    assert losses[-1] > losses[0] + 0.1


def test_a_hard_conflict_outweighs_every_benefit() -> None:
    """A host that carries a climber and takes its nitrogen does not lift what the soils forbid."""
    fitting = replace(CLIMBER, nitrogen_demand_g_m2=about(40))
    apart = replace(fitting, soil_ph=replace(fitting.soil_ph, low=3.5, high=5.0))

    good, bad = bed(TALL_GRASS, fitting), bed(TALL_GRASS, apart)

    assert [reason.kind for reason in bad.benefits][:1] == ["support"]
    assert (good.verdict, bad.verdict) == ("good", "avoid")
    assert bad.score.high <= 40


def test_young_trees_are_kept_free_of_cover() -> None:
    """Cover within 1 m of a tree under five years is poor, unless mulched; older trees bear it."""
    young = Tree(2.0, 0.9, 0.6, 1.6, planted_years=3)
    grown = replace(SMALL_TREE_HERE, planted_years=20)

    assert under(COVER, 0.8, young).verdict == "poor"
    assert under(COVER, 0.8, young, given=frozenset({"mulch"})).verdict in {"good", "workable"}
    assert under(COVER, 1.2, grown).verdict in {"good", "workable"}
    conditions = [c for c in under(COVER, 0.8, young).conditions if c.given == "mulch"]
    assert [(c.met, c.verdict_if_unmet) for c in conditions] == [(None, "poor")]


def test_the_bare_strip_ends_where_the_plants_stand() -> None:
    """Fruit growing handbooks: a bare strip of 1 m to either side of young trees, crops in the alley beyond.

    The rule is of 1 m (`computation-notes` 3), so a plant said to stand at 1 m or more keeps it.
    """
    young = Tree(2.0, 0.9, 0.6, 1.6, planted_years=3)

    told = {at: [c.given for c in under(COVER, at, young).conditions] for at in (0.8, 1.0, 1.5)}

    assert {0.8: True, 1.0: False, 1.5: False} == {at: "mulch" in given for at, given in told.items()}


def test_what_stands_before_the_leaf_does_well_under_it() -> None:
    """A spring bulb is at home under a crown that a summer crop of the same light cannot crop in."""
    dense = Tree(14, 5, 2.5, 5.0, stand="closed")
    summer = replace(SPRING_BULB, id="summerherb", name="summerherb", activity=season(18, 24, 34, 39))

    spring, late = (
        under(SPRING_BULB, 2.5, dense),
        under(replace(summer, light_to_crop_full=about(0.6)), 2.5, dense),
    )

    assert spring.verdict == "good"
    assert late.verdict in {"poor", "avoid"}
    assert late.limiting is not None
    assert late.limiting.kind == "light"


def test_soil_depth_moves_the_answer() -> None:
    """On shallow soil two plants of different depth share more, and lose more."""
    deep, shallow = (
        bed(TAPROOT, BULB, Site(soil_depth_m=depth), share_a=0.8, share_b=0.8) for depth in (2.2, 0.2)
    )

    assert shallow.sharing > deep.sharing
    assert shallow.loss["taproot"].roots > deep.loss["taproot"].roots


def test_the_south_is_the_north_half_a_year_later() -> None:
    """With its frosts turned, a place south of the equator gives the same verdict and losses."""
    north, south = Site(latitude=45), Site(latitude=-45, last_frost_day=312.5, first_frost_day=105.5)
    one, other = bed(TALL_GRASS, TAPROOT, north), bed(TALL_GRASS, TAPROOT, south)

    assert one.verdict == other.verdict
    for plant, loss in one.loss.items():
        assert asdict(loss) == pytest.approx(asdict(other.loss[plant]), abs=0.02)


def test_frosts_move_the_answer() -> None:
    """A crop that the place's frosts leave no season is one to avoid, and the answer says why."""
    arctic = Site(latitude=66, last_frost_day=170, first_frost_day=175)
    tender = invented("tender", activity=season(21, 28, 36, 41), tender=chosen("yes"))

    answer = bed(tender, replace(TAPROOT, activity=season(10, 15, 40, 45, end_driver="fixed")), arctic)

    assert answer.verdict == "avoid"
    assert answer.limiting is not None
    assert (answer.limiting.kind, answer.limiting.of) == ("season", "tender")


def test_water_given_is_water_not_fought_for() -> None:
    """Irrigation eases what a tree's roots cost a plant beneath it."""
    dry, watered = under(COVER), under(COVER, given=frozenset({"irrigated"}))

    assert watered.loss["cover"].roots < dry.loss["cover"].roots


def test_a_family_of_unknown_name_counts_as_the_same() -> None:
    """Not knowing a family gives no better answer than the same family."""
    one = invented("one", family=chosen("Oneaceae"))
    kin, stranger, unknown = (
        invented("two", family=chosen(family)) for family in ("Oneaceae", "Twoaceae", None)
    )

    assert bed(one, unknown).score.likely == bed(one, kin).score.likely
    assert bed(one, stranger).score.likely > bed(one, kin).score.likely
    assert bed(one, kin).verdict != "avoid", "family alone is no hard conflict"


def test_kinship_that_stands_in_for_diseases_is_never_sure() -> None:
    """Where a mechanism that could matter is not computed, it is named and the answer is unsure."""
    kin = bed(invented("one", family=chosen("Oneaceae")), invented("two", family=chosen("Oneaceae")))
    walnut = bed(invented("three", family=chosen("Juglandaceae")), TAPROOT)

    assert (kin.sureness.word, walnut.sureness.word) == ("unsure", "unsure")
    assert any("diseases" in note for note in kin.notes)
    assert any("harm its neighbours" in note for note in walnut.notes)
    assert bed(TAPROOT, BULB).sureness.word == "sure"


@pytest.mark.parametrize(
    ("vague", "said"),
    [
        ({"root_d95_m": about(1.1, "form"), "root_d50_m": about(0.28, "form")}, "root depth of taproot"),
        ({"activity": replace(TAPROOT.activity, origin="form", records=())}, "season of taproot"),
    ],
)
def test_nothing_is_sure_without_roots_and_season_on_record(vague: dict[str, Any], said: str) -> None:
    """However many draws agree, a stand-in for either leaves it fairly sure at best, and says so."""
    known, guessed = bed(TAPROOT, BULB), bed(replace(TAPROOT, **vague), BULB)

    assert known.sureness.word == "sure"
    assert guessed.sureness.share_of_draws >= 0.85
    assert guessed.sureness.word == "fairly sure"
    assert f"the {said} is not on record" in guessed.saying
    assert any(note.startswith("Not on record for taproot") for note in guessed.notes)


def test_a_conflict_on_a_stand_in_says_check_first_and_stays() -> None:
    """A hard conflict that rests on an unknown stays a conflict, is unsure, and says what to check."""
    sour = invented("sour", soil_ph=replace(TAPROOT.soil_ph, low=4.0, high=5.2))
    guessed = replace(TAPROOT, soil_ph=replace(TAPROOT.soil_ph, origin="assumed", records=()))
    known, unknown = bed(sour, TAPROOT), bed(sour, guessed)

    assert (known.verdict, unknown.verdict) == ("avoid", "avoid")
    assert unknown.sureness.word == "unsure"
    assert any(c.text.startswith("check first") and c.verdict_if_met != "avoid" for c in unknown.conditions)
    assert not any(c.text.startswith("check first") for c in known.conditions)


def test_a_change_in_a_record_changes_the_answer() -> None:
    """Reasons name the records they rest on, and another value there gives another answer."""
    arrangement = Arrangement(share_a=0.8, share_b=0.8)
    tap = invented("tap", root_d95_m=about(1.1, record="record:tap.effective-rooting-depth"))
    before = judge_pair(tap, BULB, REFERENCE_SITE, arrangement)
    shallow = replace(tap, root_d95_m=about(0.35), root_d50_m=about(0.1))
    after = judge_pair(shallow, BULB, REFERENCE_SITE, arrangement)

    named = {record for reason in before.reasons for record in reason.records}
    assert "record:tap.effective-rooting-depth" in named
    assert before.sharing < after.sharing
    assert before.score.likely > after.score.likely


def test_without_draws_nothing_is_sure() -> None:
    """Draws are what sureness rests on; without any, the interval is a point and the word unsure."""
    answer = judge_pair(TAPROOT, BULB, REFERENCE_SITE, HALVES, draws=0)

    assert answer.sureness.word == "unsure"
    assert answer.score.low == answer.score.likely == answer.score.high


def test_wider_doubt_widens_the_interval_and_names_the_trait() -> None:
    """The trait whose checking would change most is the one that is least known."""
    arrangement = Arrangement(share_a=0.8, share_b=0.8)
    vague = replace(
        TAPROOT, root_d50_m=about(0.28, "form", times=2.5), root_d95_m=about(1.1, "form", times=2.5)
    )
    sharp: dict[str, Any] = {
        field: Estimate(value.likely, value.likely, value.likely, "cited")
        for field in ("height_m", "leaf_area_index", "water_use", "nitrogen_demand_g_m2")
        for value in [getattr(TAPROOT, field)]
    }
    sharp |= {
        "activity": replace(TAPROOT.activity, doubt_weeks=0),
        "leaf": replace(TAPROOT.leaf, doubt_weeks=0),
    }
    settled = replace(
        BULB,
        root_d50_m=Estimate(0.10, 0.10, 0.10, "cited"),
        root_d95_m=Estimate(0.32, 0.32, 0.32, "cited"),
        **sharp,
    )
    answer = judge_pair(replace(vague, **sharp), settled, REFERENCE_SITE, arrangement)

    assert answer.sureness.deciding_trait == "effective-rooting-depth"
    assert answer.sureness.of == "taproot"
    clear = judge_pair(replace(TAPROOT, **sharp), settled, REFERENCE_SITE, arrangement)
    assert answer.score.high - answer.score.low > clear.score.high - clear.score.low


def test_the_same_question_has_the_same_answer() -> None:
    """Draws are fixed: asked twice, nothing differs."""
    assert under(COVER) == under(COVER)


def test_a_tree_is_told_what_stands_under_it_costs() -> None:
    """The tree loses by roots in proportion to what is planted over them, and not to itself."""
    far, near = under(COVER, 4.5), under(COVER, 1.2)
    bare = under(replace(COVER, water_use=about(1e-6), nitrogen_demand_g_m2=about(1e-6)), 1.2)

    assert near.loss["smalltree"].roots > far.loss["smalltree"].roots
    assert bare.loss["smalltree"].roots == pytest.approx(0, abs=1e-4)


def test_an_age_makes_a_plant_smaller() -> None:
    """A bush two years old takes less light from its neighbour than a grown one."""
    bush = lasting("bush", growth_form=chosen("shrub"), height_m=about(1.6), leaf_area_index=about(4))
    low = invented("low", height_m=about(0.3))

    grown, young = (bed(bush, low, age_a_years=age, share_a=0.7).loss["low"].light for age in (None, 1.0))

    assert young < grown


def test_a_later_sowing_moves_a_crop_out_of_the_way() -> None:
    """Sown when the other is gone, a crop shares next to nothing with it."""
    early = invented("early", activity=season(10, 14, 18, 20), leaf=season(10, 14, 18, 20))

    together, after = (bed(early, TAPROOT, sow_week_b=week).sharing for week in (10, 24))

    assert together > 0.5
    assert after == pytest.approx(0, abs=1e-9)


def test_sowing_and_age_are_asked_of_those_that_have_them() -> None:
    """A sowing week leaves a lasting plant where it is, an age an annual as large as it gets."""
    plain = bed(TAPROOT, COVER)

    assert plain.loss == bed(TAPROOT, COVER, sow_week_b=30).loss
    assert plain.loss == bed(TAPROOT, COVER, age_a_years=1.0).loss
    assert plain.loss != bed(TAPROOT, COVER, sow_week_a=30).loss


def test_fine_and_coarse_layers_agree() -> None:
    """The coarser layers of the draws give the likely score to half a point."""
    for one, other, arrangement in (
        (TAPROOT, BULB, Arrangement(share_a=0.8, share_b=0.8)),
        (SMALL_TREE, COVER, Arrangement("under", tree=SMALL_TREE_HERE, distance_m=1.2)),
    ):
        place = place_for(one, REFERENCE_SITE, arrangement)
        judged = judge(prepare_first(one, place, arrangement, draws=2), prepare(other, place, draws=2), place)
        assert 100 * judged.stress == pytest.approx(100 * judged.coarse, abs=0.5)


def test_under_a_tree_without_a_size_or_a_distance() -> None:
    """What was assumed of the tree and of the place is said."""
    answer = judge_pair(SMALL_TREE, COVER, REFERENCE_SITE, Arrangement("under"))

    assert any("size of the tree" in note for note in answer.notes)
    assert any("edge of the crown, 2.2 m" in note for note in answer.notes)
    with pytest.raises(ValueError, match="distance"):
        under(COVER, -1.0)


def test_every_row_of_draws_is_finite() -> None:
    """No draw of a vague plant turns into a number that is none."""
    vague = invented(
        "vague", root_d95_m=Estimate(0.01, 0.5, 9, "form"), leaf_area_index=Estimate(0.01, 3, 20, "form")
    )
    place = place_for(vague, REFERENCE_SITE, HALVES)
    judged = judge(prepare_first(vague, place, HALVES, draws=60), prepare(BULB, place), place)

    assert np.isfinite(judged.drawn).all()
    assert np.isfinite(judged.again).all()
    assert np.isfinite(judged.single).all()
