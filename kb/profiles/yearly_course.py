"""The yearly course of a plant from its records: its windows, else its stages, else its form's usual one."""

from collections.abc import Sequence
from dataclasses import replace

from kb.adopt import ONE_SEASON
from kb.mixture.profile import Activity, Driver, Estimate, Sown
from kb.mixture.season import DAYS_PER_WEEK
from kb.model import Record, TraitId
from kb.profiles import defaults
from kb.profiles.crop_stages import renewed_course, within_its_cycle
from kb.profiles.geophytes import StandInCourse, geophyte_course
from kb.profiles.known_values import KnownValues, best_origin, end_of, week_of

WOOD = frozenset({"tree", "shrub", "cane", "climber-woody"})
"""Forms whose buds stand the winter above the ground."""
BARE_IN_RAINS = "bare-in-rains"
HALF_EVERGREEN, THINNEST_WEEKS = "semi-evergreen", 8.0
"""What keeps part of its leaf in winter thins out from autumn on, and is barest this long before its new leaf
(judgement: no date of either moves so far that they meet, `season.MOST_MOVED_DAYS`)."""
MOST_MOVED = 12.0
"""A first day this many weeks before the usual start of the form, or more, is another season's."""


def activity_of(values: KnownValues, traits: tuple[str, ...], form: str, dug: Estimate) -> Activity:
    """The yearly course; wood that drops its leaves is marked as that."""
    course = _activity_of(values, traits, form, dug)
    return replace(course, buds=form in WOOD and not course.evergreen and not one_season(values))


def _activity_of(values: KnownValues, traits: tuple[str, ...], form: str, dug: Estimate) -> Activity:
    """The yearly course from the first window that is known, else from store and flower, else from the form.

    Stages of a crop that are on record shape what stands in (`crop_stages`), and go before the leaf of an
    evergreen where the harvest takes it; ``dug`` is how deep that digs. A start alone that is on record (a
    first leaf) moves the start of the form's course, not its end; the course stays a stand-in.
    """
    retention = values.choice("leaf-retention")
    # Green all year is said of the plant, not of it as a crop of one year (cassava, pigeon pea).
    for_a_year = values.choice("life-cycle").value == "annual" and retention.value == "evergreen"
    evergreen = retention.value == "evergreen" and not for_a_year
    for trait in traits:
        window = values.adopted.get(TraitId(trait))
        if window is None or window.low is None or window.high is None:
            continue
        return _course(values, (window.low, window.high), values.counted(trait), form, evergreen=evergreen)
    renewed = None if one_season(values) and not for_a_year else renewed_course(values, form, dug)
    if evergreen and renewed is None:
        known = values.adopted[TraitId("leaf-retention")]
        return Activity(1, 1, 53, 53, True, 0.0, values.origin(known), known.records)
    if retention.value == BARE_IN_RAINS:
        corners = defaults.FORMS[form].weeks
        doubt, records = defaults.DATES_DOUBT_WEEKS, retention.records
        return Activity(*corners, False, doubt, retention.origin, records, "dry-season", "dry-season")
    usual = renewed or _usual_course(values, form)
    (start, full, decline, end), records = usual.corners, usual.records
    fades = values.fades()
    if fades is not None and start < fades and start < end:
        end = max(end, fades)
    for trait in traits:
        window = values.adopted.get(TraitId(trait))
        if window is not None and window.low is not None and start - MOST_MOVED <= window.low < decline:
            start, full = window.low, min(decline, full + window.low - start)
            records = window.records
            break
    if retention.value == HALF_EVERGREEN and not one_season(values):
        end, records = week_of(start - THINNEST_WEEKS), (*records, *retention.records)
    moved = _moved_by(values, form, start, end) if values.maybe("cycle-length") else _drivers(values, form)
    return Activity(start, full, decline, end, False, usual.doubt_weeks, "form", records, *moved)


def _usual_course(values: KnownValues, form: str) -> StandInCourse:
    """What stands in for a season: of a bulb, corm or tuber, of the form, of a crop within its cycle."""
    usual = geophyte_course(values, form) or StandInCourse(
        defaults.FORMS[form].weeks, defaults.DATES_DOUBT_WEEKS
    )
    return within_its_cycle(usual, values) if one_season(values) else usual


def one_season(values: KnownValues) -> bool:
    return values.choice("life-cycle").value in ONE_SEASON


def _course(
    values: KnownValues, weeks: tuple[float, float], records: Sequence[Record], form: str, *, evergreen: bool
) -> Activity:
    """The yearly course of a window that rests on these records."""
    low, high = weeks
    end = week_of(end_of(high))
    start_driver, end_driver, most_days = _moved_by(values, form, low, end, evergreen=evergreen)
    return Activity(
        low,
        *values.inner_corners(low, high, records),
        end,
        evergreen,
        defaults.KNOWN_DATES_DOUBT_WEEKS,
        best_origin(records),
        tuple(record.iri for record in records),
        start_driver,
        end_driver,
        most_days,
    )


def _moved_by(
    values: KnownValues, form: str, start: float, end: float, *, evergreen: bool = False
) -> tuple[Driver, Driver, float | None]:
    """What moves the start and the end of a known course, and the most days that it lasts (None: no end).

    A hardy crop of one season ends of itself, so long after its start. A tender one stands till the frost,
    but no longer than its window or the longest cycle on record: crop tables count in the picking (Allen et
    al. 1998, FAO-56, table 11).
    """
    starts, ends = _drivers(values, form)
    if evergreen or not one_season(values):
        return starts, ends, None
    if ends == "fixed":
        return starts, "cycle", None
    cycle = values.maybe("cycle-length")
    if ends != "autumn-frost" or cycle is None:
        return starts, ends, None
    return starts, ends, max(cycle.high, (end - start) % 52 * DAYS_PER_WEEK)


def sowings_of(values: KnownValues, form: str) -> tuple[Sown, ...]:
    """The years of a crop from further times of sowing; its leaf is out while it grows."""
    window = values.adopted.get(TraitId("growth-window"))
    if window is None or values.choice("leaf-retention").value == "evergreen":
        return ()
    years = (
        _course(values, (sowing.low, sowing.high), values.chosen(sowing.records), form, evergreen=False)
        for sowing in window.sowings
    )
    return tuple(Sown(year, year) for year in years)


def _drivers(values: KnownValues, form: str) -> tuple[Driver, Driver]:
    """What moves the start and the end of growth: heat, chill and frost, or day length for bulbs."""
    tender = values.choice("tender").value == "frost-tender"
    bulb = values.choice("root-form").value == "bulb"
    if bulb and form == "herb":
        return "spring-heat", "day-length"
    if _needs_chill(values, form):
        return "chill", "autumn-frost"
    # Cereals and peas ripen, as herbs do; frost ends only what it kills, and what stands for years.
    hardy = one_season(values) and values.choice("tender").known
    return "spring-heat", "autumn-frost" if tender or not (form == "herb" or hardy) else "fixed"


def _needs_chill(values: KnownValues, form: str) -> bool:
    """Whether its buds need a winter: a woody plant that drops its leaves and bears hard frost."""
    hardiness = values.maybe("hardiness")
    bare = values.choice("leaf-retention").value == "deciduous"
    hard = hardiness is not None and hardiness.likely <= defaults.CHILL_BELOW_C
    return form in WOOD and bare and hard
