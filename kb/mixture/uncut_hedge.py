"""What becomes of a hedge that nobody cuts: who outgrows whom, year by year.

How fast a kind grows is told by its form and its final height alone (`growth`), since no pace of single kinds
is on record.
"""

from kb.mixture.growth import size_share
from kb.mixture.limits import Limit, Meeting, Party, records_of
from kb.mixture.profile import Profile
from kb.mixture.support import climbs

OUTGROWN = 1.25
"""A plant of a row that stands over another by so many times thins it (judgement)."""
YEARS = (3, 5, 10, 20)
"""Ages of the hedge that are looked at: as it closes, and as long as it goes without laying (judgement)."""


def outgrown(a: Party, b: Party, meeting: Meeting) -> Limit | None:
    """Two woody kinds of one row, where uncut the one grows out of the other.

    Cutting every year is what any hedge gets, and keeps the stronger back (hedge-laying manuals): it is taken
    for granted and said. Climbers have rules of their own.
    """
    both = (a, b)
    if meeting.setting != "hedge" or any(climbs(one) or not one.profile.woody for one in both):
        return None
    if not all(one.profile.height_m.known and one.profile.growth_form.known for one in both):
        return None
    heights = {years: tuple(height_at(one.profile, years) for one in both) for years in YEARS}
    years = max(YEARS, key=lambda at: max(heights[at]) / min(heights[at]))
    tall, low = max(heights[years]), min(heights[years])
    if tall < OUTGROWN * low:
        return None
    taller, lower = both if heights[years][0] == tall else (b, a)
    return Limit(
        kind="light",
        of=lower.profile.id,
        text=(
            f"Uncut, {taller.profile.name} grows out of {lower.profile.name} (about {tall:.2g} m beside "
            f"{low:.2g} m after {years} years) and thins it, which leaves gaps."
        ),
        records=records_of(taller.profile.height_m.records, lower.profile.height_m.records),
        ceiling="workable",
        lift="the hedge is cut every year",
        given="pruned",
        met=meeting.met("pruned"),
        small=True,
    )


def height_at(profile: Profile, years: float) -> float:
    """Height (m) so many years after planting, uncut."""
    final_m = profile.height_m.likely
    return final_m * size_share(
        years, growth_form=profile.growth_form.value or "shrub", final_height_m=final_m
    )
