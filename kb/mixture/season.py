"""When a plant grows: weekly activity from four corner dates, moved to the site.

The year has 52 equal weeks of 365/52 days, so that it closes on itself; week 1 begins on day 1.
Everything is reckoned in days and averaged over each week, so a shift by whole weeks is an exact
roll of the array. A corner is a moment: 15.0 is the beginning of week 15. A season printed as
"weeks 15 to 45" in whole weeks therefore ends at 46.0.

**How a site moves the dates** (`trade` 4.5, `computation-notes` 1.12):

* South of the equator every date of the calendar moves by 26 weeks first.
* ``spring-heat`` moves start and full by (last frost of the site - last frost of the reference
  site); ``autumn-frost`` moves decline and end by the first frosts likewise. ``day-length`` and
  ``fixed`` stay. Moving only the two ends leaves no plant with a rise of a different pace.
* ``cycle`` moves decline and end with the start: a crop that ripens, or is ready, so long after it was sown
  is no slower for an early spring and no quicker for a late one. What frost ends stands on where frost comes
  late, but no longer than the crop is on record to take (``most_days``): maize does not wait for December.
  ``chill`` (a bud that has to have had a winter) moves with the spring's heat wherever there is one.
* What is sown after midsummer for autumn or the next year does not wait for spring: it starts with the first
  frost of the site, a milder site later. Its further dates lie between the frosts where they lie at the
  reference site (`through_winter`).
* Between the tropics, where there is no frost, growth that waits for heat elsewhere waits for rain:
  it starts with the longest run of wet months and keeps its length. Where rain falls all year
  all such growth starts together on 1 January, since any week is as good.
* ``dry-season`` turns that round: a tree that is bare in the rains comes into leaf as the longest run of
  wet months ends, and its leaves fall as the next begins. Where no months are named its dates stay.
* Frost dates are the real dates of the place: about day 270 for a last frost in September. In the
  south the reference dates are moved by half a year, and a difference is taken modulo the year,
  into (-182.5, 182.5] days.
* A tender annual does not start before the frosts are nearly over (`until_frosts_are_over`), whatever its
  window says: a month of sowing was written down where the frosts end earlier.
* A frost date of None means that the place has no frost. Beyond the tropics its spring and autumn are then
  those of the latitude's usual frost dates (`reference_frost_days`): no frost is no later spring.
* Wood that drops its leaves (``buds``) is held back by its winter and by short days: where the spring is
  earlier, or the autumn later, than `MOST_MOVED_DAYS` beyond the reference site's, it moves no further.
  Apples bloom about 1 May in Kent, in the middle of April at the southern foot of the Alps (46.5 N) and in
  Sicily.
"""

from functools import lru_cache
from statistics import NormalDist

import numpy as np
import numpy.typing as npt

from kb.mixture import trapezoid
from kb.mixture.altered import altered
from kb.mixture.profile import Activity
from kb.mixture.rains import MONTH_DAYS, longest_rains
from kb.mixture.site import REFERENCE_SITE, Site
from kb.mixture.trapezoid import trapezoid_means

FloatArray = npt.NDArray[np.float64]

WEEKS, YEAR_DAYS, DAYS_PER_WEEK = trapezoid.WEEKS, trapezoid.YEAR_DAYS, trapezoid.DAYS_PER_WEEK
HALF_YEAR_DAYS = YEAR_DAYS / 2
DAYS_PER_DEGREE = 4.0
"""Spring comes so many days later for a degree of latitude towards the pole, and autumn earlier: four days
(Hopkins 1918, Monthly Weather Review Supplement 9)."""
FROST_LATITUDES = (30.0, 60.0)
"""Between these the rule of latitude is taken; towards the tropics and the pole the dates stay, so that a
frost-free summer is left (judgement)."""
REFERENCE_START_DAY = 92.0
"""2 April: growth of most plants begins about here at the reference site (week 14, the middle of the
usual starts by growth form, judgement); windows between the tropics are told from it."""
MOST_MOVED_DAYS = 24.0
"""A woody plant that drops its leaves comes into leaf no more than so many days earlier than at the
reference site, and keeps its leaf no more than so many days longer (judgement: 6 degrees of Hopkins' four
days; common knowledge of orchards from Kent to Sicily)."""
HEAT = frozenset({"spring-heat", "chill"})
"""Drivers of a start that comes with the spring of the site."""
COMES_UP_DAYS = 14.0
"""From sowing to the first leaf that a frost can kill (judgement)."""
FROST_AT_START = 0.1
"""Share of years in which frost still kills a tender crop that is sown as soon as it is safe: the risk by
which growers sow (`trade` 5.3: mean last frost + 1.28 standard deviations)."""
_SAFE_AFTER = NormalDist().inv_cdf(1 - FROST_AT_START)
TROPIC = 23.44
"""Degrees of latitude of the tropics: the obliquity of the ecliptic."""

