"""Time inside a bed: who goes on alone after the other, and who still stands from the year before."""

from dataclasses import replace
from operator import and_

import numpy as np

from kb.mixture.counting import so_many
from kb.mixture.deeds import told
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.judging.findings import Findings
from kb.mixture.judging.planting import Stand, stand_of
from kb.mixture.kept import KeptBy
from kb.mixture.limits import HOLDS_BACK, records_of
from kb.mixture.results import Condition, Reason, Verdict
from kb.mixture.sharing.variants import Variants
from kb.mixture.stress import verdict_of

ALONE_WEEKS = 6
"""Weeks alone from which a crop is said to use time that the other leaves (judgement)."""

MOST_CLEARED = 3
"""Crops to be cleared that are named; of more it says how many."""


KEPT = 64
_GOES_ON: KeptBy[Reason | None] = KeptBy(KEPT)
"""Kept by the two and their seasons, which no soil moves."""


def goes_on(findings: Findings) -> Reason | None:
    """Of two crops of a season: the weeks that one has to itself after the other is off the ground."""
    a, b = findings.a, findings.b
    return _GOES_ON.of((a.profile, b.profile, a.activity, b.activity), (), lambda: _goes_on(a, b))


def _goes_on(a: Variants, b: Variants) -> Reason | None:
    found: list[tuple[int, str, Reason]] = []
    for own, other in ((a, b), (b, a)):
        after = weeks_after(own, other)
        if after >= ALONE_WEEKS:
            mine, theirs = own.profile.name, other.profile.name
            text = f"{mine} has {so_many(after, 'week')} to itself after {theirs} is off the ground."
            records = records_of(own.profile.activity.records, other.profile.activity.records)
            found.append((-after, own.profile.id, Reason("season", text, records)))
    return min(found, key=lambda one: one[:2])[2] if found else None


def weeks_after(own: Variants, other: Variants) -> int:
    """Weeks from the end of the other's season to the end of its own; 0 unless both meet and end.

    The other has to leave the ground; what goes on may be a shrub that is grown for a season (pigeon pea).
    """
    if not other.profile.annual or own.profile.growth_form.value == "tree":
        return 0
    mine, theirs = (own.activity[0] > 0).tolist(), (other.activity[0] > 0).tolist()
    if all(theirs) or not any(map(and_, mine, theirs)):
        return 0
    after = next((week for week in range(1, len(theirs)) if theirs[week - 1] and not theirs[week]), 0)
    going_on = 0
    while mine[(after + going_on) % len(mine)] and not theirs[(after + going_on) % len(mine)]:
        going_on += 1
    return going_on


def stands_over(sufferer: Variants, doer: Variants) -> bool:
    """Whether a crop meets the other in the year after it was sown: as it goes round, it is last year's."""
    course, other = doer.activity[0] > 0, sufferer.activity[0] > 0
    round_the_year = bool(course[0] and course[-1]) and not course.all()
    if not (doer.profile.annual and round_the_year) or (other[0] and other[-1]):
        return False
    first = int(np.argmin(course))
    return int((course & other)[:first].sum()) > int((course & other)[first:].sum())


def year_before(sufferer: Variants, doers: list[Variants]) -> str:
    """An aside on those that stand over, of the doers or the sufferer itself; empty where none does."""
    names = list(dict.fromkeys(doer.profile.name for doer in doers if stands_over(sufferer, doer)))
    if any(stands_over(doer, sufferer) for doer in doers):
        names.append(sufferer.profile.name)
    return f" ({' and '.join(names)} sown the year before, still standing)" if names else ""


def cleared_in_time(stand: Stand, verdict: Verdict, book: EnemyBook | None) -> Condition | None:
    """Clearing what stands over before what it meets is sown, where that betters the verdict."""
    plants = [subject.likely for subject in stand.subjects]
    weeks: dict[int, int] = {}
    for at, member in enumerate(stand.members, start=stand.first):
        met = [plant for plant in plants if plant.profile.annual and stands_over(plant, plants[at])]
        if member.clear_week is None and met:
            weeks[at] = min(int(np.argmax(plant.activity[0] > 0)) for plant in met) + 1
    if not weeks:
        return None
    members = tuple(
        replace(member, clear_week=float(weeks[at])) if at in weeks else member
        for at, member in enumerate(stand.members, start=stand.first)
    )
    there = verdict_of(stand_of(replace(stand.planting, members=members), draws=0, book=book).judged.stress)
    if HOLDS_BACK[there] <= HOLDS_BACK[verdict]:
        return None
    done = (f"{stand.profiles[at].name} is cleared by week {week}" for at, week in weeks.items())
    return Condition("season", told(done, most=MOST_CLEARED), None, None, there, verdict)
