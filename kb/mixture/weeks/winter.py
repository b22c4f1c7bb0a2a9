"""Whether a plant lives through the winters of a site: degrees, frost, and the chill its buds need.

A plant's hardiness is compared with the mean of the site's lowest winter temperatures. Where nobody
said it, it is guessed from latitude and frost dates, and the answer calls it a guess: continental
winters are far colder than such a guess. A guess never makes a conflict, only a "check first".
"""

from dataclasses import replace
from math import erf, sqrt

from kb.mixture.limits import HOLDS_BACK, Limit, records_of
from kb.mixture.profile import Estimate, Profile
from kb.mixture.results import Verdict
from kb.mixture.season import TROPIC, driven_by_rain
from kb.mixture.site import Site, Texture
from kb.mixture.stress import verdict_of
from kb.mixture.weeks.as_grown import growth_by_week, stands_over_winter
from kb.mixture.weeks.cool_season import cool_nights, lost_to_heat
from kb.mixture.weeks.cool_summer import TROPICAL_C
from kb.mixture.weeks.hot_weeks import its_weeks
from kb.mixture.weeks.warmth import guessed_winter_c, warmth_by_week

WINTER_SD_C = 3.0
"""By so much the lowest temperatures of winters differ between years: judgement, from memory of
records of 2.5 to 4 degrees."""
GUESS_SD_C = 6.0
"""How far the guess may be out where winters are mild: judgement; inland it may be 20 degrees."""
RARE, COMMON = 0.05, 0.2
"""Share of winters colder than a plant bears: below the first not worth a limit, above the second poor."""
NEARLY_ALL = 0.75
COVERED_C = 15.0
"""Straw a hand deep, or 20 cm of lasting snow, keep buds at the ground so many degrees warmer than the air of
the coldest nights: judgement, between what a mulch of straw does (about 10) and lying snow (20 and more)."""
HEAVY: tuple[Texture, ...] = ("clay", "silty clay", "sandy clay")
DRY_GROUND = 5.0
"""On the 1-12 scale of moisture: plants that bear no more are of dry or fresh ground (judgement)."""
STILL_COOL_C = 24.0
"""Mean temperature of a week up to which crops of cool seasons do: judgement."""
MOST_KILLED_C, MANY_KILLED_C = -38.0, -25.0
"""A fifth of the lasting plants of this base with their hardiness on record die of it (measured: of 239, 82 %
bear -25, 63 % -30, 18 % -38 degrees): one of which nothing is on record is workable at most, and
poor where four fifths would die."""
COLD_GUESS_C = -12.0
"""Below this guess an unknown hardiness is a thing to check before planting."""


def winter_c(site: Site) -> tuple[float | None, bool]:
    """The lowest winter temperature to reckon with, and whether it is a guess.

    None where nobody said it and no frost comes: then it stays above freezing, and no more is known.
    """
    if site.winter_min_c is None:
        return guessed_winter_c(site), True
    return site.winter_min_c, False


def winter_limits(profile: Profile, site: Site, given: frozenset[str] | None = None) -> tuple[Limit, ...]:
    """What the winters, or the lack of them, hold against one plant.

    ``given`` is what the gardener provides; None where that is not asked (one crop after another).
    """
    found = [_frost_in_every_month(profile, site), _frost_kills(profile, site)]
    if not any(found):
        found.append(_degrees(profile, site, given))
    found += [_no_chill(profile, site), _no_winter(profile, site), _no_cool_weeks(profile, site)]
    found += [_short_days(profile, site), _wet_clay(profile, site)]
    return tuple(limit for limit in found if limit is not None)


def _frost_in_every_month(profile: Profile, site: Site) -> Limit | None:
    if not (site.frost_every_month and profile.tender.value == "yes"):
        return None
    return Limit(
        kind="hardiness",
        of=profile.id,
        text=f"Frost comes here in every month, and kills {profile.name}.",
        records=profile.tender.records,
        ceiling="avoid",
        lift=f"{profile.name} is kept from frost, under cover all year",
        check=not profile.tender.known,
    )


