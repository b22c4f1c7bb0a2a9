"""Which of two herbaceous crops is likely to keep less of its yield.

From trials of pairs (`computation-notes` 2): taller, deeper rooted, not a legume and slow to close its cover
are the marks of the crop that keeps its yield. Equal weight to each mark in units of its spread (no fitting;
on so few trials such sums hold up better than fitted ones: Dawes 1979, American Psychologist 34: 571-582)
names the right one in about 3 of 4 trials, as does a fitted row; the plain one is the safer. How large the
difference is says little about how sure it is. A mark that is not on record of both is left out, and the
answer says so. Root depth is not in the recipe of the notes: it was added after these trials had been seen,
as a ridge that leaves one pair out gains by it (`tests/competency/outcomes.md` shows both).
`traitbed outcomes FILE` measures both; `tests/refit` fits the row again.
"""

from dataclasses import dataclass
from math import log

from kb.mixture.kept import KeptBy
from kb.mixture.limits import records_of
from kb.mixture.profile import Estimate, Profile

SPREADS = (0.997, 0.645, 0.396)
"""Standard deviations of the differences between two crops of a trial: ln height, legume, ln days."""
DEPTH_SPREAD = 0.66
"""The same of ln root depth, in 87 study-pairs (data set of 2026-11-27)."""
NOISE = 0.25
"""Below this difference, in those units, neither is named (judgement)."""
LEGUMES = {"Fabaceae"}
RECORD = "right about 3 in 4 times in measured trials of such pairs"
"""How often the marks were right: .75 of the 80 study-pairs they decide (tests/competency/outcomes.md)."""
RECORD_OF_TWO = "right about 2 in 3 times in measured trials"
"""How often height and legume alone were: .70 of 87 study-pairs (tests/competency/outcomes.md)."""


@dataclass(frozen=True, slots=True)
class Coefficient:
    """A fitted weight of one mark's difference a - b, with its 90 % bootstrap interval by pair."""

    name: str
    value: float
    low: float
    high: float


FITTED = (
    Coefficient("ln height", 0.05, -0.03, 0.14),
    Coefficient("legume", -0.31, -0.45, -0.17),
    Coefficient("ln days to full cover", 0.56, 0.34, 0.77),
)
"""ln(partial LER a / partial LER b) by ridge on 96 study-pairs (`computation-notes` 2)."""


@dataclass(frozen=True, slots=True)
class Suppressed:
    """``plant`` keeps less of its yield; None where that cannot be said, and ``note`` says why."""

    plant: str | None
    note: str
    records: tuple[str, ...] = ()


KEPT = 64
_SUPPRESSED: KeptBy[Suppressed] = KeptBy(KEPT)


def suppressed(a: Profile, b: Profile) -> Suppressed:
    """Which of two plants keeps less of its yield in mixture; kept, since it hangs on the two alone."""
    return _SUPPRESSED.of((a, b), (), lambda: _suppressed(a, b))


def _suppressed(a: Profile, b: Profile) -> Suppressed:
    first, second = sorted((a, b), key=lambda profile: profile.id)
    missing = not_said(first) or not_said(second)
    if missing is not None:
        return Suppressed(None, missing)
    difference = advantage(first, second)
    records = records_of(*(_records(profile) for profile in (first, second)))
    missing_marks = _left_out(first, second)
    if abs(difference) < NOISE:
        note = f"{first.name} and {second.name} are too alike to say which keeps less of its yield."
        return Suppressed(None, note + missing_marks, records)
    loser, winner = (second, first) if difference > 0 else (first, second)
    record = RECORD_OF_TWO if _dateless(first, second) and _depthless(first, second) else RECORD
    note = f"{loser.name} is likely to keep less of its yield than {winner.name}: {record}."
    return Suppressed(loser.id, note + missing_marks, records)


def advantage(a: Profile, b: Profile) -> float:
    """How far a is ahead of b, in summed standard deviations; changes its sign with their order.

    Days to full cover and root depth count where both have them. Raises ValueError where a height is not
    known.
    """
    return by_three_marks(a, b) + depth_mark(a, b) / DEPTH_SPREAD


def by_three_marks(a: Profile, b: Profile) -> float:
    """`advantage` by the recipe of `computation-notes` 2, without root depth."""
    height, legume, days = (mark / spread for mark, spread in zip(marks(a, b), SPREADS, strict=True))
    return height - legume + days


def depth_mark(a: Profile, b: Profile) -> float:
    """Difference a - b of ln root depth; 0 where that of either is not on record."""
    if not (a.root_d95_m.known and b.root_d95_m.known):
        return 0.0
    return log(a.root_d95_m.likely / b.root_d95_m.likely)


def fitted(a: Profile, b: Profile) -> float:
    """ln(partial LER a / partial LER b) by the fitted row. Raises ValueError as `advantage`."""
    return sum(weight.value * mark for weight, mark in zip(FITTED, marks(a, b), strict=True))


def marks(a: Profile, b: Profile) -> tuple[float, float, float]:
    """Differences a - b of ln height, legume and ln days to full cover; the last 0 where not known.

    Raises ValueError where the height of either is not known.
    """
    tall = [crop_height(profile) for profile in (a, b)]
    heights = [height.likely for height in tall if height is not None]
    if len(heights) < len(tall):
        raise ValueError(f"the height of {a.id} or {b.id} is not known")
    days = 0.0
    if a.cover_days is not None and b.cover_days is not None:
        days = log(a.cover_days.likely / b.cover_days.likely)
    return log(heights[0] / heights[1]), float(_legume(a) - _legume(b)), days


def crop_height(profile: Profile) -> Estimate | None:
    """Its height (m) as the trials had it: as a managed crop where that is on record."""
    if profile.grown_height_m is not None:
        return profile.grown_height_m
    return profile.height_m if profile.height_m.known else None


def not_said(profile: Profile) -> str | None:
    """Why nothing can be said of this plant; None where it can."""
    unsaid = "Who keeps less of its yield is not said"
    if profile.woody and not profile.annual:
        return f"{unsaid}: the trials hold no woody plants like {profile.name}."
    if crop_height(profile) is None:
        return f"{unsaid}: the height of {profile.name} is not known."
    if profile.family.value is None:
        return f"{unsaid}: the family of {profile.name} is not known."
    return None


def _dateless(*profiles: Profile) -> list[str]:
    return [profile.name for profile in profiles if profile.cover_days is None]


def _depthless(*profiles: Profile) -> list[str]:
    return [profile.name for profile in profiles if not profile.root_d95_m.known]


def _left_out(first: Profile, second: Profile) -> str:
    """What counts for nothing because it is not on record of one or both."""
    dateless, depthless = _dateless(first, second), _depthless(first, second)
    missing = [
        f"{trait} of {' and '.join(names)}"
        for trait, names in (("days to full cover", dateless), ("root depth", depthless))
        if names
    ]
    if not missing:
        return ""
    told, are = " and ".join(missing), "is" if not dateless else "are"
    rest = ["height", *([] if dateless else ["days to full cover"]), *([] if depthless else ["root depth"])]
    on_record = f"{', '.join(rest)}, and which is a legume, say it alone."
    return f" {told[0].upper()}{told[1:]} {are} not on record; {on_record}"


def _legume(profile: Profile) -> int:
    return int(profile.family.value in LEGUMES)


def _records(profile: Profile) -> tuple[str, ...]:
    height = crop_height(profile)
    days = () if profile.cover_days is None else profile.cover_days.records
    depth = profile.root_d95_m.records if profile.root_d95_m.known else ()
    return records_of(() if height is None else height.records, profile.family.records, days, depth)