MIDSUMMER_DAY, MIDWINTER_DAY = 172.0, 355.0
"""21 June and 21 December: what is sown between them is sown for autumn or for the next year."""
FREE_DAYS = 14.0
"""The ground is free for so long between the harvest of a winter crop and its next sowing (judgement)."""

EVERGREEN_SUMMER, EVERGREEN_WINTER = 1.0, 0.9
"""Activity of an evergreen at its best and in the middle of January (July in the south);
`trade` 4.5 gives 0.9-1. Near the equator the dip vanishes with the winter."""
_MIDWINTER_DAY = 15.0


def _month_weights() -> FloatArray:
    month_edges = np.concatenate([[0], np.cumsum(MONTH_DAYS)]).astype(float)
    week_edges = np.arange(WEEKS + 1) * DAYS_PER_WEEK
    first = np.maximum(month_edges[:-1, None], week_edges[None, :-1])
    last = np.minimum(month_edges[1:, None], week_edges[None, 1:])
    shared = np.maximum(last - first, 0.0)
    weights: FloatArray = shared / shared.sum(axis=1, keepdims=True)
    weights.setflags(write=False)
    return weights


MONTH_WEIGHTS: FloatArray = _month_weights()
"""(12, 52), rows sum to 1: ``MONTH_WEIGHTS @ weekly`` gives monthly means."""


def reference_frost_days(latitude: float) -> tuple[float | None, float | None]:
    """Mean last and first frost (day of year) to assume where none is given.

    The reference site's dates, `DAYS_PER_DEGREE` later in spring and earlier in autumn for each degree of
    latitude towards the pole, moved by half a year in the south; (None, None) between the tropics.
    Rough, since height and the sea count as much: whoever uses it says so.
    """
    if abs(latitude) < TROPIC:
        return None, None
    moved = HALF_YEAR_DAYS if latitude < 0 else 0.0
    low, high = FROST_LATITUDES
    poleward = min(max(abs(latitude), low), high) - abs(REFERENCE_SITE.latitude)
    shorter = DAYS_PER_DEGREE * poleward
    last, first = REFERENCE_SITE.last_frost_day, REFERENCE_SITE.first_frost_day
    return (None if last is None else _day_of_year(last + moved + shorter)), (
        None if first is None else _day_of_year(first + moved - shorter)
    )


def driven_by_rain(site: Site) -> bool:
    """Whether the seasons of a place are made by rain: between the tropics, and free of frost."""
    return abs(site.latitude) < TROPIC and site.last_frost_day is None and not site.frost_every_month


def rains_begin(site: Site) -> float:
    """Day of the year (1-365) on which the longest run of wet months begins; of equals, the earliest.

    1 January where no month, or every one, is named as wet.
    """
    rains = longest_rains(site)
    return 1.0 if rains is None else rains.first_day


def window_shift(site: Site, *, spring: bool) -> float:
    """Days by which a window of the reference calendar moves whole to this site.

    Half a year in the south, then, where ``spring`` drives it, by the last frost. Between the tropics it
    keeps its distance from the start of growth, which comes with the rains.
    """
    if driven_by_rain(site):
        return rains_begin(site) - REFERENCE_START_DAY
    moved = HALF_YEAR_DAYS if site.southern else 0.0
    return moved + (_frost_shift(site, spring=True) if spring else 0.0)


def window_by_week(window: Activity, site: Site) -> FloatArray:
    """Share (0-1) of each of the 52 weeks that lies in a window; its length is held.

    For what a plant does once a year, as flowering.
    """
    start = (window.start - 1) * DAYS_PER_WEEK
    start += window_shift(site, spring=window.start_driver == "spring-heat")
    return trapezoid_means(start, rise=0.0, fall=0.0, length=_days_between(window.start, window.end))


