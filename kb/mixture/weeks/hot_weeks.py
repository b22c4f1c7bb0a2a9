"""Crops of the cool weeks sown into far warmer ones: where it is too hot for them, and where it is but warm.

Vegetables are classed by the mean temperatures of the months in which they do well (Maynard & Hochmuth,
Knott's Handbook for Vegetable Growers, as reprinted by the University of California, Santa Cruz: Teaching
Organic Farming and Gardening, unit 1.3, appendix 5); they are records of the crops, beside the temperatures
that FAO ECOCROP calls optimal. The upper ends of both agree: of 40 crops that have both, the median of the
differences is 0.1 degrees. Of a crop without such a record, that it is grown in cool weeks at the reference
site says that it is warm elsewhere, and no more: there is no such week to try.
"""

from functools import lru_cache

import numpy as np

from kb.mixture.limits import Limit, worst
from kb.mixture.profile import Profile
from kb.mixture.results import Verdict
from kb.mixture.season import WEEKS, FloatArray, autumn_sown, driven_by_rain
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.stress import IntArray, verdict_of
from kb.mixture.weeks.as_grown import every_sowing, growth_by_week
from kb.mixture.weeks.cool_season import cool_nights, lost_to_heat, of_cool_months, weeks_of_cycle
from kb.mixture.weeks.sown_week import LOST_MOST, LOST_PART, Put, in_its_weeks, start_week
from kb.mixture.weeks.warmth import warmth_by_week

SHUNS_C = 0.5
"""A crop whose weeks at the reference site all stay this much below the hottest one there is taken to shun
heat (degrees C, judgement)."""
COOL_CROPS_C = 23.9
"""Highest monthly mean (75 F) at which crops of the cool season do well: the table's class of lettuce,
cabbage and peas. It stands in for one of which no class is on record."""
WARMER_C = 6.0
"""Weeks so much warmer than the warmest of its weeks at the reference site are worth a word (judgement)."""


def hot_limit(
    profile: Profile, activity: FloatArray, usual: FloatArray, site: Site, put: Put
) -> Limit | None:
    """An annual of the cool weeks, sown so that it has to grow in weeks hotter than it bears.

    Kinds that bear heat may do, so it is never to avoid; how hot a summer is goes with the distance from the
    sea as much as with the latitude, so it is never sure. Between the tropics its own weeks may be too hot
    as well, where none is cool.
    """
    if not _shuns_heat(profile, site):
        return None
    here, own = (its_weeks(profile, course) for course in (activity, usual))
    warmth, most = warmth_by_week(site), _most_c(profile)
    hot = warmth > most
    share = float(hot[here].mean() - hot[own].mean())
    ceiling: Verdict = "poor" if share >= LOST_MOST else "workable" if share >= LOST_PART else "good"
    at_best: Verdict = "good"
    if driven_by_rain(site):
        # Weeks differ so little there that a share of them beyond a line turns on tenths of a degree.
        at_best, left = (_of_loss(lost_to_heat(profile, warmth[weeks])) for weeks in (own, here))
        ceiling = "good" if left == "good" else worst(ceiling, left)
    if ceiling == "good":
        return None
    mean = float(warmth[here].mean())
    elsewhere = at_best != "good"
    records = profile.warmth_c.records if profile.warmth_c is not None else profile.activity.records
    return Limit(
        kind="season",
        of=profile.id,
        text=(
            f"{profile.name}, {put}, would grow in weeks of about {mean:.0f} °C; above {most:.0f} °C "
            f"{'it' if profile.warmth_c is not None else 'a crop of the cool season'} may well bolt or fail."
        ),
        records=records,
        ceiling=ceiling,
        lift=f"{profile.name} is grown high up, in the cool"
        if elsewhere
        else in_its_weeks(profile, usual, put),
        moves_week=not elsewhere,
        thin=True,
    )


def warm_note(profile: Profile, activity: FloatArray, site: Site) -> str | None:
    """What is said of weeks that are warm for it and not too hot; None where they are not, or its own."""
    if not (profile.annual and activity.any() and _shuns_heat(profile, site)):
        return None
    usual = growth_by_week(profile, site)
    here, own = (float(warmth_by_week(site)[its_weeks(profile, one)].mean()) for one in (activity, usual))
    warmest = _warmest_usual(profile)
    if not (warmest + WARMER_C < here <= _most_c(profile) and here > own):
        return None
    return (
        f"{profile.name}, growing from week {start_week(activity)}, has weeks of about {here:.0f} °C (by the "
        f"latitude; inland summers are warmer). It does better in cooler ones, and bears up to about "
        f"{_most_c(profile):.0f} °C: kinds that are slow to bolt, and water, help."
    )


def _shuns_heat(profile: Profile, site: Site) -> bool:
    """Whether it is a crop of cool months, or a hardy one of weeks that are cooler than the hottest.

    Where the nights between the tropics are said to be cool it is high up, and not as warm as the latitude.
    """
    if profile.warmth_c is not None:
        return of_cool_months(profile) and not (driven_by_rain(site) and cool_nights(site))
    if driven_by_rain(site) or autumn_sown(profile.activity):
        return False
    if not (profile.activity.known and profile.tender.value == "no"):
        return False
    return _warmest_usual(profile) <= float(warmth_by_week(REFERENCE_SITE).max()) - SHUNS_C


def _of_loss(lost: float) -> Verdict:
    """The best word that is left; never to avoid."""
    found = verdict_of(lost)
    return "poor" if found == "avoid" else found


def _most_c(profile: Profile) -> float:
    """The warmest week that it bears, degrees C: on record, or that of crops of the cool season."""
    return COOL_CROPS_C if profile.warmth_c is None else profile.warmth_c.high


def its_weeks(profile: Profile, course: FloatArray) -> IntArray:
    """The weeks from the start of a course on, as many as the crop takes.

    At a mild site some courses are drawn out, since their ends do not move; the crop is none the slower.
    """
    found: IntArray = (start_week(course) - 1 + np.arange(weeks_of_cycle(profile))) % WEEKS
    return found


@lru_cache(maxsize=1024)
def _warmest_usual(profile: Profile) -> float:
    """Mean temperature (degrees C) of the warmest week it grows in at the reference site, however sown."""
    warmth = warmth_by_week(REFERENCE_SITE)
    courses = [growth_by_week(sown, REFERENCE_SITE) > 0 for sown in every_sowing(profile)]
    return float(warmth[np.any(courses, axis=0)].max())
