"""Crops that begin anew each year, and the week in which they are set where none was said."""

import numpy as np
import pytest

from api.answers.candidates import candidates_answer
from api.answers.pair import pair_answer
from api.questions import CandidatesQuestion, Leaving, Page, PairQuestion, SettingAsked, SiteAsked
from kb.mixture.answers.pair import judge_pair
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from kb.mixture.weeks.as_grown import growth_by_week, leaf_by_week
from kb.mixture.weeks.set_along import set_in, week_along
from kb.mixture.weeks.year_crop import as_year_crop, of_one_year, renewed
from tests.mixture.base import base, shipped

GUINEA = Site(latitude=7.0, last_frost_day=None, first_frost_day=None, wet_months=(4, 5, 6, 7, 8, 9, 10))
"""One rainy season from April to October."""
WET = Site(latitude=2.0, last_frost_day=None, first_frost_day=None)
"""Rain in every month."""


@pytest.mark.parametrize(
    ("name", "anew"),
    [
        ("cassava", True),
        ("sugarcane", True),
        ("banana", False),
        ("pineapple", False),
        ("ginger", False),
        ("asparagus", False),
        ("maize", False),
        ("apple", False),
    ],
)
def test_which_lasting_crops_begin_anew(name: str, anew: bool) -> None:
    """Cassava is lifted and cane cut to the stubble about every year (FAO-56, table 11: 210 to 420 days).

    A banana mat keeps its followers and pineapples stand for two years and more (common practice).
    """
    assert anew == renewed(shipped(name))


@pytest.mark.parametrize(("name", "days"), [("cassava", (60, 120)), ("sugarcane", (95, 180))])
def test_its_leaf_grows_from_nothing_to_full_cover(name: str, days: tuple[float, float]) -> None:
    """Allen et al. 1998, FAO-56, table 11: first two stages of cassava 60 days, of cane 95 to 180.

    Cassava is open to weeds for three to four months (IITA Research Guide 60).
    """
    leaf = leaf_by_week(shipped(name), GUINEA)
    start = int(np.flatnonzero((leaf > 0) & (np.roll(leaf, 1) == 0))[0])
    since_set = np.roll(leaf, -start)

    assert 12 == start
    assert days[0] <= 7 * np.argmax(since_set > 0.95 * leaf.max()) <= days[1]


@pytest.mark.parametrize(("crop", "company"), [("cassava", "cowpea"), ("sugarcane", "soybean")])
def test_a_quick_crop_is_off_before_the_slow_one_closes(crop: str, company: str) -> None:
    """Legumes of up to 90 days do in cassava (Mutsaers et al. 1993, Field Crops Res. 34: 431-457).

    Soybean in cane is common practice.
    """
    said = judge_pair(
        shipped(crop),
        shipped(company),
        GUINEA,
        Arrangement(setting="bed", share_a=0.7, share_b=0.5, sow_week_b=14),
    )

    assert said.verdict in {"good", "workable"}


def test_cane_can_be_planted_in_a_named_week() -> None:
    """Cane has its months of planting (spring and autumn cane: handbooks of cane)."""
    cane = shipped("sugarcane")

    assert of_one_year(cane)
    assert 0.0 == growth_by_week(as_year_crop(cane), GUINEA, sow_week=40)[38]


def test_rain_all_year_plants_a_bed_together() -> None:
    """Any week is as good as another there, so two of a bed are planted together (`season`)."""
    maize = shipped("maize")

    assert 20 == week_along(maize, (None, 20), WET)
    assert week_along(maize, (None, 20), GUINEA) is None
    assert week_along(maize, (None, None), WET) is None
    assert week_along(shipped("banana"), (None, 20), WET) is None


def test_what_begins_anew_is_set_with_its_company() -> None:
    """The rains name no week for cassava; trials set it with the legume (Mason et al. 1986: same day)."""
    cassava = shipped("cassava")

    assert 17 == week_along(cassava, (None, 17), GUINEA)
    assert week_along(cassava, (None, 17), REFERENCE_SITE) is None


@pytest.mark.parametrize("site", [GUINEA, Site(latitude=-9.0, last_frost_day=None, first_frost_day=None)])
def test_a_list_sets_it_in_the_same_week(site: Site) -> None:
    """Set in week 30 it grows the same whether the week is named for it or moved into its season."""
    crop = shipped("cassava")

    expected = growth_by_week(as_year_crop(crop), site, sow_week=30)
    actual = growth_by_week(set_in(crop, 30, site), site)

    assert expected == pytest.approx(actual, abs=1e-9)


def test_list_and_pair_say_the_same_of_cassava() -> None:
    """One question, two forms: the losses of a list's entry are those of the pair."""
    place, setting = SiteAsked(site=GUINEA), SettingAsked(sow_week_a=17, share_a=0.5, share_b=0.8)
    pair = pair_answer(base(), PairQuestion("cowpea", "cassava", place, setting))
    listed = candidates_answer(
        base(), CandidatesQuestion("cowpea", place, setting, Leaving(group=("tropical-crop",)), Page(200))
    )
    entry = next(one for one in listed["candidates"] if one["b"] == "manihot-esculenta")

    assert pair["loss"] == entry["loss"]
    assert 17 == pair["question"]["sow_week_b"]
    assert any("set along with its company, in week 17" in note for note in pair["notes"])
