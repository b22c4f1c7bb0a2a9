"""How scarce water is through the year."""

from dataclasses import replace
from typing import get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture.ground import water
from kb.mixture.ground.water import STORE_MM_PER_M, scarcity_by_week, scarcity_spread
from kb.mixture.season import MONTH_WEIGHTS
from kb.mixture.site import REFERENCE_SITE, Texture
from kb.mixture.weeks import climate


@pytest.mark.parametrize(
    ("month", "expected"),
    [(1, 0.15), (3, 0.2), (5, 0.4), (6, 0.65), (7, 0.7), (9, 0.5), (12, 0.15)],
)
def test_the_reference_site_is_near_the_design_curve(month, expected):
    """The cool oceanic curve of `trade` 4.3 (design judgement, not measured), within 0.1."""
    monthly = MONTH_WEIGHTS @ scarcity_by_week(REFERENCE_SITE)

    assert monthly[month - 1] == pytest.approx(expected, abs=0.1)


@given(st.floats(0.05, 1.1), st.floats(0.01, 1.0), st.floats(-66, 66))
@settings(max_examples=40, deadline=None)
def test_shallower_soil_is_scarcer(depth, more, latitude):
    """In no week does a shallower soil of the same place have more to give."""
    shallow = scarcity_by_week(replace(REFERENCE_SITE, latitude=latitude, soil_depth_m=depth))
    deep = scarcity_by_week(replace(REFERENCE_SITE, latitude=latitude, soil_depth_m=depth + more))

    assert np.all(shallow >= deep - 1e-9)
    assert shallow.mean() > deep.mean()


@given(st.floats(1, 11.9), st.floats(0.1, 5))
@settings(max_examples=30, deadline=None)
def test_a_drier_site_is_scarcer(moisture, less):
    """Each step down the 1-12 moisture scale makes every week scarcer or leaves it at its bound."""
    moist = scarcity_by_week(replace(REFERENCE_SITE, moisture=moisture))
    dry = scarcity_by_week(replace(REFERENCE_SITE, moisture=moisture - less))

    assert np.all(dry >= moist)
    assert dry.mean() > moist.mean()


@pytest.mark.parametrize("latitude", [-90.0, -66.5, -23.4, 0.0, 23.4, 51.0, 66.5, 70.0, 90.0])
@pytest.mark.parametrize("depth", [0.0, 0.1, 2.2])
def test_it_is_a_share_everywhere(latitude, depth):
    """Strictly between 0 and 1 from pole to pole, polar night and bare rock included."""
    scarcity = scarcity_by_week(replace(REFERENCE_SITE, latitude=latitude, soil_depth_m=depth))

    assert (52,) == scarcity.shape
    assert np.all((scarcity > 0) & (scarcity < 1))


def test_the_south_is_scarce_half_a_year_later():
    """51 S is 51 N rolled by 26 weeks, within 0.04: the sun is nearer in January, and stronger."""
    north, south = (
        scarcity_by_week(replace(REFERENCE_SITE, latitude=latitude)) for latitude in (51.0, -51.0)
    )

    np.testing.assert_allclose(np.roll(north, 26), south, atol=0.04)


def test_the_course_at_the_equator_is_even():
    """No summer and winter there: months within 0.04; weeks differ by the chance of their sampled rain."""
    scarcity = scarcity_by_week(replace(REFERENCE_SITE, latitude=0.0))

    assert 0.04 > np.ptp(MONTH_WEIGHTS @ scarcity)
    assert 0.12 > np.ptp(scarcity)


def test_the_years_do_not_depend_on_how_they_begin():
    """One year leads into each: begun half empty instead of full, the water differs hardly at all.

    By less than 1 mm of 186 in the mean of all days; a run of dry winters may carry more over.
    """
    demand = climate.daily_demand(51.0)
    rain = climate.daily_rain(51.0)[:12] * water.RAIN_TAKEN_IN
    for capacity in (15.5, 93.0, 186.0):
        begun_full = water.soil_water(demand, rain, capacity)
        begun_half = np.stack(
            [
                _run(demand, rain[n], capacity, _run(demand, rain[n - 1], capacity, capacity / 2)[-1])
                for n in range(len(rain))
            ]
        )

        assert np.abs(begun_full - begun_half).mean() < 1.0


