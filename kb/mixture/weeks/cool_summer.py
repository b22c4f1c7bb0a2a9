"""A crop of the tropics in a summer that is never, or seldom, as warm as their coolest month.

Tropical climates are those without a month below 18 °C (Köppen; Peel, Finlayson & McMahon 2007, Hydrology and
Earth System Sciences 11: 1633-1644, table 1). At which warmth such a crop yields is on record of none, so
that limit stands in: it asks for warm weeks, not for a sum of them. How warm a summer is goes with the
distance from the sea as much as with the latitude, so it is never to avoid, and never sure.

Aubergines and watermelons are no crops of the tropics and want hot summers all the same: vegetables are
classed by the least and the highest mean of the months in which they do well (Knott's handbook, see
`hot_weeks`), and theirs is the hottest class. Tomatoes, with the same least and a lower highest, ripen in a
warm place of a cool summer too (common practice in Britain); of them it is not asked. It
is asked of crops that are on record for warm climates and for no temperate one (FAO ECOCROP), by the share of
their best growth that the warmth of their weeks leaves: none where they are not grown, all from the least
that suits them on (`lost_to_cool`). A crop whose sum of warmth to harvest is on record is asked for that sum
alone, in degree days above its base in the weeks in which it grows.
"""

import numpy as np

from kb.mixture.limits import Limit, records_of
from kb.mixture.profile import HeatSum, Profile
from kb.mixture.season import DAYS_PER_WEEK, FloatArray, driven_by_rain
from kb.mixture.site import Site
from kb.mixture.stress import verdict_of
from kb.mixture.weeks.warmth import warmth_by_week

TROPICAL_C = 18.0
"""Mean of the coolest month of a tropical climate, degrees C (Köppen)."""
HOTTEST_CLASS_C = 35.0
"""Highest monthly mean (95 F) in which crops of the hottest class of that table do well."""
ENOUGH, SOME = 0.5, 0.2
"""Shares of its weeks that are so warm from which it is held by nothing, or to workable (judgement)."""

_WARMER = "{} grows under glass, or summers here are known to be warmer"


def cool_summer(profile: Profile, activity: FloatArray, site: Site) -> Limit | None:
    """What cool weeks hold against an annual crop of the tropics; ``activity`` (52,) is its course here.

    Lasting ones are judged by their winters. Between the tropics height alone makes a summer cool, and it is
    not asked for.
    """
    grows, least = activity > 0, _least_c(profile)
    if not grows.any() or driven_by_rain(site):
        return None
    warmth = warmth_by_week(site)
    if profile.annual and profile.heat_to_harvest is not None:
        return _of_too_few_degrees(profile, profile.heat_to_harvest, warmth[grows])
    if least is None:
        return None
    if _of_warm_climates(profile):
        return _of_little_growth(profile, warmth[grows])
    share = float(np.mean(warmth[grows] >= least))
    if share >= ENOUGH:
        return None
    warm = "no week" if share == 0 else "few of the weeks"
    kind, such = (
        ("is a crop of the tropics", f"their coolest month, {least:.0f} °C")
        if profile.of_the_tropics
        else ("wants hot summers", f"the coolest month that suits it, {least:.0f} °C")
    )
    return Limit(
        kind="season",
        of=profile.id,
        text=(
            f"{profile.name} {kind}, and {warm} in which it would grow here {'is' if share == 0 else 'are'} "
            f"as warm as {such} (by the latitude; inland summers are warmer)."
        ),
        records=() if profile.of_the_tropics or profile.warmth_c is None else profile.warmth_c.records,
        ceiling="workable" if share >= SOME else "poor",
        lift=_WARMER.format(profile.name),
        thin=True,
    )


def _of_too_few_degrees(profile: Profile, needed: HeatSum, warmth: FloatArray) -> Limit | None:
    """What holds back a crop whose sum of warmth to harvest is on record, in weeks of this warmth."""
    found = float(np.maximum(warmth - needed.base_c, 0.0).sum()) * DAYS_PER_WEEK
    verdict = verdict_of(max(0.0, 1 - found / needed.degree_days.likely))
    if verdict == "good":
        return None
    share = round(100 * found / needed.degree_days.likely, -1)
    return Limit(
        kind="season",
        of=profile.id,
        text=(
            f"{profile.name} wants hot summers: its weeks here bring about {share:.0f} % of the warmth that "
            "it takes to the first ripe fruit (by the latitude; inland summers are warmer)."
        ),
        records=needed.degree_days.records,
        ceiling="workable" if verdict == "workable" else "poor",
        lift=_WARMER.format(profile.name),
        thin=True,
    )


def _of_little_growth(profile: Profile, warmth: FloatArray) -> Limit | None:
    """What holds back a crop of warm climates in weeks of this warmth."""
    lost = lost_to_cool(profile, warmth)
    found = verdict_of(lost)
    if found == "good" or profile.warmth_c is None:
        return None
    return Limit(
        kind="season",
        of=profile.id,
        text=(
            f"{profile.name} does best from about {profile.warmth_c.low:.0f} °C on, and its weeks here have "
            f"about {warmth.mean():.0f} °C (by the latitude; inland summers are warmer): no temperate "
            "climate is on record for it, and it is slow to ripen."
        ),
        records=records_of(profile.warmth_c.records, profile.temperate_climate.records),
        ceiling="workable" if found == "workable" else "poor",
        lift=_WARMER.format(profile.name),
        thin=True,
    )


def lost_to_cool(profile: Profile, warmth: FloatArray) -> float:
    """Share (0-1) of its best growth that weeks of this warmth (degrees C) cost a crop.

    None of it at the least warmth that suits it, all of it where it is not grown, evenly between, as the
    EcoCrop model has it (Hijmans et al. 2001; Ramirez-Villegas, Jarvis & Läderach 2013, Agricultural and
    Forest Meteorology 170: 67-78; the straight line from memory).
    """
    best, grows = profile.warmth_c, profile.warmth_grows_c
    if best is None or grows is None or best.low <= grows.low:
        return 0.0
    return float(np.clip((best.low - warmth) / (best.low - grows.low), 0.0, 1.0).mean())


def _of_warm_climates(profile: Profile) -> bool:
    """Whether it is on record for no temperate climate, of crops that frost kills and no cold flora has."""
    warm = profile.temperate_climate.value == "no" and profile.tender.value == "yes"
    return warm and not profile.of_the_tropics and profile.winters.value != "cold"


def _least_c(profile: Profile) -> float | None:
    """The warmth (degrees C) it asks of its weeks; None where that is not asked."""
    if not profile.annual:
        return None
    if profile.of_the_tropics:
        return TROPICAL_C
    warmth = profile.warmth_c
    hot = warmth is not None and warmth.low >= TROPICAL_C and warmth.high >= HOTTEST_CLASS_C
    hot = hot and profile.tender.value == "yes"
    return warmth.low if warmth is not None and (hot or _of_warm_climates(profile)) else None
