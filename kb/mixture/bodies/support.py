"""Climbers: who carries them, who is smothered, who needs a frame.

Any plant of the group will do as a host, so that a climber that one neighbour carries asks nothing of
the others; without one it needs a frame once (`trade` 4.10: judge the whole group, not pairs).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from kb.mixture.bodies.hedge_climbers import in_a_hedge, overruns
from kb.mixture.bodies.pieces import DUG_M
from kb.mixture.limits import HOLDS_BACK, Limit, Meeting, Party, ceiling_of, records_of
from kb.mixture.profile import Profile
from kb.mixture.season import WEEKS, FloatArray

HOST_HEIGHT = 0.6
"""A host reaches at least this share of the climber's reach (`trade` 4.10)."""
FIRM_STEM_M = 1.5
"""A herb or grass this tall (maize, sunflower) stands firm enough for any climber that it reaches far enough
for; lower ones (oats) lodge under a tall one. Judgement that stands in for a record of firmness; woody
plants are firm."""
PROP_SHARE = 0.8
"""Straw props up a tendril or scrambling climber that is at most so much taller: host by climber, by height
(common practice: vetch with rye, pea with oat, in one drill; the number is judgement). A twiner hangs on one
stalk with all its weight (`trade` 4.10: no oats for pole beans)."""
HEAVY_VINES = frozenset({"Cucurbitaceae"})
"""Vines that hang fruit of a pound and more: no straw bears them (common practice: trellis or ground)."""
STALK_M = 1.2
"""An annual herb this tall has a stalk that props as straw does (judgement). Of lasting herbs and biennials
the height on record is that of the flowering stalk, over leaves near the ground."""
SHORT_REACH_M = 1.5
"""Up to this reach twiggy sticks do, and without them the crop sprawls but is not lost (judgement)."""
PRUNED_REACH = 2.5
"""Pruned hard every year a lasting climber is kept on a host that it would overtop up to so many times, as
vines on pollards and honeysuckle in a clipped hedge (`trade` T04 makes it a condition; the number is
judgement); a more rampant one is not."""
KEPT_SHARE = 0.5
"""A lasting climber on record as a crop no higher than this share of its reach is cut every year to be one
(judgement; grapes bear on the wood of the year before, viticulture)."""
HEAD_START_WEEKS = 2.0
"""An annual host needs this start on its climber (`trade` 4.10: 2-3 weeks)."""
LIGHT_LOAD = 0.5
"""A lasting climber that dies back each winter smothers no host of which it reaches at most this share
(judgement; `trade` 4.10 asks for yearly pruning of woody ones alone). A woody one that does not twine stays
in the lower branches of such a host: yearly work, no loss (`computation-notes` 3: the taller smothers)."""
SPRAWLING = frozenset({"tendril", "scrambler"})
"""How annual vines climb that lie over the ground and crop there where nothing carries them; a twiner without
a pole is lost (common practice: nasturtiums and melons are let trail, pole beans are not)."""
SUPPORT_BENEFIT = 0.35

CLINGS = "root-clinger"
_CLIMBING = {"twiner", "tendril", "scrambler", "root-clinger"}


@dataclass(frozen=True, slots=True)
class Support:
    """What climbing brings to two plants: limits, and the benefit where the neighbour carries it.

    ``carried`` where the neighbour is tall and firm enough; ``host`` and ``climber`` are named where
    it helps besides, on record and with no conflict left. ``places`` are climber and neighbour in the
    group they were looked for in.
    """

    limits: tuple[Limit, ...]
    host: str | None
    climber: str | None
    records: tuple[str, ...]
    carried: bool = False
    places: tuple[int, int] = (0, 1)


def climbs(party: Party) -> bool:
    """Whether it needs something to climb on; a vine grown along the ground does not (mode none)."""
    return is_climber(party.profile)


def is_climber(profile: Profile) -> bool:
    """`climbs`, wherever it stands."""
    mode = profile.support_mode.value
    if mode is None:
        return (profile.growth_form.value or "").startswith("climber")
    return mode in _CLIMBING


def staked(profile: Profile) -> bool:
    """Whether its tops die back each year and its tubers are lifted then: it comes up anew on its stakes.

    Yams are staked and never pruned (root crop handbooks); no vine of theirs lasts to smother a shrub.
    """
    lifted = profile.dug_depth_m.likely >= DUG_M - 1e-9
    return profile.growth_form.value == "climber-herbaceous" and lifted and not profile.activity.evergreen


