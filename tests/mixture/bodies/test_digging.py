"""Roots that are dug beside others: what it cuts, and how much care lifts it; all plants invented."""

from dataclasses import replace

import pytest

from kb.mixture.profile import Estimate
from tests.mixture.meetings import DUG, LOW, bed, condition, under
from tests.mixture.profiles import (
    SMALL_TREE,
    about,
    chosen,
    invented,
    lasting,
    season,
)


def test_digging_through_a_shallow_root_net_is_not_lifted_by_care() -> None:
    """Under a shallow tree a dug crop is to avoid; the way out is distance, said in metres."""
    shallow = replace(SMALL_TREE, root_d50_m=about(0.2), root_d95_m=about(0.9))
    near, far = under(shallow, DUG, 1.8, "careful-lifting"), under(shallow, DUG, 5.0)

    assert near.verdict == "avoid"
    assert condition(near, "digging").given is None
    assert "m or more from the trunk" in condition(near, "digging").text
    assert far.verdict in {"good", "workable"}


def test_depths_are_said_in_centimetres_a_spade_knows() -> None:
    """Depths are said to the nearest 5 cm, very shallow ones to the nearest 1, never as 0."""
    skin = replace(LOW, root_d50_m=about(0.004), root_d95_m=about(0.02))
    shallow = replace(LOW, root_d50_m=about(0.118), root_d95_m=about(0.4))

    for neighbour, half in ((skin, "above 1 cm"), (shallow, "above 10 cm")):
        limiting = bed(DUG, neighbour).limiting
        assert limiting is not None
        assert "Digging 30 cm deep" in limiting.text
        assert half in limiting.text


def test_no_root_is_dug_in_a_mown_ley() -> None:
    """Chicory is sown in mown leys of grass and clover for its leaf (Moloney et al. 2020: mixture 2).

    A crop of one season is dug all the same.
    """
    root, grass = lasting("root", dug_depth_m=about(0.2)), lasting("grass", growth_form=chosen("graminoid"))
    mown = bed(root, grass, "mown", "fed").verdict  # unfed the grass takes its nitrogen

    assert ("avoid", "good") == (bed(root, grass).verdict, mown)
    assert any(found.kind == "digging" for found in bed(DUG, grass, "mown").conditions)


def test_digging_beside_deep_roots_is_no_conflict() -> None:
    """A neighbour with most of its roots below the spade keeps its feeders out of its way."""
    deep = replace(SMALL_TREE, root_d50_m=about(0.8), root_d95_m=about(2.0))

    assert all(condition.kind != "digging" for condition in under(deep, DUG, 1.8).conditions)


@pytest.mark.parametrize(
    ("d50_m", "ceiling"), [(0.25, "avoid"), (0.3, "avoid"), (0.35, "poor"), (0.45, "poor")]
)
def test_deep_digging_cuts_many_roots_of_what_roots_a_little_deeper(d50_m: float, ceiling: str) -> None:
    """Deep tillage takes many feeder roots of peaches (Texas Peach Handbook, chapter 8).

    Beyond the limit of `trade` 4.12 it is poor, and none where the ground is dug no deeper than that.
    """
    tree = replace(SMALL_TREE, root_d50_m=about(d50_m), root_d95_m=about(4.5 * d50_m))
    near, far = under(tree, DUG, 1.8), under(tree, DUG, 6.0)
    lightly = replace(DUG, dug_depth_m=replace(DUG.dug_depth_m, low=0.13, likely=0.16, high=0.19))
    text = next(found.text for found in near.reasons if found.kind == "digging")

    assert ceiling == near.verdict
    assert ("half of them lie above" if ceiling == "avoid" else "% of them lie no deeper") in text
    assert all(found.kind != "digging" for found in far.conditions)
    assert ("poor" == ceiling) == all(
        found.kind != "digging" for found in under(tree, lightly, 1.8).conditions
    )


def test_a_herb_that_roots_deep_comes_again_from_below() -> None:
    """Comfrey dug past grows again from what is left of its roots (common practice)."""
    herb = lasting("herb", root_d50_m=about(0.4), root_d95_m=about(1.8))

    assert all(found.kind != "digging" for found in bed(DUG, herb).conditions)


