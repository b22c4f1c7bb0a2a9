"""The sun's path against pvlib's full solar position algorithm (NREL SPA, Reda and Andreas 2004)."""

import numpy as np
import pandas as pd
import pytest
from pvlib import solarposition

from kb.mixture.light.sun import MID_MONTH_DAYS, declination, sun_position

YEARS = (2023, 2024, 2025, 2026)
"""A leap year among them: a day of the year is up to a quarter of a degree of declination off."""


@pytest.fixture(scope="module", params=[-43.5, -10.0, 0.0, 23.4, 51.0, 65.0])
def both(request):
    """Altitude and azimuth by pvlib and by us, every 20 minutes of 12 days in 4 years, at longitude 0."""
    times = pd.DatetimeIndex(
        [
            pd.Timestamp(year, 1, 1, tz="UTC") + pd.Timedelta(days=day - 1, minutes=minute)
            for year in YEARS
            for day in MID_MONTH_DAYS
            for minute in range(0, 24 * 60, 20)
        ]
    )
    spa = solarposition.get_solarposition(times, request.param, 0.0, method="nrel_numpy")
    clock = times.hour + times.minute / 60
    solar_hour = clock.to_numpy() + spa["equation_of_time"].to_numpy() / 60
    altitude, azimuth = sun_position(request.param, times.day_of_year.to_numpy(), solar_hour)
    return spa["elevation"].to_numpy(), spa["azimuth"].to_numpy(), np.degrees(altitude), np.degrees(azimuth)


@pytest.fixture(scope="module")
def leap_cycle_declination():
    """SPA's declination at noon, degrees, by day of year: which is the sun's height at the north pole."""
    by_year = [
        solarposition.get_solarposition(
            pd.date_range(f"{year}-01-01 12:00", periods=365, freq="D", tz="UTC"), 90.0, 0.0
        )["elevation"].to_numpy()
        for year in YEARS
    ]
    return np.mean(by_year, axis=0)


def test_altitude_is_within_a_quarter_of_a_degree(both):
    """By day, without refraction: never more than 0.25 degrees off, 0.1 on average."""
    spa_altitude, _, altitude, _ = both
    day = spa_altitude > 0
    error = np.abs(altitude - spa_altitude)[day]

    assert 0.25 > error.max()
    assert 0.1 > error.mean()


def test_direction_in_the_sky_is_within_a_quarter_of_a_degree(both):
    """The angle between the two suns, so that azimuth counts as it should near the zenith."""

    def vector(altitude, azimuth):
        h, a = np.radians(altitude), np.radians(azimuth)
        return np.stack([np.cos(h) * np.sin(a), np.cos(h) * np.cos(a), np.sin(h)])

    spa_altitude, spa_azimuth, altitude, azimuth = both
    together = (vector(spa_altitude, spa_azimuth) * vector(altitude, azimuth)).sum(axis=0)
    apart = np.degrees(np.arccos(np.clip(together, -1, 1)))[spa_altitude > 0]

    assert 0.25 > apart.max()


def test_declination_over_a_leap_cycle(leap_cycle_declination):
    """At noon, mean of 2023-2026: within 0.03 degrees of SPA all year."""
    days = np.arange(1, 366)

    assert 0.03 > np.abs(np.degrees(declination(days)) - leap_cycle_declination).max()


def test_spencers_series_would_be_further_off(leap_cycle_declination):
    """Pvlib's `declination_spencer71` is 0.3 degrees or more off in autumn: why it is not used."""
    days = np.arange(1, 366)
    spencer = np.degrees(solarposition.declination_spencer71(days))

    assert 0.3 < np.abs(spencer - leap_cycle_declination)[243:304].max()


def test_zenith_and_azimuth_are_pvlibs_analytical_ones():
    """`solar_zenith_analytical` and `solar_azimuth_analytical` with the same declination."""
    latitude, hour_angle = np.radians(51.0), np.radians(np.linspace(-100, 100, 41))
    delta = declination(172)
    zenith = solarposition.solar_zenith_analytical(latitude, hour_angle, delta)

    altitude, azimuth = sun_position(51.0, 172, 12 + np.degrees(hour_angle) / 15)

    np.testing.assert_allclose(np.pi / 2 - zenith, altitude, atol=1e-12)
    np.testing.assert_allclose(
        solarposition.solar_azimuth_analytical(latitude, hour_angle, delta, zenith), azimuth, atol=1e-6
    )


def test_day_266_noon_height_at_51_degrees():
    """38.9 degrees by pvlib, where a plain cosine gives 38.1 (`computation-notes` 1.9)."""
    altitude, azimuth = sun_position(51.0, 266, 12.0)

    assert np.degrees(altitude) == pytest.approx(38.9, abs=0.05)
    assert np.degrees(azimuth) == pytest.approx(180.0)
