"""Weather to reckon with: the course of a mean year at a latitude, and years of rain by the day.

**Where it comes from.** The reference climate is that of Rothamsted (51.8 N, 128 m): means of the
hundred years 1891-1990 of daily highest and lowest temperature, rain and sunshine by month (Rothamsted
Research, "Meteorological Records for Rothamsted", page of 2007, read in transcription). It is 0.9
degrees warmer here, to meet the reference site's mean of 10 degrees C. Wind is 2 m/s, what FAO-56
(p. 63) gives where none was measured; dew falls at the night's lowest temperature (eq. 48).

**Years of rain** are drawn by the method of Geng, Penning de Vries & Supit 1986 (Agric. For. Meteorol.
36: 363-376): a wet day follows a wet one more often than a dry one, and the fall of a wet day is gamma
distributed, both worked out from monthly figures. Their coefficients, and the days a month with 1 mm
of rain or more, are from memory. The seed is fixed: every site is judged in the same years.

**Elsewhere** temperature moves with latitude and seasons flatten towards the equator, mirrored in the
south. Rain keeps the reference site's ratio of rain to demand over the year: latitude alone does not
tell a wet place from a dry one, `Site.moisture` does. Which months are wet is taken from
`Site.wet_months`; those months then have nine tenths of the year's rain.
"""

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from kb.mixture.rains import MONTH_DAYS
from kb.mixture.season import DAYS_PER_WEEK, WEEKS, YEAR_DAYS, FloatArray
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.weeks.evapotranspiration import (
    daylight_hours,
    extraterrestrial_radiation,
    reference_evapotranspiration,
    saturation_pressure,
    share_by_sun,
    sun_radiation,
)

STATION_LATITUDE, ELEVATION_M = 51.8, 128.0
HIGHEST_C = (5.8, 6.4, 9.1, 12.2, 16.0, 18.9, 20.8, 20.5, 17.8, 13.5, 9.0, 6.7)
LOWEST_C = (0.3, 0.3, 1.4, 3.3, 6.2, 9.1, 11.2, 11.0, 9.1, 6.2, 2.8, 1.2)
RAIN_MM = (61.4, 47.4, 50.3, 46.6, 49.9, 52.1, 56.3, 60.3, 54.3, 69.5, 68.5, 68.8)
SUN_HOURS = (52.6, 68.5, 114.0, 150.3, 192.9, 198.4, 191.9, 180.1, 142.6, 103.4, 62.6, 45.1)
"""Rothamsted, means of 1891-1990, January to December; degrees C, mm and hours a month."""
WARMER_C = 0.9
"""From that station's mean of those years (9.1) to the reference site's 10 degrees C."""
WIND_M_S = 2.0

WET_DAYS = (11, 9, 9, 9, 9, 8, 8, 8, 8, 11, 11, 11)
"""Days a month with 1 mm or more in south-east England: from memory."""
WET_AFTER_DRY, WET_AFTER_WET = 0.75, 0.25
"""Geng et al. 1986: P(wet after dry) = 0.75 f, P(wet after wet) = 0.25 + 0.75 f, f the share of wet
days: from memory."""
SCALE_OF_FALL = (-2.16, 1.83)
"""Geng et al. 1986: scale of the gamma, mm = -2.16 + 1.83 x mean fall of a wet day: from memory."""
LEAST_SCALE_MM = 0.5
YEAR_SPREAD = 0.09
"""Log-SD by which whole years are wetter or drier than such days make them (the method is known to
spread years too little): from the station's driest and wettest of 138 years, 380 and 973 mm."""
YEARS, SEED = 100, 1986

WARMER_PER_DEGREE, HOTTEST = 0.5, 27.0
"""Degrees C warmer for each degree of latitude towards the equator, and where that stops: judgement."""
RAINY_SHARE = 0.9
"""Share of the year's rain that falls in the wet months, where they are named: judgement."""

