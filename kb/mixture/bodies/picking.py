"""Tall lasting herbs beneath a tree that is picked: they are cut back each year before anyone gets to it.

A grower says of comfrey round an apple: it does well, cut it (`trade` 4.17 d, T11). Labour that comes every
year caps at workable (`computation-notes` 3).
"""

from kb.mixture.bodies.spread import IN_THE_WAY_M
from kb.mixture.deeds import at_least_m
from kb.mixture.limits import Apart, Limit, Meeting, Party, records_of

HERBS = frozenset({"herb", "graminoid", "fern"})
BESIDE_M = 1.0
"""From the middle of a bed to where a foot stands beside it (judgement)."""


def stands_in_the_way(tree: Party, herb: Party, meeting: Meeting) -> Limit | None:
    """Whether a ring of it, so high, reaches beneath the crown of a tree that is picked; None for all else.

    Crops of a season are gone or cut by themselves, shrubs are picked from the same side as the tree.
    """
    profile, crown_m = herb.profile, tree.profile.crown_width_m.likely / 2
    picked = tree.overhead and tree.profile.picked.value == "yes"
    tall = profile.growth_form.value in HERBS and not profile.annual and herb.height_m >= IN_THE_WAY_M
    if not (picked and tall) or meeting.nearest_m is None or meeting.nearest_m >= crown_m:
        return None
    beyond_m = at_least_m(crown_m + BESIDE_M)
    return Limit(
        kind="cover",
        of=tree.profile.id,
        text=(
            f"{profile.name} stands about {herb.height_m:.2g} m high beneath {tree.profile.name}: it has to "
            "be cut back every year to pick and to mow."
        ),
        records=records_of(profile.height_m.records, tree.profile.picked.records),
        ceiling="workable",
        lift=f"{profile.name} stands beyond the crown, {beyond_m:g} m or more from the trunk",
        apart=Apart(profile.id, beyond_m),
        check=not profile.height_m.known,
    )
