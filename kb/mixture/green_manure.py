"""A green manure turned in or mown down, and a crop sown into what rots of it.

Fresh green matter feeds fungi and maggots that take seedlings, and straw-like growth takes up the soil's
nitrogen while it rots. So ground is left two to three weeks before it is sown, longest after grasses and
cereals; plants that are set out, and tubers, are past the worst (common practice).
"""

from kb.mixture.limits import Limit, records_of
from kb.mixture.profile import Profile
from kb.mixture.site import Use

ROTS_WEEKS, GRASS_ROTS_WEEKS = 2.0, 3.0
"""How long green matter rots before seed does well in it; of grasses and cereals (common practice: two to
three weeks)."""
SET_AS = frozenset({"tuber"})
"""What is set whole in place of seed has food of its own."""
TURNED_IN: dict[Use, str] = {"dug-in": "dug in", "mown": "mown down"}


def rest_weeks(a: Profile, b: Profile, use: Use) -> float:
    """How long the ground should rest between A and the sowing of B, weeks; 0 where it need not."""
    sown = b.annual and b.raising.value != "planted-out" and b.root_form.value not in SET_AS
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
