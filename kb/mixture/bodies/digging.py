"""Harvests that are dug, and the roots they cut.

What is dug of a plant follows the store below ground that is its crop; where no source says how it is lifted,
it is taken to be dug each year after it has stopped growing, and the answer says so.
"""

from dataclasses import replace
from math import erf, log, sqrt

import numpy as np

from kb.mixture.bodies.pieces import DUG_M, grows_from_pieces
from kb.mixture.bodies.spread import KEEP_PLACE, in_a_mown_sward
from kb.mixture.deeds import at_least_m
from kb.mixture.ground.roots import cumulative_share, sideways_draw
from kb.mixture.limits import HOLDS_BACK, Apart, Limit, Meeting, Party, records_of
from kb.mixture.profile import Estimate, Profile
from kb.mixture.results import Verdict
from kb.mixture.season import WEEKS
from kb.mixture.uncertainty import EDGE_OF_INTERVAL

SHALLOW_D50_M = 0.30
"""A neighbour with half its roots above this has its feeders where the spade goes."""
MANY_CUT = 1 - 0.5 ** (DUG_M / SHALLOW_D50_M)
"""Share of the roots that the spade cuts at both limits of `trade` 4.12 (29 %, on the beta curve of Jackson
et al. 1996). Dug deeper, it cuts as many of a tree or shrub that roots deeper: poor, not to avoid, since more
than half of them lie below (judgement)."""
DENSE_DRAW, SOME_DRAW = 0.25, 0.10
"""Root draw from which digging does harm, and from which it asks for care (`computation-notes` 1.1)."""
LEAST_CHANCE, EVEN_CHANCE = 0.05, 0.5
"""A dug depth that reaches `DUG_M` in a share of draws between these is asked about, never decided; below
the first it does no harm (`trade` 4.14)."""
SURE_CHANCE = 1 - LEAST_CHANCE
"""A depth from memory that reaches `DUG_M` in fewer draws than this is a guess above the edge, as is every
depth that stands in: of little confidence, such a conflict is poor at best and no more (`trade` 4.13)."""
DEPTH = "harvest-disturbance"
SAID_TO_ONE_CM = 7.5
A_SPIT_M = 0.25
"""What stands no deeper than a spade goes is loosened and pulled where it is one root; what is deeper is dug
out (common practice)."""
STILL_THERE = 0.1
"""Activity of a neighbour that still stands when the crop is lifted."""
STAYS = frozenset({"clump", "slow"})
"""How a rootstock spreads that stays where it was planted: a crown. One that runs is cut and comes again."""
SET_AGAIN = frozenset({"bulb", "corm"})
"""Stores that are lifted, parted and set again every few years anyway (common practice of chives, daffodils,
Welsh onions): what the fork turns up of them is no loss, so that they suffer one step less (judgement)."""
MILDER: dict[Verdict, Verdict] = {"avoid": "poor", "poor": "workable"}


def cut_roots(doer: Party, sufferer: Party, meeting: Meeting) -> Limit | None:
    """Whether lifting the doer harms the sufferer; what is mown for its leaf is not lifted."""
    chance = chance_of_reaching(doer.profile.dug_depth_m)
    if chance < LEAST_CHANCE or doer.overhead or in_a_mown_sward(doer, sufferer, meeting):
        return None
    if sufferer.profile.annual or _lifted_itself(sufferer):
        return _care_between_lifted(doer, sufferer, meeting)
    if sufferer.local < SOME_DRAW:
        return None
    feeders = sufferer.d50_m <= SHALLOW_D50_M or _share_cut(doer, sufferer) >= MANY_CUT
    if not (feeders or _has_crown(sufferer)):
        return None
    if grows_from_pieces(sufferer.profile):
        return _as_likely(_forked_through(doer, sufferer, meeting), doer.profile, sufferer, chance)
    return _as_likely(_cut(doer, sufferer, meeting, feeders=feeders), doer.profile, sufferer, chance)


def chance_of_reaching(dug: Estimate) -> float:
    """Share of draws in which what is dug goes `DUG_M` deep: a log-normal, each way its own."""
    if dug.likely <= 0:
        return 0.0
    beyond = log(dug.likely / DUG_M)
    end = dug.low if beyond > 0 else dug.high
    if not 0 < end != dug.likely:
        return float(beyond >= 0)
    spread = abs(log(end / dug.likely)) / EDGE_OF_INTERVAL
    return (1 + erf(beyond / spread / sqrt(2))) / 2