_DAYS = np.arange(1.0, YEAR_DAYS + 1)
_MONTH = np.repeat(np.arange(12), MONTH_DAYS)
WEEK_STARTS = np.searchsorted(
    np.minimum(np.arange(int(YEAR_DAYS)) // DAYS_PER_WEEK, WEEKS - 1), np.arange(WEEKS)
)
"""The day (0-364) with which each of the 52 weeks begins, in whole days."""
HALF_YEAR = 182
"""Whole days between a date in the north and its mirror in the south."""


def daily_warmth(latitude: float) -> FloatArray:
    """Mean temperature, degrees C, on each of the 365 days of a mean year at this latitude."""
    steep = abs(latitude) / REFERENCE_SITE.latitude
    towards_equator = REFERENCE_SITE.latitude - abs(latitude)
    middle = (np.array(HIGHEST_C) + np.array(LOWEST_C)) / 2 + WARMER_C
    mean = min(middle.mean() + WARMER_PER_DEGREE * towards_equator, HOTTEST)
    warmth: FloatArray = mean + steep * _course(middle - middle.mean(), latitude)
    return warmth


@lru_cache(maxsize=256)
def weekly_warmth(latitude: float) -> FloatArray:
    """Mean temperature, degrees C, of each of the 52 weeks."""
    warmth: FloatArray = np.add.reduceat(daily_warmth(latitude), WEEK_STARTS)
    warmth /= np.diff(np.append(WEEK_STARTS, int(YEAR_DAYS)))
    warmth.setflags(write=False)
    return warmth


@lru_cache(maxsize=256)
def weekly_radiation(latitude: float) -> FloatArray:
    """Mean solar radiation on the open ground, MJ/m2 a day, of each of the 52 weeks."""
    daily = sun_radiation(_sun_shares_at(latitude), extraterrestrial_radiation(latitude, _DAYS))
    weekly: FloatArray = np.add.reduceat(daily, WEEK_STARTS)
    weekly /= np.diff(np.append(WEEK_STARTS, int(YEAR_DAYS)))
    weekly.setflags(write=False)
    return weekly


def _sun_shares_at(latitude: float) -> FloatArray:
    """n/N on each of the 365 days; its course flattens towards the equator."""
    bright = _sun_shares()
    steep = min(abs(latitude) / REFERENCE_SITE.latitude, 1.0)
    shares: FloatArray = bright.mean() + steep * _course(bright - bright.mean(), latitude)
    return shares


@lru_cache(maxsize=256)
def daily_demand(latitude: float) -> FloatArray:
    """ETo, mm, on each of the 365 days of a mean year at this latitude."""
    demand = _each_day(latitude, reference_evapotranspiration)
    demand.setflags(write=False)
    return demand


@lru_cache(maxsize=256)
def weekly_share_by_sun(latitude: float) -> FloatArray:
    """Share (0-1) of ETo that radiation asks in each of the 52 weeks; the rest goes on in full shade."""
    daily = _each_day(latitude, share_by_sun)
    weekly: FloatArray = np.add.reduceat(daily, WEEK_STARTS)
    weekly /= np.diff(np.append(WEEK_STARTS, int(YEAR_DAYS)))
    weekly.setflags(write=False)
    return weekly


def _each_day(latitude: float, reckon: Callable[..., FloatArray]) -> FloatArray:
    """One of the figures of `evapotranspiration` on each of the 365 days of a mean year."""
    return reckon(
        *_air_at(latitude),
        radiation=extraterrestrial_radiation(latitude, _DAYS),
        sun_share=_sun_shares_at(latitude),
        elevation_m=ELEVATION_M,
    )


def _air_at(latitude: float) -> tuple[FloatArray, FloatArray, FloatArray, float]:
    """Highest and lowest temperature, vapour pressure (365,) and wind of a mean year."""
    steep = abs(latitude) / REFERENCE_SITE.latitude
    warmth = daily_warmth(latitude)
    spread = np.array(HIGHEST_C) - np.array(LOWEST_C)
    half = (spread.mean() + min(steep, 1.0) * _course(spread - spread.mean(), latitude)) / 2
    return warmth + half, warmth - half, saturation_pressure(warmth - half), WIND_M_S


@lru_cache(maxsize=256)
def daily_rain(latitude: float, wet_months: tuple[int, ...] = ()) -> FloatArray:
    """Rain, mm, by year and day (YEARS, 365) at this latitude.

    ``wet_months`` (1-12) are the months of rain; none named means the reference site's course, which
    is even at the equator.
    """
    asked = daily_demand(latitude).sum() / daily_demand(REFERENCE_SITE.latitude).sum()
    steep = min(abs(latitude) / REFERENCE_SITE.latitude, 1.0)
    fallen = _sampled_rain()
    if latitude < 0:
        fallen = np.roll(fallen, HALF_YEAR, axis=1)
    usual = _course(np.array(RAIN_MM) / np.array(MONTH_DAYS), latitude)
    level = 1 + steep * (usual / usual.mean() - 1)
    rain: FloatArray = asked * fallen * (level * usual.mean() / usual) * _wet(wet_months)
    rain.setflags(write=False)
    return rain


def _wet(wet_months: tuple[int, ...]) -> FloatArray:
    """What each day's rain is multiplied by, (365,), mean 1."""
    if not wet_months or len(wet_months) == 12:
        return np.ones(int(YEAR_DAYS))
    inside = np.isin(_MONTH + 1, wet_months)
    share = np.where(inside, RAINY_SHARE / inside.sum(), (1 - RAINY_SHARE) / (~inside).sum())
    factor: FloatArray = share * YEAR_DAYS
    return factor


@lru_cache(maxsize=1)
def _sun_shares() -> FloatArray:
    """n/N by month at the station."""
    hours = np.bincount(_MONTH, weights=daylight_hours(STATION_LATITUDE, _DAYS), minlength=12)
    shares: FloatArray = np.array(SUN_HOURS) / hours
    return shares


def _course(monthly: FloatArray, latitude: float) -> FloatArray:
    """Monthly means as a course of 365 days, half a year later in the south."""
    middles = np.cumsum(MONTH_DAYS) - np.array(MONTH_DAYS) / 2 + 0.5
    daily: FloatArray = np.interp(_DAYS, middles, monthly, period=YEAR_DAYS)
    return np.roll(daily, HALF_YEAR) if latitude < 0 else daily


@lru_cache(maxsize=1)
def _sampled_rain() -> FloatArray:
    """Years of rain at the station, mm a day (YEARS, 365); over all years each month has its mean."""
    chance = np.random.default_rng(SEED)
    wet_share = np.array(WET_DAYS) / np.array(MONTH_DAYS)
    fall = np.array(RAIN_MM) / np.array(WET_DAYS)
    scale = np.maximum(SCALE_OF_FALL[0] + SCALE_OF_FALL[1] * fall, LEAST_SCALE_MM)
    after_dry = WET_AFTER_DRY * wet_share[_MONTH]
    draws = chance.random((YEARS, int(YEAR_DAYS)))
    wet = np.zeros(draws.shape, dtype=bool)
    before = chance.random(YEARS) < wet_share[-1]
    for day, dry_to_wet in enumerate(after_dry):
        before = draws[:, day] < np.where(before, WET_AFTER_WET + dry_to_wet, dry_to_wet)
        wet[:, day] = before
    amounts = chance.gamma((fall / scale)[_MONTH], scale[_MONTH], draws.shape)
    years = np.exp(YEAR_SPREAD * chance.standard_normal((YEARS, 1)))
    rain = np.where(wet, amounts, 0.0) * years
    monthly = np.bincount(_MONTH, weights=rain.mean(axis=0), minlength=12)
    sampled: FloatArray = rain * (np.array(RAIN_MM) / monthly)[_MONTH]
    return sampled
