"""The season of a crop that follows another: what is gone of it, and what a late start costs.

A crop set late keeps its pace and loses what would come after its last growing week (`follow`); darker weeks
bring it less, as in a bed (`finishing`). One that is commonly planted out has had its first weeks elsewhere.
A start shortly before the window is an early one of the season to come: it loses nothing to the end of it,
and frost and cold judge it as in a bed (`sowing`).
"""

from dataclasses import dataclass, replace

import numpy as np

from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.season import (
    DAYS_PER_WEEK,
    HALF_YEAR_DAYS,
    MIDSUMMER_DAY,
    MIDWINTER_DAY,
    WEEKS,
    FloatArray,
    activity_by_week,
    autumn_sown,
)
from kb.mixture.site import Site
from kb.mixture.weeks.as_grown import EARLY_WEEKS, growth_by_week, stands_over_winter
from kb.mixture.weeks.cool_summer import cool_summer
from kb.mixture.weeks.cycles import shortened
from kb.mixture.weeks.finishing import TOO_COLD_C, unfinished
from kb.mixture.weeks.sowing import course_limits
from kb.mixture.weeks.warmth import warmth_by_week

TURN_WEEKS = 3 / 7
HARDY_WEEKS = 4.0
"""How long after the first frost a hardy crop still grows (judgement)."""
COMPLETES = 0.05
"""A crop that loses less of its growth than this still completes its season (judgement)."""
RAISED_WEEKS = 10.0
"""At most so old is a young plant when it is planted out: cabbages are 5 to 7 weeks old, tomatoes 8, leeks 10
to 15 (common practice)."""
RAISED_SHARE = 0.5
"""No more of its season than this has a young plant behind it (judgement: else pots have stunted it)."""
HALF_YEAR_WEEKS = WEEKS / 2


