"""How far a crop gets that is started later than its season: what short days, cold and frost leave of it.

It keeps the length of its cycle, that of its window or the shorter one on record, and is held against one
cycle begun in time; sown after midsummer it takes up to three weeks longer (`trade` 5.3). Growth goes with
the sun's radiation on its leaves (Monteith 1977, Phil. Trans. R. Soc. B 281: 277-294), so later weeks bring
less; what would come after the first frost, after its own end where day length sets it, or in weeks too cold
to grow, is not had at all.

Ripeness goes with warmth: a crop that is grown for its ripe seed has to find the sum of degrees above the
base of cool crops that it has in its own weeks (`trade` 5.3: "better: degree-days") before the damp of autumn
(`damp`).
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from kb.mixture.altered import altered
from kb.mixture.profile import Activity, Profile
from kb.mixture.season import (
    DAYS_PER_WEEK,
    HALF_YEAR_DAYS,
    MIDSUMMER_DAY,
    MIDWINTER_DAY,
    WEEKS,
    YEAR_DAYS,
    FloatArray,
    activity_by_week,
    driven_by_rain,
)
from kb.mixture.site import Site
from kb.mixture.weeks.as_grown import growth_by_week, stands_over_winter, start_day
from kb.mixture.weeks.climate import weekly_radiation
from kb.mixture.weeks.comes_up import STARTS_ABOVE_C
from kb.mixture.weeks.cycles import shortened, week_after
from kb.mixture.weeks.damp import damp_from
from kb.mixture.weeks.warmth import warmth_by_week

TOO_COLD_C = 5.0
"""Mean temperature of a week below which crops of cool seasons hardly grow: common practice."""
LONGER_DAYS = ((0.0, 29.0, 50.0), (0.0, 14.0, 21.0))
"""Days after midsummer, and by how many days a sowing then takes longer: 20 July, 10 August (`trade` 5.3)."""
READY = 0.9
"""A crop is ready where it has this share of its cycle, or of the days that it has in its own weeks: crop
tables count in the picking (judgement)."""
CUT_OFF = 0.05
"""Share of its growth behind an end from which that end is worth naming (judgement)."""


@dataclass(frozen=True, slots=True)
class Unfinished:
    """Shares (0-1) of its usual growth that a late start costs, in all and by what ends it; is it ready."""

    lost: float
    cut: float
    ended_by: str
    ready_days: float
    """Days that its usual cycle takes, started then."""

    room_days: float
    room_ends_by: str
    ready: bool
    quick_is_ready: bool
    """Whether the quickest kind on record is ready in time."""


def unfinished(profile: Profile, site: Site, sow_week: float) -> Unfinished | None:
    """What an annual started in ``sow_week`` [1, 53) does not get done; None where it is not late.

    None too where how long it takes is not on record, where it stands over winter, and where no frost comes.
    """
    if profile.cycle_days is None or not _has_an_end(profile, site):
        return None
    longer = longer_weeks(site, sow_week) * DAYS_PER_WEEK
    start = start_day(profile, site)
    late_days = ((sow_week - 1) * DAYS_PER_WEEK - start) % YEAR_DAYS
    if not 0 < late_days < _late_until(start, site):
        return None
    cycle, in_time = _in_time(profile, site)
    here = _sooner_ripe(profile, cycle, site, sow_week)
    had, cut, ended_by = _had(profile, _longer(here, site, sow_week), site, sow_week)
    if in_time <= 0:
        return None
    (room, by), (usual_room, _) = (
        _room(profile, site, sow_week),
        _room(profile, site, start / DAYS_PER_WEEK + 1),
    )
    needed = profile.cycle_days.likely + longer
    ready = READY * min(needed, usual_room * DAYS_PER_WEEK) <= room * DAYS_PER_WEEK
    quick = profile.cycle_days.low + longer <= room * DAYS_PER_WEEK
    damp = damp_from(site) if profile.ripe_seed.value == "yes" else None
    if damp is not None:
        until = (damp + 1 - sow_week) % WEEKS
        if until < room:
            room, by = until, "the damp of autumn, in which no seed dries"
        likely, quickest = (_sum_needed(profile, site, days) for days in _likely_and_low(profile))
        found = _sum_ahead(site, sow_week, room)
        usual_week = start / DAYS_PER_WEEK + 1
        in_own = _sum_ahead(site, usual_week, min(usual_room, (damp + 1 - usual_week) % WEEKS))
        ready, quick = READY * min(likely, in_own) <= found, quickest <= found
    return Unfinished(
        lost=max(0.0, 1 - had / in_time),
        cut=cut / in_time,
        ended_by=ended_by if cut > CUT_OFF * in_time else "",
        ready_days=needed,
        room_days=room * DAYS_PER_WEEK,
        room_ends_by=by,
        ready=ready,
        quick_is_ready=quick,
    )


def _likely_and_low(profile: Profile) -> tuple[float, float]:
    days = profile.cycle_days
    return (0.0, 0.0) if days is None else (days.likely, days.low)


def _sum_needed(profile: Profile, site: Site, days: float) -> float:
    """Degree-days above the base that so many days have, as warm as the weeks of its own season here."""
    grows = growth_by_week(profile, site) > 0
    return float(_degrees(site)[grows].mean()) * days if grows.any() else 0.0


def _sooner_ripe(profile: Profile, cycle: Activity, site: Site, sow_week: float) -> Activity:
    """The cycle of what ripens sooner in warmer weeks, and so has less light, than begun in its own.

    Development goes with the sum of degrees, growth with light: cereals that are sown late yield less for it
    (Monteith 1977, as above). Others are picked as they grow.
    """
    if profile.ripe_seed.value != "yes":
        return cycle
    needed = _sum_needed(profile, site, _likely_and_low(profile)[0])
    own = _weeks_to(site, start_day(profile, site) / DAYS_PER_WEEK + 1, needed)
    share = min(1.0, _weeks_to(site, sow_week, needed) / own) if own > 0 else 1.0
    full, decline, end = (
        week_after(cycle.start, share * ((corner - cycle.start) % WEEKS))
        for corner in (cycle.full, cycle.decline, cycle.end)
    )
    return altered(cycle, full=full, decline=decline, end=end)


def _weeks_to(site: Site, week: float, needed: float) -> float:
    """Weeks from ``week`` on in which the sum of degree-days is reached; a year where it never is."""
    sums = np.cumsum(np.roll(_degrees(site), 1 - int(week))) * DAYS_PER_WEEK
    return float(np.interp(needed, np.append(0.0, sums), np.arange(WEEKS + 1.0)))


def _sum_ahead(site: Site, week: float, weeks: float) -> float:
    """Degree-days above the base in so many weeks from ``week`` [1, 53) on."""
    since = (np.arange(WEEKS) + 1 - week) % WEEKS
    return float((_degrees(site) * np.clip(weeks - since, 0.0, 1.0)).sum() * DAYS_PER_WEEK)


def _degrees(site: Site) -> FloatArray:
    degrees: FloatArray = np.maximum(warmth_by_week(site) - STARTS_ABOVE_C, 0.0)
    return degrees


@lru_cache(maxsize=256)
def _in_time(profile: Profile, site: Site) -> tuple[Activity, float]:
    """One cycle of its growth, and the light that it has when begun in time (`_had`)."""
    cycle = altered(shortened(profile.activity, profile.cycle_days), start_driver="fixed")
    return cycle, _had(profile, cycle, site, start_day(profile, site) / DAYS_PER_WEEK + 1)[0]


def _had(profile: Profile, cycle: Activity, site: Site, sow_week: float) -> tuple[float, float, str]:
    """Light on its leaves in a cycle begun then (MJ/m2 a day, over all weeks), what is cut off, by what.

    Where the season is long a crop may bear until the frost; it is held to one cycle, early or late.
    """
    # What ends it, day length too, is reckoned here: its window may leave room for a late start. Where an
    # early spring draws a window out, the crop is none the slower: neither end of a cycle moves.
    course = activity_by_week(altered(cycle, end_driver="fixed"), site, sow_week=sow_week)
    room, ended_by = _room(profile, site, sow_week)
    since = (np.arange(WEEKS) + 1 - sow_week) % WEEKS
    light = weekly_radiation(site.latitude)
    had = float((course * light * np.clip(room - since, 0.0, 1.0)).sum())
    return had, float((course * light).sum()) - had, ended_by


def _late_until(start: float, site: Site) -> float:
    """Days after its start up to which a later one is late: half a year, or until the winter is half over.

    From then on it is an early start of the season to come.
    """
    midwinter = MIDWINTER_DAY + (HALF_YEAR_DAYS if site.southern else 0.0)
    return max(HALF_YEAR_DAYS, (midwinter - start) % YEAR_DAYS)


def _has_an_end(profile: Profile, site: Site) -> bool:
    """Whether its season has an end here that a late start can run into, and its length is on record."""
    if site.first_frost_day is None or site.frost_every_month or driven_by_rain(site):
        return False
    if not profile.annual or profile.activity.evergreen:
        return False
    return profile.activity.known and not stands_over_winter(profile, site)


def _longer(cycle: Activity, site: Site, sow_week: float) -> Activity:
    """The same, drawn out as late sowings are; it stands at its full size for so much longer."""
    weeks = longer_weeks(site, sow_week)
    return altered(cycle, decline=week_after(cycle.decline, weeks), end=week_after(cycle.end, weeks))


def longer_weeks(site: Site, sow_week: float) -> float:
    """By how many weeks a sowing in this week takes longer than one of spring."""
    midsummer = MIDSUMMER_DAY + (HALF_YEAR_DAYS if site.southern else 0.0)
    after = ((sow_week - 1) * DAYS_PER_WEEK - midsummer) % YEAR_DAYS
    return float(np.interp(after, *LONGER_DAYS)) / DAYS_PER_WEEK if after < HALF_YEAR_DAYS else 0.0


def _room(profile: Profile, site: Site, sow_week: float) -> tuple[float, str]:
    """Weeks from its sowing to what ends its growth, and what that is."""
    if profile.activity.end_driver == "day-length":
        course = growth_by_week(profile, site)
        last = float(np.flatnonzero((course > 0) & (np.roll(course, -1) <= 0))[0] + 2)
        return (last - sow_week) % WEEKS, "its own end, which the length of the day sets"
    first = site.first_frost_day or YEAR_DAYS
    if profile.tender.value == "yes" or profile.activity.end_driver == "autumn-frost":
        return (first / DAYS_PER_WEEK + 1 - sow_week) % WEEKS, "the first frost"
    cold = warmth_by_week(site) < TOO_COLD_C
    began = (int(sow_week) - 1) % WEEKS
    ahead = np.concatenate([cold[began:], cold[:began]])
    return (float(np.argmax(ahead)) if ahead.any() else float(WEEKS)), "the cold"


def growth_lost(found: Unfinished) -> str:
    """What takes it, in words."""
    return f"short days and {found.ended_by}" if found.ended_by else "short days"
