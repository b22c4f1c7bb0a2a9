"""One plant grown on the ground after another: time, what stays in the soil, nitrogen left.

Nothing is shared here at one moment, so no water or light is divided; what counts is whether the
second still has its season, which enemies the first leaves in the ground (`leftover`) and what
nitrogen. Rules of judgement, each from the trade's practice and named so:

* the ground needs three days between two crops (`trade` 5.3). A week holds them: what is cleared in a week
  can be followed in that week. Weeks between that are counted have to hold them too, but not where the first
  is mown down or left and the second drilled through it (common practice of rolled rye);
* with no week asked for, B starts in the first week of its own season that lies after A, where it can still
  complete it, else when its season comes round;
* a hardy crop that is commonly planted out, and is set within its own season, is as old as the part of the
  season that is gone, as far as seed bed or pots can keep it; so it keeps its end. One that frost kills
  begins its season as a young plant, and is no older for being set late;
* of a crop with several times of sowing that one is meant whose turn comes first after A, or which is nearest
  to a week that is named;
* a start shortly before the season is an early one, not one nearly a year late; frost and cold judge a week
  that is named as they do in a bed (`sowing`);
* seed waits two to three weeks for what a green manure leaves to rot; where nobody says when it is turned in,
  it is in flower, or earlier in time for B (`green_manure`);
* a crop set late keeps its pace and loses what would come after its last growing week. That week is
  its own end for one driven by day length, else the later of its own end and the first frost, four
  weeks after it for a hardy one;
* within three years kin count as they do side by side, two crops of one species as one genus
  (`trade` 5.3 forbids a family to follow itself inside three years).
"""

from dataclasses import dataclass, field

from kb.mixture.bodies.growth import share_grown
from kb.mixture.follow.follow_season import COMPLETES, HALF_YEAR_WEEKS, TURN_WEEKS, Season, ends, week_of
from kb.mixture.follow.green_manure import TurnedIn, rest_weeks, sooner, turned_in
from kb.mixture.ground.fixed import LEFT_OF_HELD, NEXT_SEASON, fixed_by
from kb.mixture.profile import Profile
from kb.mixture.relatedness import CARRIED_OVER, relation
from kb.mixture.season import DAYS_PER_WEEK, WEEKS, FloatArray, driven_by_rain
from kb.mixture.site import Site, Use
from kb.mixture.weeks.as_grown import as_sown, every_sowing, growth_by_week, stands_over_winter
from kb.mixture.weeks.finishing import longer_weeks

ROTATION_YEARS = 3.0
WORKED: frozenset[Use] = frozenset({"harvested", "dug-in"})
"""What becomes of the first after which the ground is worked before it is sown."""


@dataclass(frozen=True, slots=True)
class FollowOn:
    """How B comes after A. Weeks are ISO weeks of the place; None is taken from the plants' seasons.

    At most one of ``sow_week_b``, ``gap_weeks`` and ``gap_years`` says when B starts. ``history``
    are ids of enemies known to be in this ground. ``age_a_years`` is how long an A that lasts has stood;
    None: as long as such plants do.
    """

    sow_week_a: float | None = None
    clear_week_a: float | None = None
    sow_week_b: float | None = None
    gap_weeks: float | None = None
    gap_years: float | None = None
    age_a_years: float | None = None
    use_a: Use = "harvested"
    history: frozenset[str] = field(default_factory=frozenset)
    given: frozenset[str] = field(default_factory=frozenset)

    @property
    def says_when(self) -> bool:
        """Whether the asker says when B starts."""
        return not (self.sow_week_b is None and self.gap_weeks is None and self.gap_years is None)


@dataclass(frozen=True, slots=True)
class Timing:
    """When A leaves and B starts, weeks of the place [1, 53); ``gap_weeks`` between them.

    ``gap_weeks`` below 0: B would start while A still stands. ``lost`` is the share of B's growth
    that its late start costs, 0-1. ``set_out`` where B comes as young plants, ``raised_weeks`` how much of
    its season it then has behind it. ``in_season`` where B's week was chosen within its own season, to
    follow on A.
    None where a plant has no end of season by itself.
    """

    clear_week: float | None
    start_week: float | None
    gap_weeks: float | None
    years_apart: float
    lost: float
    raised_weeks: float = 0.0
    set_out: bool = False
    in_season: bool = False
    green: TurnedIn | None = None
    """How the week was taken in which a green manure is turned in; None where it was said, or A is none."""

    turn_weeks: float = 0.0
    """So many weeks the ground needs between the two: none where whole weeks are named."""

    @property
    def too_soon(self) -> bool:
        return self.gap_weeks is not None and self.gap_weeks < self.turn_weeks - 1e-9