def _frost_kills(profile: Profile, site: Site) -> Limit | None:
    """A plant that has to live through winters, at a site whose frosts kill it."""
    if profile.annual or profile.tender.value != "yes" or not site.frosty:
        return None
    bears = "" if profile.hardiness_c is None else f" (it bears about {_degree(profile.hardiness_c.likely)})"
    return Limit(
        kind="hardiness",
        of=profile.id,
        text=f"Frost kills {profile.name}, which has to live through the winters here{bears}.",
        records=profile.tender.records,
        ceiling="avoid",
        lift=f"{profile.name} is kept from frost, under cover in winter",
        check=not profile.tender.known,
    )


def _degrees(profile: Profile, site: Site, given: frozenset[str] | None) -> Limit | None:
    """The hardiness on record against the winters of the site, of what has to live through them.

    Of crops of one season those that stand over winter, where it is said how cold it gets; what is not on
    record of them is not asked for: growers of a place know its winter crops.
    """
    hardiness = profile.hardiness_c
    coldest, guess = winter_c(site)
    if profile.annual and (hardiness is None or guess or not stands_over_winter(profile, site)):
        return None
    if coldest is None:
        return _above_freezing(profile, site)
    if hardiness is None:
        return _unknown(profile, coldest, guess=guess)
    if guess:
        return _guessed(profile, hardiness, coldest)
    share = _colder(hardiness.likely - coldest, WINTER_SD_C)
    if share < RARE:
        return None
    killed = share >= 0.5
    ceiling: Verdict = "avoid" if killed else "poor" if share >= COMMON else "workable"
    told = (
        f"Winters here fall to about {_degree(coldest)}, and {profile.name} bears about "
        f"{_degree(hardiness.likely)}"
    )
    limit = Limit(
        kind="hardiness",
        of=profile.id,
        text=f"{told}: {_one_in(share)} is colder than that.",
        records=hardiness.records,
        ceiling=ceiling,
        lift=f"{profile.name} is kept under cover in winter"
        if killed
        else f"{profile.name} is covered in hard winters",
        check=not hardiness.known,
    )
    at_ground = not profile.woody and _colder(hardiness.likely - coldest - COVERED_C, WINTER_SD_C) < COMMON
    return _under_snow(profile, limit, given) if at_ground else limit


def _under_snow(profile: Profile, limit: Limit, given: frozenset[str] | None) -> Limit:
    """A plant whose buds winter at the ground or under it, where the air gets colder than it bears.

    Straw or snow keeps the worst of it off: strawberries and lilies are grown across the cold continents so
    (common practice), where nobody leaves them bare. Work that comes every year caps at workable.
    """
    hard = HOLDS_BACK[limit.ceiling] < HOLDS_BACK["workable"]
    return replace(
        limit,
        lift=f"{profile.name} is mulched in winter, or lies under lasting snow",
        given=None if given is None else "mulch",
        met=True if given is not None and "mulch" in given else None,
        ceiling_if_lifted="workable" if hard else "good",
        small=hard,
    )


def _above_freezing(profile: Profile, site: Site) -> Limit | None:
    """A plant of warm countries at a frost-free place outside the tropics."""
    hardiness = profile.hardiness_c
    if hardiness is None or hardiness.likely <= 0 or abs(site.latitude) < TROPIC:
        return None
    return Limit(
        kind="hardiness",
        of=profile.id,
        text=f"{profile.name} bears about {_degree(hardiness.likely)}; how cool it gets here was not said.",
        records=hardiness.records,
        ceiling="good",
        ask=True,
    )


def _guessed(profile: Profile, hardiness: Estimate, coldest: float) -> Limit | None:
    if _colder(hardiness.likely - coldest, sqrt(WINTER_SD_C**2 + GUESS_SD_C**2)) < RARE:
        return None
    # No harder than the same winter would be held against it if somebody had said it (`_under_snow`).
    killed: Verdict = "poor" if profile.woody else "workable"
    return Limit(
        kind="hardiness",
        of=profile.id,
        text=(
            f"{profile.name} bears about {_degree(hardiness.likely)}, and how cold the winters here get was "
            f"not said (a rough guess: {_degree(coldest)}; far from the sea much colder)."
        ),
        records=hardiness.records,
        ceiling=killed if hardiness.likely >= coldest else "good",
        ask=True,
    )


