"""Flowers that a pair brings to insects: the weeks, and how they follow each other.

A reason, never points: evidence that neighbours' crops gain from them is thin (`trade` 4.11). Families
whose pollen travels on the wind do not count, nor does a crop lifted before it flowers.
"""

import numpy as np
import numpy.typing as npt

from kb.mixture.counting import so_many
from kb.mixture.follow.green_manure import QUICKEST_WEEKS
from kb.mixture.judging.findings import Findings
from kb.mixture.kept import KeptBy
from kb.mixture.limits import records_of
from kb.mixture.profile import Profile
from kb.mixture.results import Reason
from kb.mixture.season import WEEKS, window_by_week
from kb.mixture.sharing.variants import Variants
from kb.mixture.site import Site, above_ground

WIND_POLLINATED = {
    "Amaranthaceae",
    "Betulaceae",
    "Cannabaceae",
    "Cupressaceae",
    "Cyperaceae",
    "Fagaceae",
    "Ginkgoaceae",
    "Juglandaceae",
    "Juncaceae",
    "Pinaceae",
    "Poaceae",
    "Taxaceae",
    "Ulmaceae",
}
"""Families with flowers for the wind, by and large (common textbook knowledge, from memory; sweet
chestnut, which insects visit too, falls under it)."""
Weeks = npt.NDArray[np.bool_]
KEPT = 64
_REASONS: KeptBy[Reason | None] = KeptBy(KEPT)
_WEEKS_OF: KeptBy[Weeks | None] = KeptBy(KEPT)
"""Of one plant: another week of sowing leaves the other's as they were."""

IN_FLOWER = 0.5
"""A week counts that is in flower for this share of it."""


def flower_weeks(plant: Variants, findings: Findings) -> Weeks | None:
    """Weeks (52,), True in flower for insects; None where flowering is not on record or not awaited."""
    return _WEEKS_OF.of(
        (plant.profile, plant.activity),
        above_ground(findings.place.site),
        lambda: _flower_weeks(plant, findings.place.site),
    )


def _flower_weeks(plant: Variants, site: Site) -> Weeks | None:
    profile = plant.profile
    if profile.flowers is None or not for_insects(profile):
        return None
    weeks: Weeks = window_by_week(profile.flowers, site) >= IN_FLOWER
    if profile.annual:
        grows = plant.activity[0] > 0
        weeks = _after_sowing(weeks, grows) & grows
    return weeks if weeks.any() else None


def _after_sowing(weeks: Weeks, grows: Weeks) -> Weeks:
    """The weeks of flower of a crop of one season, put off where they begin before it can be in flower.

    Its window is that of its usual sowing; sown later than that it flowers after as long as the quickest do.
    """
    starts, flowers = (np.flatnonzero(one & ~np.roll(one, 1)) for one in (grows, weeks))
    if not (starts.size and flowers.size):
        return weeks
    early = int((starts[0] + round(QUICKEST_WEEKS) - flowers[0]) % WEEKS)
    later: Weeks = np.roll(weeks, early if early < WEEKS / 2 else 0)
    return later


def flower_reason(findings: Findings) -> Reason | None:
    """The weeks in which either is in flower; None unless both are known to flower for insects, or not to.

    Kept by the two and their seasons: neither soil nor size moves it.
    """
    two, place = findings.two, findings.place
    objects = (*two.same, findings.a.activity, findings.b.activity)
    return _REASONS.of(objects, (two.setting, *above_ground(place.site)), lambda: _flower_reason(findings))


def _flower_reason(findings: Findings) -> Reason | None:
    a, b = flower_weeks(findings.a, findings), flower_weeks(findings.b, findings)
    if a is None or b is None:
        return _alone_in_flower(findings, a, b)
    told = {findings.profiles[0].id: a, findings.profiles[1].id: b}
    one, other = findings.in_order
    either, both = int((a | b).sum()), int((a & b).sum())
    guess = [p for p in dict.fromkeys((one, other)) if p.flowers is not None and not p.flowers.known]
    doubt = " (how long each lasts is a usual figure)" if guess else ""
    text = (
        f"Flowers for insects: {one.name} about {_span(told[one.id])}, {other.name} about "
        f"{_span(told[other.id])}; together {so_many(either, 'week')} with something "
        f"in flower, {both} with both{doubt}."
    )
    return Reason("flowers", text, records_of(*(p.flowers.records for p in (one, other) if p.flowers)))


def _alone_in_flower(findings: Findings, a: Weeks | None, b: Weeks | None) -> Reason | None:
    """The weeks of the one that flowers for insects beside a crop that never does here; None for others."""
    (one, weeks), (other, none) = zip(findings.profiles, (a, b), strict=True)
    if weeks is None:
        (one, weeks), (other, none) = (other, none), (one, weeks)
    if weeks is None or none is not None or for_insects(other) or one.flowers is None:
        return None
    why = "is harvested before it flowers" if not _awaited(other) else "has none for them"
    doubt = "" if one.flowers.known else " (how long they last is a usual figure)"
    text = f"Flowers for insects: {one.name} about {_span(weeks)}{doubt}; {other.name} {why}."
    return Reason("flowers", text, one.flowers.records)


def flowers_unknown(findings: Findings) -> str | None:
    """A note on whose flowering is not on record."""
    missing = [p.name for p in dict.fromkeys(findings.in_order) if p.flowers is None]
    return f"When it flowers is not on record: {', '.join(missing)}." if missing else None


def for_insects(profile: Profile) -> bool:
    """Whether it is left standing until it flowers, and its flowers are not for the wind."""
    return _awaited(profile) and profile.family.value not in WIND_POLLINATED


def _awaited(profile: Profile) -> bool:
    """Whether it is left standing until it flowers: a biennial crop is lifted in its first year."""
    return profile.life_cycle.value != "biennial"


def _span(weeks: Weeks) -> str:
    """Weeks as words, round the new year: 'weeks 50 to 3'."""
    starts = np.flatnonzero(weeks & ~np.roll(weeks, 1))
    ends = np.flatnonzero(weeks & ~np.roll(weeks, -1))
    if not starts.size:
        return "all year"
    first, last = (
        int(starts[0]) + 1,
        int(ends[ends >= starts[0]][0] if (ends >= starts[0]).any() else ends[0]) + 1,
    )
    return f"week {first}" if first == last else f"weeks {first} to {last}"