def _run(demand, rain, capacity, held):
    """One year of the balance in plain words, from a given amount of water."""
    course = []
    for asked, fallen in zip(demand, rain, strict=True):
        held = min(held + fallen, capacity)
        held = max(0.0, held - asked * min(1.0, held / (0.5 * capacity)))
        course.append(held)
    return np.array(course)


def test_scarcity_differs_between_years():
    """A dry year out of five is scarcer in every summer week than a wet one; the mean lies between."""
    spread = scarcity_spread(REFERENCE_SITE)
    summer = slice(20, 36)

    assert np.all(spread.wet_year <= spread.dry_year)
    assert 0.15 < (spread.dry_year - spread.wet_year)[summer].mean()
    assert np.all((spread.wet_year < spread.mean)[summer])
    assert np.all((spread.mean < spread.dry_year)[summer])


@given(st.sampled_from(list(STORE_MM_PER_M)), st.sampled_from(list(STORE_MM_PER_M)), st.floats(0.05, 2.2))
@settings(max_examples=30, deadline=None)
def test_soil_that_holds_less_is_scarcer(one, other, depth):
    """The drier of two textures never lowers scarcity in any week."""
    lean, rich = sorted((one, other), key=STORE_MM_PER_M.__getitem__)
    dry, moist = (
        scarcity_by_week(replace(REFERENCE_SITE, soil_texture=texture, soil_depth_m=depth))
        for texture in (lean, rich)
    )

    assert np.all(dry >= moist - 1e-12)


def test_every_texture_class_has_a_store():
    """The 12 classes of the USDA soil survey, sand the least, silt the most (FAO-56 table 19)."""
    assert set(get_args(Texture)) == set(STORE_MM_PER_M)
    assert 12 == len(STORE_MM_PER_M)
    assert "sand" == min(STORE_MM_PER_M, key=STORE_MM_PER_M.__getitem__)
    assert "silt" == max(STORE_MM_PER_M, key=STORE_MM_PER_M.__getitem__)


def test_rain_falls_in_the_wet_months_that_are_named():
    """With rain from June to September the dry months are scarce and the wet ones are not."""
    savanna = replace(
        REFERENCE_SITE, latitude=14.0, last_frost_day=None, first_frost_day=None, wet_months=(6, 7, 8, 9)
    )
    monthly = MONTH_WEIGHTS @ scarcity_by_week(savanna)

    assert monthly[[6, 7, 8]].max() < 0.5
    assert 0.7 < monthly[[0, 1, 2, 3]].min()
    even = MONTH_WEIGHTS @ scarcity_by_week(replace(savanna, wet_months=()))
    assert np.ptp(even) < 0.2


def test_years_of_rain_spread_as_measured():
    """A hundred sampled years span nearly what 138 did at Rothamsted: 380 to 973 mm, mean 686.

    Source: the page named in `climate`; the spread of whole years was set from that range, the mean is
    its printed 685.5 mm.
    """
    years = climate._sampled_rain().sum(axis=1)

    assert years.mean() == pytest.approx(685.5, abs=0.2)
    assert 380.1 * 0.9 < years.min() < 500
    assert 880 < years.max() < 973.2 * 1.1


def test_a_month_may_be_as_dry_or_as_wet_as_on_record():
    """Octobers at Rothamsted held 1.1 (1947) to 198.7 mm (1987), the same page: sampled much alike."""
    october = climate._sampled_rain()[:, 273:304].sum(axis=1)

    assert october.min() < 30
    assert 120 < october.max() < 198.7 * 1.15


def test_the_answer_may_be_changed_by_whoever_asked():
    """It is the caller's own array: writing in it does not reach the next answer."""
    first = scarcity_by_week(REFERENCE_SITE)
    first[:] = 0

    assert 0 < scarcity_by_week(REFERENCE_SITE).min()
