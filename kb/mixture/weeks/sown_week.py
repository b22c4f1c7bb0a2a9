"""The week in which a crop comes into its place, in numbers and in words."""

from dataclasses import dataclass

from kb.mixture.profile import Profile
from kb.mixture.season import DAYS_PER_WEEK, FloatArray

LOST_MOST, LOST_PART = 0.5, 0.25
"""Share of a crop's season that lies behind the frosts of autumn, in the cold or in the heat, taken alike."""


@dataclass(frozen=True, slots=True)
class Put:
    """How and in which week (1-52) a crop comes into its place: sown, or set out."""

    deed: str
    week: int

    def __str__(self) -> str:
        return f"{self.deed} in week {self.week}"


def in_its_weeks(profile: Profile, usual: FloatArray, put: Put) -> str:
    return f"{profile.name} is {put.deed} in its own weeks, here from about week {start_week(usual)}"


def start_day_of(activity: FloatArray) -> float:
    """The first day, from the turn of the year, of the first week that grows."""
    return (start_week(activity) - 1) * DAYS_PER_WEEK


def start_week(activity: FloatArray) -> int:
    """The week (1-52) in which a season begins."""
    begins = activity > 0
    begins[1:] &= activity[:-1] == 0
    begins[0] &= activity[-1] == 0
    return int(begins.argmax()) + 1
