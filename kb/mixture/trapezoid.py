"""The course of a season as weekly means: rising, holding and falling, round the year."""

from functools import lru_cache

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

WEEKS = 52
YEAR_DAYS = 365.0
DAYS_PER_WEEK = YEAR_DAYS / WEEKS


@lru_cache(maxsize=8192)
def trapezoid_means(start: float, *, rise: float, fall: float, length: float) -> FloatArray:
    """Weekly means of a trapezoid from ``start`` (days, any real number) over ``length`` days.

    Where the length leaves no room for rise and fall, the two slopes cut each other short: the
    plant never gets to full activity. The mean is exact: the trapezoid is integrated, not sampled.
    """
    if length <= 0:
        return for_all(np.zeros(WEEKS))
    slope_days = rise + fall
    shorten = min(1.0, length / slope_days) if slope_days > 0 else 1.0
    knots_x = np.array([0.0, rise * shorten, length - fall * shorten, length])
    edges = np.mod(np.linspace(-start, YEAR_DAYS - start, WEEKS + 1, dtype=np.float64), YEAR_DAYS)
    # A week that holds the start (edge wraps from 365 to 0) gains one whole turn.
    area = _area_until(edges, knots_x, peak=shorten)
    total = float(_area_until(np.array([YEAR_DAYS]), knots_x, peak=shorten)[0])
    gained = np.diff(area) + np.where(np.diff(edges) < 0, total, 0.0)
    means: FloatArray = np.clip(gained / DAYS_PER_WEEK, 0.0, 1.0)
    return for_all(means)


def for_all(weekly: FloatArray) -> FloatArray:
    """Marked as not to be written to, since all who ask get the same array."""
    weekly.setflags(write=False)
    return weekly


def _area_until(days: FloatArray, knots: FloatArray, *, peak: float) -> FloatArray:
    """Area under the trapezoid from its start to each day (0-365 after the start)."""
    start, full, decline, end = knots
    rising = np.clip(days, start, full) - start
    holding = np.clip(days, full, decline) - full
    falling = np.clip(days, decline, end) - decline
    rise, fall = max(full - start, 1e-12), max(end - decline, 1e-12)
    area: FloatArray = peak * (rising**2 / (2 * rise) + holding + falling - falling**2 / (2 * fall))
    return area
