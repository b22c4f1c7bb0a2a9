"""Hardy annuals sown so that they have to grow in the cold, or lie in ground too cold to come up in."""

from functools import lru_cache

import numpy as np
import numpy.typing as npt

from kb.mixture.counting import so_many
from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.season import (
    DAYS_PER_WEEK,
    HALF_YEAR_DAYS,
    MIDWINTER_DAY,
    WEEKS,
    YEAR_DAYS,
    FloatArray,
    driven_by_rain,
    in_autumn,
    season_overlap,
)
from kb.mixture.site import Site
from kb.mixture.weeks.as_grown import EARLY_WEEKS, growth_by_week, stands_over_winter, start_day
from kb.mixture.weeks.comes_up import set_as_bulb, set_as_tuber
from kb.mixture.weeks.finishing import TOO_COLD_C
from kb.mixture.weeks.sown_week import LOST_MOST, LOST_PART, Put, in_its_weeks, start_week
from kb.mixture.weeks.warmth import warmth_by_week

BoolArray = npt.NDArray[np.bool_]
SAME_SEASON = 0.5
"""A season that shares this much of the usual one is as usual."""
DARK_WEEKS, COMES_UP_C = 7, 7.0
"""So many weeks before and after midwinter seed of hardy crops lies long in weeks colder than this (common
practice: carrots and onions want ground of 7 degrees); from then on the sun warms the ground."""
TOO_SMALL, FAR_TOO_SMALL = 0.5, 0.15
"""Share of the warmth before midwinter that a crop has in its own weeks, below which one sown later goes into
the winter small, and hardly up (judgement)."""
BORNE_WEEKS = 3
"""Weeks of cold ground that seed of a hardy crop lies through: spring corn, peas and beans are drilled in the
last cold weeks, as soon as the ground is fit (common practice; the number is judgement)."""
BULBS_ROOT_ABOVE_C = 0.0
"""A coldest week warmer than this leaves the ground open for bulbs to root in (judgement)."""
TUBERS_C, LONG_WEEKS = 8.0, 8.0
"""Tubers are planted when the ground has about so many degrees (potato handbooks: 7 to 10 degrees C); where
they lie longer than so many weeks in colder ground most of them rot or are eaten (judgement)."""


def cold_limit(
    profile: Profile, activity: FloatArray, usual: FloatArray, site: Site, put: Put
) -> Limit | None:
    """A hardy annual sown so far from its usual weeks that it has to grow in the cold.

    Weeks that stand in for those of the plant refuse nothing: what is sown in autumn may stand over winter.
    """
    if driven_by_rain(site) or season_overlap(usual, activity) >= SAME_SEASON or not usual.any():
        return None
    cold = warmth_by_week(site) < TOO_COLD_C
    # Once it is ready it only stands, and cold keeps it as a store does.
    grows = activity * _until_ready(profile, put.week)
    share = float(grows[cold].sum() / grows.sum() - usual[cold].sum() / usual.sum())
    if share < LOST_PART:
        return None
    if not profile.activity.known:
        return Limit(
            kind="season",
            of=profile.id,
            text=f"Whether {profile.name} can be {put} is not on record, nor are its weeks.",
            records=profile.activity.records,
            ceiling="workable",
            check=True,
            ask=True,
        )
    return Limit(
        kind="season",
        of=profile.id,
        text=f"{profile.name}, {put}, would have to grow through weeks too cold for it.",
        records=profile.activity.records,
        ceiling="avoid" if share >= LOST_MOST else "poor",
        lift=in_its_weeks(profile, usual, put),
        moves_week=True,
    )


def _roots_all_winter(profile: Profile, warmth: FloatArray) -> bool:
    """Whether it is set as a bulb where no week is frozen: it roots from its own store, and wants the cold.

    Cloves of garlic want one to two months at 0 to 10 degrees C to part into a bulb (Royal Horticultural
    Society); they are set from autumn until midwinter, in January at the latest, where the ground does not
    freeze (common practice in Britain).
    """
    return set_as_bulb(profile) and float(warmth.min()) > BULBS_ROOT_ABOVE_C


def _until_ready(profile: Profile, week: int) -> FloatArray:
    """Share (0-1) of each of the 52 weeks in the longest cycle on record, from the week of sowing."""
    if profile.cycle_days is None:
        return np.ones(WEEKS)
    since = (np.arange(WEEKS) + 1 - week) % WEEKS
    return np.clip(profile.cycle_days.high / DAYS_PER_WEEK - since, 0.0, 1.0)


