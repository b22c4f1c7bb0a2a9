"""The months of rain that were named of a place, as one run of days."""

from dataclasses import dataclass

import numpy as np

from kb.mixture.site import Site

MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


@dataclass(frozen=True, slots=True)
class Rains:
    """The longest run of wet months: its first day (1-365) and its length in days."""

    first_day: float
    days: float

    @property
    def over_day(self) -> float:
        """Days from the turn of the year to the end of the rains; above 365 in the next year."""
        return self.first_day - 1 + self.days

    @property
    def dry_days(self) -> float:
        """Days from the end of these rains to their next beginning."""
        return sum(MONTH_DAYS) - self.days


def longest_rains(site: Site) -> Rains | None:
    """The longest run of wet months; of equals, the earliest. None where no month, or every one, is named."""
    wet = set(site.wet_months)
    if not wet or len(wet) == len(MONTH_DAYS):
        return None
    first_days = np.cumsum((1, *MONTH_DAYS[:-1]))
    runs = {}
    for month in sorted(wet):
        if (month - 2) % 12 + 1 not in wet:
            runs[month] = next(n for n in range(1, 12) if (month - 1 + n) % 12 + 1 not in wet)
    first = max(runs, key=lambda month: (runs[month], -month))
    days = sum(MONTH_DAYS[(first - 1 + n) % 12] for n in range(runs[first]))
    return Rains(float(first_days[first - 1]), float(days))
