"""Woody crowns that want one space: a shrub or a tree set so near that it grows into the crown of a tree.

A shrub beside the crown of a young tree that is taller already, and will end twice as tall, is another case:
they press on each other at the sides for some years, then the tree stands above it. So nurse shrubs are set:
autumn olive 2.4 m from black walnut, in the row, gave the best walnuts (heights and diameters at ages 14 and
18 in southern Illinois; Northern Journal of Applied Forestry 6: 129-132, 1989, abstract).
"""

from kb.mixture.deeds import at_least_m
from kb.mixture.limits import Apart, Limit, Meeting, Party, records_of

LEAST_CROWN_M = 0.8
"""Woody crowns this wide do not mix with another (`computation-notes` 3)."""
RISES_ABOVE = 2.0
"""A tree that ends so many times as tall as a shrub carries its crown above it: the middle of a crown that
reaches to the ground then is above the shrub (judgement)."""


TALL_GRASS_M = 3.0
"""A lasting grass this tall (bamboo) stands all year as a shrub does, with leaf to its top (judgement)."""


def two_crowns(tree: Party, other: Party, meeting: Meeting) -> Limit | None:
    """Two woody crowns cannot fill one space: the lower one would have to stay below the other."""
    if not tree.overhead or not _has_crown(other):
        return None
    middle = (tree.profile.crown_base_m.likely + tree.height_m) / 2
    reach = other.profile.crown_width_m.likely / 2
    apart = tree.profile.crown_width_m.likely / 2 + reach
    if other.height_m <= middle or reach < LEAST_CROWN_M / 2 or (meeting.farthest_m or 0.0) >= apart:
        return None
    heights = (other.profile.height_m, other.profile.crown_width_m)
    grows = f"{other.profile.name} grows to about {other.height_m:.2g} m"
    passing = _outgrown(tree, other, meeting)
    return Limit(
        kind="light",
        of=tree.profile.id,
        text=(
            f"{grows} beside {tree.profile.name}: it crowds the young tree until that stands above it; "
            "cut it back where it presses on the tree."
            if passing
            else f"{grows}, into the crown of {tree.profile.name}: two crowns cannot fill one space."
        ),
        records=records_of(*(height.records for height in heights)),
        ceiling="workable" if passing else "avoid",
        lift=f"{other.profile.name} stands {at_least_m(apart):g} m or more from the trunk",
        apart=Apart(other.profile.id, at_least_m(apart)),
        check=not all(height.known for height in heights),
    )


def _has_crown(other: Party) -> bool:
    """Whether it fills a space of its own above the herbs, all year round."""
    form = other.profile.growth_form.value
    bamboo = form == "graminoid" and not other.profile.annual and other.height_m >= TALL_GRASS_M
    return form in {"tree", "shrub"} or bamboo


def _outgrown(tree: Party, other: Party, meeting: Meeting) -> bool:
    """Whether a shrub stands beside the crown of a tree that is above it and leaves it far below."""
    stands_m = meeting.nearest_m if meeting.at_m is None else meeting.at_m
    beside = stands_m is not None and stands_m >= tree.profile.crown_width_m.likely / 2
    ends = meeting.tree_ends_m
    above = ends is not None and ends >= RISES_ABOVE * other.profile.height_m.likely
    return other.profile.growth_form.value == "shrub" and beside and above and tree.height_m > other.height_m
