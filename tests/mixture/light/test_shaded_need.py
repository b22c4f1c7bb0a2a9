"""The need of water in shade, held to measurements of undergrowth, orchards and shade.

Before the need went with the light, a crown and a full cover beneath it asked twice what the air asks.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from kb.mixture.answers.pair import judge_pair, prepare
from kb.mixture.light.shaded_need import need_in_light
from kb.mixture.sharing.asked_beneath import water_asked
from kb.mixture.sharing.place import place_for
from kb.mixture.site import REFERENCE_SITE, Arrangement, Tree
from kb.mixture.weeks.climate import weekly_share_by_sun
from tests.mixture.judged import under
from tests.mixture.profiles import BULB, COVER, SMALL_TREE_HERE, TAPROOT, lasting
from tests.mixture.real import shipped

SUMMER = slice(23, 35)
"""June to August."""


def in_summer(light: float, latitude: float = 51.0) -> float:
    return float(need_in_light(np.full(52, light), latitude)[SUMMER].mean())


def test_undergrowth_takes_a_third_of_what_a_wood_gives_off():
    """A third on average, 30-42 % by weighing lysimeter.

    Woods with a leaf area of 2 to 3, in which undergrowth thrives: the mean of 200 papers (Balandier
    et al. 2022, Eur. J. For. Res. 141: 979-997, abstract); the lysimeter salal under
    Douglas fir (Osberg 1986, University of British Columbia, abstract). Crown and cover are taken as full
    covers, light as exp(-0.5 leaf area) (`trade` 4.4).
    """
    shares = [
        need / (1 + need) for need in (in_summer(np.exp(-0.5 * leaf), 49.5) for leaf in (2.0, 2.5, 3.0))
    ]
    assert all(0.30 <= share <= 0.42 for share in shares)
    assert 1 / 3 == pytest.approx(shares[1], abs=0.03)


def test_live_cover_of_an_orchard():
    """It needs somewhat more than it adds, since it stands in place of what bare ground loses.

    FAO-56 table 12: live cover adds 0.25 ETo to apples, cherries, pears and stone fruit (0.95 to 1.20,
    0.90 to 1.15), where a cover in the open takes 0.95 to 1.05.
    """
    cover = 1.0 * in_summer(float(np.exp(-0.5 * 2.5)))
    assert 0.25 < cover < 0.6


@pytest.mark.parametrize("latitude", [-35.0, 0.0, 44.0, 51.0, 65.0])
def test_need_goes_with_light_down_to_what_dry_air_asks(latitude):
    """Whole in full light, less with less of it, and in the dark the part of dry air (FAO-56 eq. 6)."""
    needs = [need_in_light(np.full(52, light), latitude) for light in (1.0, 0.7, 0.3, 0.0)]
    assert np.all(needs[0] == 1.0)
    assert all(np.all(more >= less) for more, less in pairwise(needs))
    assert needs[-1] == pytest.approx(1 - weekly_share_by_sun(latitude))
    assert np.all(needs[-1] >= 0)


def test_radiation_asks_most_in_summer():
    """At 51 N two thirds or more in June and July, hardly any at midwinter.

    With a wind of 2 m/s the first term of FAO-56 eq. 6 is by
    far the larger in summer (worked from its equations).
    """
    by_sun = weekly_share_by_sun(51.0)
    assert np.all(by_sun[22:30] > 0.65)
    assert by_sun[[0, 51]].max() < 0.2


def test_a_bed_asks_as_ever():
    """No crown, no shade of one: what plants ask in a bed is untouched."""
    place = place_for(TAPROOT, REFERENCE_SITE, Arrangement(share_a=0.5, share_b=0.5))
    plants = [prepare(plant, place, draws=0).likely for plant in (TAPROOT, BULB)]
    asking, alone = water_asked(plants, place)
    assert all(asked.course is plant.water_course for asked, plant in zip(asking, plants, strict=True))
    assert all(own is plant.sole_water for own, plant in zip(alone, plants, strict=True))


def test_denser_shade_leaves_a_plant_of_the_shade_less_thirsty():
    """The same roots: under the denser crown leaves need less water, and so go without less (physics)."""
    herb = lasting("shadeherb", root_d50_m=COVER.root_d50_m, root_d95_m=COVER.root_d95_m)
    thin, dense = (
        under(herb, tree=replace(SMALL_TREE_HERE, leaf_area_index=leaf)).loss[herb.id] for leaf in (0.5, 5.0)
    )
    assert dense.roots < thin.roots
    assert dense.light > thin.light


UNDERSTOREY = [
    ("corylus-avellana", Tree(4.5, 2.2, 0.4, 3.5), 1.3, "galium-odoratum"),
    ("corylus-avellana", Tree(4.5, 2.2, 0.4, 3.5), 1.3, "allium-ursinum"),
    ("fagus-sylvatica", Tree(15.0, 5.0, 3.0, 5.0), 2.5, "galium-odoratum"),
    ("quercus-robur", Tree(12.0, 5.0, 3.0, 3.0), 3.0, "fragaria-vesca"),
]


@pytest.mark.parametrize(("tree", "here", "at_m", "herb"), UNDERSTOREY)
def test_herbs_of_the_wood_do_not_die_of_thirst_under_its_trees(tree, here, at_m, herb):
    """Woodruff, ramsons and wild strawberry are the ground flora of such woods (common practice)."""
    profiles, book = shipped()
    found = {profile.id: profile for profile in profiles}
    place = Arrangement("under", tree=here, distance_m=at_m)
    answer = judge_pair(found[tree], found[herb], REFERENCE_SITE, place, draws=0, book=book)
    assert answer.loss[herb].roots < 0.25
    assert answer.verdict in {"good", "workable"}


def test_the_smaller_need_is_said():
    """Words and numbers agree: where want of water decides, it is said that the shade was counted."""
    profiles, book = shipped()
    found = {profile.id: profile for profile in profiles}
    fed = frozenset({"fed"})  # else want of nitrogen decides
    place = Arrangement("under", tree=Tree(6.0, 3.0, 1.0, 2.5), distance_m=1.5, given=fed)
    sayings = [
        judge_pair(found["malus-domestica"], found[other], REFERENCE_SITE, place, draws=0, book=book).saying
        for other in ("ribes-rubrum", "symphytum-officinale", "mentha-spicata", "rheum-rhabarbarum")
    ]
    thirsty = [text for text in sayings if "of the water" in text and "apple roots" in text]
    assert thirsty
    assert all("the smaller need in this shade is counted" in text for text in thirsty)
