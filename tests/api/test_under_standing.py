"""How plants stand under a tree where little was said: every default made visible (`interface`)."""

from dataclasses import replace
from math import pi

import pytest

from api.answers.standing import stand
from api.questions import SettingAsked, TreeAsked
from kb.errors import BadParameter
from kb.mixture.bodies.trained import on_its_frame
from kb.mixture.sharing.place import AT_TRUNK_M
from tests.mixture.profiles import COVER, SMALL_TREE, about, chosen, lasting

CLINGER = replace(COVER, support_mode=chosen("root-clinger"), sole_spacing_m=about(1.5))
HERE = TreeAsked(height_m=4.5, crown_radius_m=2.0, crown_base_m=1.0, leaf_area_index=2.5)
UNDER = SettingAsked(setting="under", tree=HERE)


def test_a_root_clinger_stands_at_the_trunk_with_the_ground_of_one_plant() -> None:
    """Common practice: one pepper vine at the foot of its post, not a ring planted all round."""
    standing = stand(SMALL_TREE, CLINGER, UNDER, parameter="a")

    assert standing.arrangement.at_trunk
    assert not standing.at_edge
    assert standing.arrangement.distance_m == AT_TRUNK_M
    assert standing.arrangement.share_b == pytest.approx(1.5**2 / (pi * 2.0**2))
    assert any("climbs the trunk by its roots" in note for note in standing.notes)


def test_a_distance_that_is_said_holds_for_a_clinger_too() -> None:
    """What the asker says is never changed (`interface`)."""
    standing = stand(SMALL_TREE, CLINGER, replace(UNDER, distance_m=1.5), parameter="a")

    assert not standing.arrangement.at_trunk
    assert (standing.arrangement.distance_m, standing.arrangement.share_b) == (1.5, None)


def test_only_the_crown_edge_that_stands_in_is_compared_with_the_ground_nearer_the_trunk() -> None:
    """`trade` J1: distance matters; where it was said, that distance alone is answered."""
    assert stand(SMALL_TREE, COVER, UNDER, parameter="a").at_edge
    assert not stand(SMALL_TREE, COVER, replace(UNDER, distance_m=2.0), parameter="a").at_edge
    closed = replace(UNDER, tree=replace(HERE, stand="closed"))
    assert not stand(SMALL_TREE, COVER, closed, parameter="a").at_edge


VINE = on_its_frame(lasting("vine", growth_form=chosen("climber-woody"), height_m=about(8.0)))


def test_a_vine_on_its_frame_stands_in_a_row() -> None:
    """Common practice: vineyards are rows of wire; what is taken for granted is said."""
    standing = stand(VINE, COVER, SettingAsked(setting="under"), parameter="a")

    assert standing.understood["tree"]["stand"] == "row"
    assert standing.understood["tree"]["height_m"] == pytest.approx(2.0, abs=0.1)
    assert any("trained on a frame" in note for note in standing.notes)


def test_how_a_vine_is_said_to_stand_holds() -> None:
    """What the asker says is never changed (`interface`)."""
    asked = SettingAsked(setting="under", tree=TreeAsked(height_m=2.5, stand="lone"))
    tree = stand(VINE, COVER, asked, parameter="a").understood["tree"]

    assert (tree["stand"], tree["height_m"]) == ("lone", 2.5)


def test_a_tree_of_which_nothing_is_said_stands_alone() -> None:
    """`trade` section 0, point 6: an isolated tree is no wood; the usual garden tree stands alone."""
    assert (
        stand(SMALL_TREE, COVER, SettingAsked(setting="under"), parameter="a").understood["tree"]["stand"]
        == "lone"
    )


def test_nothing_is_planted_under_a_herb() -> None:
    """A herb has no trunk: the question is refused and says what would do."""
    with pytest.raises(BadParameter, match="no tree or shrub"):
        stand(COVER, SMALL_TREE, SettingAsked(setting="under"), parameter="a")