def test_digging_at_the_thin_edge_of_a_tree_asks_for_care() -> None:
    """Between root draws of 0.25 and 0.10, care lifts it."""
    shallow = replace(SMALL_TREE, root_d50_m=about(0.2), root_d95_m=about(0.9))
    edge = under(shallow, DUG, 3.0)

    assert edge.verdict == "workable"
    assert condition(edge, "digging").given == "careful-lifting"


def test_digging_among_herbs_is_lifted_by_care_to_workable() -> None:
    """In a bed with a shallow lasting herb, careful lifting makes it workable, no better."""
    shallow = replace(LOW, root_d50_m=about(0.1), root_d95_m=about(0.4))

    assert (bed(DUG, shallow).verdict, bed(DUG, shallow, "careful-lifting").verdict) == ("avoid", "workable")


def test_a_crown_is_spared_the_spade_though_its_roots_go_deep() -> None:
    """No yearly digging in a standing asparagus bed (common practice); a rootstock that runs comes again."""
    deep = lasting("crown", root_d50_m=about(0.4), root_d95_m=about(1.6), travels_by=chosen("rhizome"))
    runs = replace(deep, spread=chosen("runs"))

    assert (bed(DUG, deep).verdict, bed(DUG, deep, "careful-lifting").verdict) == ("avoid", "workable")
    limiting = bed(DUG, deep).limiting
    assert limiting is not None
    assert ("digging", True) == (limiting.kind, "comes to the crown of crown" in limiting.text)
    assert all(found.kind != "digging" for found in bed(DUG, runs).conditions)


def test_what_is_dug_up_each_year_itself_loses_nothing_to_digging_beside_it() -> None:
    """Two tubers lifted every autumn: care not to move each other, no lasting harm (common practice)."""
    shallow = replace(LOW, root_d50_m=about(0.1), root_d95_m=about(0.4))
    lifted = replace(shallow, dug_depth_m=Estimate(0.25, 0.3, 0.35, "cited", ("record:low.harvest",)))
    guessed = replace(lifted, dug_depth_m=Estimate(0.25, 0.3, 0.35, "form"))

    assert (bed(DUG, lifted).verdict, bed(DUG, guessed).verdict) == ("good", "avoid")


def test_a_harvest_that_stands_in_says_so() -> None:
    """A tuber that no source tells of cuts as others do: to be checked, and no proof (`trade` 4.13, 4.14)."""
    shallow = replace(LOW, root_d50_m=about(0.1), root_d95_m=about(0.4))
    tuber = replace(DUG, dug_depth_m=Estimate(0.1, 0.2, 0.3, "form"))
    answer = bed(tuber, shallow)

    assert ("poor", "unsure") == (answer.verdict, answer.sureness.word)
    assert "20 cm deep (a usual depth) for the tubers or roots of dug" in answer.saying
    assert any(found.text.startswith("check first") for found in answer.conditions)


def test_a_tuber_is_taken_to_be_lifted_when_it_has_stopped_growing() -> None:
    """Who still grows the week after is moved; who stops with it is not (common practice: tops die first)."""
    tuber = replace(DUG, dug_depth_m=Estimate(0.1, 0.2, 0.3, "form"))
    ends = DUG.activity.end
    with_it = invented("with-it", activity=season(16, 24, ends - 3, ends))
    later = invented("later", activity=season(16, 24, ends + 4, ends + 8))

    assert not any(found.kind == "digging" for found in bed(tuber, with_it).conditions)
    care = condition(bed(tuber, later), "digging")
    assert "good" == care.verdict_if_met


def test_two_annuals_are_lifted_with_ordinary_care() -> None:
    """An annual dug beside a growing annual reads good, given care; careless it would be workable."""
    later = invented("later", activity=season(16, 24, 40, 46))
    answer = bed(DUG, later)
    care = condition(answer, "digging")

    assert answer.verdict == "good"
    assert (care.met, care.verdict_if_met, care.verdict_if_unmet) == (None, "good", "workable")
    assert "given that dug is lifted without moving later" in answer.saying
