"""How scarce water is, week by week: omega = D0/(D0 + Q0) (`computation-notes` 1.5).

D0 is what the air asks of a short green cover, mm a week (reference evapotranspiration, FAO-56);
Q0 is what there is to take: rain that goes in plus what the roots can reach of the soil's store.
So Q0/D0 = (1 - omega)/omega. A standing bucket is run through average years until it repeats.

What is ours here, until measured weather can be given: one cool oceanic year of temperature and
rain for the reference site (round figures for 51 degrees N at a mean of 10 degrees C; they give the
scarcity curve of `trade` 4.3 within 0.1). Elsewhere temperature moves with latitude, and rain is
scaled to keep the reference site's ratio of rain to demand over the year: latitude alone does not
tell a wet place from a dry one, ``site.moisture`` does. Soil is loam; texture is not asked yet.
"""

from functools import lru_cache

import numpy as np
import numpy.typing as npt

from kb.mixture.season import DAYS_PER_WEEK, HALF_YEAR_DAYS, WEEKS, YEAR_DAYS, FloatArray
from kb.mixture.site import REFERENCE_SITE, Site

SOLAR_CONSTANT = 0.0820
"""MJ m-2 min-1 (FAO-56 eq. 21)."""
MJ_TO_MM = 0.408
"""mm of water evaporated by one MJ m-2 (FAO-56 eq. 20)."""

MEAN_TEMPERATURE, TEMPERATURE_SWING = 10.0, 6.5
"""Degrees C at the reference site: mean of the year, and half the range of the monthly means."""
DAILY_RANGE, DAILY_RANGE_SWING = 7.0, 2.0
"""Degrees C between day's highest and lowest: mean, and more in summer, less in winter."""
WARMEST_DAY = 209.0
"""28 July: the sea keeps summer five weeks behind the longest day."""
WARMER_PER_DEGREE, HOTTEST = 0.5, 27.0
"""Degrees C warmer for each degree of latitude towards the equator, and where that stops."""

RAIN_MM_A_WEEK, RAIN_SWING = 12.0, 1.5
"""Mean of the year and half the range, wettest in November: 625 mm a year."""
WETTEST_DAY = 319.0
RAIN_TAKEN_IN = 0.8
"""Share of rain that reaches roots: the rest wets leaves or runs off."""

LOAM_STORE_MM_PER_M = 150.0
"""Water between field capacity and wilting point in loam: FAO-56 table 19 gives 0.11-0.20 m3/m3
between them for loam; this is near its middle."""
REACHED_DEPTH_M = 1.2
"""Roots in general reach this deep (the same limit as the supply by layer, `computation-notes` 4)."""
DEPLETION_FRACTION = 0.5
"""Share of the store taken before uptake slows (FAO-56 table 22: 0.5 for most crops)."""
YEARS_TO_REPEAT = 3
"""From a full store, after which the course of the year no longer changes (a test shows it)."""
RELEASE_WEEKS = 8.0
"""The store must last about two dry months: an eighth of what is in it is reachable each week."""

MOISTURE_STEP = 1.3
"""Each step of the 1-12 moisture scale makes this many times as much water reachable: judgement,
from a third at 1 to six times at 12, with 5 (fresh) the reference."""
SCARCEST, LEAST_SCARCE = 0.98, 0.02
"""Omega stays between these: a polar night asks for no water at all."""


def scarcity_by_week(site: Site) -> FloatArray:
    """Omega (0-1) in each of the 52 weeks at this site; higher is scarcer."""
    scarcity: FloatArray = _scarcity(site.latitude, site.soil_depth_m, site.moisture).copy()
    return scarcity


def extraterrestrial_radiation(latitude: float, day_of_year: npt.ArrayLike) -> FloatArray:
    """Ra, MJ m-2 day-1, on level ground above the air (FAO-56 eq. 21-25); 0 in a polar night."""
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
    """N, hours from sunrise to sunset, 0-24 (FAO-56 eq. 34)."""
    day = np.asarray(day_of_year, dtype=float)
    hours: FloatArray = 24 / np.pi * _sunset_angle(np.radians(latitude), _declination(day))
    return hours


