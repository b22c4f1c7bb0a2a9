"""The weeks in which a plant grows as a gardener grows it: a crop that frost kills waits for the frosts.

Every question asks here, so that pairs, lists, plantings and follow-ons see one season. A week that is
asked for is taken as it was said, and judged (`sowing`).
"""

from dataclasses import replace
from functools import lru_cache

import numpy as np

from kb.mixture.profile import Activity, Profile, Sown
from kb.mixture.season import (
    DAYS_PER_WEEK,
    HALF_YEAR_DAYS,
    YEAR_DAYS,
    FloatArray,
    activity_by_week,
    autumn_sown,
    driven_by_rain,
    in_autumn,
    seasons_of,
    until_frosts_are_over,
    usual_start,
)
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.weeks.cool_season import cool_start
from kb.mixture.weeks.cycles import as_warm_as_here
from kb.mixture.weeks.warmth import warmth_by_week
from kb.mixture.weeks.winter_rest import awake_by_week

EARLY_WEEKS = 6.0
"""A start so little before the window belongs to it, however short the rest of the year is: rape, rye and
vetches are sown from a month and more before the usual week (common practice)."""


def growth_by_week(profile: Profile, site: Site, *, sow_week: float | None = None) -> FloatArray:
    """Activity of growth (0-1), (52,), at this site; ``sow_week`` [1, 53), None: in its usual weeks.

    An evergreen herb or grass keeps its leaf through cold weeks and hardly grows in them (`winter_rest`).
    """
    course = as_warm_as_here(profile, site).activity
    if course.evergreen and not profile.woody:
        return _evergreen(course, seasons_of(site))
    week = _week_of(profile, site) if sow_week is None else sow_week
    return _course(course, site, week, waits_days(profile, site))


def leaf_by_week(profile: Profile, site: Site, *, sow_week: float | None = None) -> FloatArray:
    """Share (0-1) of its full leaf, (52,), moved as its growth is."""
    course = as_warm_as_here(profile, site).leaf
    week = _week_of(profile, site) if sow_week is None else sow_week
    return _course(course, site, week, waits_days(profile, site))


def waits_days(profile: Profile, site: Site) -> float:
    """Days (0-365) by which a tender annual starts later than its window says, for the frosts to be over.

    Only where it is known that frost kills it; what stays in the ground is not sown.
    """
    if not profile.annual or profile.tender.value != "yes":
        return 0.0
    return until_frosts_are_over(profile.activity, site)


def start_day(profile: Profile, site: Site) -> float:
    """The day on which its usual season begins here, in days from the turn of the year, any real number."""
    week = _week_of(profile, site)
    if week is not None:
        return (week - 1) * DAYS_PER_WEEK
    return usual_start(profile.activity, site) + waits_days(profile, site)


def as_sown(profile: Profile, site: Site, sow_week: float | None) -> Profile:
    """The crop as it grows from this week: of its times of sowing that which begins nearest to it here.

    Summer is too early for what stands over winter, while a crop sown before it could still be in the ground.
    Its usual one where no week ([1, 53), None) is said, and where the rains make the seasons: there autumn
    and spring sowing are words of another climate.
    """
    if sow_week is None or not profile.sowings or driven_by_rain(site):
        return profile
    return _as_sown(profile, seasons_of(site), sow_week)


@lru_cache(maxsize=1024)
def _as_sown(profile: Profile, seasons: Site, sow_week: float) -> Profile:
    day = (sow_week - 1) * DAYS_PER_WEEK

    def far(sown: Profile) -> tuple[bool, bool, float, float]:
        start = start_day(sown, seasons)
        early = too_early_weeks(sown, seasons, sow_week) > 0 and any(
            growth_by_week(other, seasons)[int(sow_week) - 1] > 0
            for other in every_sowing(profile)
            if not stands_over_winter(other, seasons)
        )
        # A mild site may move a spring sowing to before midwinter: it is no autumn sowing for that.
        spring = in_autumn(day, seasons) and in_autumn(start, seasons) and not autumn_sown(sown.activity)
        return early, spring, round(_days_apart(start, day), 6), start % YEAR_DAYS

    return min(every_sowing(profile), key=far)


@lru_cache(maxsize=1024)
def stands_over_winter(profile: Profile, site: Site) -> bool:
    """Whether it is in the ground in the coldest week of the year, in its own season.

    A crop of spring that an early spring starts in January has no winter to stand over: it is one where it is
    sown in autumn, or is in the ground through the winter of the reference site.
    """
    if not _in_coldest_week(profile, site):
        return False
    return autumn_sown(profile.activity) or _in_coldest_week(profile, REFERENCE_SITE)


def _in_coldest_week(profile: Profile, site: Site) -> bool:
    coldest = int(np.argmin(warmth_by_week(site)))
    return bool(growth_by_week(profile, site)[coldest] > 0)


def too_early_weeks(profile: Profile, site: Site, sow_week: float) -> float:
    """Weeks by which what stands over winter is started before its time, in summer; 0 where near enough.

    Summer is the half of the year that is warmer than its mean, up to the equinox of autumn: in the cold half
    it does not get too far, and from the equinox on it is sown in autumn.
    """
    warmth, day = warmth_by_week(site), (sow_week - 1) * DAYS_PER_WEEK
    autumn = in_autumn(day, site) and not in_autumn(day + YEAR_DAYS / 4, site)
    summer = warmth[int(sow_week) - 1] > warmth.mean() and not autumn
    if driven_by_rain(site) or not (profile.activity.known and summer and stands_over_winter(profile, site)):
        return 0.0
    early = (start_day(profile, site) - day) % YEAR_DAYS
    return early / DAYS_PER_WEEK if EARLY_WEEKS * DAYS_PER_WEEK < early < HALF_YEAR_DAYS else 0.0


@lru_cache(maxsize=256)
def every_sowing(profile: Profile) -> tuple[Profile, ...]:
    """The crop from each of its times of sowing, the one at hand first."""
    years = (Sown(profile.activity, profile.leaf), *profile.sowings)
    others = [
        replace(
            profile,
            activity=year.activity,
            leaf=year.leaf,
            sowings=tuple(other for other in years if other is not year),
        )
        for year in profile.sowings
    ]
    return (profile, *others)


def _week_of(profile: Profile, site: Site) -> float | None:
    """The week in which a crop of the cool months is sown here; None where its season is told as any other's.

    Only where no frost comes: then it is asked (`cool_start`).
    """
    return None if site.frosty else cool_start(profile, site)


@lru_cache(maxsize=1024)
def _evergreen(course: Activity, seasons: Site) -> FloatArray:
    weekly = activity_by_week(course, seasons) * awake_by_week(seasons)
    weekly.setflags(write=False)
    return weekly


def _days_apart(one: float, other: float) -> float:
    apart = (one - other) % YEAR_DAYS
    return min(apart, YEAR_DAYS - apart)


@lru_cache(maxsize=4096)
def _course(activity: Activity, site: Site, sow_week: float | None, later_days: float) -> FloatArray:
    """`activity_by_week`, kept: every list of plants at a site asks for the same ones again."""
    weekly = activity_by_week(activity, site, sow_week=sow_week, later_days=later_days)
    weekly.setflags(write=False)
    return weekly
