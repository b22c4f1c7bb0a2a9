"""The warmth of a site by the week: that of its latitude, moved by what is said of its frosts and winters.

Without frost dates of its own, and with no winter said, a site is as warm as the reference climate moved to
its latitude (`climate`): an oceanic one. Dates of frost that are said, or a winter, tell another: on the mean
dates of last and first frost it is as warm as the latitude is on its usual ones; the coldest week goes with
the lowest temperature of the winter. What lies between follows the course of the latitude.
"""

from dataclasses import replace
from functools import lru_cache

from kb.mixture.season import (
    DAYS_PER_WEEK,
    WEEKS,
    YEAR_DAYS,
    FloatArray,
    reference_frost_days,
    seasons_of,
)
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.climate import HOTTEST, weekly_warmth

MEAN_TO_LOWEST = 0.66
"""The coldest week is colder by so many degrees for each degree by which the lowest temperature of a winter
is lower: London 5 and -8, Budapest 0 and -15, Minneapolis -9 and -28, Winnipeg -16 and -35 degrees C (climate
tables, from memory)."""
LEAST_SWING = 0.5
"""Warmest less coldest week, as a share of that of the latitude, below which frost dates are not taken to
tell it: they are rough (judgement)."""
FAR_ENOUGH = 0.25
"""Share of the way from the coldest to the warmest week: frosts that end nearer midwinter tell no summer."""
REFERENCE_WINTER_C = -8.0
"""Mean of the lowest winter temperatures in the lowlands of southern England: from memory."""
COLDER_PER_DEGREE, COLDER_PER_DAY = 0.3, 0.05
"""Degrees C of the guess for a degree of latitude, and for a day of frost-free time less: judgement."""


def warmth_by_week(site: Site) -> FloatArray:
    """Mean temperature, degrees C, of each of the 52 weeks of a mean year."""
    if site.winter_min_c is None and _dates(site) == reference_frost_days(site.latitude):
        return weekly_warmth(site.latitude)
    return _moved(replace(seasons_of(site), winter_min_c=site.winter_min_c))


def guessed_winter_c(site: Site) -> float | None:
    """Lowest winter temperature (degrees C) to guess from latitude and frost dates; None without frost."""
    if not site.frosty:
        return None
    usual = (REFERENCE_SITE.first_frost_day or 0.0) - (REFERENCE_SITE.last_frost_day or 0.0)
    last, first = site.last_frost_day, site.first_frost_day
    free = 0.0 if site.frost_every_month or last is None or first is None else (first - last) % YEAR_DAYS
    north = abs(site.latitude) - abs(REFERENCE_SITE.latitude)
    guess = REFERENCE_WINTER_C - COLDER_PER_DEGREE * north - COLDER_PER_DAY * (usual - free)
    return round(min(guess, -1.0))


@lru_cache(maxsize=512)
def _moved(site: Site) -> FloatArray:
    usual = weekly_warmth(site.latitude)
    coldest, swing = float(usual.min()), float(usual.max() - usual.min())
    if swing <= 0:
        return usual
    course = (usual - coldest) / swing
    warmest = coldest + swing
    last, first = reference_frost_days(site.latitude)
    ordinary = replace(
        site, last_frost_day=last, first_frost_day=first, frost_every_month=False, winter_min_c=None
    )
    its, others = guessed_winter_c(site), guessed_winter_c(ordinary)
    winter_c = its if site.winter_min_c is None else site.winter_min_c
    if winter_c is not None and others is not None:
        coldest += MEAN_TO_LOWEST * (winter_c - others)
    here = warmest - coldest
    if None not in _dates(site) and _dates(site) != (last, first) and last is not None and first is not None:
        reached = (_on(course, site.last_frost_day) + _on(course, site.first_frost_day)) / 2
        at_frosts = (_on(usual, last) + _on(usual, first)) / 2
        if reached > FAR_ENOUGH:
            here = (at_frosts - coldest) / reached
    here = min(max(here, LEAST_SWING * swing), max(HOTTEST, warmest) - coldest)
    moved: FloatArray = coldest + here * course
    moved.setflags(write=False)
    return moved


def _dates(site: Site) -> tuple[float | None, float | None]:
    return site.last_frost_day, site.first_frost_day


def _on(weekly: FloatArray, day: float | None) -> float:
    """The value of the week of a day; None counts as the first."""
    return float(weekly[int(((day or 1.0) - 1) // DAYS_PER_WEEK) % WEEKS])