def sprawls(profile: Profile) -> bool:
    """Whether it lies over the ground, and over its neighbours, where nothing carries it."""
    return profile.annual and profile.support_mode.known and profile.support_mode.value in SPRAWLING


def _sprawls(vine: str, uncarried: str) -> str:
    return f"{vine} sprawls over what is lower where it is not turned aside: {uncarried}."


def kept_as_crop(profile: Profile) -> bool:
    """Whether it is cut every year as part of growing it: low as a crop on record, and no twiner.

    What twines winds round all that it reaches and is refused beside a low tree (`trade` T04).
    """
    grown, reach = profile.grown_height_m, profile.reach_m or profile.height_m
    low = grown is not None and grown.likely <= KEPT_SHARE * reach.likely
    return low and profile.woody and profile.support_mode.value == "tendril"


def _pruned_anyway(climber: Party, meeting: Meeting) -> bool:
    """Whether its yearly cutting is taken for granted: in a bed, where nobody names the other its host.

    So `computation-notes` 3: a conflict only where it is named as host; else the word is given that it is
    cut.
    """
    return meeting.setting == "bed" and kept_as_crop(climber.profile)


def supports_among(
    parties: Sequence[Party], meetings: Mapping[tuple[int, int], Meeting]
) -> tuple[Support, ...]:
    """What climbing brings to a group, climber by climber: its best host, or what comes of having none.

    ``meetings`` says how two of them meet, by their places in order; those that do not meet are left out.
    """
    found: list[Support] = []
    for i, climber in enumerate(parties):
        if not climbs(climber):
            continue
        near = [
            replace(support, places=(i, j))
            for j, other in enumerate(parties)
            if (meeting := meetings.get((min(i, j), max(i, j)))) is not None
            and (support := climb(climber, other, meeting)) is not None
        ]
        found += _of_one(climber, near)
    return tuple(found)


def _of_one(climber: Party, near: list[Support]) -> list[Support]:
    """Of one climber's neighbours: the host that asks least; else whom it smothers, or one frame."""
    hosts = [support for support in near if support.carried]
    if hosts:
        # The host that asks least; of equals one on record, then the first.
        steps = [(HOLDS_BACK[ceiling_of(s.limits)], s.host is not None, -s.places[1]) for s in hosts]
        return [hosts[steps.index(max(steps))]]
    harmed = [support for support in near if any(limit.of != climber.profile.id for limit in support.limits)]
    if harmed or len(near) < 2:
        return harmed or near
    vine = climber.profile.name
    reach = (climber.profile.reach_m or climber.profile.height_m).likely
    text = (
        f"{vine} climbs and none of its neighbours carries it."
        if reach <= SHORT_REACH_M
        else _sprawls(vine, "none of its neighbours carries it")
        if sprawls(climber.profile)
        else f"{vine} climbs to about {reach:.2g} m and none of its neighbours is a host for it."
    )
    records = records_of(*(support.records for support in near))
    # A neighbour that it would take for its host holds back most: any word to the others is too mild.
    worst = min(near, key=lambda support: HOLDS_BACK[ceiling_of(support.limits)])
    limits = tuple(replace(limit, text=text, records=records) for limit in worst.limits)
    return [replace(worst, limits=limits, records=records)]


def climb(climber: Party, other: Party, meeting: Meeting) -> Support | None:
    """What comes of the first plant climbing beside the second; None where it does not climb."""
    if not climbs(climber):
        return None
    reach = climber.profile.reach_m or climber.profile.height_m
    facts = (climber.profile.support_mode.records, reach.records, other.profile.height_m.records)
    records = records_of(*facts)
    reach_m = reach.likely
    lasting = not (climber.profile.annual or other.profile.annual or staked(climber.profile))
    kept = lasting and other.profile.woody and not _rampant(climber, other, meeting, reach_m)
    tall_enough = other.height_m >= HOST_HEIGHT * reach_m or kept
    within = _within_reach(climber, other, meeting, reach_m)
    carries = within and tall_enough and _firm(climber, other, reach_m) and not climbs(other)
    if lasting and carries and _weighs_on(climber, other, reach_m):
        limits: tuple[Limit, ...] = (_on_a_living_host(climber, other, meeting, reach_m, records),)
    elif carries:
        limits = () if _props(climber, other, reach_m) else _head_start(climber, other, records)
    else:
        limits = (_frame(climber, other, meeting, reach_m, records, within=within),)
    known = reach.known and other.profile.height_m.known and other.profile.growth_form.known
    # A climber that is given a frame of its own is carried by that, not by its neighbour.
    framed = any(limit.given == "frame" and limit.lifted for limit in limits)
    # What has to be cut back out of a host is no gain to either; what clings to a trunk was set to climb it.
    labour = any(limit.lift is None for limit in limits) and climber.profile.support_mode.value != CLINGS
    held = labour or any(limit.hard and not limit.lifted for limit in limits)
    helps = carries and known and not framed and not held and not _grows_over(climber, other, reach_m)
    names = (other.profile.id, climber.profile.id) if helps else (None, None)
    return Support(limits, names[0], names[1], records, carries)


