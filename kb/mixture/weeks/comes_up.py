"""How long a crop takes from being sown or set to its first leaf, and whether frost ends what has come up.

Days follow the warmth of the place (`climate`): seed and tubers in cold ground lie longer. A tuber takes
longer than seed, feeds more than one set of shoots and so sprouts again where frost cuts them: a setback.
"""

from functools import lru_cache

import numpy as np

from kb.mixture.profile import Profile
from kb.mixture.season import YEAR_DAYS
from kb.mixture.weeks.climate import daily_warmth

STARTS_ABOVE_C = 4.0
"""Nothing comes up below it: the base of cool crops (`trade` 5.3)."""
SEED_DEGREE_DAYS = 112.0
"""Two weeks at the reference site where it is sown as soon as the frosts are over (`season.COMES_UP_DAYS`),
the same sum of warmth at other times (judgement)."""
TUBER_DEGREE_DAYS = 200.0
"""About five weeks for tubers of early April at the reference site, three and a half for those of May
(judgement)."""
MOST_DAYS = 42.0
"""What is not up after six weeks is not waited for (judgement)."""
SET_AS = frozenset({"tuber", "corm"})


def set_as_tuber(profile: Profile) -> bool:
    """Whether what goes into the ground is a tuber: it is lifted for its own and grown from it each year.

    So are crops of one season that keep their store in tubers on record (oca, mashua, potatoes), and those of
    which a tuber and the setting in their place are. The store of a runner bean is a root and it is sown,
    sweet potatoes are planted out as slips: neither is on record so.
    """
    if profile.dug_depth_m.likely <= 0 or profile.raising.value == "planted-out":
        return False
    stores = profile.annual and profile.stores_in.known and profile.stores_in.value in SET_AS
    in_place = profile.raising.known and profile.root_form.value in SET_AS
    return stores or in_place


def set_as_bulb(profile: Profile) -> bool:
    """Whether what goes into the ground is a bulb or one of its cloves, which brings its own store: garlic.

    A crop of one season that is lifted for its bulb and set in its place. Onions are sown as often and leeks
    planted out: neither is on record as set in its place.
    """
    lifted = profile.annual and profile.dug_depth_m.likely > 0
    in_place = profile.raising.known and profile.raising.value == "in-place"
    return lifted and in_place and profile.stores_in.known and profile.stores_in.value == "bulb"


def days_to_come_up(profile: Profile, latitude: float, day: float) -> float:
    """Days (0-42) from a day, told from the turn of the year, to the first leaf that a frost can kill."""
    needed = TUBER_DEGREE_DAYS if set_as_tuber(profile) else SEED_DEGREE_DAYS
    return _days(latitude, int(day % YEAR_DAYS), needed)


@lru_cache(maxsize=4096)
def _days(latitude: float, day: int, needed: float) -> float:
    warmth = np.roll(daily_warmth(latitude), -day)[: int(MOST_DAYS)]
    reached = np.cumsum(np.maximum(warmth - STARTS_ABOVE_C, 0.0)) >= needed
    return float(np.argmax(reached) + 1) if reached.any() else MOST_DAYS