def _as_likely(hurt: Limit, crop: Profile, sufferer: Party, chance: float) -> Limit:
    """The harm of digging as far as the doubt of its depth bears it: asked about where it is even or less.

    No depth that is guessed makes a pair one to avoid by itself.
    """
    hurt = replace(hurt, chance=chance, rests_on=(DEPTH, crop.id))
    if chance > EVEN_CHANCE or HOLDS_BACK[hurt.ceiling] >= HOLDS_BACK["workable"]:
        return replace(hurt, ceiling="poor") if hurt.hard and _guessed(crop.dug_depth_m, chance) else hurt
    dug, deep = crop.dug_depth_m, _centimetres(DUG_M)
    source = {"recalled": "is known from memory only", "cited": "is in doubt"}.get(
        dug.origin, "is not on record"
    )
    text = (
        f"Digging for {crop.name} cuts roots of {sufferer.profile.name} where it goes {deep} cm deep or more"
    )
    return replace(
        hurt,
        text=f"{text}; how deep it goes (about {_centimetres(dug.likely)} cm) {source}.",
        ceiling="workable",
        ceiling_if_lifted="good",
        ask=True,
        check=False,
        minor=True,
    )


def _guessed(dug: Estimate, chance: float) -> bool:
    """Whether a depth that is likely to reach the roots stands in, or is remembered and near the edge."""
    return not dug.known or (dug.origin == "recalled" and chance < SURE_CHANCE)


def _share_cut(doer: Party, sufferer: Party) -> float:
    """Share (0-1) of the roots of a tree or shrub that lie no deeper than what is dug; 0 of a herb.

    A herb that roots deep comes again from below (common practice).
    """
    plant, dug_m = sufferer.profile, doer.profile.dug_depth_m.likely
    if not plant.woody or dug_m < DUG_M:
        return 0.0
    deepest_m = sufferer.d50_m * plant.root_d95_m.likely / plant.root_d50_m.likely
    return float(cumulative_share(dug_m, sufferer.d50_m, deepest_m))


def _lifted_itself(plant: Party) -> bool:
    """Whether a lasting herb is dug up each year as well: no roots of it last that digging could spoil."""
    return (
        not plant.profile.woody
        and plant.profile.dug_depth_m.known
        and (plant.profile.dug_depth_m.likely >= DUG_M)
    )


def _has_crown(plant: Party) -> bool:
    """Whether it is on record that its buds stand on a rootstock that stays near the surface: a crown."""
    organ, spread = plant.profile.travels_by, plant.profile.spread
    return (
        not plant.profile.woody
        and organ.known
        and organ.value == "rhizome"
        and spread.known
        and spread.value in STAYS
    )


def _forked_through(doer: Party, sufferer: Party, meeting: Meeting) -> Limit:
    """Digging through what creeps in the ground: it costs work and no plant, as each piece grows again."""
    crop, other = doer.profile.name, sufferer.profile.name
    organs = sufferer.profile.travels_by.records
    return Limit(
        kind="digging",
        of=sufferer.profile.id,
        text=f"{_digging(doer.profile)} goes through {other} as well, which grows again from every piece.",
        records=records_of(doer.profile.dug_depth_m.records, organs, sufferer.profile.spread.records),
        ceiling="workable",
        lift=f"{crop} is lifted with care, a root at a time",
        given="careful-lifting",
        met=meeting.met("careful-lifting"),
    )