def _grows_over(climber: Party, other: Party, reach_m: float) -> bool:
    """Whether it ends in a tangle over the top of a shrub that is lower: borne, but no gain to either.

    Neither is picked with ease there. A stalk that ends with its climber loses nothing by it (maize, straw).
    """
    shrub = other.profile.woody and not other.profile.annual
    return shrub and climber.profile.annual and reach_m > other.height_m


def _within_reach(climber: Party, other: Party, meeting: Meeting, reach_m: float) -> bool:
    """Whether it can lay hold of a woody plant: of branches that hang low enough, or, clinging, of the trunk.

    Beyond the crown the way to it counts too.
    """
    host = other.profile
    if not host.woody or climber.profile.support_mode.value == "root-clinger":
        return True
    base = host.crown_base_m.likely * min(1.0, other.height_m / host.height_m.likely)
    beyond = 0.0
    if other.overhead and meeting.nearest_m is not None:
        beyond = max(0.0, meeting.nearest_m - host.crown_width_m.likely / 2)
    return reach_m >= base + beyond


def _weighs_on(climber: Party, other: Party, reach_m: float) -> bool:
    """Whether a lasting climber weighs on its host in time: a woody one, or one that covers half of it.

    Straw that props a climber no taller than itself comes up anew each spring with it.
    """
    if climber.profile.woody:
        return True
    return reach_m > LIGHT_LOAD * other.height_m and not _props(climber, other, reach_m)


def _firm(climber: Party, other: Party, reach_m: float) -> bool:
    """Whether it stands under this climber."""
    return other.profile.woody or other.height_m >= FIRM_STEM_M or _props(climber, other, reach_m)


def _props(climber: Party, other: Party, reach_m: float) -> bool:
    """Whether a stand of straw or stalks holds up a low climber that lays hold of many of them."""
    host = other.profile
    if climber.profile.support_mode.value not in SPRAWLING or climber.profile.family.value in HEAVY_VINES:
        return False
    stalk = host.life_cycle.value == "annual" and other.height_m >= STALK_M
    if host.woody or not (host.growth_form.value == "graminoid" or stalk):
        return False
    top_m = max(reach_m, climber.height_m)
    return top_m <= SHORT_REACH_M and other.height_m >= PROP_SHARE * top_m


def _rampant(climber: Party, other: Party, meeting: Meeting, reach_m: float) -> bool:
    """Whether no pruning keeps it on its host; in a hedge the shears take it too."""
    if meeting.setting == "hedge":
        return overruns(climber, other, reach_m)
    return reach_m > PRUNED_REACH * other.height_m


