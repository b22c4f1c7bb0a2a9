"""Crops of the cool season where rains make the seasons: sown into the cool months, not with the rains.

Wheat, chickpea, potatoes and salads follow the monsoon of India in October and November (the rabi season:
common practice of its agronomy). Which crops they are is told by the warmth on record of their months, or by
their being sown in autumn elsewhere; where they grow, by the site's own weeks.
"""

from functools import lru_cache
from math import ceil

import numpy as np

from kb.mixture.profile import Profile
from kb.mixture.rains import longest_rains
from kb.mixture.season import (
    DAYS_PER_WEEK,
    WEEKS,
    FloatArray,
    autumn_sown,
    driven_by_rain,
    rains_begin,
    usual_start,
)
from kb.mixture.site import Site
from kb.mixture.weeks.cycles import shortened
from kb.mixture.weeks.sown_week import LOST_PART
from kb.mixture.weeks.warmth import warmth_by_week

COOL_CLASS_C = 25.3
"""Highest monthly mean of crops of the cool season, degrees C: midway between the classes of 75 and 80 F of
the table that `hot_weeks` cites. Of crops that frost kills, those below it are crops of cool months too."""
MUCH_COOLER_C, AS_COOL_C = 1.0, 0.1
"""By so many degrees C its weeks must be cooler than those from the start of the rains to be worth waiting
for; and so near to the coolest that can be had the first are taken (judgement)."""
COOL_NIGHTS_C = 12.0
"""Where the lowest temperature of the year is said to be below this it is cool enough, high up: judgement."""
MOST_BEYOND_C = 6.0
"""So far above the highest warmth in which it does well a crop is given up, where no more is on record: the
median of the 89 crops of cool months that have both (FAO ECOCROP's optimal and absolute temperatures)."""


def of_cool_months(profile: Profile) -> bool:
    """Whether the warmth of its months is on record, and is not that of a crop that frost and cool kill."""
    warmth = profile.warmth_c
    if warmth is None or profile.of_the_tropics:
        return False
    return profile.tender.value != "yes" or warmth.high <= COOL_CLASS_C


@lru_cache(maxsize=1024)
def weeks_of_cycle(profile: Profile) -> int:
    """Weeks that one cycle of it takes: those of its window, or of the days on record if they are fewer."""
    cycle = shortened(profile.activity, profile.cycle_days)
    return max(1, ceil((cycle.end - cycle.start) % WEEKS))


@lru_cache(maxsize=1024)
def cool_start(profile: Profile, site: Site) -> float | None:
    """The week [1, 53) in which it is sown here for the cool months; None where it is sown as all else is.

    The first from the end of the rains on (of the warmest week, where no months are named) whose weeks are
    about as cool as any.
    """
    if not profile.annual or profile.activity.evergreen or not _warm_all_year(site):
        return None
    if not (of_cool_months(profile) or (profile.activity.known and autumn_sown(profile.activity))):
        return None
    warmth, weeks = warmth_by_week(site), weeks_of_cycle(profile)
    autumn = profile.warmth_c is None or autumn_sown(profile.activity)
    bears = -np.inf if autumn or profile.warmth_c is None else profile.warmth_c.high
    # Of what is sown in autumn elsewhere every degree counts, of another crop those above what it bears.
    mean = _mean_ahead(np.maximum(warmth - max(bears, float(warmth.min())), 0.0), weeks)
    hot = _mean_ahead((warmth > bears).astype(np.float64), weeks)
    rains = longest_rains(site)
    begins = rains_begin(site) - 1 if driven_by_rain(site) else usual_start(profile.activity, site)
    begins = int(begins // DAYS_PER_WEEK) % WEEKS
    if mean[begins] - mean.min() < MUCH_COOLER_C and hot[begins] - hot.min() < LOST_PART:
        return None
    first = int(np.argmax(warmth)) if rains is None else ceil(rains.over_day / DAYS_PER_WEEK) % WEEKS
    found = int(np.argmax(np.roll(mean, -first) <= mean.min() + AS_COOL_C))
    return float((first + found) % WEEKS + 1)


def cool_nights(site: Site) -> bool:
    """Whether the lowest temperature of the year is said to be that of a place high up."""
    return site.winter_min_c is not None and site.winter_min_c < COOL_NIGHTS_C


def lost_to_heat(profile: Profile, warmth: FloatArray) -> float:
    """Share (0-1) of what a crop of cool months does in its best weeks that weeks of this warmth cost it.

    From all at the highest warmth in which it does well down to nothing where it is given up, as the EcoCrop
    model has it (Hijmans et al. 2001; Ramirez-Villegas, Jarvis & Läderach 2013, Agricultural and Forest
    Meteorology 170: 67-78; the straight line from memory).
    """
    best, grows = profile.warmth_c, profile.warmth_grows_c
    if best is None:
        return 0.0
    most = best.high + MOST_BEYOND_C if grows is None else max(grows.high, best.high + 1.0)
    return float(np.clip((warmth - best.high) / (most - best.high), 0.0, 1.0).mean())


def _warm_all_year(site: Site) -> bool:
    """Whether rains make the seasons: between the tropics; beyond, where they are told and no frost comes."""
    return driven_by_rain(site) or (not site.frosty and bool(site.wet_months))


def _mean_ahead(weekly: FloatArray, weeks: int) -> FloatArray:
    """Mean of so many weeks from each one on, (52,)."""
    ahead = (np.arange(WEEKS)[:, None] + np.arange(weeks)) % WEEKS
    mean: FloatArray = weekly[ahead].mean(axis=1)
    return mean
