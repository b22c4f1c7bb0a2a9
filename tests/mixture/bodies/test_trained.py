"""Climbers that others stand under: on their frame, as vineyards and pergolas are."""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.trained import FRAME_M, on_its_frame
from kb.mixture.site import REFERENCE_SITE, Arrangement, Tree
from tests.mixture.profiles import CLIMBER, COVER, SMALL_TREE, about, chosen, lasting

VINE = lasting(
    "vine",
    growth_form=chosen("climber-woody"),
    support_mode=chosen("tendril"),
    height_m=about(8.0),
    reach_m=about(8.0),
    crown_width_m=about(4.0),
)


def test_a_vine_is_as_high_as_its_frame_and_climbs_no_further():
    """Common practice: a long vine is kept low on wires, bare below; the metres are judgement."""
    framed = on_its_frame(VINE)

    assert framed.height_m.likely == FRAME_M[1]
    assert framed.crown_width_m.likely <= framed.height_m.likely
    assert 0.5 <= framed.crown_base_m.likely <= 1.0
    assert (framed.support_mode.value, framed.reach_m) == ("none", None)
    assert not framed.height_m.known


def test_the_height_of_the_managed_crop_comes_first():
    """FAO-56 table 12 has grapes and kiwi as high as they are grown: a record comes before a stand-in."""
    framed = on_its_frame(replace(VINE, grown_height_m=about(1.75)))

    assert framed.height_m.likely == 1.75
    assert framed.height_m.known


@pytest.mark.parametrize("plant", [SMALL_TREE, COVER, CLIMBER])
def test_every_other_plant_stays_as_it_is(plant):
    """Trees, herbs and climbers of one season have no frame that others live under."""
    assert on_its_frame(plant) == plant


def test_the_floor_of_a_vineyard_is_no_host_and_is_not_smothered():
    """Viticulture teaching: cover between vines on wires is everyday business; water is what it costs."""
    framed = on_its_frame(VINE)
    row = Tree(2.0, 1.0, 0.8, 2.5, stand="row", planted_years=12.0)
    answer = judge_pair(
        framed, COVER, REFERENCE_SITE, Arrangement("under", tree=row, distance_m=1.0), draws=0
    )

    assert answer.verdict in {"good", "workable"}
    assert not any(condition.kind == "support" for condition in answer.conditions)
