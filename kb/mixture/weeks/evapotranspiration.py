"""Reference evapotranspiration by the Penman-Monteith equation of FAO-56 (Allen et al. 1998).

Equation numbers are those of FAO Irrigation and Drainage Paper 56, chapters 2 to 4. All functions
take arrays that broadcast. Radiation MJ m-2 day-1, temperatures degrees C, vapour pressure kPa, wind
m s-1 at 2 m, ETo mm a day.
"""

import numpy as np
import numpy.typing as npt

from kb.mixture.season import YEAR_DAYS, FloatArray

SOLAR_CONSTANT = 0.0820
"""MJ m-2 min-1 (eq. 21)."""
MJ_TO_MM = 0.408
"""mm of water evaporated by one MJ m-2 (eq. 20)."""
ALBEDO = 0.23
"""Of the short green reference cover (eq. 38)."""
STEFAN_BOLTZMANN = 4.903e-9
"""MJ K-4 m-2 day-1 (eq. 39)."""
CLEAR_SKY = 0.75
"""Share of Ra that a clear sky passes at sea level (eq. 36, and eq. 37 without its term for height)."""


def extraterrestrial_radiation(latitude: float, day_of_year: npt.ArrayLike) -> FloatArray:
    """Ra on level ground above the air (eq. 21-25); 0 in a polar night."""
    day = np.asarray(day_of_year, dtype=float)
    phi = np.radians(latitude)
    distance = 1 + 0.033 * np.cos(2 * np.pi * day / YEAR_DAYS)
    delta = _declination(day)
    sunset = _sunset_angle(phi, delta)
    radiation: FloatArray = (
        24 * 60 / np.pi * SOLAR_CONSTANT * distance
        * (sunset * np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * np.sin(sunset))
    )  # fmt: skip
    return np.maximum(radiation, 0.0)


def daylight_hours(latitude: float, day_of_year: npt.ArrayLike) -> FloatArray:
    """N, hours from sunrise to sunset, 0-24 (eq. 34)."""
    day = np.asarray(day_of_year, dtype=float)
    hours: FloatArray = 24 / np.pi * _sunset_angle(np.radians(latitude), _declination(day))
    return hours


def saturation_pressure(temperature_c: npt.ArrayLike) -> FloatArray:
    """e0(T), kPa (eq. 11)."""
    warm = np.asarray(temperature_c, dtype=float)
    pressure: FloatArray = 0.6108 * np.exp(17.27 * warm / (warm + 237.3))
    return pressure


def sun_radiation(sun_share: npt.ArrayLike, radiation: npt.ArrayLike) -> FloatArray:
    """Rs from the share n/N of the daylight hours with bright sun (eq. 35: a 0.25, b 0.50)."""
    passed = 0.25 + 0.50 * np.asarray(sun_share, dtype=float)
    reached: FloatArray = passed * np.asarray(radiation, dtype=float)
    return reached


def wind_at_2_m(speed: npt.ArrayLike, height_m: float) -> FloatArray:
    """u2 from a wind measured at another height above short grass (eq. 47)."""
    at_2_m: FloatArray = np.asarray(speed, dtype=float) * 4.87 / np.log(67.8 * height_m - 5.42)
    return at_2_m


def reference_evapotranspiration(
    highest_c: npt.ArrayLike,
    lowest_c: npt.ArrayLike,
    vapour_pressure: npt.ArrayLike,
    wind: npt.ArrayLike,
    *,
    radiation: npt.ArrayLike,
    sun_share: npt.ArrayLike,
    elevation_m: float,
) -> FloatArray:
    """ETo, mm a day, never below 0 (eq. 6; no heat into the soil, as for single days: eq. 42).

    ``radiation`` is Ra, ``sun_share`` n/N. Where the sun does not rise, Rs/Rso is taken from n/N too,
    so that a polar night gives a number.
    """
    by_sun, by_air = _two_terms(
        highest_c, lowest_c, vapour_pressure, wind, radiation, sun_share, elevation_m=elevation_m
    )
    return np.maximum(by_sun + by_air, 0.0)


def share_by_sun(
    highest_c: npt.ArrayLike,
    lowest_c: npt.ArrayLike,
    vapour_pressure: npt.ArrayLike,
    wind: npt.ArrayLike,
    *,
    radiation: npt.ArrayLike,
    sun_share: npt.ArrayLike,
    elevation_m: float,
) -> FloatArray:
    """Share (0-1) of ETo that the radiation of the day brings (first term of eq. 6); the rest is dry air's.

    Arguments as of `reference_evapotranspiration`. 0 where more warmth is lost to the sky than comes in.
    """
    by_sun, by_air = _two_terms(
        highest_c, lowest_c, vapour_pressure, wind, radiation, sun_share, elevation_m=elevation_m
    )
    asked = np.maximum(by_sun + by_air, 1e-9)
    share: FloatArray = np.clip(by_sun / asked, 0.0, 1.0)
    return share


def _two_terms(
    highest_c: npt.ArrayLike,
    lowest_c: npt.ArrayLike,
    vapour_pressure: npt.ArrayLike,
    wind: npt.ArrayLike,
    radiation: npt.ArrayLike,
    sun_share: npt.ArrayLike,
    *,
    elevation_m: float,
) -> tuple[FloatArray, FloatArray]:
    """The two terms of eq. 6, mm a day: what net radiation asks, and what dry air in motion does."""
    high, low = (np.asarray(value, dtype=float) for value in (highest_c, lowest_c))
    share, ra = np.asarray(sun_share, dtype=float), np.asarray(radiation, dtype=float)
    mean = (high + low) / 2
    actual = np.asarray(vapour_pressure, dtype=float)
    saturated = (saturation_pressure(high) + saturation_pressure(low)) / 2
    slope = 4098 * saturation_pressure(mean) / (mean + 237.3) ** 2
    psychrometric = 0.665e-3 * 101.3 * ((293 - 0.0065 * elevation_m) / 293) ** 5.26
    net = (1 - ALBEDO) * sun_radiation(share, ra) - _long_wave(high, low, actual, share, elevation_m)
    u2 = np.asarray(wind, dtype=float)
    below = slope + psychrometric * (1 + 0.34 * u2)
    by_sun: FloatArray = MJ_TO_MM * slope * net / below
    by_air: FloatArray = psychrometric * 900 / (mean + 273) * u2 * (saturated - actual) / below
    return by_sun, by_air


def _long_wave(
    high: FloatArray, low: FloatArray, actual: FloatArray, sun_share: FloatArray, elevation_m: float
) -> FloatArray:
    """Rnl (eq. 39)."""
    clear = (0.25 + 0.50 * sun_share) / (CLEAR_SKY + 2e-5 * elevation_m)
    warmth = ((high + 273.16) ** 4 + (low + 273.16) ** 4) / 2
    lost: FloatArray = (
        STEFAN_BOLTZMANN * warmth * (0.34 - 0.14 * np.sqrt(actual)) * (1.35 * np.minimum(clear, 1.0) - 0.35)
    )
    return lost


def _declination(day: FloatArray) -> FloatArray:
    """Eq. 24: kept beside Ra, so that Ra answers exactly as that handbook's examples."""
    delta: FloatArray = 0.409 * np.sin(2 * np.pi * day / YEAR_DAYS - 1.39)
    return delta


def _sunset_angle(phi: float, delta: FloatArray) -> FloatArray:
    angle: FloatArray = np.arccos(np.clip(-np.tan(phi) * np.tan(delta), -1.0, 1.0))
    return angle
