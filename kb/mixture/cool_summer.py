"""A crop of the tropics in a summer that is never, or seldom, as warm as their coolest month.

Tropical climates are those without a month below 18 °C (Köppen; Peel, Finlayson & McMahon 2007, Hydrology and
Earth System Sciences 11: 1633-1644, table 1). At which warmth such a crop yields is on record of none, so
that limit stands in: it asks for warm weeks, not for a sum of them. How warm a summer is goes with the
distance from the sea as much as with the latitude, so it is never to avoid, and never sure.

Aubergines and watermelons are no crops of the tropics and want hot summers all the same: vegetables are
classed by the least and the highest mean of the months in which they do well (Knott's handbook, see
`hot_weeks`), and theirs is the hottest class. Tomatoes and sweet peppers, with the same least and a lower
highest, ripen in a warm place of a cool summer too (common practice in Britain); of them it is not asked.
"""

import numpy as np

from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.season import FloatArray, driven_by_rain
from kb.mixture.site import Site
from kb.mixture.warmth import warmth_by_week

TROPICAL_C = 18.0
"""Mean of the coolest month of a tropical climate, degrees C (Köppen)."""
HOTTEST_CLASS_C = 35.0
"""Highest monthly mean (95 F) in which crops of the hottest class of that table do well."""
ENOUGH, SOME = 0.5, 0.2
"""Shares of its weeks that are so warm from which it is held by nothing, or to workable (judgement)."""


def cool_summer(profile: Profile, activity: FloatArray, site: Site) -> Limit | None:
    """What cool weeks hold against an annual crop of the tropics; ``activity`` (52,) is its course here.

    Lasting ones are judged by their winters. Between the tropics height alone makes a summer cool, and it is
    not asked for.
    """
    grows, least = activity > 0, _least_c(profile)
    if least is None or not grows.any() or driven_by_rain(site):
        return None
    warmth = warmth_by_week(site)
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
        lift=f"{profile.name} grows under glass, or summers here are known to be warmer",
        thin=True,
    )


def _least_c(profile: Profile) -> float | None:
    """The warmth (degrees C) it asks of its weeks; None where that is not asked."""
    if not profile.annual:
        return None
    if profile.of_the_tropics:
        return TROPICAL_C
    warmth = profile.warmth_c
    hot = warmth is not None and warmth.low >= TROPICAL_C and warmth.high >= HOTTEST_CLASS_C
    return warmth.low if warmth is not None and hot else None
