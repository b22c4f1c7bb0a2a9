"""Kin that are mown green together: leys of several grasses and clovers, mixed green cover."""

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.relatedness import EXCEPTED, SHARED_ENEMIES
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.base import base, shipped
from tests.mixture.lists.test_foresight import held_against


def together(a: str, b: str, *given: str) -> PairAnswer:
    """Two in one bed, by likely values."""
    asked = Arrangement(share_a=0.5, share_b=0.5, given=frozenset(given))
    return judge_pair(shipped(a), shipped(b), REFERENCE_SITE, asked, book=base().enemy_book, draws=0)


@pytest.mark.parametrize(
    ("a", "b"),
    [
        ("phleum-pratense", "poa-pratensis"),
        ("trifolium-pratense", "trifolium-repens"),
        ("lolium-perenne", "dactylis-glomerata"),
        ("vicia-villosa", "trifolium-incarnatum"),
    ],
)
def test_kin_that_are_mown_green_share_little_that_counts(a: str, b: str) -> None:
    """The first two are of the trial at six northern sites, the third of that at 31.

    Sturludóttir et al. (Grass and Forage Science, abstract: positive diversity effects); Finn et al. 2013
    (Journal of Applied Ecology 50: 365-375, abstract). Hairy vetch and crimson clover are sown together, with
    a grain (Kephart, Growing crimson clover, United States Department of Agriculture).
    """
    mown, left = together(a, b, "mown"), together(a, b)

    assert mown.loss[a].enemies == mown.loss[b].enemies == pytest.approx(EXCEPTED)
    assert left.loss[a].enemies >= SHARED_ENEMIES["family"]
    assert mown.verdict == "good"


@pytest.mark.parametrize(
    ("a", "b"),
    [("pisum-sativum", "vicia-faba"), ("daucus-carota", "pastinaca-sativa"), ("zea-mays", "sorghum-bicolor")],
)
def test_crops_of_one_kin_are_no_sward(a: str, b: str) -> None:
    """What is picked, pulled or threshed is not cut green, whatever is mown beside it (`trade` 4.6)."""
    assert together(a, b, "mown").loss[a].enemies >= SHARED_ENEMIES["family"]


def test_what_is_foreseen_of_a_list_knows_swards() -> None:
    """No pair of a mown list falls below its bound (`foresight`)."""
    others = [
        shipped(name) for name in ("trifolium-repens", "vicia-villosa", "pisum-sativum", "medicago-sativa")
    ]
    standing = Arrangement(share_a=0.5, share_b=0.5, given=frozenset({"mown"}))

    slack = held_against(shipped("trifolium-pratense"), others, REFERENCE_SITE, standing, base())
    assert min(slack) >= 0.0
