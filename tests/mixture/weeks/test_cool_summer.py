"""Annual crops of the tropics where summers are cool; warmth by the climate of `climate`, limit by Köppen."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.follow.follow_season import Season
from kb.mixture.limits import Limit
from kb.mixture.season import reference_frost_days
from kb.mixture.site import Arrangement, Site
from kb.mixture.weeks.as_grown import growth_by_week
from kb.mixture.weeks.climate import weekly_warmth
from kb.mixture.weeks.cool_summer import TROPICAL_C, cool_summer, lost_to_cool
from tests.mixture.base import shipped


def at(latitude: float) -> Site:
    """The frosts of the reference climate, moved to this latitude."""
    last, first = reference_frost_days(latitude)
    return Site(latitude=latitude, last_frost_day=last, first_frost_day=first)


def held(name: str, latitude: float) -> Limit | None:
    site = at(latitude)
    return cool_summer(shipped(name), growth_by_week(shipped(name), site), site)


@pytest.mark.parametrize("name", ["okra", "sweet potato", "pigeon pea", "cotton", "cassava", "rice"])
def test_no_crop_of_the_tropics_is_good_in_a_cool_oceanic_summer(name: str) -> None:
    """At 51 degrees N they are crops of glass or of warmer countries (common practice in Britain)."""
    limit = held(name, 51.0)

    assert limit is not None
    assert ("poor", "season", True) == (limit.ceiling, limit.kind, limit.thin)
    assert "no week" in limit.text


@pytest.mark.parametrize("name", ["aubergine", "watermelon"])
def test_crops_of_hot_summers_are_held_as_well(name: str) -> None:
    """Of the hottest class of Knott's table (65 to 95 F, page 45 of the reprint); under glass in Britain.

    At 33 degrees N summers are hot enough. Tomatoes are of the class below and not asked.
    """
    limit = held(name, 51.0)

    assert limit is not None
    assert ("poor", True) == (limit.ceiling, limit.thin)
    assert "wants hot summers" in limit.text
    assert limit.records
    assert held(name, 33.0) is None
    assert held("tomato", 51.0) is None


@pytest.mark.parametrize("name", ["sesame", "sorghum", "grain amaranth", "prince's feather"])
def test_crops_of_no_temperate_climate_are_slow_in_a_cool_summer(name: str) -> None:
    """FAO ECOCROP lists them for the tropics, subtropics and dry lands, and best from 19 to 22 degrees C on.

    Sorghum and sesame are grown in the south of France and in Hungary (agricultural statistics, from memory).
    """
    cool, warmer = held(name, 51.0), held(name, 38.0)

    assert cool is not None
    assert ("poor", True) == (cool.ceiling, cool.thin)
    assert "no temperate climate is on record" in cool.text
    assert cool.records
    assert warmer is None or warmer.ceiling == "workable"


def test_what_has_been_grown_in_a_cool_summer_is_not_asked() -> None:
    """Soya ripened at Wye in Kent from sowings of April and May (Farmers Weekly on Wye College's trials).

    Maize, beans and squashes are listed for temperate oceanic climates (FAO ECOCROP).
    """
    assert [] == [name for name in ("soybean", "maize", "common bean", "winter squash") if held(name, 51.0)]


@pytest.mark.parametrize(("warmth", "lost"), [(24.0, 0.0), (20.0, 0.0), (15.0, 0.5), (10.0, 1.0), (5.0, 1.0)])
def test_cool_weeks_cost_a_straight_share(warmth: float, lost: float) -> None:
    """The lower limb of the EcoCrop model (Ramirez-Villegas et al. 2013), by hand: sesame, 10 and 20 °C."""
    assert lost_to_cool(shipped("sesame"), np.array([warmth])) == pytest.approx(lost)


@pytest.mark.parametrize("latitude", [51.0, -51.0, 45.0, -45.0, 38.0])
def test_the_share_of_warm_weeks_decides(latitude: float) -> None:
    """18 degrees C is the coolest month of a tropical climate (Peel et al. 2007, table 1); south as north."""
    okra, site = shipped("okra"), at(latitude)
    grows = growth_by_week(okra, site) > 0
    share = float((weekly_warmth(latitude)[grows] >= TROPICAL_C).mean())
    limit = held("okra", latitude)
    expected = "poor" if share < 0.2 else "workable" if share < 0.5 else None

    assert expected == (None if limit is None else limit.ceiling)


@pytest.mark.parametrize(
    ("name", "latitude"),
    [("okra", 33.0), ("okra", 10.0), ("courgette", 51.0), ("maize", 51.0), ("ginger", 51.0)],
)
def test_what_it_does_not_ask(name: str, latitude: float) -> None:
    """Hot summers, the tropics themselves, tender crops of other lands, and lasting ones (their winters)."""
    assert held(name, latitude) is None


def test_pair_and_follow_on_are_held_alike() -> None:
    """The same crop at the same place, beside another and after one."""
    site = Site(latitude=51.0)
    beside = judge_pair(shipped("lettuce"), shipped("okra"), site, Arrangement())
    after = Season.of(shipped("okra"), site, 0.0, 0.0).limits(None)

    assert "poor" == beside.verdict
    assert ["poor"] == [limit.ceiling for limit in after]
    assert any("crop of the tropics" in reason.text for reason in beside.reasons)


def test_melon_ripens_outdoors_from_the_south_of_france_on() -> None:
    """Of 720 degree days above 12.8 °C (cantaloupe in Arizona) a summer at 51 degrees N has less than half.

    It does not succeed perfectly in the open air beyond the 43rd parallel (English Cyclopaedia, Melon); in
    Britain it is a crop of glass and frames (common practice). An inland summer ripens it at 46.
    """
    limit = held("melon", 51.0)

    assert limit is not None
    assert ("poor", True) == (limit.ceiling, limit.thin)
    assert "about 50 % of the warmth" in limit.text
    assert ["workable", "workable"] == [
        one.ceiling for one in (held("melon", 49.0), held("melon", 47.0)) if one
    ]
    assert held("melon", 43.0) is None
    inland = replace(Site(latitude=46.0), last_frost_day=125.0, first_frost_day=280.0, winter_min_c=-28.0)
    assert cool_summer(shipped("melon"), growth_by_week(shipped("melon"), inland), inland) is None
