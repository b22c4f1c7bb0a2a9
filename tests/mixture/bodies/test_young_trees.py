"""Young trees and what is grown about them in one bed."""

from dataclasses import replace

import pytest

from tests.mixture.judged import bed
from tests.mixture.profiles import about, invented, lasting, woody

FORM = {"root_d50_m": about(0.5), "root_d95_m": about(2.0)}
CACAO = woody("shade-tree", height_m=4.0, light_to_survive=about(0.05), light_to_crop_full=about(0.5), **FORM)
APPLE = replace(CACAO, id="sun-tree", light_to_survive=about(0.3), light_to_crop_full=about(0.75))
ROOT_CROP = lasting("rootcrop", height_m=about(0.3), dug_depth_m=about(0.2))
BANANA = lasting("tall-herb", height_m=about(3.0))
SWARD = lasting("sward", height_m=about(0.2))


def is_told(tree, cover) -> bool:
    """Whether the bare metre of a tree planted a year ago is held against the cover."""
    answer = bed(tree, cover, age_a_years=1.0)
    return any(condition.given == "mulch" for condition in answer.conditions)


@pytest.mark.parametrize("nurse", [invented("maizelike"), ROOT_CROP, BANANA], ids=lambda plant: plant.id)
def test_food_crops_are_the_nurse_of_young_trees_of_the_shade(nurse):
    """Cacao is started among food crops and bananas (cacao growing handbooks); an apple is not.

    `computation-notes` 3 keeps the metre about a young orchard tree bare.
    """
    assert not is_told(CACAO, nurse)
    assert is_told(APPLE, nurse)


def test_a_lasting_sward_is_no_nurse():
    """Low grass under a young tree takes its water and gives no shade (cacao growing handbooks)."""
    assert is_told(CACAO, SWARD)


def test_light_that_stands_in_makes_no_tree_of_the_shade():
    """Not knowing is no good news (`trade` 4.14)."""
    assert is_told(replace(CACAO, light_to_crop_full=about(0.5, "form")), ROOT_CROP)
