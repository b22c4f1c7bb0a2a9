"""Whether the frosts and the cold of a place leave an annual the weeks in which it is grown.

Frost dates differ from year to year (normal, mean and spread of the site). A tender crop is lost to a
frost after it has come up, and stops at the first frost of autumn; a hardy one sown far outside its
usual weeks meets a season too cold to grow in. Shares of years are said, never averaged away.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import erf, sqrt

import numpy as np
import numpy.typing as npt

from kb.mixture.counting import so_many
from kb.mixture.kept import KeptBy
from kb.mixture.limits import HOLDS_BACK, Limit, Meeting, Party
from kb.mixture.profile import Profile
from kb.mixture.results import ORDER, Verdict
from kb.mixture.season import (
    COMES_UP_DAYS,
    DAYS_PER_WEEK,
    HALF_YEAR_DAYS,
    WEEKS,
    YEAR_DAYS,
    FloatArray,
    activity_by_week,
    autumn_sown,
    driven_by_rain,
    seasons_of,
)
from kb.mixture.site import REFERENCE_SITE, Site, above_ground
from kb.mixture.stress import verdict_of
from kb.mixture.weeks.as_grown import every_sowing, growth_by_week, start_day, too_early_weeks, waits_days
from kb.mixture.weeks.cold_weeks import cold_limit, cold_start, cold_tubers, small_for_winter
from kb.mixture.weeks.comes_up import days_to_come_up, set_as_tuber
from kb.mixture.weeks.finishing import Unfinished, growth_lost, unfinished
from kb.mixture.weeks.hot_weeks import hot_limit
from kb.mixture.weeks.sown_week import LOST_MOST, LOST_PART, Put, in_its_weeks, start_day_of, start_week

LIKELY, POSSIBLE = 0.5, 0.2
"""Share of years in which a frost kills: above the first to avoid, above the second workable."""
LEAST_OF_SEASON, HALF_A_SEASON = 0.75, 0.5
"""Share of its season at the reference site with which a crop still ripens; and with which it does not
(judgement)."""
FAR_TOO_EARLY_WEEKS = 13.0
"""What stands over winter and is sown a quarter of a year before its weeks is mostly lost (judgement)."""
KEPT = 256
_LIMITS: KeptBy[tuple[Limit, ...]] = KeptBy(KEPT)
AS_USUAL = 0.02
"""Weekly activity that differs by no more is the usual season."""


@dataclass(frozen=True, slots=True)
class FrostRisk:
    """Shares (0-1): years with a frost after the crop is up, and of its season behind autumn frosts."""

    spring: float
    autumn: float


def frost_risk(
    activity: FloatArray, site: Site, *, sown_day: float | None = None, up_days: float = COMES_UP_DAYS
) -> FrostRisk | None:
    """What frost does to a season (52,); None where there is no frost or no season.

    ``sown_day`` in days from the turn of the year; None: the first day of the first week that grows. It is up
    ``up_days`` later.
    """
    last, first = site.last_frost_day, site.first_frost_day
    if last is None or first is None or not activity.any() or activity.all():
        return None
    if sown_day is None:
        sown_day = start_day_of(activity)
    up = sown_day + up_days
    free = (first - last) % YEAR_DAYS
    # Days are told from the middle of the frost-free time, so that each frost has its own side.
    middle = last + free / 2
    after = _apart((np.arange(WEEKS) + 0.5) * DAYS_PER_WEEK, middle)
    ended = [_normal(days - free / 2, site.frost_sd_days) if days > 0 else 0.0 for days in after.tolist()]
    lost = float((activity * ended).sum() / activity.sum())
    before = float(_apart(up, middle))
    spring = 1 - _normal(before + free / 2, site.frost_sd_days) if before < free / 2 else 1.0
    return FrostRisk(spring, lost)


def sowing_limits(party: Party, meeting: Meeting) -> tuple[Limit, ...]:
    """What the week in which an annual is sown holds against it.

    Only where it was moved from its usual weeks: those are what growers do, moved to the site and kept
    clear of its frosts, and the frosts they may still meet are told in a note. Kept by the crop and its
    season: a moved week leaves the other's as it was.
    """
    profile, course, site = party.profile, party.activity, meeting.site
    if not profile.annual:
        return ()
    values = (course.tobytes(), *above_ground(site))
    return _LIMITS.of((profile,), values, lambda: course_limits(profile, course, site))


def course_limits(
    profile: Profile, activity: FloatArray, site: Site, *, set_out_week: float | None = None
) -> tuple[Limit, ...]:
    """`sowing_limits` of one plant whose season is ``activity`` (52,).

    ``set_out_week`` [1, 53) where it comes into its place as a young plant, which a frost can kill at once.
    """
    if not profile.annual or profile.activity.evergreen or not activity.any():
        return ()
    short = _short_season(profile, activity, site)
    usual = growth_by_week(profile, site)
    deed, week = ("sown", start_week(activity)) if set_out_week is None else ("set out", int(set_out_week))
    put = Put(deed, week)
    if float(np.abs(usual - activity).max()) <= AS_USUAL:
        hot = hot_limit(profile, activity, usual, site, put) if driven_by_rain(site) else None
        return tuple(one for one in (short, hot) if one is not None)
    if profile.tender.value == "yes":
        day = start_day_of(activity) if set_out_week is None else (set_out_week - 1) * DAYS_PER_WEEK
        up_days = days_to_come_up(profile, site.latitude, day) if set_out_week is None else 0.0
        risk = frost_risk(activity, site, sown_day=day, up_days=up_days)
        limit = None if risk is None else _frost_limit(profile, risk, put)
        limit = limit or hot_limit(profile, activity, usual, site, put)
    else:
        asked = (profile, activity, usual, site, put)
        rest = (profile, usual, site, put)
        limit = cold_limit(*asked) or hot_limit(*asked) or cold_start(*rest) or small_for_winter(*rest)
    began = put.week if set_out_week is None else start_week(activity)
    weeks = (_late_limit(profile, began, site, put), _early_limit(profile, began, site, put))
    found = [one for one in (short, limit, cold_tubers(profile, site, put), *weeks) if one is not None]
    return (min(found, key=lambda one: (HOLDS_BACK[one.ceiling], one.lifted)),) if found else ()


def sowing_note(profile: Profile, activity: FloatArray, site: Site) -> str | None:
    """The frosts that a tender crop meets in its weeks here, in words; None where there are none to speak of.

    Where it was kept back for the frosts, the week of its own window is said too.
    """
    usual = np.allclose(activity, growth_by_week(profile, site))
    day = start_day(profile, site) if usual else start_day_of(activity)
    risk = frost_risk(activity, site, sown_day=day, up_days=days_to_come_up(profile, site.latitude, day))
    if risk is None:
        return None
    week, own = start_week(activity), start_week(activity_by_week(profile.activity, site))
    kept = usual and own != week and waits_days(profile, site) > 0
    back = f" (not from week {own}, as its dates say: a tender crop waits for the frosts)" if kept else ""
    spread = f"frost dates vary by about {so_many(site.frost_sd_days, 'day', form='.0f')} either way"
    return (
        f"{profile.name}, growing from week {week}{back}: a frost after it is up in {_years(risk.spring)} "
        f"({spread}; the mean date alone is no safe date)."
    )


def sowings_note(profile: Profile, site: Site) -> str | None:
    """From which of its times of sowing a crop is judged; None where it has but one."""
    if not profile.annual or not profile.sowings or driven_by_rain(site):
        return None
    return _sowings_note(profile, seasons_of(site))


@lru_cache(maxsize=1024)
def _sowings_note(profile: Profile, site: Site) -> str | None:
    own, *rest = (f"week {start_week(growth_by_week(sown, site))}" for sown in every_sowing(profile))
    # Times of sowing that fall into one week here are one.
    others = [week for week in dict.fromkeys(rest) if week != own]
    if not others:
        return None
    return (
        f"{profile.name} is judged as the crop that is sown from about {own}; it is also sown from about "
        f"{' or '.join(others)}. A week of sowing that is named chooses."
    )


def _frost_limit(profile: Profile, risk: FrostRisk, put: Put) -> Limit | None:
    worst = max(risk.spring / POSSIBLE, risk.autumn / LOST_PART)
    if worst < 1:
        return None
    spring = risk.spring / POSSIBLE >= risk.autumn / LOST_PART
    again = set_as_tuber(profile)
    hard = (risk.spring >= LIKELY and not again) or risk.autumn >= LOST_MOST
    earthed = spring and again and risk.spring < LIKELY
    cover = f"{'earthed up or ' if earthed else ''}covered while frost threatens"
    text = (
        f"{profile.name}, {put}, meets a frost after it is up in {_years(risk.spring)}: "
        "it sprouts again from the tuber, later and weaker."
        if spring and again
        else f"{profile.name}, {put}, meets a killing frost after it is up in {_years(risk.spring)}."
        if spring
        else f"The first frost ends {profile.name}, {put}, with about "
        f"{100 * risk.autumn:.0f} % of its season still to come."
    )
    return Limit(
        kind="season",
        of=profile.id,
        text=text,
        records=(*profile.tender.records, *profile.activity.records),
        ceiling="avoid" if hard else "workable",
        lift=f"{profile.name} is {cover if spring else f'{put.deed} earlier'}",
        moves_week=not spring,
        # Tubers are earthed up anyway (vegetable handbooks); that does for a late frost or two, not for most.
        small=earthed,
        check=not profile.tender.known,
    )


def _short_season(profile: Profile, activity: FloatArray, site: Site) -> Limit | None:
    """A crop that frost ends, where the time between the frosts is far shorter than the one it ripens in.

    What stands over winter ripens before the frosts of autumn: its winter is shorter at a mild site.
    """
    if profile.activity.end_driver != "autumn-frost" or not site.frosty or autumn_sown(profile.activity):
        return None
    needed = float(growth_by_week(profile, REFERENCE_SITE).sum())
    share = float(activity.sum()) / needed if needed > 0 else 1.0
    if share >= LEAST_OF_SEASON:
        return None
    return Limit(
        kind="season",
        of=profile.id,
        text=(
            f"The frosts leave {profile.name} about {100 * share:.0f} % of the season in which it ripens at "
            "the reference site."
        ),
        records=profile.activity.records,
        ceiling="avoid" if share < HALF_A_SEASON and not _one_cycle_fits(profile, site) else "workable",
        lift=f"{profile.name} is a quick kind, or gets cover at both ends of its season",
    )


def _one_cycle_fits(profile: Profile, site: Site) -> bool:
    """Whether the days that it is on record to take lie between the frosts here.

    Its window at the reference site may end long before the frost there, or begin long after it: by picking,
    or as a second crop, not by cold.
    """
    if profile.cycle_days is None or site.first_frost_day is None or site.last_frost_day is None:
        return False
    return profile.cycle_days.likely <= (site.first_frost_day - site.last_frost_day) % YEAR_DAYS


def _late_limit(profile: Profile, began: int, site: Site, put: Put) -> Limit | None:
    """A crop of a known length that starts so late that short days, cold or frost take much of its growth."""
    late = unfinished(profile, site, float(began))
    if late is None:
        return None
    ceiling, unready = verdict_of(late.lost), _unready(late)
    what = f"loses about {5 * round(20 * late.lost)} % of its growth to {growth_lost(late)}"
    if ORDER.index(unready) < ORDER.index(ceiling):
        ceiling = unready
        quick = "; a quick kind may be" if late.quick_is_ready else ""
        days = so_many(late.room_days, "day", form=".0f")
        what = (
            f"has {days} before {late.room_ends_by}, and takes about {late.ready_days:.0f} to be ready{quick}"
        )
    if ceiling == "good":
        return None
    return Limit(
        kind="season",
        of=profile.id,
        text=f"{profile.name}, {put}, {what}.",
        records=(*profile.activity.records, *(profile.cycle_days.records if profile.cycle_days else ())),
        ceiling=ceiling,
        lift=in_its_weeks(profile, growth_by_week(profile, site), put),
        moves_week=True,
    )


def _unready(late: Unfinished) -> Verdict:
    """What a crop that is not ready before its end comes to: some of the harvest, by quick kinds, or none."""
    if late.ready:
        return "good"
    return "workable" if late.quick_is_ready else "poor"


def _early_limit(profile: Profile, began: int, site: Site, put: Put) -> Limit | None:
    """What stands over winter, sown in high summer: it bolts, or is too far on to bear the winter.

    Winter cereals, beans, onions and spring cabbage have their weeks for it (common practice).
    """
    early = too_early_weeks(profile, site, float(began))
    if not early or profile.covers.value == "yes":
        return None
    return Limit(
        kind="season",
        of=profile.id,
        text=(
            f"{profile.name}, {put}, is about {early:.0f} weeks before its time: what is to stand over "
            "winter bolts, or goes into it too far grown."
        ),
        records=profile.activity.records,
        ceiling="poor" if early > FAR_TOO_EARLY_WEEKS else "workable",
        lift=in_its_weeks(profile, growth_by_week(profile, site), put),
        moves_week=True,
    )


def _apart(days: npt.ArrayLike, middle: float) -> FloatArray:
    """Days from ``middle`` to each day, in [-182.5, 182.5)."""
    moved: FloatArray = np.asarray(days, dtype=np.float64) - middle + HALF_YEAR_DAYS
    return moved % YEAR_DAYS - HALF_YEAR_DAYS


def _normal(days: float, sd: float) -> float:
    """Share of years in which a date has passed, so many days after its mean."""
    if sd <= 0:
        return 1.0 if days > 0 else 0.0
    return 0.5 * (1 + erf(days / (sd * sqrt(2))))


def _years(share: float) -> str:
    tenth = round(10 * share)
    if tenth <= 0:
        return "fewer than one year in ten"
    return "nearly every year" if tenth >= 10 else f"about {tenth} year{'s' if tenth > 1 else ''} in ten"
