"""The season of a bulb, corm or tuber of which none is on record, from the store and the time of flower.

A geophyte that flowers before the trees are in leaf has done its year's work by then and dies down; one that
flowers in autumn is in leaf through the winter until the trees come into leaf; of the others, and of those
whose flowering is not on record, nothing tells whether they follow the spring or the summer course. These
courses stand in and say so (``form``), as those of growth forms do. A week of fading on record tells more:
what flowers and yellows before midsummer is one of spring, whatever its store.
"""

from dataclasses import dataclass

from kb.mixture.profile import Activity
from kb.profiles import defaults
from kb.profiles.known_values import MIDSUMMER_WEEK, OVER_WINTER, KnownValues, week_of

UP_WEEK = 6.0
"""Bulbs of spring are up by early February (judgement; the nine of the base with leaf weeks and this kind of
store on record come up in weeks 3 to 9, `tests/kb/profiles/test_geophytes.py`)."""
DIES_AFTER_WEEKS = 8.0
"""From the middle of its flowering until its leaves have died down: the six to eight weeks for which teaching
leaves the leaves of bulbs standing, the longer (judgement)."""
LEAVES_OUT_WEEK = defaults.FORMS["tree"].weeks[1]
"""Trees are in full leaf here: what begins to flower before does its work in their spring light."""
AUTUMN_WEEK = 33.0
"""What begins to flower later than mid-August flowers in autumn (judgement)."""
FADED_WEEKS = 4.0
"""From the first leaf of a spring plant that yellows until the last is gone, at most (judgement)."""
WINTER_LEAF_END = 18.0
"""Leaves that stand through the winter are gone by early May, as the trees come into leaf (judgement)."""
RISE, FALL = 0.25, 0.2
"""Parts of a spring course in which it rises and declines, as of every window shorter than 40 weeks."""
BULBS = frozenset({"bulb", "corm"})
CORM_FAMILIES = frozenset({"Iridaceae", "Colchicaceae"})
"""Families whose round store is a corm, which lists of organs print as a tuber (botany)."""
OF_WATER = "hydrophyte"
ROOTSTOCKS = frozenset({"rhizome", "storage-root", "taproot-store", "crown-with-fleshy-roots"})


@dataclass(frozen=True, slots=True)
class StandInCourse:
    """Four corners in weeks [1, 53), their doubt in weeks, and the records of flowering they rest on."""

    corners: tuple[float, float, float, float]
    doubt_weeks: float
    records: tuple[str, ...] = ()


def geophyte_course(values: KnownValues, form: str) -> StandInCourse | None:
    """The usual course of a lasting, hardy bulb, corm or tuber; None for every other plant.

    Tubers of other families than `CORM_FAMILIES` follow the spring or the form: many grow all summer.
    Rhizomes follow the form (coltsfoot flowers in March and is green until autumn), unless they are seen to
    fade before midsummer (wood anemone).
    """
    store, fades = _store(values, form), values.fades()
    if store is None and not _fades_early(values, form, fades):
        return None
    flowers = values.flowers()
    if flowers is None:
        return _undecided() if store in BULBS else None
    if flowers.start < LEAVES_OUT_WEEK:
        return StandInCourse(_spring(flowers, fades), defaults.DATES_DOUBT_WEEKS, flowers.records)
    if store not in BULBS:
        return None
    if flowers.start < AUTUMN_WEEK:
        return _undecided()
    start = _middle(flowers)
    length = (WINTER_LEAF_END - start) % 52
    rise, fall = OVER_WINTER
    corners = (start, week_of(start + rise * length), week_of(start + (1 - fall) * length), WINTER_LEAF_END)
    return StandInCourse(corners, defaults.DATES_DOUBT_WEEKS, flowers.records)


def _store(values: KnownValues, form: str) -> str | None:
    """``bulb``, ``corm`` or ``tuber`` of a herb that lasts and bears frost; None where it has none.

    Of what is named as its organ and as its root form a bulb or corm counts first; a tuber counts only of a
    plant whose resting buds are known to lie in the ground.
    """
    lasts = values.choice("life-cycle").value not in {"annual", "biennial"}
    if form != "herb" or not lasts or values.choice("tender").value == "frost-tender":
        return None
    life = values.choice("life-form").value
    named = values.named("storage-organ") | values.named("root-form")
    if life == OF_WATER:
        return None
    if named & BULBS:
        return "bulb" if "bulb" in named else "corm"
    if life != "geophyte" or named & ROOTSTOCKS:
        return None
    if values.choice("family").value in CORM_FAMILIES:
        return "corm"
    return "tuber" if "tuber" in named else None


def _fades_early(values: KnownValues, form: str, fades: float | None) -> bool:
    """Whether a lasting herb with resting buds in the ground is on record to yellow before midsummer."""
    lasts = values.choice("life-cycle").value not in {"annual", "biennial"}
    below = values.choice("life-form").value == "geophyte"
    return form == "herb" and lasts and below and fades is not None and fades < MIDSUMMER_WEEK


def _spring(flowers: Activity, fades: float | None) -> tuple[float, float, float, float]:
    """Up early in the year, down some weeks after flower, by midsummer at the latest.

    Where it is on record when it fades, not before that and soon after.
    """
    start, end = min(UP_WEEK, flowers.start), _middle(flowers) + DIES_AFTER_WEEKS
    if fades is not None:
        end = min(max(end, fades), fades + FADED_WEEKS)
    end = min(end, MIDSUMMER_WEEK)
    length = end - start
    return start, start + RISE * length, end - FALL * length, end


def _undecided() -> StandInCourse:
    """Half way between the spring and the summer course, in doubt by the half of what parts them.

    So wide that the one course and the other are its two ends.
    """
    summer = defaults.FORMS["herb"].weeks
    length = MIDSUMMER_WEEK - UP_WEEK
    spring = (UP_WEEK, UP_WEEK + RISE * length, MIDSUMMER_WEEK - FALL * length, MIDSUMMER_WEEK)
    first, full, decline, end = ((one + other) / 2 for one, other in zip(spring, summer, strict=True))
    apart = sum(summer) / len(summer) - sum(spring) / len(spring)
    return StandInCourse((first, full, decline, end), apart / 2)


def _middle(flowers: Activity) -> float:
    return week_of(flowers.start + ((flowers.end - flowers.start) % 52) / 2)
