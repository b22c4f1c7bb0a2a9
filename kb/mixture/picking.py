"""Tall lasting herbs beneath a tree that is picked: they are cut back each year before anyone gets to it.

A grower says of comfrey round an apple: it does well, cut it (`trade` 4.17 d, T11). Labour that comes every
year caps at workable (`computation-notes` 3).
"""

from kb.mixture.deeds import at_least_m
from kb.mixture.limits import Apart, Limit, Meeting, Party, records_of
from kb.mixture.spread import IN_THE_WAY_M

HERBS = frozenset({"herb", "graminoid", "fern"})


def stands_in_the_way(tree: Party, herb: Party, meeting: Meeting) -> Limit | None:
    """Whether it stands so high within the crown of a tree that is picked; None for all else.

    Crops of a season are gone or cut by themselves, shrubs are picked from the same side as the tree.
    """
    profile = herb.profile
    picked = tree.overhead and tree.profile.picked.value == "yes"
    tall = profile.growth_form.value in HERBS and not profile.annual and herb.height_m >= IN_THE_WAY_M
    crown_m = tree.profile.crown_width_m.likely / 2
    nearest_m = meeting.nearest_m if meeting.at_m is None else meeting.at_m
    if not (picked and tall) or nearest_m is None or nearest_m >= crown_m:
        return None
    lift_m = at_least_m(crown_m)
    return Limit(
        kind="cover",
        of=profile.id,
        text=(
            f"{profile.name} stands about {herb.height_m:.2g} m high beneath {tree.profile.name}: it has to be "
            "cut back every year to pick and to mow."
        ),
        records=records_of(profile.height_m.records, tree.profile.picked.records),
        ceiling="workable",
        lift=f"{profile.name} stands beyond the crown, {lift_m:g} m or more from the trunk",
        apart=Apart(profile.id, lift_m),
        check=not profile.height_m.known,
    )
