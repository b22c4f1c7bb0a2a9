"""Two plants brought together at a place: as the limits see them, and what they give each other."""

from kb.mixture.felt import RootsFelt, Rows
from kb.mixture.limits import Meeting, Party
from kb.mixture.nitrogen import Giving, giving
from kb.mixture.place import Place
from kb.mixture.variants import Variants


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
    )


def givings_between(
    a: Variants, b: Variants, felt: RootsFelt, place: Place, rows: Rows
) -> tuple[Giving, ...]:
    """Nitrogen that either gives the other, for these rows."""
    found = (
        giving(a, b, share=place.share_a, unmet=felt.unmet[:, 1], given=place.given, rows=rows),
        giving(b, a, share=place.share_b, unmet=felt.unmet[:, 0], given=place.given, rows=(rows[1], rows[0])),
    )
    return tuple(gift for gift in found if gift is not None)
