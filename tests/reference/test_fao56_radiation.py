"""Radiation and day length against FAO Irrigation and Drainage Paper 56 (Allen et al. 1998).

The worked examples were read second-hand; figures of day 172 are computed from its equations
(`data.md` section 6).
"""

import numpy as np
import pytest
from pvlib import irradiance

from kb.mixture.light.sun import sun_position
from kb.mixture.weeks.climate import daily_demand
from kb.mixture.weeks.evapotranspiration import (
    daylight_hours,
    extraterrestrial_radiation,
    reference_evapotranspiration,
    saturation_pressure,
    sun_radiation,
    wind_at_2_m,
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


def test_vapour_pressure_wind_and_sun():
    """Examples 3 (p. 69), 14 (p. 92) and 10 (p. 84), to half the last digit printed."""
    assert float(saturation_pressure([15.0, 24.5]).mean()) == pytest.approx(2.39, abs=0.005)
    assert float(wind_at_2_m(3.2, 10.0)) == pytest.approx(2.4, abs=0.05)
    assert float(sun_radiation(7.1 / 10.9, 25.1)) == pytest.approx(14.45, abs=0.05)


def test_penman_monteith_of_a_day_in_brussels():
    """Example 18, p. 115: 50.8 N, 100 m, day 187: ETo 3.9 mm.

    Its weather from memory: 12.3 to 21.5 degrees, 63 to 84 % damp, 9.25 h of sun, wind 2.078 m/s.
    """
    ra = float(extraterrestrial_radiation(50.8, 187))
    vapour = (float(saturation_pressure(12.3)) * 0.84 + float(saturation_pressure(21.5)) * 0.63) / 2
    share = 9.25 / float(daylight_hours(50.8, 187))
    demand = float(
        reference_evapotranspiration(
            21.5, 12.3, vapour, 2.078, radiation=ra, sun_share=share, elevation_m=100.0
        )
    )

    assert float(sun_radiation(1.0, ra)) == pytest.approx(0.75 * 41.09, abs=0.01)
    assert demand == pytest.approx(3.9, abs=0.05)


@pytest.mark.parametrize(
    ("latitude", "day", "low", "high"),
    [(51.0, 196, 2.0, 4.0), (51.0, 15, 0.0, 2.0), (0.0, 100, 3.0, 7.0), (30.0, 196, 4.0, 7.0)],
)
def test_eto_of_the_climates_is_usual(latitude, day, low, high):
    """Table 2 of FAO-56 (from memory): mm a day by region and warmth.

    Temperate humid regions 1-2 when cool (10 degrees), 2-4 at 20, 4-7 when warm; humid tropics 3-5 at 20
    degrees, 5-7 when warm. A January day may lie below.
    """
    assert low <= float(daily_demand(latitude)[day - 1]) <= high
