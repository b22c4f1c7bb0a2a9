"""Weeks in flower from what is on record: a window, a first day, or a class of the season.

A first day alone is drawn out to a usual length and labelled ``form``, so that whoever reads knows it for a
stand-in. A class of Tyler et al. 2021 (1-15) is a window already where no other is cited (``adopt.FEEDS``, a
month either way); here it stands for the weeks round its middle, labelled ``form``, where decisions refuse
every window that is cited.
"""

from collections.abc import Mapping

from kb.mixture.profile import Activity, Driver, Origin
from kb.model import Adopted, TraitId

USUAL_WEEKS = 4.0
"""Length of flowering where only its beginning is on record (judgement)."""
CLASS_MIDDLE_MONTH, MONTHS_A_CLASS = 2.5, 0.5
"""Middle of flowering class p: month 2.5 + p/2, with 6.0 the middle of June (`data` section 4, inferred,
one month either way)."""
WEEKS_A_MONTH = 52 / 12
CLASS_DOUBT_WEEKS, DATE_DOUBT_WEEKS = 4.0, 2.0
LAST_SPRING_WEEK = 31.0
"""What flowers before August moves with the spring; later flowers follow the length of the day
(judgement)."""


def flowering(values: Mapping[TraitId, Adopted], origin: Origin, *, dated: bool = True) -> Activity | None:
    """The window in flower at the reference site; None where nothing is on record.

    ``origin`` is that of the recorded window, where there is one with both ends; ``dated`` is whether it
    rests on months or days, and not on a season's name or a class of a flora alone.
    """
    window = values.get(TraitId("flowering-window"))
    if window is not None and window.low is not None:
        end = window.high if window.high is not None else window.low + USUAL_WEEKS
        whole = window.high is not None
        doubt = DATE_DOUBT_WEEKS if dated else CLASS_DOUBT_WEEKS
        return _flowers(window.low, end, doubt, origin if whole else "form", records=window.records)
    season = values.get(TraitId("flowering-class-1-15"))
    if season is None or season.likely is None:
        return None
    middle = 1 + (CLASS_MIDDLE_MONTH + MONTHS_A_CLASS * season.likely - 0.5) * WEEKS_A_MONTH
    low, high = middle - USUAL_WEEKS / 2, middle + USUAL_WEEKS / 2
    return _flowers(low, high, CLASS_DOUBT_WEEKS, "form", records=season.records)


def _flowers(low: float, high: float, doubt: float, origin: Origin, *, records: tuple[str, ...]) -> Activity:
    driver: Driver = "spring-heat" if low < LAST_SPRING_WEEK else "fixed"
    start, end = ((week - 1) % 52 + 1 for week in (low, high))
    return Activity(start, start, end, end, False, doubt, origin, records, driver, "fixed")
