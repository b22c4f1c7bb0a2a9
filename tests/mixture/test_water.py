"""How scarce water is through the year."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.mixture import water
from kb.mixture.season import MONTH_WEIGHTS
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.water import scarcity_by_week


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
    """No summer and winter there: within 0.05 all year."""
    scarcity = scarcity_by_week(replace(REFERENCE_SITE, latitude=0.0))

    assert 0.05 > np.ptp(scarcity)


def test_the_water_in_the_soil_has_come_round_after_the_years_reckoned(monkeypatch):
    """Another year would change nothing: in the shallowest and the deepest soil, wet and dry."""
    sites = [(latitude, depth, 5.0) for latitude in (0.0, 38.0, 51.0, 65.0) for depth in (0.1, 0.6, 1.2)]
    usual = [water._scarcity.__wrapped__(*site) for site in sites]

    monkeypatch.setattr(water, "YEARS_TO_REPEAT", water.YEARS_TO_REPEAT + 3)

    for before, site in zip(usual, sites, strict=True):
        np.testing.assert_allclose(before, water._scarcity.__wrapped__(*site), atol=1e-3)


def test_the_answer_may_be_changed_by_whoever_asked():
    """It is the caller's own array: writing in it does not reach the next answer."""
    first = scarcity_by_week(REFERENCE_SITE)
    first[:] = 0

    assert 0 < scarcity_by_week(REFERENCE_SITE).min()
