"""The course of a crop of which no season is on record, from its stages: full cover and harvest.

Crop tables count the days from planting, or from the stubble, to full cover and to harvest (Allen et al.
1998, FAO-56, table 11 and chapter 6: the initial stage and that of development end at full cover). They name
no week for every place; the usual start of a growth form stands in for that, and what rests on it says so.
"""

from kb.mixture.profile import Estimate
from kb.mixture.season import DAYS_PER_WEEK, FREE_DAYS, REFERENCE_START_DAY, YEAR_DAYS
from kb.mixture.weeks.year_crop import FALLS, RISES, leaf_renewed
from kb.profiles.defaults import DATES_DOUBT_WEEKS
from kb.profiles.geophytes import StandInCourse
from kb.profiles.known_values import KnownValues, week_of

LEAST_STANDING = 0.1
"""Share of its cycle for which it stands at full cover at least (judgement)."""


def renewed_course(values: KnownValues, form: str, dug: Estimate) -> StandInCourse | None:
    """The course of a lasting crop whose harvest takes its leaf (`leaf_renewed`); None for others."""
    cover, cycle = values.maybe("days-to-full-cover"), values.maybe("cycle-length")
    if cycle is None or not leaf_renewed(form, dug, cover, cycle):
        return None
    start = REFERENCE_START_DAY / DAYS_PER_WEEK + 1
    corners = _corners(start, cover, cycle, YEAR_DAYS - FREE_DAYS)
    return StandInCourse(corners, DATES_DOUBT_WEEKS, _records(cover, cycle))


def within_its_cycle(usual: StandInCourse, values: KnownValues) -> StandInCourse:
    """A stand-in season of a crop of one season, no longer than the crop is on record to take."""
    cover, cycle = values.maybe("days-to-full-cover"), values.maybe("cycle-length")
    start, _, _, end = usual.corners
    most = ((end - start) % 52) * DAYS_PER_WEEK
    if cycle is None or cycle.likely >= most:
        return usual
    corners = _corners(start, cover, cycle, most)
    return StandInCourse(corners, usual.doubt_weeks, (*usual.records, *_records(cover, cycle)))


def _corners(
    start: float, cover: Estimate | None, cycle: Estimate, most_days: float
) -> tuple[float, float, float, float]:
    """Start, full, decline and end in weeks [1, 53)."""
    days = min(cycle.likely, most_days)
    falls = FALLS * days
    rises = min(RISES * days if cover is None else cover.likely, (1 - LEAST_STANDING) * days - falls)
    ends = (0.0, rises, days - falls, days)
    first, full, decline, end = (week_of(start + day / DAYS_PER_WEEK) for day in ends)
    return first, full, decline, end


def _records(*estimates: Estimate | None) -> tuple[str, ...]:
    return tuple(record for one in estimates if one is not None for record in one.records)