def _unknown(profile: Profile, coldest: float, *, guess: bool) -> Limit | None:
    """Hardiness not on record: a thing to check wherever the cold could kill.

    A crop of the tropics is held as one that is known to bear less than the winters of a guess (`_guessed`):
    poor until it was looked up.
    """
    tropical = profile.of_the_tropics
    freezes = coldest < 0 if tropical else coldest <= (COLD_GUESS_C if guess else 0.0)
    if not freezes and (tropical or profile.tender.value != "yes"):
        return None
    how = "a rough guess" if guess else "as given"
    falls = f"winters here fall to about {_degree(coldest)} ({how})"
    check = Limit(
        kind="hardiness",
        of=profile.id,
        text=f"How cold a winter {profile.name} bears is not on record; {falls}.",
        records=(),
        ceiling="poor" if coldest <= MOST_KILLED_C else "workable" if coldest <= MANY_KILLED_C else "good",
        check=True,
        ask=True,
    )
    if not tropical:
        return check
    of_the_tropics = (
        f"{profile.name} is a crop of the tropics, and how cold a winter it bears is not on record"
    )
    return replace(
        check,
        text=f"{of_the_tropics}; {falls}.",
        ceiling="poor",
        lift=f"{profile.name} is kept from frost, under cover in winter",
        check=False,
        thin=True,
    )


def _no_chill(profile: Profile, site: Site) -> Limit | None:
    """Buds that wait for a winter, at a place that has none."""
    warm = site.winter_min_c is not None and site.winter_min_c > 5
    if profile.activity.start_driver != "chill" or (site.frosty and not warm):
        return None
    records = () if profile.hardiness_c is None else profile.hardiness_c.records
    return Limit(
        kind="season",
        of=profile.id,
        text=f"{profile.name} needs a cold winter before it breaks bud and flowers; this place has none.",
        records=records,
        ceiling="poor",
        lift=f"{profile.name} is a kind bred for warm winters",
    )


def _no_winter(profile: Profile, site: Site) -> Limit | None:
    """A lasting plant of cold winters, or of nobody knows what, where no frost comes.

    On lowlands of the tropics (no month below 18 degrees C) buds, bulbs and rosettes that rest in the cold
    miss their rest and fail in the heat (common knowledge of growers there): one of cold winters is poor
    where no tropical climate is on record for it. Not knowing is no better news than knowing. Elsewhere, and
    for one that some source lists there, it is a thing to check: heights of the tropics count as tropical
    too. One of mild winters is asked about where no week is cool.
    """
    warm = driven_by_rain(site) or (not site.frosty and _tropical(site))
    if profile.annual or profile.activity.start_driver == "chill" or not warm:
        return None
    winters, listed = profile.winters.value, profile.tropical_climate.value == "yes"
    if profile.tender.value == "yes" or winters == "none" or (winters == "mild" and _has_cool_weeks(site)):
        return None
    poor = winters != "mild" and not listed and _tropical(site)
    told = (
        f"What winters {profile.name} lives with is not on record"
        if winters is None
        else f"{profile.name} is of countries with a {winters} winter"
    )
    if poor:
        rest = (
            "no tropical climate is on record for it"
            if winters is None
            else "on record for no tropical climate: without its rest in the cold it seldom lasts in the heat"
        )
        text = f"{told}, and {rest}."
    elif listed:
        text = f"{told}; it is listed for tropical climates, and whether for their lowlands is not said."
    elif winters is None:
        text = f"{told}, nor whether it thrives without any."
    else:
        text = f"{told}, and whether it thrives where there is none is not on record."
    return Limit(
        kind="hardiness",
        of=profile.id,
        text=text,
        records=records_of(profile.winters.records, profile.tropical_climate.records),
        ceiling="poor" if poor else "workable",
        lift=f"{profile.name} is grown high up, in the cool" if poor else None,
        check=winters is None,
        ask=True,
        thin=poor,
    )