def small_for_winter(profile: Profile, usual: FloatArray, site: Site, put: Put) -> Limit | None:
    """What stands over winter, sown so late that it goes into it small, or hardly up.

    By the warmth above `TOO_COLD_C` that is left before midwinter. Rape wants some 750 degree days then, and
    end of September is very late for it in England (seed trade's advice); cereals are drilled on, thinner.
    """
    if driven_by_rain(site) or not (profile.activity.known and stands_over_winter(profile, site)):
        return None
    warmth = warmth_by_week(site)
    if warmth.min() >= TOO_COLD_C or _roots_all_winter(profile, warmth):
        return None  # it grows on through the winter
    warm = np.maximum(warmth - TOO_COLD_C, 0.0)
    midwinter = _midwinter_week(site)
    own = start_week(usual)
    late = (put.week - own) % WEEKS
    if not EARLY_WEEKS < late < (midwinter + 3 - own) % WEEKS:
        return None
    left, whole = (
        float(np.roll(warm, 1 - week)[: (midwinter + 1 - week) % WEEKS].sum()) for week in (put.week, own)
    )
    share = left / whole if whole > 0 else 1.0
    if share >= TOO_SMALL:
        return None
    grain = profile.growth_form.value == "graminoid"
    return Limit(
        kind="season",
        of=profile.id,
        text=f"{profile.name}, {put}, is {late} weeks after its time: it goes into the winter too small.",
        records=profile.activity.records,
        ceiling="workable" if grain or share >= FAR_TOO_SMALL else "poor",
        lift=in_its_weeks(profile, usual, put),
        moves_week=True,
    )


def _waits(cold: BoolArray, put: Put, early_days: float) -> float | None:
    """Weeks of ``cold`` (52,) in a row from when it is put in; None where they are borne, or not early."""
    if not (cold[put.week - 1] and EARLY_WEEKS * DAYS_PER_WEEK < early_days < HALF_YEAR_DAYS):
        return None
    waits = WEEKS if cold.all() else int(np.argmin(np.roll(cold, 1 - put.week)))
    return float(waits) if waits > BORNE_WEEKS else None


def cold_tubers(profile: Profile, site: Site, put: Put) -> Limit | None:
    """Tubers set so long before their weeks that they lie in cold ground, and do not sprout for it."""
    if driven_by_rain(site) or not (profile.activity.known and set_as_tuber(profile)):
        return None
    apart = (start_day(profile, site) - (put.week - 1) * DAYS_PER_WEEK) % YEAR_DAYS
    waits = _waits(warmth_by_week(site) < TUBERS_C, put, apart)
    if waits is None:
        return None
    return Limit(
        kind="season",
        of=profile.id,
        text=(
            f"{profile.name}, {put}, would lie for about {so_many(waits, 'week', form='.0f')} in ground too "
            "cold to sprout in: tubers rot there, and are eaten."
        ),
        records=profile.activity.records,
        ceiling="poor" if waits > LONG_WEEKS else "workable",
        lift=in_its_weeks(profile, growth_by_week(profile, site), put),
        moves_week=True,
    )


def _midwinter_week(site: Site) -> int:
    """Place (0-51) of the week of midwinter."""
    return int((MIDWINTER_DAY + (HALF_YEAR_DAYS if site.southern else 0.0)) % YEAR_DAYS // DAYS_PER_WEEK)


def cold_start(profile: Profile, usual: FloatArray, site: Site, put: Put) -> Limit | None:
    """A hardy annual sown in the depth of a winter, long before its weeks: it does not stir until they come.

    So does what is to stand over winter, where half of that is over and its weeks are long past. Seed lies
    and rots in cold ground, young plants stand still (common practice: sow when the ground has warmed up);
    a few weeks of it are borne.
    """
    if driven_by_rain(site) or not profile.activity.known:
        return None
    day = (put.week - 1) * DAYS_PER_WEEK
    apart = (start_day(profile, site) - day) % YEAR_DAYS
    if stands_over_winter(profile, site):
        apart = 0.0 if in_autumn(day, site) else YEAR_DAYS - apart
    waits = _waits(_too_cold_to_stir(site), put, apart)
    if waits is None:
        return None
    weeks = so_many(waits, "week", form=".0f")
    text = (
        f"{profile.name}, {put}, would not stir for about {weeks}, until it is warmer: seed may rot in "
        "cold ground, and young plants stand still."
    )
    if _roots_all_winter(profile, warmth_by_week(site)):
        text = (
            f"{profile.name}, {put}, is late: it roots in cold ground and has the cold that it wants, but "
            "less time to grow, and its bulbs stay smaller."
        )
    return Limit(
        kind="season",
        of=profile.id,
        text=text,
        records=profile.activity.records,
        ceiling="workable",
        lift=in_its_weeks(profile, usual, put),
        moves_week=True,
    )


@lru_cache(maxsize=64)
def _too_cold_to_stir(site: Site) -> BoolArray:
    """The weeks (52,) too cold for seed to come up; in the dark ones it wants warmer ground."""
    dark = np.roll(np.arange(WEEKS) < 2 * DARK_WEEKS, _midwinter_week(site) - DARK_WEEKS)
    cold: BoolArray = warmth_by_week(site) < np.where(dark, COMES_UP_C, TOO_COLD_C)
    return cold