def _cut(doer: Party, sufferer: Party, meeting: Meeting, *, feeders: bool) -> Limit:
    """What digging does to a lasting neighbour: to its shallow roots, or to its crown where they go deep.

    Crowns of asparagus are set 15 to 20 cm deep, those of rhubarb at the surface, and neither bears the fork
    that turns the ground for tubers (common practice). What is drawn root by root between herbs spares more.
    """
    dug, other_plant = doer.profile.dug_depth_m, sufferer.profile
    hurt = (
        (other_plant.root_d50_m.records,)
        if feeders
        else (other_plant.travels_by.records, other_plant.spread.records)
    )
    records = records_of(dug.records, *hurt)
    check = not (dug.known and (other_plant.root_d50_m.known or not feeders))
    crop, other = doer.profile.name, sufferer.profile.name
    if sufferer.local < DENSE_DRAW:
        return Limit(
            kind="digging",
            of=sufferer.profile.id,
            text=f"Lifting {crop} cuts some roots of {other}.",
            records=records,
            ceiling="workable",
            lift=f"{crop} is lifted with care, a root at a time",
            given="careful-lifting",
            met=meeting.met("careful-lifting"),
            check=check,
        )
    where = f"half of them lie above {_centimetres(sufferer.d50_m)} cm"
    if sufferer.d50_m > SHALLOW_D50_M:
        where = f"about {5 * round(20 * _share_cut(doer, sufferer))} % of them lie no deeper"
    text = f"{_digging(doer.profile)} cuts the roots of {other} ({where})."
    if not feeders:
        text = (
            f"{_digging(doer.profile)} comes to the crown of {other}, which lies near the surface and stays "
            "for years."
        )
    bulb = _is_set_again(other_plant)
    if bulb:
        text = f"{text.rstrip('.')}; bulbs that come up with it have to be set again."
    # A dense shallow net under a tree or shrub cannot be dug through with any care.
    liftable = not sufferer.profile.woody
    spared = liftable and _drawn_singly(doer.profile)
    beyond_m = _beyond_dense_m(meeting)
    ceiling: Verdict = "poor" if spared or (sufferer.d50_m > SHALLOW_D50_M and feeders) else "avoid"
    if bulb:
        ceiling = MILDER[ceiling]
    return Limit(
        kind="digging",
        of=sufferer.profile.id,
        text=text,
        records=records,
        ceiling=ceiling,
        lift=f"{crop} is lifted with care, a root at a time" if liftable else _elsewhere(crop, beyond_m),
        given="careful-lifting" if liftable else None,
        met=meeting.met("careful-lifting") if liftable else None,
        ceiling_if_lifted="workable" if liftable and ceiling != "workable" else "good",
        check=check,
        apart=None if liftable else Apart(doer.profile.id, beyond_m),
    )


def _drawn_singly(crop: Profile) -> bool:
    """Whether it is on record to be one root or crown at its own place: no ground between is turned for it.

    A clump of roots about one foot (skirret) is loosened and lifted whole, as a root is (common practice).
    """
    deep = crop.dug_depth_m.likely > A_SPIT_M + 1e-9
    one_root = crop.root_form.known and crop.root_form.value in KEEP_PLACE
    clump = crop.spread.known and crop.spread.value == "clump" and crop.travels_by.known
    return not deep and (one_root or (clump and crop.travels_by.value == "rhizome"))


def _is_set_again(plant: Profile) -> bool:
    """Whether it is on record to be a herb that stands on bulbs or corms."""
    return not plant.woody and plant.root_form.known and plant.root_form.value in SET_AGAIN


def _digging(crop: Profile) -> str:
    """What is dug for it, as the subject of a sentence."""
    deep = f"Digging {_centimetres(crop.dug_depth_m.likely)} cm deep"
    if crop.dug_depth_m.known:
        return f"{deep} for {crop.name} each year"
    return f"{deep} (a usual depth) for the tubers or roots of {crop.name} each year"


def _centimetres(depth_m: float) -> int:
    """A depth in cm as it is said: to the nearest 5, small ones to the nearest 1."""
    exact = 100 * depth_m
    return max(1, round(exact) if exact < SAID_TO_ONE_CM else 5 * round(exact / 5))


def _elsewhere(crop: str, beyond_m: float | None) -> str:
    if beyond_m is None:
        return f"{crop} is grown in a bed of its own"
    return f"{crop} is grown beyond the dense roots, about {beyond_m:g} m or more from the trunk"


def _beyond_dense_m(meeting: Meeting) -> float | None:
    """How far from the trunk a tree's roots are no longer dense; None in one bed."""
    if meeting.edge_m is None:
        return None
    x = np.linspace(0.3, 3, 271)
    return at_least_m(
        float(x[int(np.argmax(meeting.crowding * sideways_draw(x) < DENSE_DRAW))]) * meeting.edge_m
    )


def _care_between_lifted(doer: Party, sufferer: Party, meeting: Meeting) -> Limit | None:
    course = doer.activity.tolist()
    ends = (week for week, now in enumerate(course) if now > 0 and course[(week + 1) % WEEKS] == 0)
    last, assumed = next(ends, None), not doer.profile.dug_depth_m.known
    if last is None or sufferer.activity[(last + assumed) % WEEKS] < STILL_THERE:
        return None
    crop, other = doer.profile.name, sufferer.profile.name
    when = ", as is taken here after it has stopped growing," if assumed else ""
    return Limit(
        kind="digging",
        of=sufferer.profile.id,
        text=f"{crop} is lifted{when} while {other} still grows.",
        records=records_of(doer.profile.dug_depth_m.records),
        ceiling="workable",
        lift=f"{crop} is lifted without moving {other}",
        given="careful-lifting",
        met=meeting.met("careful-lifting"),
        small=True,
    )
