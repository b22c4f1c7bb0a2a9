"""How scarce water is, week by week: omega = D0/(D0 + Q0) (`computation-notes` 1.5).

D0 is what the air asks of a short green cover, mm a week (reference evapotranspiration, FAO-56);
Q0 is what there is to take: rain that goes in plus what the roots can reach of the soil's store.
So Q0/D0 = (1 - omega)/omega.

The store follows the daily soil-water balance of FAO-56 (eq. 82-88) through a hundred sampled years
(`climate`), each after a year that leads into it, so that scarcity has a spread between years. TAW is
that of the soil's texture and depth; rain comes first in the day, as in that paper's example 38. A test
holds the balance against pyfao56, whose own classes are not used here: they step one site through one
year in a data frame, which takes seconds, and know no polar night.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from kb.mixture import kernels
from kb.mixture.season import DAYS_PER_WEEK, MONTH_WEIGHTS, WEEKS, FloatArray
from kb.mixture.site import REFERENCE_SITE, Site, Texture
from kb.mixture.uncertainty import percentiles
from kb.mixture.weeks.climate import WEEK_STARTS, daily_demand, daily_rain

IntArray = npt.NDArray[np.intp]
COMPILED = "soil"
MEAN_TEMPERATURE, TEMPERATURE_SWING, WARMEST_DAY = 10.0, 6.5, 209.0
"""Degrees C at the reference site: mean of the year and half the range of the monthly means
(`climate`); its warmest day is about 28 July."""

RAIN_TAKEN_IN = 0.8
"""Share of rain that reaches roots: the rest wets leaves or runs off (judgement)."""

STORE_MM_PER_M: dict[Texture, float] = {
    "sand": 80.0,
    "loamy sand": 90.0,
    "sandy loam": 130.0,
    "loam": 155.0,
    "silt loam": 160.0,
    "silt": 180.0,
    "sandy clay loam": 100.0,
    "clay loam": 140.0,
    "silty clay loam": 155.0,
    "sandy clay": 110.0,
    "silty clay": 160.0,
    "clay": 160.0,
}
"""Water between field capacity and wilting point, mm in a metre of soil, by USDA texture class: the
middle of the range in FAO-56 table 19 (p. 144; from memory), rounded to 5. That table leaves out three
classes, taken from texture means of Rawls et al. and Saxton & Rawls 2006 (second-hand: sandy clay loam
0.27 - 0.17, clay loam 0.36 - 0.22; from memory: sandy clay)."""
REACHED_DEPTH_M = 1.2
"""Roots in general reach this deep (the same limit as the supply by layer, `computation-notes` 4)."""
DEPLETION_FRACTION = 0.5
"""Share of the store taken before uptake slows (FAO-56 table 22: 0.5 for most crops)."""
RELEASE_WEEKS = 8.0
"""The store must last about two dry months: an eighth of what is in it is reachable each week
(judgement)."""

LASTS_DAYS = RELEASE_WEEKS * DAYS_PER_WEEK

MOISTURE_STEP = 1.3
"""Each step of the 1-12 moisture scale makes this many times as much water reachable: judgement,
from a third at 1 to six times at 12, with 5 (fresh) the reference."""
SCARCEST, LEAST_SCARCE = 0.98, 0.02
"""Omega stays between these: a polar night asks for no water at all."""
WET_YEAR, DRY_YEAR = 20.0, 80.0
"""Percentiles of the sampled years: one year in five is scarcer than the last."""


@dataclass(frozen=True, slots=True, eq=False)
class Scarcity:
    """Omega (0-1) by week (52,): the mean of the years, and in a wet and a dry year out of five."""

    mean: FloatArray
    wet_year: FloatArray
    dry_year: FloatArray


def scarcity_by_week(site: Site) -> FloatArray:
    """Omega (0-1) in each of the 52 weeks at this site, the mean of all years; higher is scarcer."""
    return scarcity_spread(site).mean.copy()


def scarcity_spread(site: Site) -> Scarcity:
    """Omega by week, with its spread between years. Its arrays may not be written to."""
    return _scarcity(
        site.latitude, site.soil_depth_m, site.soil_texture, site.moisture, tuple(sorted(site.wet_months))
    )


def scarcity_by_month(site: Site, digits: int) -> Mapping[str, tuple[float, ...]]:
    """The same by month (12,), to so many digits: of all years, and of a wet and a dry year."""
    return _by_month(scarcity_spread(site), digits)


@lru_cache(maxsize=256)
def _by_month(spread: Scarcity, digits: int) -> Mapping[str, tuple[float, ...]]:
    """Kept by the spread itself, as every answer tells it."""
    courses = {"mean": spread.mean, "wet_year": spread.wet_year, "dry_year": spread.dry_year}
    return {
        name: tuple(round(month, digits) for month in (MONTH_WEIGHTS @ course).tolist())
        for name, course in courses.items()
    }


def scarcity_drawn(site: Site, draw: FloatArray) -> FloatArray:
    """Mean omega by week where the store is drawn on by ``draw`` (52,) times one short full cover."""
    mean: FloatArray = _by_year(site, draw).mean(axis=0)
    return mean


def _by_year(site: Site, draw: FloatArray) -> FloatArray:
    """Omega (years, 52), its store drawn on by so many covers in each week."""
    loop = kernels.ready(COMPILED)
    if loop is None:
        (capacity_mm, _, _), times, _, _ = store_of(site)
        return _omega(_weather(site.latitude, tuple(sorted(site.wet_months))), draw, capacity_mm, times).T
    demand, *weather = weather_of(site)
    omega: FloatArray = loop.scarce(demand, draw, *weather, *store_of(site))
    return omega.T


def weather_of(site: Site) -> tuple[FloatArray, FloatArray, IntArray, FloatArray, FloatArray]:
    """What is asked and what goes in, as `compiled.soil.scarce` takes it: by day, week starts, by week."""
    found = _weather(site.latitude, tuple(sorted(site.wet_months)))
    return found.demand, found.rain, WEEK_STARTS, found.weekly_demand, found.weekly_rain


def store_of(site: Site) -> tuple[tuple[float, float, float], float, float, float]:
    """The store of a site, how many times as much water is reachable, and between what omega stays."""
    capacity_mm = store_mm(site.soil_texture, site.soil_depth_m)
    times = MOISTURE_STEP ** (site.moisture - REFERENCE_SITE.moisture)
    return (capacity_mm, _slows_at(capacity_mm), LASTS_DAYS), times, LEAST_SCARCE, SCARCEST


def _omega(weather: "_Weather", draw: FloatArray, capacity_mm: float, times: float) -> FloatArray:
    """Omega (52, years) of a store that holds so much, mm: the twin of `compiled.soil.scarce`."""
    days = np.diff(np.append(WEEK_STARTS, weather.demand.size))
    store = _held(weather.demand * np.repeat(draw, days), weather.rain, capacity_mm)
    given = weather.weekly_rain + _by_week(store) / LASTS_DAYS
    given *= times
    asked = weather.weekly_demand[:, None]
    omega: FloatArray = np.clip(asked / np.maximum(asked + given, 1e-300), LEAST_SCARCE, SCARCEST)
    return omega


def store_mm(texture: Texture, soil_depth_m: float) -> float:
    """TAW, mm: the water that roots can take from a full soil of this depth (FAO-56 eq. 82)."""
    return STORE_MM_PER_M[texture] * min(soil_depth_m, REACHED_DEPTH_M)


def soil_water(demand: FloatArray, rain: FloatArray, capacity_mm: float) -> FloatArray:
    """Water in the soil (mm) at the end of each day, for years (n, days) of rain that goes in.

    ``demand`` (days,) is ETo. Each year follows another of the set, so that it does not begin full.
    FAO-56 eq. 84-88: rain fills the store and the excess drains; uptake slows in its last part.
    """
    return np.ascontiguousarray(_held(demand, np.ascontiguousarray(rain.T), capacity_mm).T)


def _slows_at(capacity_mm: float) -> float:
    """What is left in a store, mm, when uptake slows."""
    return (1 - DEPLETION_FRACTION) * capacity_mm


def _held(demand: FloatArray, rain: FloatArray, capacity_mm: float) -> FloatArray:
    """`soil_water` as (days, n), of rain (days, n), each year after the one before it in the set."""
    slows_at = _slows_at(capacity_mm)
    # Taking asked x min(1, water/slows_at), never below 0, leaves the larger of two: all that is asked
    # gone, or a fixed part of the water left. So a day costs five passes over the years.
    left = np.maximum(0.0, 1 - demand / slows_at) if slows_at > 0 else np.ones_like(demand)
    water, held = np.full(rain.shape[1], capacity_mm), np.empty_like(rain)
    unslowed = np.empty_like(water)
    for year in (np.roll(rain, 1, axis=1), rain):
        for fallen, asked, part, kept in zip(year, demand.tolist(), left.tolist(), held, strict=True):
            np.add(water, fallen, out=water)
            np.minimum(water, capacity_mm, out=water)
            np.subtract(water, asked, out=unslowed)
            np.multiply(water, part, out=water)
            np.maximum(water, unslowed, out=water)
            kept[:] = water
    return held


@dataclass(frozen=True, slots=True, eq=False)
class _Weather:
    """What is asked and what goes in, mm, by day (365,), (365, n), and by week (52,), (52, n)."""

    demand: FloatArray
    rain: FloatArray
    weekly_demand: FloatArray
    weekly_rain: FloatArray


@lru_cache(maxsize=8)
def _weather(latitude: float, wet_months: tuple[int, ...]) -> _Weather:
    demand = daily_demand(latitude)
    rain = np.ascontiguousarray(daily_rain(latitude, wet_months).T) * RAIN_TAKEN_IN
    return _Weather(demand, rain, _by_week(demand[:, None])[:, 0], _by_week(rain))


@lru_cache(maxsize=256)
def _scarcity(
    latitude: float, soil_depth_m: float, texture: Texture, moisture: float, wet_months: tuple[int, ...]
) -> Scarcity:
    site = Site(
        latitude=latitude,
        soil_depth_m=soil_depth_m,
        soil_texture=texture,
        moisture=moisture,
        wet_months=wet_months,
    )
    omega = _by_year(site, np.ones(WEEKS))
    wet, dry = percentiles(omega, WET_YEAR, DRY_YEAR)
    spread = Scarcity(omega.mean(axis=0), wet, dry)
    for course in (spread.mean, spread.wet_year, spread.dry_year):
        course.setflags(write=False)
    return spread


def _by_week(daily: FloatArray) -> FloatArray:
    """Sums by week, (52, n), of days (365, n)."""
    summed: FloatArray = np.add.reduceat(daily, WEEK_STARTS, axis=0)
    return summed
