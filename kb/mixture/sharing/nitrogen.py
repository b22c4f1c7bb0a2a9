"""Nitrogen from a plant that fixes it to one that does not: how much, and in time or not.

Of what is fixed in a season (`fixed`) a neighbour gets 0-10 % in the same season, 5-20 % where a lasting
plant is mown or pruned. Most of the gift comes later, from what is dug in or falls: where cover is mown year
after year, 30-50 % of what was cut the year before comes on top (all `trade` 4.7, from memory; its worked
example is 8 g/m2 a year for clover mown under an apple).
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kb.mixture.ground.fixed import LEFT_OF_HELD, NEXT_SEASON, fixed_by, stand_in
from kb.mixture.limits import records_of
from kb.mixture.profile import Profile
from kb.mixture.results import NitrogenGift
from kb.mixture.season import WEEKS, FloatArray
from kb.mixture.sharing.variants import Variants

IntArray = npt.NDArray[np.intp]

NITROGEN_BENEFIT = 0.35
SAME_SEASON = (0.0, 0.10)
PRUNED = (0.05, 0.20)
MOWN = tuple(
    now + left * later for now, left, later in zip(PRUNED, LEFT_OF_HELD["mown"], NEXT_SEASON, strict=True)
)
CUTTING = {"mown", "pruned"}
WORTH_NAMING_G_M2 = 0.1
"""Nitrogen below this, 1 kg/ha, is no gain that a gardener would see (judgement)."""
WORTH_LEADING = 0.1
"""Share of what the taker takes up from which a gift is the first thing to say for two (judgement)."""
A_LITTLE = 1e-9
"""g/m2: more than sums of what is taken up differ by rounding."""


@dataclass(frozen=True, slots=True, eq=False)
class Giving:
    """One plant's gift to the other; ``benefit`` (rows,) counts only what comes before the taker's peak."""

    gift: NitrogenGift
    benefit: FloatArray
    records: tuple[str, ...]


def gives(giver: Variants, taker: Variants) -> bool:
    """Whether there is a gift to speak of.

    A plant not recorded as a fixer gives nothing, and one of unknown habit takes nothing that would
    count.
    """
    return is_giver(giver.profile, taker.profile)


def is_giver(giver: Profile, taker: Profile) -> bool:
    """`gives`, wherever they stand."""
    fixing = giver.nitrogen_fixing
    return fixing.value == "yes" and fixing.known and taker.nitrogen_fixing.value != "yes"


def giving(
    giver: Variants,
    taker: Variants,
    *,
    share: float,
    unmet: FloatArray,
    part: FloatArray,
    given: frozenset[str],
    rows: tuple[IntArray, IntArray],
) -> Giving:
    """The gift of a plant that `gives` to another.

    ``share`` of the ground is the giver's; ``unmet`` (rows,) what the taker goes without, g/m2 of
    ground; ``part`` (rows,) how much of the gift goes to this taker, 0-1; ``rows`` the rows of giver
    and taker.
    """
    fixing, taking = giver.profile.nitrogen_fixing, taker.profile.nitrogen_fixing
    (low, high), by = _reaches(giver.profile, given)
    fixed = giver.fixed[rows[0]] * share * part
    in_time = _before_peak(giver, taker)
    middle = (low + high) / 2 * fixed * in_time
    wanted = unmet > A_LITTLE  # a need met but for the rounding of sums is met
    met = np.minimum(1.0, middle / np.where(wanted, unmet, 1.0))
    benefit = np.where(wanted, NITROGEN_BENEFIT * met, 0.0)
    gift = NitrogenGift(
        giver=giver.profile.id,
        taker=taker.profile.id,
        g_per_m2=(low * float(fixed[0]), high * float(fixed[0])),
        when=_when(giver, cut=by, in_time=in_time) + stand_in(giver.profile),
    )
    amount, partner = fixed_by(giver.profile).records, giver.profile.fixing_partner.records
    return Giving(gift, benefit, records_of(fixing.records, partner, amount, taking.records))


def leads(gift_g_m2: tuple[float, float], taker: Profile) -> bool:
    """Whether the middle of a gift is so large that it comes first of what two bring each other."""
    return sum(gift_g_m2) / 2 >= WORTH_LEADING * taker.nitrogen_demand_g_m2.likely


def most_benefit(giver: Profile, given: frozenset[str], *, fixed: float, share: float, unmet: float) -> float:
    """What `giving` counts at most for one taker: as if all came in time, and a little less were unmet.

    Nothing where so little is unmet that no rounding makes it a need.
    """
    if unmet < A_LITTLE / 2:
        return 0.0
    low, high = _reaches(giver, given)[0]
    middle = (low + high) / 2 * fixed * share
    missing = unmet - A_LITTLE
    return NITROGEN_BENEFIT if middle >= missing else NITROGEN_BENEFIT * middle / missing


def _reaches(giver: Profile, given: frozenset[str]) -> tuple[tuple[float, ...], str | None]:
    """Share of what is fixed that a neighbour gets, low and high, and how a lasting giver is cut, if at all.

    Herbs are mown, wood is pruned.
    """
    word = "pruned" if giver.woody else "mown"
    if giver.annual or word not in given:
        return SAME_SEASON, None
    return (PRUNED if giver.woody else MOWN), word


def _before_peak(giver: Variants, taker: Variants) -> float:
    """Share of the giver's season that lies before the taker's peak; all of it for a lasting giver."""
    if not giver.profile.annual:
        return 1.0
    course, wants = giver.activity[0], taker.activity[0]
    if not (course.any() and wants.any()):
        return 0.0
    peak = int(np.argmax(wants >= wants.max() - 1e-9))
    before = [(peak - step) % WEEKS for step in range(1, WEEKS // 2 + 1)]
    return float(course[before].sum() / course.sum())


def _when(giver: Variants, *, cut: str | None, in_time: float) -> str:
    name = giver.profile.name
    if cut == "mown":
        return f"through the season, as {name} is cut and left lying, in full from its second year"
    if cut:
        return f"through the season, as {name} is cut and left lying"
    if not giver.profile.annual:
        return f"slowly, from fallen leaves and old roots of {name}; more if it is cut and left lying"
    early = "some of it in time" if in_time >= 0.5 else "little of it in time"
    return f"{early}; most comes after {name} is dug in, less where its seed is picked"
