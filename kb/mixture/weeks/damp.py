"""From when on a place is too damp for grain to dry on the stalk: more rain falls than the air takes up.

Ripe seed dries as the air asks for more water than falls. In England that ends in the middle of September,
and what ripens later is cut wet and dried with heat, or sprouts (common practice of grain growers).
"""

from functools import lru_cache

import numpy as np

from kb.mixture.season import DAYS_PER_WEEK, HALF_YEAR_DAYS, MIDWINTER_DAY, WEEKS, YEAR_DAYS, FloatArray
from kb.mixture.site import Site
from kb.mixture.weeks.climate import WEEK_STARTS, daily_demand, daily_rain

SMOOTHED_WEEKS = 4
"""Rain and demand are compared over so many weeks: months of a mean year (judgement)."""


def damp_from(site: Site) -> int | None:
    """Place (0-51) of the first week of the damp that lasts over midwinter; None where midwinter is dry."""
    midwinter = MIDWINTER_DAY + (HALF_YEAR_DAYS if site.southern else 0.0)
    return _damp_from(site.latitude, site.wet_months, int(midwinter % YEAR_DAYS // DAYS_PER_WEEK))


@lru_cache(maxsize=256)
def _damp_from(latitude: float, wet_months: tuple[int, ...], midwinter: int) -> int | None:
    left = _smoothed(_weekly(daily_demand(latitude)) - _weekly(daily_rain(latitude, wet_months).mean(axis=0)))
    damp = np.roll(left < 0, -midwinter)
    if not damp[0] or damp.all():
        return None
    dry_before = int(np.argmax(~damp[::-1]))  # weeks from midwinter back to the last dry one
    return (midwinter - dry_before) % WEEKS


def _weekly(daily: FloatArray) -> FloatArray:
    weekly: FloatArray = np.add.reduceat(daily, WEEK_STARTS)
    return weekly


def _smoothed(weekly: FloatArray) -> FloatArray:
    around = np.arange(SMOOTHED_WEEKS) - SMOOTHED_WEEKS // 2
    smooth: FloatArray = np.mean([np.roll(weekly, -int(step)) for step in around], axis=0)
    return smooth
