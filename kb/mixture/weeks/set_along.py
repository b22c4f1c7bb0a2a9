"""The week in which a crop is set of which none was said, where one was said of what stands beside it.

Where rain falls all year between the tropics no season says when a bed is planted, and any week is as good as
another (`season`): what stands in one bed is then planted together. Of a lasting kind that is set or cut each
year without a season on record (cassava, cane) the rains alone name no week anywhere: it is set with its
company, as in trials of such mixtures (common practice).
"""

from collections.abc import Sequence
from dataclasses import replace

from kb.mixture.profile import Activity, Profile
from kb.mixture.rains import MONTH_DAYS
from kb.mixture.season import DAYS_PER_WEEK, HALF_YEAR_DAYS, HEAT, driven_by_rain
from kb.mixture.site import Site
from kb.mixture.weeks.cycles import week_after
from kb.mixture.weeks.year_crop import as_year_crop, renewed


def week_along(profile: Profile, said: Sequence[int | None], site: Site) -> int | None:
    """The week in which it is set along with others, of the weeks ``said`` of them; None: in its own."""
    named = [week for week in said if week is not None]
    if not named or not driven_by_rain(site):
        return None
    return min(named) if renewed(profile) or (rains_always(site) and _sown_at_will(profile)) else None


def rains_always(site: Site) -> bool:
    """Whether no month is dry, or none was named as wet."""
    return len(set(site.wet_months)) in {0, len(MONTH_DAYS)}


def set_in(profile: Profile, week: int, site: Site) -> Profile:
    """A crop that begins anew each year, set in this week of the place, for lists that name no weeks."""
    crop = as_year_crop(profile)
    moved = HALF_YEAR_DAYS / DAYS_PER_WEEK if site.southern else 0.0
    return replace(crop, activity=_begun(crop.activity, week - moved), leaf=_begun(crop.leaf, week - moved))


def _begun(course: Activity, week: float) -> Activity:
    later = week - course.start
    start, full, decline, end = (
        week_after(corner, later) for corner in (course.start, course.full, course.decline, course.end)
    )
    return replace(course, start=start, full=full, decline=decline, end=end, start_driver="fixed")


def _sown_at_will(profile: Profile) -> bool:
    return profile.annual and profile.activity.start_driver in HEAT
