"""Trees on stocks without a height of their own: as high as orchard trees, not as those of the wood."""

import pytest

from kb.repository import open_repository


@pytest.mark.parametrize(
    ("tree", "lowest_m", "highest_m"),
    [
        ("prunus-avium.on-gisela-6", 3.5, 7.0),
        ("prunus-avium.on-gisela-12", 3.0, 6.5),
        ("pyrus-communis.on-ohxf-87", 4.5, 9.0),
        ("pyrus-communis.on-seedling", 7.0, 12.0),
    ],
)
def test_heights_by_vigour_are_those_of_orchards(tree: str, lowest_m: float, highest_m: float) -> None:
    """Gisela 6 makes some four fifths of Mazzard (NC-140), OHxF 87 seven eighths of a seedling (extension).

    A cherry on Mazzard is some 7.5 m, a pear on seedlings 8 to 12 m (fruit handbooks: common practice).
    """
    snapshot = open_repository().snapshot()

    assert lowest_m <= snapshot.profile(snapshot.resolve(tree)).height_m.likely <= highest_m
