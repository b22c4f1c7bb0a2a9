"""Climbers in a row of hedge: the shears that make the hedge take them with it.

What is cut every year stands no higher than the hedge, however high it would climb elsewhere: dog rose,
bramble, honeysuckle and ivy live in hedges that are trimmed (common practice; `trade` 5.4 has dog rose in the
row). Left uncut they smother it. So not the height at which a hedge is kept tells whether a woody climber is
too strong for it, but its vigour beside that of the hedge: how high each grows where nobody cuts. One that
comes up from the ground every year, as hop does, grows all its height between two cuts.
"""

from kb.mixture.limits import Limit, Meeting, Party

SHORN = frozenset({"scrambler", "root-clinger"})
"""Canes and clinging stems are shorn with the hedge at any vigour (common practice: rose, bramble, ivy)."""
OVERRUNS_HEDGE = 1.5
"""A twiner that climbs more than so many times as high as the hedge would grow uncut (one from the ground: as
it is kept) runs over it between two yearly cuts all the same, as traveller's joy does (judgement)."""


def shorn(climber: Party, meeting: Meeting) -> bool:
    """Whether it is cut with the hedge it stands in, however it is kept."""
    return meeting.setting == "hedge" and climber.profile.support_mode.value in SHORN


def overruns(climber: Party, host: Party, reach_m: float) -> bool:
    """Whether even yearly shears do not keep it in a hedge."""
    if climber.profile.support_mode.value in SHORN:
        return False
    each_year = climber.profile.growth_form.value == "climber-herbaceous"
    return reach_m > OVERRUNS_HEDGE * (host.height_m if each_year else uncut_m(host))


def uncut_m(host: Party) -> float:
    """How high the hedge's own plant grows where nobody cuts it, m."""
    return max(host.height_m, host.profile.height_m.likely)


def in_a_hedge(
    climber: Party, other: Party, meeting: Meeting, reach_m: float, records: tuple[str, ...]
) -> Limit:
    """Yearly cutting is what makes a hedge: it holds what climbs in it.

    Taken for granted, but where the climber grows higher than the hedge ever would. A shrub with canes that
    stands by itself asks no more than the hedge does; what has to be cut out of its host does.
    """
    vine, host = climber.profile.name, other.profile.name
    own_canes = climber.profile.growth_form.value in {"shrub", "cane"}
    return Limit(
        kind="support",
        of=other.profile.id,
        text=f"{vine} grows through {host}: uncut, it smothers it in time.",
        records=records,
        ceiling="avoid",
        lift="the hedge is cut every year",
        given="pruned",
        met=meeting.met("pruned"),
        ceiling_if_lifted="good" if own_canes else "workable",
        small=shorn(climber, meeting) or reach_m <= uncut_m(other),
    )
