"""What becomes of a hedge that nobody cuts: who outgrows whom, year by year.

How fast a kind grows is told by its form, its final height and its leaves (`growth`), since no pace of single
kinds is on record.
"""

from kb.mixture.bodies.growth import share_grown
from kb.mixture.bodies.support import climbs, is_climber
from kb.mixture.limits import Limit, Meeting, Party, records_of
from kb.mixture.profile import Profile
from kb.mixture.results import Reason

OUTGROWN = 1.25
"""A plant of a row that stands over another by so many times thins it (judgement)."""
SHADED_OUT = 2.0
"""One that stands twice as high is a tree over a shrub: the hedge under it dies back, as neglected hedges
turn into lines of trees (hedge-laying manuals; the number is judgement)."""
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
    deep = tall >= SHADED_OUT * low
    does = "shades out" if deep else "thins"
    taller, lower = both if heights[years][0] == tall else (b, a)
    return Limit(
        kind="light",
        of=lower.profile.id,
        text=(
            f"Uncut, {taller.profile.name} grows out of {lower.profile.name} (about {tall:.2g} m beside "
            f"{low:.2g} m after {years} years) and {does} it, which leaves gaps."
        ),
        records=records_of(taller.profile.height_m.records, lower.profile.height_m.records),
        ceiling="poor" if deep else "workable",
        lift="the hedge is cut every year",
        given="pruned",
        met=meeting.met("pruned"),
        small=True,
    )


def even_row(a: Profile, b: Profile) -> Reason | None:
    """Said of two woody kinds of one row that keep pace uncut: what makes a row of a hedge (`trade` 5.4).

    Only where both heights and forms are on record.
    """
    both = sorted((a, b), key=lambda one: one.id)
    if a.id == b.id or any(is_climber(one) or not one.woody for one in both):
        return None
    if not all(one.height_m.known and one.growth_form.known for one in both):
        return None
    heights = {years: tuple(height_at(one, years) for one in both) for years in YEARS}
    years = max(YEARS, key=lambda at: max(heights[at]) / min(heights[at]))
    one_m, other_m = heights[years]
    if max(one_m, other_m) >= OUTGROWN * min(one_m, other_m):
        return None
    text = (
        f"{both[0].name} and {both[1].name} are alike in vigour: even uncut they would be about {one_m:.2g} "
        f"and {other_m:.2g} m high after {years} years, so neither grows out of the row."
    )
    return Reason("light", text, records_of(*(one.height_m.records for one in both)))


def height_at(profile: Profile, years: float) -> float:
    """Height (m) so many years after planting, uncut."""
    return profile.height_m.likely * share_grown(profile, years, form="shrub")
