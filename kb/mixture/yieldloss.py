"""Which of two herbaceous crops is likely to keep less of its yield.

From 96 trials of pairs (`computation-notes` 2): taller, not a legume and slow to close its cover
are the marks of the crop that keeps its yield. Equal weight to each mark in units of its spread
(no fitting) names the right one in about 3 of 4 trials, as does a fitted row; the plain one is the
safer. How large the difference is says little about how sure it is.
"""

from dataclasses import dataclass
from math import log

from kb.mixture.limits import records_of
from kb.mixture.profile import Profile

SPREADS = (0.997, 0.645, 0.396)
"""Standard deviations of the differences between two crops of a trial: ln height, legume, ln days."""
NOISE = 0.25
"""Below this difference, in those units, neither is named (judgement)."""
LEGUMES = {"Fabaceae"}


@dataclass(frozen=True, slots=True)
class Suppressed:
    """``plant`` keeps less of its yield; None where that cannot be said, and ``note`` says why."""

    plant: str | None
    note: str
    records: tuple[str, ...] = ()


def suppressed(a: Profile, b: Profile) -> Suppressed:
    """Which of two plants keeps less of its yield in mixture."""
    first, second = sorted((a, b), key=lambda profile: profile.id)
    missing = _missing(first) or _missing(second)
    if missing is not None:
        return Suppressed(None, missing)
    difference = advantage(first, second)
    records = records_of(*(_records(profile) for profile in (first, second)))
    if abs(difference) < NOISE:
        note = f"{first.name} and {second.name} are too alike to say which keeps less of its yield."
        return Suppressed(None, note, records)
    loser, winner = (second, first) if difference > 0 else (first, second)
    note = (
        f"{loser.name} is likely to keep less of its yield than {winner.name}: right about 3 in 4 times "
        "in measured trials of such pairs."
    )
    return Suppressed(loser.id, note, records)


def advantage(a: Profile, b: Profile) -> float:
    """How far a is ahead of b, in summed standard deviations; changes its sign with their order.

    Raises ValueError where days to full cover are not known.
    """
    if a.cover_days is None or b.cover_days is None:
        raise ValueError(f"days to full cover of {a.id} or {b.id} are not known")
    height, legume, days = SPREADS
    return (
        log(a.height_m.likely / b.height_m.likely) / height
        - (_legume(a) - _legume(b)) / legume
        + log(a.cover_days.likely / b.cover_days.likely) / days
    )


def _legume(profile: Profile) -> int:
    return int(profile.family.value in LEGUMES)


def _missing(profile: Profile) -> str | None:
    """Why nothing can be said of this plant; None where it can."""
    unsaid = "Who keeps less of its yield is not said"
    if profile.woody:
        return f"{unsaid}: the trials hold no woody plants like {profile.name}."
    if profile.cover_days is None:
        return f"{unsaid}: days to full cover of {profile.name} are not known."
    if not profile.height_m.known:
        return f"{unsaid}: the height of {profile.name} is not known."
    if profile.family.value is None:
        return f"{unsaid}: the family of {profile.name} is not known."
    return None


def _records(profile: Profile) -> tuple[str, ...]:
    days = () if profile.cover_days is None else profile.cover_days.records
    return records_of(profile.height_m.records, profile.family.records, days)