def _frame(
    climber: Party,
    other: Party,
    meeting: Meeting,
    reach_m: float,
    records: tuple[str, ...],
    *,
    within: bool,
) -> Limit:
    vine, neighbour = climber.profile.name, other.profile.name
    if reach_m <= SHORT_REACH_M:
        return Limit(
            kind="support",
            of=climber.profile.id,
            text=f"{vine} climbs and {neighbour} does not carry it.",
            records=records,
            ceiling="workable",
            lift=f"{vine} gets sticks or netting",
            given="frame",
            met=meeting.met("frame"),
            small=True,
        )
    if sprawls(climber.profile):
        return Limit(
            kind="support",
            of=climber.profile.id,
            text=_sprawls(vine, f"{neighbour} does not carry it"),
            records=records,
            ceiling="workable",
            lift=f"{vine} is turned aside from its neighbours as it grows, or gets a frame",
            given="frame",
            met=meeting.met("frame"),
            small=True,
        )
    crop = staked(climber.profile)
    smothers = within and not (climber.profile.annual or crop) and other.profile.woody
    text = (
        f"{vine} climbs to about {reach_m:.2g} m and smothers {neighbour}, which is lower."
        if smothers
        else f"{vine} climbs to about {reach_m:.2g} m and {neighbour} is no host for it."
    )
    return Limit(
        kind="support",
        of=other.profile.id if smothers else climber.profile.id,
        text=text,
        records=records,
        ceiling="avoid",
        lift=f"{vine} gets a frame of its own, on the side away from the sun",
        given="frame",
        met=meeting.met("frame"),
        # Nobody plants a lasting climber without: a condition, and no conflict where the neighbour is not
        # taken for its host (`computation-notes` 3). An annual one is sown to what is there (`trade` T05).
        small=crop
        or (not climber.profile.annual and not _firm(climber, other, reach_m))
        or _pruned_anyway(climber, meeting),
        check=not (climber.profile.support_mode.known or climber.profile.growth_form.known)
        or (crop and not climber.profile.dug_depth_m.known),
    )


def _on_a_living_host(
    climber: Party, other: Party, meeting: Meeting, reach_m: float, records: tuple[str, ...]
) -> Limit:
    """A lasting climber on a living host: smothers it unless it is pruned, or has a frame of its own."""
    vine, host = climber.profile.name, other.profile.name
    higher = reach_m > other.height_m
    rampant = _rampant(climber, other, meeting, reach_m)
    framed = higher and (rampant or meeting.met("frame") is True)
    if meeting.setting == "hedge" and not rampant:
        return in_a_hedge(climber, other, meeting, reach_m, records)
    if (work := _yearly_work(climber, other, reach_m)) is not None:
        return Limit(
            kind="support", of=other.profile.id, text=work, records=records, ceiling="workable", minor=True
        )
    unless, comma = ("", "") if framed else (" unless it is pruned hard every year", ",")
    return Limit(
        kind="support",
        of=other.profile.id,
        text=(
            f"{vine} climbs to about {reach_m:.2g} m and smothers {host}, which is lower{comma}{unless}."
            if higher
            else f"{vine} grows through {host} and smothers it{unless}."
        ),
        records=records,
        ceiling="avoid",
        lift=f"{vine} gets a frame of its own" if framed else f"{vine} is pruned hard every year",
        given="frame" if framed else "pruned",
        met=meeting.met("frame" if framed else "pruned"),
        ceiling_if_lifted="good" if framed else "workable",
        small=_pruned_anyway(climber, meeting),
    )


def _yearly_work(climber: Party, other: Party, reach_m: float) -> str | None:
    """What a climber asks that does not smother its host, in words; None where it smothers it.

    Recurring labour caps at workable (`computation-notes` 3). A root-clinger keeps to the trunk of a tree
    higher than itself (common practice: pepper on living posts, ivy in tall trees).
    """
    vine, host, mode = climber.profile.name, other.profile.name, climber.profile.support_mode.value
    if mode == "root-clinger" and other.profile.growth_form.value == "tree" and reach_m <= other.height_m:
        return f"{vine} clings to the trunk of {host}: it has to be kept out of its crown every year."
    if mode is not None and mode != "twiner" and reach_m <= LIGHT_LOAD * other.height_m:
        return f"{vine} grows into the lower branches of {host}: it has to be cut back every year."
    return None


def _head_start(climber: Party, other: Party, records: tuple[str, ...]) -> tuple[Limit, ...]:
    if not other.profile.annual:
        return ()
    lead = (_first_week(climber.activity) - _first_week(other.activity) + WEEKS / 2) % WEEKS - WEEKS / 2
    if lead >= HEAD_START_WEEKS:
        return ()
    vine, host = climber.profile.name, other.profile.name
    return (
        Limit(
            kind="support",
            of=other.profile.id,
            text=f"{vine} starts with {host} and pulls it down before it is firm.",
            records=records,
            ceiling="workable",
            lift=f"{vine} is sown two to three weeks after {host}",
        ),
    )


def _first_week(activity: FloatArray) -> float:
    starts = np.flatnonzero((activity > 0) & (np.roll(activity, 1) == 0))
    return float(starts[0]) if starts.size else 0.0
