"""The ground under one plant after another: the same soil has to suit both, or be changed between them."""

from collections.abc import Iterator

from kb.mixture.ground.reaction import ph_of
from kb.mixture.judging.conflicts import MOISTURE_GAP, PH_OVERLAP, misses, ph_shared, soil_misfits
from kb.mixture.limits import Limit, records_of
from kb.mixture.profile import Profile
from kb.mixture.site import Site


def ground_limits(a: Profile, b: Profile, site: Site, given: frozenset[str]) -> Iterator[Limit]:
    """What the ground forbids: each plant on the soil of the site, and B on soil that suited A.

    Lime or acid dressings take a season to work and water can be led to a crop, so two that ask for
    different ground are poor after each other, not impossible as side by side (common practice). How
    moist it is changes with the season: each has its own weeks, and the two together count only where
    the ground suits neither.
    """
    for plant in {a.id: a, b.id: b}.values():
        yield from soil_misfits(plant, site, given)
    if site.soil_ph is None and ph_shared(a, b) <= PH_OVERLAP + 1e-9:
        yield Limit(
            kind="ph",
            of=b.id,
            text=(f"{ph_of(a)}, {ph_of(b)}: soil that suits the first does not suit the second."),
            records=records_of(a.soil_ph.records, b.soil_ph.records),
            ceiling="poor",
            lift=f"the soil is tested and brought to what {b.name} wants between the two",
            check=not (a.soil_ph.known and b.soil_ph.known),
        )
    if _moisture_apart(a, b) and all(misses(plant.moisture, site.moisture) for plant in (a, b)):
        wet, dry = (a, b) if a.moisture.low > b.moisture.low else (b, a)
        yield Limit(
            kind="water",
            of=b.id,
            text=f"{wet.name} wants moister ground than {dry.name} bears, and this ground suits neither.",
            records=records_of(a.moisture.records, b.moisture.records),
            ceiling="poor",
            lift=f"{wet.name} is watered, on ground dry enough for {dry.name}",
            given="irrigated",
            met=True if "irrigated" in given else None,
            check=not (a.moisture.known and b.moisture.known),
        )


def ground_notes(a: Profile, b: Profile, site: Site) -> Iterator[str]:
    """What is said of the ground without holding the verdict: two crops that never stand together."""
    if _moisture_apart(a, b) and not all(misses(plant.moisture, site.moisture) for plant in (a, b)):
        wet, dry = (a, b) if a.moisture.low > b.moisture.low else (b, a)
        yield f"{wet.name} wants moister ground than {dry.name}: each is judged on this ground by itself."


def _moisture_apart(a: Profile, b: Profile) -> bool:
    gap = max(a.moisture.low, b.moisture.low) - min(a.moisture.high, b.moisture.high)
    return gap > MOISTURE_GAP + 1e-9
