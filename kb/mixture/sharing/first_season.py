"""A herb that lasts for years, in the season in which it is sown: clover and grass under a nurse crop.

It has no growth before its week, comes up from nothing and is as small as one of its first year; it ends its
season as it does each year, and stays (common practice of undersown leys). What it is once it stands is
another question, asked by its age or without one.
"""

from dataclasses import replace
from functools import lru_cache

from kb.mixture.profile import Activity, Profile
from kb.mixture.season import DAYS_PER_WEEK, HALF_YEAR_DAYS, MIDWINTER_DAY, WEEKS
from kb.mixture.site import Site
from kb.mixture.weeks.as_grown import EARLY_WEEKS, growth_by_week
from kb.mixture.weeks.cycles import week_after
from kb.mixture.weeks.year_crop import FALLS, RISES

SOWN_FORMS = frozenset({"herb", "graminoid"})
"""Forms of lasting plants that are commonly sown in their place."""
UNDERGROUND = frozenset({"bulb", "corm", "tuber"})
"""Root forms of those that are planted for the years to come, and not sown."""


TO_STAND_WEEKS = 8.0
"""So long before the first frost it is sown at the latest, to stand over winter: clovers by the middle of
August (common practice)."""


def sown_this_year(profile: Profile, site: Site, week: float) -> Profile | None:
    """The plant from the week [1, 53) in which it is sown; None where it is none that is sown then.

    Its weeks have to be on record, and the week to lie in them or little before, in time for the winter.
    """
    if profile.life_cycle.value != "perennial" or profile.growth_form.value not in SOWN_FORMS:
        return None
    if profile.root_form.value in UNDERGROUND or not profile.activity.known:
        return None
    return _from(profile, site, week)


@lru_cache(maxsize=256)
def _from(profile: Profile, site: Site, week: float) -> Profile | None:
    grows = growth_by_week(profile, site) > 0
    ahead = [(int(week) - 1 + later) % WEEKS for later in range(int(EARLY_WEEKS) + 1)]
    if not grows[ahead].any() or not _in_time(site, week):
        return None
    moved = HALF_YEAR_DAYS / DAYS_PER_WEEK if site.southern else 0.0
    start = (week - moved - 1) % WEEKS + 1
    return replace(profile, activity=_begun(profile.activity, start), leaf=_begun(profile.leaf, start))


def _in_time(site: Site, week: float) -> bool:
    """Whether it is sown after midwinter, and early enough before the first frost."""
    if site.first_frost_day is None:
        return True
    midwinter = (MIDWINTER_DAY + (HALF_YEAR_DAYS if site.southern else 0.0)) / DAYS_PER_WEEK + 1
    frost = site.first_frost_day / DAYS_PER_WEEK + 1
    return (week - midwinter) % WEEKS <= (frost - midwinter) % WEEKS - TO_STAND_WEEKS


def _begun(course: Activity, start: float) -> Activity:
    """The course from this week to its own end; of an evergreen to the same week of the next year."""
    length = WEEKS - 1.0 if course.evergreen else (course.end - start) % WEEKS
    full, decline = (week_after(start, share * length) for share in (RISES, 1 - FALLS))
    end = week_after(start, length)
    return replace(
        course, start=start, full=full, decline=decline, end=end, evergreen=False, start_driver="fixed"
    )