def timing(a: Profile, b: Profile, site: Site, asked: FollowOn, *, moved: FloatArray | None = None) -> Timing:
    """When each is on the ground.

    ``moved`` (3,) moves A's end, B's season and the first frost by weeks: a draw of doubt.
    """
    late_a, late_b, late_frost = (0.0, 0.0, 0.0) if moved is None else moved
    grown = Season.of(b, site, late_b, late_frost) if b.annual else None
    own = None if grown is None else grown.first
    clear, green = asked.clear_week_a, None
    if clear is None and a.annual:
        named = asked.gap_weeks is not None or asked.gap_years is not None
        next_week = asked.sow_week_b if asked.sow_week_b is not None else None if named else own
        green = turned_in(a, b, site, asked.use_a, sow_week=asked.sow_week_a, next_week=next_week)
        end = _cleared(a, site, asked.sow_week_a) if green is None else green.week
        late = 0.0 if green is not None and green.taken_from == "next" else late_a
        clear = None if end is None else week_of(end + late)
    start = _start_of(asked, clear, own)
    next_in = (
        None if asked.says_when or grown is None else _next_in(grown, clear, rest_weeks(a, b, asked.use_a))
    )
    start = start if next_in is None else next_in
    if green is not None and next_in is not None and clear is not None:
        green = sooner(a, b, green, asked.use_a, (next_in - clear) % WEEKS)
        clear = green.week if green.taken_from == "next" else clear
    years = asked.gap_years or 0.0
    gap = None if clear is None or start is None else _gap(asked, clear, start)
    if asked.gap_years is None and gap is not None:
        years = max(0.0, gap) / WEEKS
    lost = raised = 0.0
    if grown is not None and start is not None and asked.gap_years is None:
        lost, raised = grown.lost(start), grown.raised_weeks(start)
    set_out = grown is not None and grown.set_out
    turn = TURN_WEEKS if asked.gap_weeks is not None and asked.use_a in WORKED else 0.0
    return Timing(clear, start, gap, years, lost, raised, set_out, next_in is not None, green, turn)


def _cleared(a: Profile, site: Site, sow_week: float | None) -> float | None:
    """The week in which a crop leaves the ground: the end of its season, sooner where it is ready or frozen.

    Sown in a named week it is ready after the longest cycle on record, a late sowing later (`finishing`); its
    window takes in sowings one after another and what stands over. What frost kills is off at the first one.
    """
    end = ends(growth_by_week(a, site, sow_week=sow_week))
    if end is None or sow_week is None or stands_over_winter(a, site):
        return end
    weeks = (end - sow_week) % WEEKS
    if a.cycle_days is not None and a.activity.end_driver != "day-length" and not driven_by_rain(site):
        weeks = min(weeks, a.cycle_days.high / DAYS_PER_WEEK + longer_weeks(site, sow_week))
    if a.activity.end_driver == "autumn-frost" and site.first_frost_day is not None:
        frost = site.first_frost_day / DAYS_PER_WEEK + 1
        weeks = min(weeks, (frost - sow_week) % WEEKS)
    return week_of(sow_week + weeks)


def _next_in(grown: Season, clear: float | None, rest: float) -> float | None:
    """The week of B's season that is taken: after the rest of a green manure where B can wait for it."""
    rested = None if clear is None or not rest else grown.after(week_of(clear + rest - TURN_WEEKS))
    return grown.after(clear) if rested is None else rested


def following_crop(a: Profile, b: Profile, site: Site, asked: FollowOn) -> Profile:
    """B from that of its times of sowing which is meant.

    It is the one nearest to the week that is asked for, else the one whose turn comes first after A, in weeks
    in which it can complete its season.
    """
    if not b.annual or not b.sowings:
        return b
    if asked.gap_years is not None:
        return b
    times = [(timing(a, sown, site, asked), sown) for sown in every_sowing(b)]
    start = _start_of(asked, times[0][0].clear_week, None)
    if start is not None:
        return as_sown(b, site, start)
    return min(times, key=lambda found: _wait(found[0]))[1]


def _wait(time: Timing) -> tuple[bool, float]:
    """Order in which the times of sowing are taken: those that fit first, then the least wait."""
    fits = not time.too_soon and time.lost < COMPLETES
    return not fits, time.gap_weeks if time.gap_weeks is not None else 0.0


def kin_share(a: Profile, b: Profile, years_apart: float) -> float:
    """Chance 0-1 that A's enemies wait in the ground for B, from kinship alone."""
    kinship = relation(a, b).kinship
    if years_apart >= ROTATION_YEARS:
        return CARRIED_OVER["none"]
    return CARRIED_OVER["genus" if kinship == "species" else kinship]


def nitrogen_left(a: Profile, use: Use, age_years: float | None = None) -> tuple[float, float]:
    """Nitrogen that A brings to what follows, g/m2, low to high; only what it took from the air.

    One that lasts holds as much less as it is not yet grown up in ``age_years`` (None: grown).
    """
    if not (a.nitrogen_fixing.value == "yes" and a.nitrogen_fixing.known):
        return 0.0, 0.0
    held = fixed_by(a).likely
    if age_years is not None and not a.annual:
        held *= share_grown(a, age_years, "herb")
    low, high = LEFT_OF_HELD[use]
    return held * low * NEXT_SEASON[0], held * high * NEXT_SEASON[1]


def _start_of(asked: FollowOn, clear: float | None, own: float | None) -> float | None:
    if asked.sow_week_b is not None:
        return asked.sow_week_b
    if asked.gap_weeks is not None and clear is not None:
        return week_of(clear + asked.gap_weeks)
    return own


def _gap(asked: FollowOn, clear: float, start: float) -> float:
    """Weeks from clearing to start. A week that was said is meant soon; B's own comes next time.

    Whole years between are free ground, and B starts in its own weeks after them.
    """
    if asked.gap_weeks is not None:
        return asked.gap_weeks
    ahead = (start - clear) % WEEKS
    if asked.sow_week_b is not None:
        return ahead - WEEKS if ahead > HALF_YEAR_WEEKS else ahead
    between = (asked.gap_years or 0.0) * WEEKS
    return between + (ahead if between + ahead >= TURN_WEEKS else ahead + WEEKS)
