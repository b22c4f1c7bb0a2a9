"""Heaths beside plants of garden ground: who shares a soil with them, and what is told where they hardly do.

Outside sources: Fitter & Peat 1994 (Ecological Flora of the British Isles): lingonberry on soils of pH 3.9 to
5.3; Cornell University, forest farming: 4 to 4.9, at most 6; Washington State University: heaths 4 to 5.
"""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}


def with_apple(heath: str, soil_ph: float | None = None) -> PairAnswer:
    bed = Arrangement(share_a=0.5, share_b=0.5)
    site = replace(REFERENCE_SITE, soil_ph=soil_ph)
    return judge_pair(PLANTS["malus-domestica"], PLANTS[heath], site, bed, book=shipped()[1], draws=0)


def test_lingonberry_bears_little_more_than_the_soils_it_is_found_on() -> None:
    """Found up to 5.3 and grown up to 6 at most; a map of North America said 4.5 to 6 alone before."""
    assert 5.3 <= PLANTS["vaccinium-vitis-idaea"].soil_ph.high <= 6.0


def test_where_ranges_barely_meet_the_span_is_a_condition() -> None:
    """Apple from 5.5 on (`trade` appendix B): they meet below 6, which ground has to be kept in."""
    told = [c.text for c in with_apple("vaccinium-vitis-idaea").conditions if "pH of 5.5 to" in c.text]

    assert 1 == len(told)
    assert not [c for c in with_apple("vaccinium-vitis-idaea", 5.6).conditions if "pH of" in c.text]


@pytest.mark.parametrize("heath", ["vaccinium-angustifolium", "vaccinium-ovatum", "vaccinium-corymbosum"])
def test_blueberries_share_no_soil_with_apples(heath: str) -> None:
    """4 to 5 against 5.5 and more; lowbush blueberry stood on the usual garden range."""
    assert with_apple(heath).verdict in {"poor", "avoid"}
    assert any("separate bed" in condition.text for condition in with_apple(heath).conditions)