def reference_evapotranspiration(
    mean_c: npt.ArrayLike, daily_range_c: npt.ArrayLike, radiation: npt.ArrayLike
) -> FloatArray:
    """ETo, mm a day, from temperature and Ra in MJ m-2 day-1 (Hargreaves, FAO-56 eq. 52)."""
    mean, spread = np.asarray(mean_c, dtype=float), np.asarray(daily_range_c, dtype=float)
    water = MJ_TO_MM * np.asarray(radiation, dtype=float)
    demand: FloatArray = 0.0023 * np.maximum(mean + 17.8, 0.0) * np.sqrt(spread) * water
    return demand


def _declination(day: FloatArray) -> FloatArray:
    """FAO-56 eq. 24: kept beside Ra, so that Ra answers exactly as that handbook's examples."""
    delta: FloatArray = 0.409 * np.sin(2 * np.pi * day / YEAR_DAYS - 1.39)
    return delta


def _sunset_angle(phi: float, delta: FloatArray) -> FloatArray:
    angle: FloatArray = np.arccos(np.clip(-np.tan(phi) * np.tan(delta), -1.0, 1.0))
    return angle


@lru_cache(maxsize=256)
def _scarcity(latitude: float, soil_depth_m: float, moisture: float) -> FloatArray:
    days = np.arange(1.0, YEAR_DAYS + 1)
    demand = _daily_demand(latitude, days)
    reference = _daily_demand(REFERENCE_SITE.latitude, days)
    rain = _daily_rain(latitude, days) * demand.sum() / reference.sum()
    store = _store(demand, rain, soil_depth_m)
    supply = rain * RAIN_TAKEN_IN + store / (RELEASE_WEEKS * DAYS_PER_WEEK)
    supply *= MOISTURE_STEP ** (moisture - REFERENCE_SITE.moisture)
    week = np.minimum((days - 1) // DAYS_PER_WEEK, WEEKS - 1).astype(int)
    asked = np.bincount(week, weights=demand, minlength=WEEKS)
    given = np.bincount(week, weights=supply, minlength=WEEKS)
    omega: FloatArray = np.clip(asked / (asked + given), LEAST_SCARCE, SCARCEST)
    return omega


def _daily_demand(latitude: float, days: FloatArray) -> FloatArray:
    swing = abs(latitude) / REFERENCE_SITE.latitude
    season = _season(latitude, days, WARMEST_DAY)
    towards_equator = REFERENCE_SITE.latitude - abs(latitude)
    mean = min(MEAN_TEMPERATURE + WARMER_PER_DEGREE * towards_equator, HOTTEST)
    return reference_evapotranspiration(
        mean + TEMPERATURE_SWING * swing * season,
        DAILY_RANGE + DAILY_RANGE_SWING * min(swing, 1.0) * season,
        extraterrestrial_radiation(latitude, days),
    )


def _daily_rain(latitude: float, days: FloatArray) -> FloatArray:
    swing = RAIN_SWING * min(abs(latitude) / REFERENCE_SITE.latitude, 1.0)
    rain: FloatArray = (RAIN_MM_A_WEEK + swing * _season(latitude, days, WETTEST_DAY)) / DAYS_PER_WEEK
    return rain


def _season(latitude: float, days: FloatArray, top_day: float) -> FloatArray:
    """A cosine round the year, 1 on ``top_day`` in the north and half a year later in the south."""
    top = top_day + (HALF_YEAR_DAYS if latitude < 0 else 0.0)
    course: FloatArray = np.cos(2 * np.pi * (days - top) / YEAR_DAYS)
    return course


def _store(demand: FloatArray, rain: FloatArray, soil_depth_m: float) -> FloatArray:
    """Water in the reached soil (mm) on each day of a year that repeats.

    Daily steps: rain fills it and the excess drains; uptake slows in the last part of the store
    (FAO-56 eq. 84).
    """
    capacity = LOAM_STORE_MM_PER_M * min(soil_depth_m, REACHED_DEPTH_M)
    slows_at = (1 - DEPLETION_FRACTION) * capacity
    water = capacity
    for _ in range(YEARS_TO_REPEAT):
        course: list[float] = []
        for asked, fallen in zip(demand.tolist(), rain.tolist(), strict=True):
            taken = asked * min(1.0, water / slows_at) if slows_at > 0 else 0.0
            water = min(capacity, max(0.0, water + fallen * RAIN_TAKEN_IN - taken))
            course.append(water)
    return np.array(course)