def activity_by_week(
    activity: Activity, site: Site, *, sow_week: float | None = None, later_days: float = 0.0
) -> FloatArray:
    """Mean activity (0-1) in each of the 52 weeks at this site.

    ``sow_week`` ([1, 53), a real week of the place) moves an annual whole: its length is held, early or late;
    only one whose end day length sets is no later for a late start (`trade` 4.5). An evergreen is there all
    year, so a sowing week changes nothing. Where no week is given, ``later_days`` keeps the start back; the
    length is held up to the first frost of the site, or to the plant's own end where that comes later or day
    length sets it.
    All zero where the frosts of the site leave the plant no season.
    """
    if activity.evergreen:
        return _evergreen(site)
    rise = _days_between(activity.start, activity.full)
    rains = longest_rains(site) if activity.start_driver == "dry-season" else None
    if rains is not None:
        fall = _days_between(activity.decline, activity.end)
        return trapezoid_means(rains.over_day, rise=rise, fall=fall, length=rains.dry_days + fall)
    hold = _days_between(activity.full, activity.decline)
    fall = _days_between(activity.decline, activity.end)
    start_shift, end_shift = _start_shift(activity, site), _end_shift(activity, site)
    length = min(rise + hold + fall + end_shift - start_shift, YEAR_DAYS, activity.most_days or YEAR_DAYS)
    if autumn_sown(activity):
        length = min(length, max(rise + hold + fall, YEAR_DAYS - FREE_DAYS))
        full = (activity.start - 1) * DAYS_PER_WEEK + rise
        rise = max(0.0, rise + through_winter(site, full) - start_shift)
    if sow_week is None and activity.start_driver in HEAT and driven_by_rain(site):
        start = rains_begin(site) - 1
    elif sow_week is None:
        start = usual_start(activity, site)
        if later_days > 0:
            room = length
            if activity.end_driver != "day-length" and site.first_frost_day is not None:
                room = max(length, (site.first_frost_day - start) % YEAR_DAYS)
            length = min(length, room - later_days)
            start += later_days
    else:
        start = (sow_week - 1) * DAYS_PER_WEEK
        length = _until_its_day(activity, site, start, length)
    return trapezoid_means(start, rise=rise, fall=fall, length=length)


def _until_its_day(activity: Activity, site: Site, start: float, length: float) -> float:
    """Days that it grows from a named ``start``, of ``length`` usual ones, where day length sets its end.

    What starts before its time is early, and where the rains make the seasons days hardly differ.
    """
    if activity.end_driver != "day-length" or driven_by_rain(site):
        return length
    late = (start - usual_start(activity, site)) % YEAR_DAYS
    return length - late if 0 < late < length else length


def until_frosts_are_over(activity: Activity, site: Site) -> float:
    """Days (0-365) from a plant's usual start at this site to the first day that is safe to sow it.

    0 where it starts between that day and the first frost, and where no frost comes. Safe is `trade` 5.3:
    the day after which, once the plant is up, frost kills it in no more than `FROST_AT_START` of years;
    where the frosts leave no such day, the middle of the time between them.
    """
    last, first = site.last_frost_day, site.first_frost_day
    if last is None or first is None or site.frost_every_month or activity.evergreen:
        return 0.0
    free = (first - last) % YEAR_DAYS
    safe = min(_SAFE_AFTER * site.frost_sd_days - COMES_UP_DAYS, free / 2)
    since = (usual_start(activity, site) - last - safe) % YEAR_DAYS
    return 0.0 if since < free - safe else YEAR_DAYS - since


def usual_start(activity: Activity, site: Site) -> float:
    """Days from the turn of the year to the start of growth, by the calendar and the spring of the site."""
    start = (activity.start - 1) * DAYS_PER_WEEK + _start_shift(activity, site)
    return start + (HALF_YEAR_DAYS if site.southern else 0.0)


def autumn_sown(activity: Activity) -> bool:
    """Whether it is started after midsummer for autumn or the next year: no warmth is waited for then.

    A crop that the frosts of the same autumn end is a summer crop, however late it starts.
    """
    if activity.evergreen or activity.start_driver not in HEAT:
        return False
    day = (activity.start - 1) * DAYS_PER_WEEK
    return in_autumn(day, REFERENCE_SITE) and (
        activity.end_driver != "autumn-frost" or activity.end < activity.start
    )


def in_autumn(day: float, site: Site) -> bool:
    """Whether a day lies between the midsummer and the midwinter of the place."""
    midsummer = MIDSUMMER_DAY + (HALF_YEAR_DAYS if site.southern else 0.0)
    return (day - midsummer) % YEAR_DAYS < MIDWINTER_DAY - MIDSUMMER_DAY


def through_winter(site: Site, day: float) -> float:
    """Days by which a date of an autumn-sown crop moves; ``day`` from the turn of the year it is sown in.

    Up to the first frost with that frost, after the last with the spring, and evenly between. A late spring
    holds the harvest back no more than at the reference site: longer days make up for it (judgement).
    """
    autumn, spring = _frost_shift(site, spring=False), min(0.0, _frost_shift(site, spring=True))
    last, first = REFERENCE_SITE.last_frost_day, REFERENCE_SITE.first_frost_day
    if last is None or first is None:
        return 0.0
    return float(np.interp(day, (first, last + YEAR_DAYS), (autumn, spring)))


