"""How long a crop of one season takes: its window at the reference site, or the days it is on record to take.

A window is what growers do in a cool summer, and takes in picking and standing over. Days from sowing to
harvest are counted mostly where it is warm (Allen et al. 1998, FAO-56, table 11, names the regions).
"""

from dataclasses import replace
from functools import lru_cache

from kb.mixture.altered import altered
from kb.mixture.profile import Activity, Estimate, Profile
from kb.mixture.season import DAYS_PER_WEEK, WEEKS, driven_by_rain
from kb.mixture.site import Site


def shortened(course: Activity, days: Estimate | None) -> Activity:
    """The course with the length of its cycle, ``days``, where that is shorter than its window."""
    corners = [(corner - course.start) % WEEKS for corner in (course.full, course.decline, course.end)]
    length = corners[-1] * DAYS_PER_WEEK
    share = 1.0 if days is None or length <= 0 else min(1.0, days.likely / length)
    full, decline, end = (week_after(course.start, share * corner) for corner in corners)
    return altered(course, full=full, decline=decline, end=end)


def as_warm_as_here(profile: Profile, site: Site) -> Profile:
    """The crop with the length it has where rains make the seasons: there no cool weather draws it out."""
    if not profile.annual or profile.cycle_days is None or profile.activity.evergreen:
        return profile
    return _in_the_warm(profile) if driven_by_rain(site) else profile


@lru_cache(maxsize=1024)
def _in_the_warm(profile: Profile) -> Profile:
    days = profile.cycle_days
    return replace(profile, activity=shortened(profile.activity, days), leaf=shortened(profile.leaf, days))


def week_after(start: float, weeks: float) -> float:
    """The moment so many weeks after another, in [1, 53)."""
    return (start + weeks - 1) % WEEKS + 1