@dataclass(frozen=True, slots=True)
class Season:
    """An annual in its season at this site, weeks [1, 53); its dates and the first frost moved by doubt.

    ``first`` and ``end`` are None where it has no season, or one without an end.
    """

    plant: Profile
    site: Site
    first: float | None
    end: float | None
    late_frost: float

    @classmethod
    def of(cls, plant: Profile, site: Site, late: float, late_frost: float) -> "Season":
        course = growth_by_week(plant, site)
        first, end = starts(course), ends(course)
        moved = [None if week is None else week_of(week + late) for week in (first, end)]
        return cls(plant, site, moved[0], moved[1], late_frost)

    def gone(self, start: float) -> float:
        """Weeks of its own season that are over by then; 0 where it is not in season, or just begins."""
        if self.first is None or self.end is None:
            return 0.0
        gone = (start - self.first) % WEEKS
        return gone if gone < (self.end - self.first) % WEEKS else 0.0

    @property
    def set_out(self) -> bool:
        """Whether it comes into its place as a young plant."""
        return self.plant.raising.value == "planted-out"

    def raised_weeks(self, start: float) -> float:
        """How much of its season it has behind it where it is set out then; 0 where it is sown in its place.

        The season of a hardy crop begins in the seed bed. That of a crop which frost kills begins in the
        open, with plants already raised under cover: set later, they are no older than they were then.
        """
        if not self.set_out or self.plant.tender.value == "yes" or self.first is None or self.end is None:
            return 0.0
        return min(self.gone(start), RAISED_WEEKS, RAISED_SHARE * ((self.end - self.first) % WEEKS))

    def lost(self, start: float) -> float:
        """Share of its growth that a start then costs: what is `cut`, or what a bed says of the same week.

        There growth goes with the light of its weeks (`finishing`), where it is on record how long it takes.
        """
        cut = self.cut(start)
        late = unfinished(self.plant, self.site, week_of(start - self.raised_weeks(start)))
        return cut if late is None or self._early(start) else max(cut, late.lost)

    def cut(self, start: float) -> float:
        """Share of its growth that would come after its last growing week, all weeks alike."""
        if self.first is None or self.end is None or self.site.first_frost_day is None:
            return 0.0
        if self._early(start):
            return 0.0
        growing = max(0.0, self._lasts - (start - self.first) % WEEKS)
        raised = self.raised_weeks(start)
        course = self._course(week_of(start - raised))
        if not course.any():
            return 1.0
        since = (np.arange(WEEKS) + 1 - start + raised) % WEEKS
        inside = np.clip(growing + raised - since, 0.0, 1.0)
        return float(1 - (course * inside).sum() / course.sum())

    def limits(self, start: float | None) -> tuple[Limit, ...]:
        """What frost and cold hold against a start then, as in a bed; None: in its own weeks."""
        usual = growth_by_week(self.plant, self.site)
        cool = cool_summer(self.plant, usual, self.site)
        always = (*course_limits(self.plant, usual, self.site), *([] if cool is None else [cool]))
        if start is None:
            return always
        sown = week_of(start - self.raised_weeks(start))
        course = growth_by_week(self.plant, self.site, sow_week=sown)
        found = course_limits(self.plant, course, self.site, set_out_week=start if self.set_out else None)
        # The ground may not be free in the same year: "earlier" would promise what cannot be done.
        own = f"{self.plant.name} starts in its own weeks" + (
            "" if self.first is None else f", from week {self.first:.0f}"
        )
        # A bed says the worst of the season and of the week; both are told here, since one has no end.
        named = (replace(each, lift=own) if each.moves_week else each for each in found)
        return tuple(dict.fromkeys((*named, *always)))

    def _course(self, sow_week: float) -> FloatArray:
        """Its growth (52,) from a week that is named: one cycle, where it is on record how long that is.

        A window takes in picking, standing over and a spring that is early here (`cycles`).
        """
        plant = self.plant
        if plant.cycle_days is None or self._over_winter or plant.activity.end_driver == "day-length":
            return growth_by_week(plant, self.site, sow_week=sow_week)
        cycle = replace(shortened(plant.activity, plant.cycle_days), start_driver="fixed", end_driver="fixed")
        return activity_by_week(cycle, self.site, sow_week=sow_week)

    def _early(self, start: float) -> bool:
        """Whether a start out of season belongs to the season to come: just before it, or after midwinter.

        What stands over winter is sown for the season to come as soon as the last one is over; how much too
        early a start is, the limits say.
        """
        if self.first is None or self.end is None:
            return False
        before, since = (self.first - start) % WEEKS, (start - self.first) % WEEKS
        if since < (self.end - self.first) % WEEKS:
            return False
        if autumn_sown(self.plant.activity) and before < HALF_YEAR_WEEKS:
            return True
        midwinter = MIDWINTER_DAY + (HALF_YEAR_DAYS if self.site.southern else 0.0)
        to_come = before <= (self.first - midwinter / DAYS_PER_WEEK - 1) % WEEKS
        return before <= EARLY_WEEKS or (to_come and not self._over_winter)

    @property
    def _over_winter(self) -> bool:
        return autumn_sown(self.plant.activity) or stands_over_winter(self.plant, self.site)

    @property
    def _lasts(self) -> float:
        """Weeks from its first to its last growing week: its own end, or what the first frost adds.

        What stands over winter, or ends by the length of the day, has its own. Any other can be sown again
        and again up to the frosts, in how long a year soever.
        """
        frost_day = self.site.first_frost_day
        if self.first is None or self.end is None or frost_day is None:
            return 0.0
        own = (self.end - self.first) % WEEKS
        if self.plant.activity.end_driver == "day-length":
            return own
        if self.plant.tender.value == "no" and not (warmth_by_week(self.site) < TOO_COLD_C).any():
            return WEEKS  # No winter ends what frost does not kill; how dark it is, a bed says too.
        frost = frost_day / DAYS_PER_WEEK + 1 + self.late_frost
        hardy = 0.0 if self.plant.tender.value != "no" else HARDY_WEEKS
        if self._over_winter:
            more = (frost + hardy - self.end) % WEEKS
            return min(WEEKS, own + (more if more < HALF_YEAR_WEEKS else 0.0))
        summer = (MIDSUMMER_DAY + (HALF_YEAR_DAYS if self.site.southern else 0.0)) / DAYS_PER_WEEK + 1
        to_summer = (summer - self.first) % WEEKS
        to_frost = (frost - self.first) % WEEKS
        if (
            to_summer < HALF_YEAR_WEEKS
        ):  # That of a winter it may still begin in is not the frost that ends it.
            to_frost = to_summer + (frost - summer) % WEEKS
        return min(WEEKS, max(own, to_frost + hardy))

    def after(self, clear: float | None) -> float | None:
        """The first whole week after A in which it is in season and can still complete it, if any."""
        if clear is None:
            return None
        start = week_of(float(np.ceil(clear + TURN_WEEKS - 1e-9)))
        fits = self.gone(start) > 0 and self.cut(start) < COMPLETES and not self.limits(start)
        return start if fits else None


def starts(course: FloatArray) -> float | None:
    """The week in which a course begins; None without one, or where it never stops."""
    grows = course > 0
    if grows.all() or not grows.any():
        return None
    return float(np.flatnonzero(grows & ~np.roll(grows, 1))[0] + 1)


def ends(course: FloatArray) -> float | None:
    """The week after the last in which it grows; None without one, or where it never stops."""
    grows = course > 0
    if grows.all() or not grows.any():
        return None
    return week_of(float(np.flatnonzero(grows & ~np.roll(grows, -1))[0] + 2))


def week_of(week: float) -> float:
    return (week - 1) % WEEKS + 1
