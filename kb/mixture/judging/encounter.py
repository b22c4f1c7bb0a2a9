"""Plants brought together at a place: as the limits see them, and what they give each other."""

from collections.abc import Sequence

import numpy as np

from kb.mixture.ground.roots import crowding, root_radius
from kb.mixture.limits import Meeting, Party
from kb.mixture.sharing.felt import RootsFelt, Rows, Spot, spot_of_two
from kb.mixture.sharing.nitrogen import A_LITTLE, Giving, gives, giving
from kb.mixture.sharing.place import Place
from kb.mixture.sharing.variants import Variants
from kb.mixture.site import Site, Tree


def party_at(plant: Variants, place: Place, *, first: bool = False, age_years: float | None = None) -> Party:
    """A plant by its likely values; the first of a pair is the tree overhead where there is one."""
    overhead = first and place.setting == "under"
    return Party(
        profile=plant.profile,
        height_m=float(plant.height[0]),
        d50_m=float(plant.d50[0]),
        local=place.share_a if overhead else 1.0,
        activity=plant.activity[0],
        overhead=overhead,
        age_years=age_years,
    )


def meeting_at(place: Place) -> Meeting:
    """What the limits need to know of the place."""
    return Meeting(
        site=place.site,
        setting=place.setting,
        given=place.given,
        nearest_m=place.from_m,
        farthest_m=place.to_m,
        edge_m=place.root_radius_m,
        at_m=place.at_m,
        crowding=1.0 if place.tree is None else crowding(place.tree),
        tree_ends_m=None if place.tree is None else place.tree.ends_m,
    )


def ring_meeting(
    site: Site, tree: Tree, given: frozenset[str], ring_m: tuple[float, float], at_m: float | None
) -> Meeting:
    """The same of a ring round a tree."""
    return Meeting(
        site=site,
        setting="under",
        given=given,
        nearest_m=ring_m[0],
        farthest_m=ring_m[1],
        edge_m=root_radius(tree),
        at_m=at_m,
        crowding=crowding(tree),
        tree_ends_m=tree.ends_m,
    )


def givings_between(
    a: Variants, b: Variants, felt: RootsFelt, place: Place, rows: Rows
) -> tuple[Giving, ...]:
    """`givings_at` of two."""
    found = givings_at((a, b), felt, spot_of_two(place), rows)
    return tuple(gift for _, _, gift in found)


def any_gives(plants: Sequence[Variants]) -> bool:
    """Whether any of them gives another nitrogen (`givings_at`): one that fixes it to one that does not."""
    fixing = [plant.profile.nitrogen_fixing for plant in plants]
    return any(one.value == "yes" and one.known for one in fixing) and any(
        one.value != "yes" for one in fixing
    )


def givings_at(
    plants: Sequence[Variants], felt: RootsFelt, spot: Spot, rows: Rows
) -> tuple[tuple[int, int, Giving], ...]:
    """Nitrogen that plants give each other, for these rows: (giver, taker, gift).

    What a plant gives goes once, to those that go without, by what each goes without.
    """
    found = []
    for i, giver in enumerate(plants):
        takers = [j for j, plant in enumerate(plants) if j != i and gives(giver, plant)]
        if not takers:
            continue
        unmet = felt.unmet[:, takers]
        total = unmet.sum(axis=1)
        some = total > A_LITTLE
        for place, j in enumerate(takers):
            part = np.where(some, unmet[:, place] / np.where(some, total, 1.0), 1 / len(takers))
            gift = giving(
                giver,
                plants[j],
                share=spot.shares[i],
                unmet=unmet[:, place],
                part=part,
                given=spot.place.given,
                rows=(rows[i], rows[j]),
            )
            found.append((i, j, gift))
    return tuple(found)
