"""Length of roots on record, and what stands in for it, held to studies that measured several plants alike.

`Capri et al. 2023` is a comparative study of fifteen cover crops for orchard floors (Scientific Reports 13,
10.1038/s41598-023-27915-7, table 2): root length density of the upper 10 cm, cm/cm3.
"""

from statistics import fmean, median

import pytest

from kb.mixture.ground.roots import GRASS_ROOTS, STANDS_IN_TIMES, USUAL_ROOTS_KM_M2, root_length
from tests.mixture.base import base, shipped

GRASSES = (59.0, 30.3, 53.7, 52.5, 33.0)
OTHERS = (2.4, 7.4, 13.6, 2.8, 29.7, 16.1, 7.4, 9.8, 26.9, 10.4)


def on_record(*, grass: bool) -> list[float]:
    """Kilometres a square metre of the species on record, those of one parent once."""
    found = {
        plant.root_length_km_m2.records: plant.root_length_km_m2.likely
        for plant in base().profiles()
        if plant.root_length_km_m2 is not None and grass is (plant.growth_form.value == "graminoid")
    }
    return list(found.values())


def test_the_stand_ins_are_the_middles_of_the_crops_on_record() -> None:
    """Fourteen crops of the field (the records name the studies): cereals and millets against the others."""
    herbs, grasses = on_record(grass=False), on_record(grass=True)

    assert 6 <= len(grasses)
    assert 8 <= len(herbs)
    assert median(herbs) == pytest.approx(USUAL_ROOTS_KM_M2, rel=0.1)
    assert median(grasses) / median(herbs) == pytest.approx(GRASS_ROOTS, rel=0.2)


@pytest.mark.parametrize("grass", [True, False])
def test_most_crops_lie_within_the_doubt_of_what_stands_in(grass: bool) -> None:
    """The interval is meant to hold four in five; of so few crops two in three are asked."""
    usual = USUAL_ROOTS_KM_M2 * (GRASS_ROOTS if grass else 1.0)
    found = on_record(grass=grass)

    assert fmean(usual / STANDS_IN_TIMES <= one <= usual * STANDS_IN_TIMES for one in found) >= 2 / 3


def test_grasses_of_an_orchard_floor_have_about_so_many_times_the_roots_of_other_cover() -> None:
    """Capri et al. 2023: five grasses against six legumes and four creeping plants, 3.6 times in the mean."""
    assert fmean(GRASSES) / fmean(OTHERS) == pytest.approx(GRASS_ROOTS, rel=0.25)


def test_the_order_of_crops_is_that_of_studies_that_measured_several() -> None:
    """Wheat and maize above soya; wheat most and potato less than maize; wheat five to ten times pea.

    Brown and Biscoe 1985, Yamaguchi and Tanaka 1990, Hamblin and Tennant 1987; of potato above many other
    vegetables Stalham and Allen 2001 (abstracts).
    """
    names = ("wheat", "maize", "soybean", "potato", "pea", "tomato", "onion")
    length = {name: root_length(shipped(name)).likely for name in names}

    assert length["wheat"] > length["maize"] > length["soybean"]
    assert 1.3 < length["wheat"] / length["maize"] < 3
    assert 5 <= length["wheat"] / length["pea"] <= 10
    assert length["maize"] > length["potato"]
    assert length["potato"] > max(length["tomato"], length["onion"])


def test_a_study_with_a_wheat_of_its_own_counts_by_it() -> None:
    """Of Hokkaido 21 km/m2 of potato and 86 of wheat; elsewhere potato had 5 to 20, wheat 28."""
    potato = shipped("potato").root_length_km_m2

    assert potato is not None
    assert potato.low <= 28 * 21 / 86 <= potato.likely <= 16.9
