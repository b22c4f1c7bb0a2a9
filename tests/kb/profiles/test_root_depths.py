"""Half of the roots of plants of the shipped base, where studies of half and of nearly all contradict."""

import pytest

from tests.mixture.base import shipped


@pytest.mark.parametrize("name", ["common bean", "climbing bean", "dwarf bean"])
def test_a_half_that_lies_deeper_than_nearly_all_of_others_is_doubt(name: str) -> None:
    """Bean: half above .46 m (Merrill et al. 2000, abstract), nearly all above .5 to .7 m (FAO-56 table 22).

    Profiles of crops have half of their roots in the upper third (Jackson et al. 1996: beta .961 for crops,
    so half above 17 cm and 95 % above 75 cm).
    """
    bean = shipped(name)

    assert bean.root_d50_m.likely < bean.root_d95_m.likely / 3
    assert 0.4 < bean.root_d50_m.high < bean.root_d95_m.likely
    assert any("merrill2000" in record for record in bean.root_d50_m.records)
