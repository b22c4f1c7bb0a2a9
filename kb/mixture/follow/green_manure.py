"""A green manure turned in or mown down, and a crop sown into what rots of it.

Fresh green matter feeds fungi and maggots that take seedlings, and straw-like growth takes up the soil's
nitrogen while it rots. So ground is left two to three weeks before it is sown, longest after grasses and
cereals; plants that are set out, and tubers, are past the worst (common practice).

It is turned in green, as its flowering begins and before it sets seed, or sooner where the ground is wanted
(handbooks on cover crops, such as SARE, Managing Cover Crops Profitably; from memory).
"""

from dataclasses import dataclass
from typing import Literal

from kb.mixture.counting import so_many
from kb.mixture.follow.follow_season import ends, starts, week_of
from kb.mixture.limits import Limit, records_of
from kb.mixture.profile import Profile
from kb.mixture.season import DAYS_PER_WEEK, WEEKS, window_shift
from kb.mixture.site import Site, Use
from kb.mixture.weeks.as_grown import growth_by_week
from kb.mixture.weeks.comes_up import set_as_tuber

ROTS_WEEKS, GRASS_ROTS_WEEKS = 2.0, 3.0
"""How long green matter rots before seed does well in it; of grasses and cereals (common practice: two to
three weeks)."""
SET_AS = frozenset({"tuber"})
"""What is set whole in place of seed has food of its own."""
TURNED_IN: dict[Use, str] = {"dug-in": "dug in", "mown": "mown down"}

QUICKEST_WEEKS = 6.0
"""So long a green manure stands at least: mustard and buckwheat give bulk in five to eight weeks (common
practice)."""
LEAST_WAIT_WEEKS = 1.0
"""A whole week to turn the ground round, where nothing has to rot before the next is set (judgement)."""


@dataclass(frozen=True, slots=True)
class TurnedIn:
    """The week [1, 53) in which a green manure is taken to be turned in, and what it was taken from.

    ``flowering``: the week in which that begins; ``cover``: full cover of the ground, where flowering is not
    on record; ``next``: in time for what follows, before either. ``wait_weeks`` lie before what follows.
    """

    week: float
    taken_from: Literal["flowering", "cover", "next"]
    wait_weeks: float = 0.0


def turned_in(
    a: Profile, b: Profile, site: Site, use: Use, *, sow_week: float | None, next_week: float | None
) -> TurnedIn | None:
    """When a green manure A of one season, sown in ``sow_week``, is turned in where nobody says so.

    ``next_week`` is that in which B starts, where it has one of its own. None for what is harvested or left
    standing, for what lasts for years, and for what has no season with an end.
    """
    if use not in TURNED_IN or not a.annual:
        return None
    start = starts(growth_by_week(a, site, sow_week=sow_week))
    if start is None:
        return None
    flowering = _flowers_after(a, site)
    until = _covers_after(a) if flowering is None else flowering
    wait = max(rest_weeks(a, b, use), LEAST_WAIT_WEEKS)
    ahead = None if next_week is None else (next_week - wait - start) % WEEKS
    if ahead is not None and QUICKEST_WEEKS <= ahead < until:
        return TurnedIn(week_of(start + ahead), "next", wait)
    return TurnedIn(week_of(float(int(start + until))), "cover" if flowering is None else "flowering")


def sooner(a: Profile, b: Profile, taken: TurnedIn, use: Use, gap_weeks: float) -> TurnedIn:
    """The same, so much sooner that B need not be sown into what rots, where it cannot start later."""
    rest = rest_weeks(a, b, use)
    short = rest - gap_weeks
    return taken if short <= 0 else TurnedIn(week_of(taken.week - short), "next", rest)


def turned_in_note(a: Profile, b: Profile, use: Use, taken: TurnedIn) -> str:
    """What was assumed of its week, in words."""
    wait = so_many(taken.wait_weeks, "week")
    when = {
        "flowering": "as its flowering begins",
        "cover": "as it covers the ground, for its flowering is not on record",
        "next": f"{wait} before {b.name} starts, while it is green",
    }[taken.taken_from]
    doubtful = a.flowers is not None and not a.flowers.known and taken.taken_from == "flowering"
    rough = " (a rough date)" if doubtful else ""
    return (
        f"When {a.name} is {TURNED_IN[use]} was not said: it is taken {when}, about week "
        f"{taken.week:.0f}{rough}. A week of clearing that is named chooses."
    )


def _flowers_after(plant: Profile, site: Site) -> float | None:
    """Weeks from the start of its usual season here until it flowers; None where that is not on record.

    A biennial does not flower in the season it is grown for. Sown at another time it keeps its pace, and the
    week of a wild plant that stands over winter does not make a sown one quicker than any is.
    """
    course = growth_by_week(plant, site)
    start, end, flowers = starts(course), ends(course), plant.flowers
    if start is None or end is None or flowers is None or plant.life_cycle.value == "biennial":
        return None
    moved = window_shift(site, spring=flowers.start_driver == "spring-heat") / DAYS_PER_WEEK
    after = (flowers.start + moved - start) % WEEKS
    return max(after, QUICKEST_WEEKS) if after < (end - start) % WEEKS else None


def _covers_after(plant: Profile) -> float:
    """Weeks until it covers the ground in full: for many crops about when they begin to flower.

    Allen et al. 1998, FAO-56, chapter 6, on the stages of growth.
    """
    return max((plant.activity.full - plant.activity.start) % WEEKS, QUICKEST_WEEKS)


def rest_weeks(a: Profile, b: Profile, use: Use) -> float:
    """How long the ground should rest between A and the sowing of B, weeks; 0 where it need not."""
    set_out = b.raising.value == "planted-out" or b.root_form.value in SET_AS or set_as_tuber(b)
    sown = b.annual and not set_out
    if use not in TURNED_IN or not sown:
        return 0.0
    return GRASS_ROTS_WEEKS if _grass(a) else ROTS_WEEKS


def still_rots(a: Profile, b: Profile, use: Use, gap_weeks: float | None) -> Limit | None:
    """The limit on B sown before the rest is over; ``gap_weeks`` lie between the two, None: not known."""
    rest = rest_weeks(a, b, use)
    if not rest or gap_weeks is None or gap_weeks >= rest - 1e-9:
        return None
    holds = " and holds the soil's nitrogen" if _grass(a) and b.nitrogen_fixing.value != "yes" else ""
    weeks = f"{'three' if _grass(a) else 'two'} weeks"
    set_out = "" if b.raising.value == "in-place" else ", or is set out as young plants"
    return Limit(
        kind="season",
        of=b.id,
        text=(
            f"What is {TURNED_IN[use]} of {a.name} rots for about {weeks}: that harms seedlings{holds}, and "
            f"{b.name} would be sown before it is over."
        ),
        records=records_of(a.growth_form.records, b.raising.records),
        ceiling="workable",
        lift=f"{b.name} is sown {weeks} or more after {a.name} is {TURNED_IN[use]}{set_out}",
        check=b.raising.value is None,
    )


def _grass(plant: Profile) -> bool:
    return plant.growth_form.value == "graminoid"
