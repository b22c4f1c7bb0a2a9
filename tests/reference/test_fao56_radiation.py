"""Radiation and day length against FAO Irrigation and Drainage Paper 56 (Allen et al. 1998).

The worked examples were read second-hand; figures of day 172 are computed from its equations
(`data.md` section 6).
"""

import numpy as np
import pytest
from pvlib import irradiance

from kb.mixture.sun import sun_position
from kb.mixture.water import (
    daylight_hours,
    extraterrestrial_radiation,
    reference_evapotranspiration,
)


@pytest.mark.parametrize(
    ("latitude", "day", "expected", "tolerance"),
    [
        (-20.0, 246, 32.2, 0.05),  # example 8, p. 80
        (50.8, 187, 41.09, 0.005),  # example 18, p. 115 (the day number from memory)
        (50.0, 172, 41.78101, 5e-6),  # computed
        (35.0, 172, 41.63115, 5e-6),  # computed
    ],
)
def test_extraterrestrial_radiation(latitude, day, expected, tolerance):
    """Ra, MJ m-2 day-1, to half the last digit printed."""
    assert float(extraterrestrial_radiation(latitude, day)) == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize(
    ("latitude", "day", "expected", "tolerance"),
    [
        (-20.0, 246, 11.7, 0.05),  # example 9, p. 83
        (50.0, 172, 16.14688, 5e-6),  # computed
        (35.0, 172, 14.35573, 5e-6),  # computed
    ],
)
def test_daylight_hours(latitude, day, expected, tolerance):
    """N, hours, to half the last digit printed."""
    assert float(daylight_hours(latitude, day)) == pytest.approx(expected, abs=tolerance)


def test_polar_day_and_night():
    """70 N: no sun at midwinter, a whole day of it at midsummer; never NaN, even at the pole."""
    assert 0.0 == float(extraterrestrial_radiation(70.0, 355))
    assert 0.0 == float(daylight_hours(70.0, 355))
    assert 24.0 == pytest.approx(float(daylight_hours(70.0, 172)))
    assert np.all(np.isfinite(extraterrestrial_radiation(90.0, np.arange(1, 366))))


@pytest.mark.parametrize("latitude", [-35.0, 0.0, 51.0])
@pytest.mark.parametrize(("day", "within"), [(15, 0.03), (105, 0.03), (172, 0.01), (288, 0.07)])
def test_radiation_is_the_sun_summed_over_the_day(latitude, day, within):
    """Radiation at the edge of the air by pvlib (Spencer), along our sun's path.

    The handbook's declination (eq. 24) is a single sine: right at midsummer, a degree too far south in
    October, which is 6 % of the radiation at 51 N. It is kept in Ra because that is the standard.
    """
    hours = np.arange(0.005, 24, 0.01)
    altitude, _ = sun_position(latitude, day, hours)
    sun = float(irradiance.get_extra_radiation(day, method="spencer"))
    megajoules = sun * np.maximum(np.sin(altitude), 0).sum() * 0.01 * 3600 / 1e6

    assert float(extraterrestrial_radiation(latitude, day)) == pytest.approx(megajoules, rel=within)


def test_hargreaves_is_the_printed_equation():
    """FAO-56 eq. 52: 0.0023 (Tmean + 17.8) (Tmax - Tmin)^0.5 Ra, Ra in mm; worked by hand.

    20.7 degrees, 11.8 apart, Ra 40.6 MJ = 16.56 mm (the weather of example 15): 5.04 mm a day.
    """
    demand = float(reference_evapotranspiration(20.7, 11.8, 40.6))

    assert demand == pytest.approx(0.0023 * 38.5 * 3.43511 * 16.5648, abs=1e-3)
    assert demand == pytest.approx(5.04, abs=0.005)
