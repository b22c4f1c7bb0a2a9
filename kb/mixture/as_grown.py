"""The weeks in which a plant grows as a gardener grows it: a crop that frost kills waits for the frosts.

Every question asks here, so that pairs, lists, plantings and follow-ons see one season. A week that is
asked for is taken as it was said, and judged (`sowing`).
"""

from functools import lru_cache

from kb.mixture.profile import Activity, Profile
from kb.mixture.season import FloatArray, activity_by_week, until_frosts_are_over, usual_start
from kb.mixture.site import Site


def growth_by_week(profile: Profile, site: Site, *, sow_week: float | None = None) -> FloatArray:
    """Activity of growth (0-1), (52,), at this site; ``sow_week`` [1, 53), None: in its usual weeks."""
    return _course(profile.activity, site, sow_week, waits_days(profile, site))


def leaf_by_week(profile: Profile, site: Site, *, sow_week: float | None = None) -> FloatArray:
    """Share (0-1) of its full leaf, (52,), moved as its growth is."""
    return _course(profile.leaf, site, sow_week, waits_days(profile, site))


def waits_days(profile: Profile, site: Site) -> float:
    """Days (0-365) by which a tender annual starts later than its window says, for the frosts to be over.

    Only where it is known that frost kills it; what stays in the ground is not sown.
    """
    if not profile.annual or profile.tender.value != "yes":
        return 0.0
    return until_frosts_are_over(profile.activity, site)


def start_day(profile: Profile, site: Site) -> float:
    """The day on which its usual season begins here, in days from the turn of the year, any real number."""
    return usual_start(profile.activity, site) + waits_days(profile, site)


@lru_cache(maxsize=4096)
def _course(activity: Activity, site: Site, sow_week: float | None, later_days: float) -> FloatArray:
    """`activity_by_week`, kept: every list of plants at a site asks for the same ones again."""
    weekly = activity_by_week(activity, site, sow_week=sow_week, later_days=later_days)
    weekly.setflags(write=False)
    return weekly
