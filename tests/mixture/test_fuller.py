"""At which shares, nearer to two full stands, the word of a pair is lower."""

from dataclasses import replace

from kb.mixture.fuller import changes_at
from kb.mixture.pair import judge_pair
from kb.mixture.results import ORDER
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}


def test_fuller_stands_of_maize_and_sweet_potato_lose_more() -> None:
    """A third of the tubers are lost where both stand full (sweet potato intercropping trials)."""
    a, b, book = PLANTS["zea-mays"], PLANTS["ipomoea-batatas"], shipped()[1]
    half = judge_pair(a, b, REFERENCE_SITE, Arrangement(), draws=0, book=book)
    found = changes_at(a, b, REFERENCE_SITE, Arrangement(), half.verdict, book)

    assert found is not None
    share, word = found
    there = replace(Arrangement(), share_a=share, share_b=share)
    assert word == judge_pair(a, b, REFERENCE_SITE, there, draws=0, book=book).verdict
    assert ORDER.index(word) < ORDER.index(half.verdict)


def test_like_with_like_has_no_fuller_stand() -> None:
    """One kind has no shares to tell apart (design of mixture trials)."""
    maize = PLANTS["zea-mays"]

    assert changes_at(maize, maize, REFERENCE_SITE, Arrangement(), "like", None) is None