def _start_shift(activity: Activity, site: Site) -> float:
    """Days by which its start moves to this site, within a hemisphere."""
    if activity.start_driver not in HEAT:
        return 0.0
    if autumn_sown(activity):
        return through_winter(site, (activity.start - 1) * DAYS_PER_WEEK)
    shift = _frost_shift(site, spring=True)
    return max(shift, -MOST_MOVED_DAYS) if activity.buds else shift


def _end_shift(activity: Activity, site: Site) -> float:
    """Days by which its end moves to this site, within a hemisphere."""
    if autumn_sown(activity) and activity.end_driver != "day-length":
        lasts = _days_between(activity.start, activity.end)
        return through_winter(site, (activity.start - 1) * DAYS_PER_WEEK + lasts)
    if activity.end_driver == "cycle":
        return _start_shift(activity, site)
    if activity.end_driver != "autumn-frost":
        return 0.0
    shift = _frost_shift(site, spring=False)
    return min(shift, MOST_MOVED_DAYS) if activity.buds else shift


@lru_cache(maxsize=256)
def seasons_of(site: Site) -> Site:
    """The reference site with the latitude, frosts and rains of another: all that moves its seasons."""
    return altered(
        REFERENCE_SITE,
        latitude=site.latitude,
        last_frost_day=site.last_frost_day,
        first_frost_day=site.first_frost_day,
        frost_sd_days=site.frost_sd_days,
        frost_every_month=site.frost_every_month,
        wet_months=site.wet_months,
    )


def season_overlap(a: FloatArray, b: FloatArray) -> float:
    """Share of the shorter season that is shared: sum of minima / smaller sum; 0 without a season."""
    smaller = min(float(a.sum()), float(b.sum()))
    return float(np.minimum(a, b).sum()) / smaller if smaller > 0 else 0.0


def season_difference(a: FloatArray, b: FloatArray) -> float:
    """1 - (weeks both grow) / (weeks either grows), 0-1; 0 where neither grows.

    The temporal niche difference of the intercropping literature (`trade` 4.0; its exact form is
    from memory there).
    """
    either = int(np.count_nonzero((a > 0) | (b > 0)))
    both = int(np.count_nonzero((a > 0) & (b > 0)))
    return 1 - both / either if either else 0.0


def _days_between(earlier: float, later: float) -> float:
    """Days from one corner to the next, round the year; 1 to 53 is a whole year, not none."""
    weeks = later - earlier
    return (weeks if 0 <= weeks <= WEEKS else weeks % WEEKS) * DAYS_PER_WEEK


def _day_of_year(day: float) -> float:
    return (day - 1) % YEAR_DAYS + 1


def _frost_shift(site: Site, *, spring: bool) -> float:
    """Days by which the site's frost comes later than at the reference site, (-182.5, 182.5]."""
    here = site.last_frost_day if spring else site.first_frost_day
    reference = REFERENCE_SITE.last_frost_day if spring else REFERENCE_SITE.first_frost_day
    if here is None:
        here = reference_frost_days(site.latitude)[0 if spring else 1]
    if here is None or reference is None:
        return 0.0
    _refuse_winter_season(site)
    if site.southern:
        reference += HALF_YEAR_DAYS
    shift = (here - reference) % YEAR_DAYS
    return shift - YEAR_DAYS if shift > HALF_YEAR_DAYS else shift


def _refuse_winter_season(site: Site) -> None:
    """Raise ValueError where the frost-free time as given leaves out the place's midsummer.

    Northern dates given for a southern place would move every calendar by half a year, unseen.
    """
    last, first = site.last_frost_day, site.first_frost_day
    if last is None or first is None or site.frost_every_month or abs(site.latitude) < TROPIC:
        return
    midsummer = MIDSUMMER_DAY + (HALF_YEAR_DAYS if site.southern else 0.0)
    if (midsummer - last) % YEAR_DAYS > (first - last) % YEAR_DAYS:
        usual_last, usual_first = reference_frost_days(site.latitude)
        raise ValueError(
            f"no frost between day {last:g} and day {first:g} leaves out midsummer "
            f"(day {midsummer:g}) at latitude {site.latitude:g}: give the real dates of the place, "
            f"for instance last frost day {usual_last:g} and first frost day {usual_first:g}"
        )


def _evergreen(site: Site) -> FloatArray:
    middle = (np.arange(WEEKS) + 0.5) * DAYS_PER_WEEK
    midwinter = _MIDWINTER_DAY + (HALF_YEAR_DAYS if site.southern else 0.0)
    depth = (EVERGREEN_SUMMER - EVERGREEN_WINTER) * min(1.0, abs(site.latitude) / TROPIC)
    cold = 0.5 + 0.5 * np.cos(2 * np.pi * (middle - midwinter) / YEAR_DAYS)
    activity: FloatArray = EVERGREEN_SUMMER - depth * cold
    return activity
