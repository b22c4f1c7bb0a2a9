"""At which shares, nearer to two full stands, the word of a pair is lower."""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.judging.fuller import FULLER_SHARES
from kb.mixture.results import ORDER
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}


@pytest.mark.parametrize(
    ("a", "b"),
    [("zea-mays", "ipomoea-batatas"), ("daucus-carota", "allium-cepa"), ("pisum-sativum", "zea-mays")],
)
def test_the_least_fuller_share_is_that_of_asking_at_each(a: str, b: str) -> None:
    """A third of the tubers are lost where both stand full (sweet potato intercropping trials): said or not.

    The share that halving finds is the first at which the pair, asked at those shares, has a lower word.
    """
    one, other, book = PLANTS[a], PLANTS[b], shipped()[1]
    half = judge_pair(one, other, REFERENCE_SITE, Arrangement(), draws=0, book=book, fuller=True)
    words = {
        share: judge_pair(
            one,
            other,
            REFERENCE_SITE,
            replace(Arrangement(), share_a=share, share_b=share),
            draws=0,
            book=book,
        ).verdict
        for share in FULLER_SHARES
    }
    lower = [(share, word) for share, word in words.items() if ORDER.index(word) < ORDER.index(half.verdict)]

    assert half.fuller == (lower[0] if lower else None)


def test_fuller_stands_of_maize_and_sweet_potato_lose_more() -> None:
    """Full stands of both cost the tubers much (sweet potato intercropping trials)."""
    a, b, book = PLANTS["zea-mays"], PLANTS["ipomoea-batatas"], shipped()[1]

    assert judge_pair(a, b, REFERENCE_SITE, Arrangement(), draws=0, book=book, fuller=True).fuller is not None


def test_like_with_like_has_no_fuller_stand() -> None:
    """One kind has no shares to tell apart (design of mixture trials)."""
    maize = PLANTS["zea-mays"]

    assert judge_pair(maize, maize, REFERENCE_SITE, Arrangement(), draws=0, fuller=True).fuller is None
