"""Lasting crops in their first years beside a living carpet."""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import about, chosen, lasting
from tests.mixture.real import shipped

CROP = lasting("crown", height_m=about(1.2), spread=chosen("clump"))
CARPET = lasting("carpet", height_m=about(0.2), spread=chosen("runs"), nitrogen_fixing=chosen("yes"))


def asked(
    a: str, b: str, age: float | None, *given: str, shares: tuple[float, float] = (0.7, 0.6)
) -> PairAnswer:
    """Two plants of the shipped base in a bed, the first set so many years ago."""
    profiles, book = shipped()
    found = {profile.id: profile for profile in profiles}
    bed = Arrangement("bed", share_a=shares[0], share_b=shares[1], age_a_years=age, given=frozenset(given))
    return judge_pair(found[a], found[b], REFERENCE_SITE, bed, draws=0, book=book)


@pytest.mark.parametrize("carpet", ["trifolium-repens", "lolium-perenne"])
def test_young_asparagus_in_a_living_carpet(carpet: str) -> None:
    """Fern growth was halved in the first year and a quarter down in the second.

    University of Wisconsin trial from 1990 (abstract; HortScience 27(6): 570, 1992): half is poor in the
    bands of the verdict, three quarters workable. Nothing is said against a grown bed.
    """
    first, second, grown = (asked("asparagus-officinalis", carpet, age) for age in (1.0, 2.0, None))

    assert "poor" == first.verdict
    assert second.verdict in {"workable", "poor"}
    assert ["mown"] == [c.given for c in first.conditions if "third year" in c.text]
    assert not [c for c in grown.conditions if "third year" in c.text]


def test_mowing_makes_it_workable_and_the_reason_is_said() -> None:
    """A carpet that is mown short takes less (the trial's mulches were left to grow; judgement)."""
    mown = asked("asparagus-officinalis", "trifolium-repens", 1.0, "mown")

    assert "workable" == mown.verdict
    assert "set not long ago" in asked("asparagus-officinalis", "trifolium-repens", 1.0).saying


@pytest.mark.parametrize(
    "cover",
    [
        replace(CARPET, spread=chosen("clump")),
        replace(CARPET, life_cycle=chosen("annual")),
        replace(CARPET, height_m=about(1.5), spread=chosen("clump")),
        replace(CARPET, nitrogen_fixing=chosen("no")),
    ],
    ids=["keeps its place", "an annual", "as tall", "set as a crop"],
)
def test_other_neighbours_are_no_carpet(cover) -> None:
    """Lettuce or strawberries between young crowns are usual (common practice): a sown sward counts."""
    bed = Arrangement("bed", share_a=0.5, share_b=0.5, age_a_years=1.0)
    answer = judge_pair(CROP, cover, REFERENCE_SITE, bed, draws=0)

    assert not [c for c in answer.conditions if "third year" in c.text]


@pytest.mark.parametrize("given", [(), ("mown",)])
def test_cabbage_in_a_sod_of_ryegrass_bears_less_mown_or_not(given: tuple[str, ...]) -> None:
    """Heads were lighter than on bare ground whatever held the grass down.

    Rinehold 1987, thesis, Oregon State University, abstract.
    """
    found = asked("brassica-oleracea.capitata-group", "lolium-perenne", None, *given, shares=(0.5, 0.5))

    assert "workable" == found.verdict
    assert any("living sod" in reason.text for reason in found.reasons)


def test_pepper_between_mown_grass_is_not_good() -> None:
    """Mown living mulches cost pepper 41 to 54 % in one of two years: not good.

    Frontiers in Sustainable Food Systems 2024, 10.3389/fsufs.2024.1276415, abstract.
    """
    assert "good" != asked("capsicum-annuum", "festuca-rubra", None, "mown").verdict


@pytest.mark.parametrize(
    ("crop", "cover"),
    [("hordeum-vulgare", "lolium-perenne"), ("trifolium-incarnatum", "lolium-perenne")],
)
def test_undersown_cereals_and_leys_are_no_crop_in_a_sod(crop: str, cover: str) -> None:
    """Grass is sown beneath standing cereals, and with clover as a ley (common practice)."""
    assert "living sod" not in asked(crop, cover, None).saying