def _tropical(site: Site) -> bool:
    """Whether no month is below 18 degrees C (Köppen), by the guess from the latitude and what was said."""
    return _coolest_c(site) >= TROPICAL_C and not cool_nights(site)


def _no_cool_weeks(profile: Profile, site: Site) -> Limit | None:
    """A crop of one season that bears frost, or of which nobody says, where no week of the year is cool.

    Crops of the tropics, and those that frost kills, want the heat, and some are on record to bear that of
    the warmest week. What lives wild with cold winters, and is not on record for any warmth, is poor.
    """
    if not profile.annual or not driven_by_rain(site) or _has_cool_weeks(site):
        return None
    bears = profile.warmth_c
    if profile.tender.value == "yes" or profile.of_the_tropics:
        return None
    if bears is not None and (
        bears.high >= float(warmth_by_week(site).max()) or _said_of_heat(profile, site)
    ):
        return None
    cold = bears is None and profile.winters.value == "cold"
    weeks = f"the coolest weeks here have about {_degree(_coolest_c(site))}"
    unknown = (
        f"{profile.name} lives with cold winters, and heat all year is on no record of it"
        if cold
        else f"Whether {profile.name} bears heat all year is not on record"
    )
    told = (
        f"{unknown}; {weeks}"
        if bears is None
        else f"{profile.name} does well up to about {_degree(bears.high)}, and {weeks}"
    )
    return Limit(
        kind="season",
        of=profile.id,
        text=f"{told} (a guess from the latitude; high up it is cooler).",
        records=records_of(
            profile.tender.records,
            profile.winters.records if cold else (),
            () if bears is None else bears.records,
        ),
        ceiling="poor" if cold else "workable",
        lift=f"{profile.name} is grown high up, in the cool" if cold or bears is not None else None,
        check=not profile.tender.known and bears is None,
        ask=True,
    )


def _said_of_heat(profile: Profile, site: Site) -> bool:
    """Whether its own weeks are held against it as too hot anyway (`hot_weeks`)."""
    own = its_weeks(profile, growth_by_week(profile, site))
    return verdict_of(lost_to_heat(profile, warmth_by_week(site)[own])) != "good"


def _has_cool_weeks(site: Site) -> bool:
    """Whether some weeks are cool enough for plants of cool seasons, by the nights said or by the guess."""
    return cool_nights(site) or _coolest_c(site) <= STILL_COOL_C


def _coolest_c(site: Site) -> float:
    """Mean temperature of the coolest week to guess from the latitude."""
    return float(warmth_by_week(site).min())


def _short_days(profile: Profile, site: Site) -> Limit | None:
    """Bulbs that form by the length of the day, where no day is long."""
    if profile.activity.end_driver != "day-length" or abs(site.latitude) >= TROPIC:
        return None
    return Limit(
        kind="season",
        of=profile.id,
        text=(
            "Bulbs form as days get long, and between the tropics none is: only kinds of "
            f"{profile.name} for short days make bulbs here."
        ),
        records=profile.root_form.records,
        ceiling="good",
        ask=True,
    )


def _wet_clay(profile: Profile, site: Site) -> Limit | None:
    """Heavy ground lies wet in winter (`trade` 4.8): a thing to check for plants of dry ground."""
    likes = profile.moisture
    if profile.annual or site.soil_texture not in HEAVY or not likes.known or likes.high > DRY_GROUND:
        return None
    return Limit(
        kind="water",
        of=profile.id,
        text=f"{site.soil_texture.capitalize()} lies wet in winter, and {profile.name} is of dry ground: see "
        "to its drainage.",
        records=likes.records,
        ceiling="good",
        ask=True,
    )


def _colder(degrees_short: float, sd: float) -> float:
    """Share of winters colder than a plant bears, which is ``degrees_short`` warmer than the mean one."""
    return 0.5 * (1 + erf(degrees_short / (sd * sqrt(2))))


def _one_in(share: float) -> str:
    return "nearly every winter" if share >= NEARLY_ALL else f"about one winter in {max(2, round(1 / share))}"


def _degree(value: float) -> str:
    return f"{value:.0f} °C".replace("-", "−") if abs(value) >= 0.5 else "0 °C"
