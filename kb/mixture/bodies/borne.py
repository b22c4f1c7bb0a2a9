"""What a plant bears of a neighbour that runs: it holds its own, comes first, lives below, or goes under."""

from math import exp

import numpy as np

from kb.mixture.bodies.manner import CARPET_M, manner_of
from kb.mixture.limits import Meeting, Party
from kb.mixture.season import DAYS_PER_WEEK, MIDSUMMER_DAY, WEEKS

OVERRUN_SHRUB, LOW_SHRUB_M = 4.0, 2.0
"""A shrub lower than the second, branched from the ground, under this many times the height of what runs: its
shoots come up among the branches, which no hoe reaches (judgement; what stays a carpet lies below them)."""
OVERTOPS_M = 2.0
"""A grass or cane that runs and stands over this height comes up through low plants and overtops them, so
that it leaves them no more than an invader does (judgement)."""
STANDS_M, STANDS_OVER = 0.7, 2.5
"""What runs and is so high, and stands over a neighbour by so many times its height, keeps it in the dark
wherever it comes up (judgement)."""
HOLDS_ITS_OWN = 2 / 3
"""A plant that runs itself, and stands at least so high beside what runs into it, comes up again as fast:
plants of one spring margin (judgement). One overtopped goes under (`trade` B19)."""
STORES = frozenset({"bulb", "corm"})
"""What carries a plant of spring through the summer, below what runs over it."""
LATE_AT_MOST = 0.1
"""A plant of spring does no more of its growing than this after midsummer (judgement)."""
ESTABLISHED_YEARS = 5.0
"""A tree of this age is past what a sward or suckers do to a young one (`trade`: younger than five years)."""
CANES = frozenset({"graminoid", "cane"})
THICKET = "graminoid"
"""Of these, what closes to a thicket that no shrub below `LOW_SHRUB_M` stands up to: bamboo (judgement)."""


def comes_up_among(doer: Party, sufferer: Party) -> bool:
    """Whether what runs comes up among the branches of a small shrub."""
    shrub = sufferer.profile.growth_form.value in {"shrub", "subshrub"} and sufferer.height_m < LOW_SHRUB_M
    tall = doer.height_m > max(CARPET_M, sufferer.profile.crown_base_m.likely)
    return shrub and tall and not doer.profile.woody and sufferer.height_m < OVERRUN_SHRUB * doer.height_m


def holds_its_own(doer: Party, sufferer: Party) -> bool:
    """Whether the neighbour is on record to run as well and is not overtopped."""
    own = None if sufferer.profile.annual else manner_of(sufferer)
    return own is not None and own.known and sufferer.height_m >= HOLDS_ITS_OWN * doer.height_m


def established(doer: Party, sufferer: Party) -> bool:
    """Whether it is a grown tree, at least as high as what comes up below it (mown: common practice)."""
    tree = sufferer.profile.growth_form.value == "tree"
    grown = sufferer.age_years is None or sufferer.age_years >= ESTABLISHED_YEARS
    return tree and grown and sufferer.height_m >= doer.height_m


def lives_below(doer: Party, sufferer: Party) -> bool:
    """Whether it lasts in the light that a thicket of what suckers would leave it: bluebells in blackthorn.

    By Beer's law beneath a closed cover of its own leaf. What is picked stands in the way of the suckers all
    the same, and what arches over and roots lies on it.
    """
    bush, low = doer.profile, sufferer.profile
    stands = bush.growth_form.value in {"tree", "shrub"} and bush.travels_by.value == "suckering"
    other = low.annual or low.growth_form.value == "tree" or low.picked.value == "yes"
    if not stands or other or sufferer.height_m >= doer.height_m:
        return False
    left = exp(-bush.extinction.likely * bush.leaf_area_index.likely)
    return low.light_to_survive.known and low.light_to_survive.likely <= left


def stands_over(doer: Party, sufferer: Party) -> bool:
    """Whether what it sends up stands far over a low lasting herb: pulling it is a work of all summer.

    Raspberry canes in strawberries, tansy in violets (common practice; the numbers are judgement). The
    suckers of a tree are few and mown.
    """
    low = not (sufferer.profile.woody or sufferer.profile.annual or sufferer.overhead)
    tall = doer.height_m >= max(STANDS_M, STANDS_OVER * sufferer.height_m)
    return low and tall and doer.profile.growth_form.value != "tree" and not holds_its_own(doer, sufferer)


def comes_first(doer: Party, sufferer: Party, meeting: Meeting) -> bool:
    """Whether a lasting bulb or corm has done its growing by midsummer: bluebells among bracken.

    It comes up through what is bare or low at that time (common practice: bulbs under ground cover); through
    a thicket that is green all winter it does not.
    """
    low = sufferer.profile
    if low.annual or low.root_form.value not in STORES or not sufferer.activity.any():
        return False
    if doer.profile.leaf.evergreen and doer.height_m > CARPET_M:
        return False
    midsummer = int(MIDSUMMER_DAY // DAYS_PER_WEEK) + (WEEKS // 2 if meeting.site.southern else 0)
    since = np.roll(sufferer.activity, -midsummer)[: WEEKS // 2]
    return float(since.sum()) < LATE_AT_MOST * float(sufferer.activity.sum())


def overtops(doer: Party, sufferer: Party) -> bool:
    """Whether it is a tall grass or cane that runs among herbs lower than itself, or comes up in a low shrub.

    A bamboo or reed closes to a thicket round a currant; raspberry canes stand loose beside it.
    """
    form = doer.profile.growth_form.value
    tall = form in CANES and doer.height_m > OVERTOPS_M and sufferer.height_m < doer.height_m
    return tall and (not sufferer.profile.woody or (form == THICKET and comes_up_among(doer, sufferer)))
