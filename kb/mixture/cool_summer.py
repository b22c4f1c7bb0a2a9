"""A crop of the tropics in a summer that is never, or seldom, as warm as their coolest month.

Tropical climates are those without a month below 18 °C (Köppen; Peel, Finlayson & McMahon 2007, Hydrology and
Earth System Sciences 11: 1633-1644, table 1). At which warmth such a crop yields is on record of none, so
that limit stands in: it asks for warm weeks, not for a sum of them. How warm a summer is goes with the
distance from the sea as much as with the latitude, so it is never to avoid, and never sure.
"""

import numpy as np

from kb.mixture.climate import weekly_warmth
from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.season import FloatArray, driven_by_rain
from kb.mixture.site import Site

TROPICAL_C = 18.0
"""Mean of the coolest month of a tropical climate, degrees C (Köppen)."""
ENOUGH, SOME = 0.5, 0.2
"""Shares of its weeks that are so warm from which it is held by nothing, or to workable (judgement)."""


def cool_summer(profile: Profile, activity: FloatArray, site: Site) -> Limit | None:
    """What cool weeks hold against an annual crop of the tropics; ``activity`` (52,) is its course here.

    Lasting ones are judged by their winters. Between the tropics height alone makes a summer cool, and it is
    not asked for.
    """
    grows = activity > 0
    if not (profile.annual and profile.of_the_tropics and grows.any()) or driven_by_rain(site):
        return None
    warmth = weekly_warmth(site.latitude)
    share = float(np.mean(warmth[grows] >= TROPICAL_C))
    if share >= ENOUGH:
        return None
    warm = "no week" if share == 0 else "few of the weeks"
    return Limit(
        kind="season",
        of=profile.id,
        text=(
            f"{profile.name} is a crop of the tropics, and {warm} in which it would grow here "
            f"{'is' if share == 0 else 'are'} as warm as their coolest month, {TROPICAL_C:.0f} °C (by the "
            "latitude; inland summers are warmer)."
        ),
        records=(),
        ceiling="workable" if share >= SOME else "poor",
        lift=f"{profile.name} grows under glass, or summers here are known to be warmer",
        thin=True,
    )
