"""Classes of an indicator scale of soil reaction against each other, where no range of pH is on record.

A class says on what ground a plant is found, 1 very acid to 9 rich in lime. It is never read as a pH: class
is held against class, and a class against a usual pH only says that this has to be looked at.
"""

from kb.mixture.limits import Limit, records_of
from kb.mixture.profile import Estimate, Profile

FAR_CLASSES = 4.0
"""Classes this far apart: acid ground (3) and that between weakly acid and weakly alkaline (7); judgement."""
ACID_CLASS, LIME_CLASS = 3.5, 8.5
"""Up to the first a plant is one of acid ground, from the second one of lime (wording of the scale: 3 acid
ground, 9 always on lime; half a class either way is judgement)."""

LIME_PH = 7.5
"""From here on soils hold free lime, as a rule (such soils read pH 7.5 to 8.5: textbooks, from memory)."""
USUAL_LOW, USUAL_HIGH = 5.5, 7.5
"""Garden ground as it is usually (`trade` 3.2); a range within it does not reach out to either end."""


def ph_of(plant: Profile) -> str:
    """What is on record of its pH, in words: what it bears, or where it does best, or what finds tell."""
    span = plant.soil_ph
    ends = f"pH {span.low:.2g} to {span.high:.2g}"
    if span.best is not None:
        best = f"pH {span.best[0]:.2g} to {span.best[1]:.2g}"
        return f"{plant.name} does best at {best} and is taken to bear {ends}"
    if span.found:
        return f"{plant.name} is taken to bear {ends} from where it is found"
    return f"{plant.name} grows at {ends}"


def by_lime(plant: Profile, soil_ph: float) -> str:
    """How it is seen that ground is too limy for a plant, in words that go on; empty of other ground.

    Where lime holds the iron fast, plants of more acid ground turn yellow from their young leaves on (lupins:
    Tang et al. 1995, White & Robson 1989). Not said where its range stands in.
    """
    limy = plant.soil_ph.known and soil_ph >= LIME_PH and soil_ph > plant.soil_ph.high
    return ": on lime young leaves turn yellow for want of iron (chlorosis)" if limy else ""


def reaction_limit(a: Profile, b: Profile) -> Limit | None:
    """What the classes of two plants, given in the order of their ids, hold against one soil for both.

    A class is where a wild plant holds its own, one scale and no trial: a strong warning, no hard one. Beside
    a plant whose range of pH is on record it counts only where the usual range is no guess for the other.
    """
    if not (a.soil_ph.known or b.soil_ph.known):
        return _apart(a, b)
    for plant, other in ((a, b), (b, a)):
        span = other.soil_ph
        if span.known and _usual_is_no_guess(plant, span.low, span.high):
            return _apart(a, b) or _asked(plant, ph_of(other), span.records)
    return None


def reaction_of_site(profile: Profile, soil_ph: float) -> Limit | None:
    """A plant known by an acid or lime class alone, on soil whose pH was said: asked, never decided."""
    if not _usual_is_no_guess(profile, soil_ph, soil_ph):
        return None
    return _asked(profile, f"the soil here has pH {soil_ph:.2g}", ())


def _apart(a: Profile, b: Profile) -> Limit | None:
    if a.reaction_class is None or b.reaction_class is None:
        return None
    sour, sweet = sorted((a, b), key=lambda plant: (_class(plant).likely, plant.id))
    low, high = _class(sour), _class(sweet)
    if high.likely - low.likely < FAR_CLASSES:
        return None
    return Limit(
        kind="ph",
        of=sour.id,
        text=(
            f"{sour.name} is found on far more acid ground than {sweet.name} (classes {low.likely:.2g} and "
            f"{high.likely:.2g} of 9), and whether one soil suits both is not on record."
        ),
        records=records_of(low.records, high.records),
        ceiling="poor",
        ask=True,
        thin=True,
    )


def _asked(plant: Profile, against: str, records: tuple[str, ...]) -> Limit:
    found = _class(plant)
    ground = "acid ground" if found.likely <= ACID_CLASS else "ground rich in lime"
    return Limit(
        kind="ph",
        of=plant.id,
        text=(
            f"{plant.name} is found on {ground} (class {found.likely:.2g} of 9), what pH it bears is not on "
            f"record, and {against}."
        ),
        records=records_of(found.records, records),
        ceiling="good",
        ask=True,
    )


def _usual_is_no_guess(plant: Profile, low: float, high: float) -> bool:
    """Whether only an acid or lime class is on record, and these ends of pH do not reach out to its side."""
    if plant.soil_ph.known or plant.reaction_class is None:
        return False
    found = plant.reaction_class.likely
    return (found <= ACID_CLASS and low >= USUAL_LOW) or (found >= LIME_CLASS and high <= USUAL_HIGH)


def _class(plant: Profile) -> Estimate:
    if plant.reaction_class is None:
        raise ValueError(f"{plant.id} has no class of reaction")
    return plant.reaction_class
