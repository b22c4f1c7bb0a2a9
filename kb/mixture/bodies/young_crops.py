"""Crops beside a living carpet, which has the ground before them: young ones that last, and those sown anew.

Asparagus among white clover, ryegrass or both, left to grow: half the fern of clean ground in the first year,
three quarters in the second with clover and half with ryegrass, on watered and fertilised sand (University of
Wisconsin trial from 1990, abstract; HortScience 27(6): 570, 1992, abstract). The roots on record are those of
grown plants, and no pace of single herbs is, so that the reckoning of water does not show it: a rule stands
for it, as for young trees (`computation-notes` 3).

Vegetables between strips of living sod: cabbage in a sod of perennial ryegrass bore less than on bare ground
however the grass was held down, beans as much where it was (Rinehold 1987, thesis, Oregon State University,
abstract); of five turf grasses and three white clovers some cost cabbage or sweet corn nothing and some cost
both, the more the more they grew (Nicholson and Wien 1983, Journal of the American Society for Horticultural
Science, abstract); mown ones cost pepper 41 to 54 % in one of two years, and squash nothing
(Frontiers in Sustainable Food Systems 2024, 10.3389/fsufs.2024.1276415, abstract).
"""

from kb.mixture.bodies.pieces import RUNNING
from kb.mixture.limits import Limit, Meeting, Party
from kb.mixture.results import Verdict

FIRST_YEARS: tuple[tuple[float, Verdict], ...] = ((1.0, "poor"), (2.0, "workable"))
"""Age in years up to which, and the best word that is left: half and three quarters of the growth (the
trial), in the bands of the verdict."""


def among_a_carpet(crop: Party, cover: Party, meeting: Meeting) -> Limit | None:
    """A lasting herb set so lately that what covers the ground round it holds it back; None for all else.

    A carpet is what is sown as one and was tried: a lasting grass, or a lasting fixer that runs, lower than
    the crop. One that runs itself makes its way in a carpet; where no age is said the crop is taken as grown.
    """
    if crop.age_years is None or meeting.setting == "hedge" or not (_lasting(crop) and _carpet(cover)):
        return None
    if crop.profile.spread.value in RUNNING or cover.height_m >= crop.height_m:
        return None
    word = next((best for years, best in FIRST_YEARS if crop.age_years <= years), None)
    if word is None:
        return None
    carpet, plant = cover.profile.name, crop.profile.name
    return Limit(
        kind="roots",
        of=crop.profile.id,
        text=(
            f"{carpet} closes over the ground round {plant}, which was set not long ago: it takes water and "
            "nitrogen before the young roots reach beyond it."
        ),
        records=(*cover.profile.spread.records, *crop.profile.life_cycle.records),
        ceiling=word,
        lift=f"{carpet} is mown short and kept out of the rows until the third year",
        given="mown",
        met=meeting.met("mown"),
        ceiling_if_lifted="workable",
    )


def in_a_sod(crop: Party, cover: Party, meeting: Meeting) -> Limit | None:
    """A crop sown or set each year into a lasting grass; None for all else.

    Cereals and maize are left out: grass is sown beneath them when they are up (common practice). So are
    plants that are cut green themselves. Mowing makes it bearable, not good (the trials above).
    """
    profile = crop.profile
    sown = profile.annual and profile.growth_form.value != "graminoid" and profile.covers.value != "yes"
    if meeting.setting != "bed" or not (sown and _sod(cover)):
        return None
    sod, plant = cover.profile.name, profile.name
    return Limit(
        kind="roots",
        of=profile.id,
        text=(
            f"{sod} makes a living sod round {plant}: in trials such sods took from nothing to half of a "
            "vegetable's crop, by water and nitrogen. It has to be kept mown and out of the rows."
        ),
        records=(*cover.profile.growth_form.records, *cover.profile.life_cycle.records),
        ceiling="workable",
    )


def _sod(party: Party) -> bool:
    """A lasting grass that is grown to cover the ground."""
    profile = party.profile
    grass = profile.growth_form.value == "graminoid" and not profile.annual
    return grass and profile.covers.value == "yes"


def _lasting(party: Party) -> bool:
    profile = party.profile
    return not (profile.annual or profile.woody or profile.growth_form.value == "graminoid")


def _carpet(party: Party) -> bool:
    profile = party.profile
    if profile.annual or profile.woody:
        return False
    fixer = profile.nitrogen_fixing.value == "yes" and profile.spread.value in RUNNING
    return profile.growth_form.value == "graminoid" or fixer
