"""Usual values held back where what is on record of a plant contradicts them. They stay stand-ins."""

from dataclasses import replace

from kb.adoption.indicators import LIGHT
from kb.adoption.intervals import FOUND_BEYOND, ONE_VALUE_SHARE
from kb.mixture.profile import Activity, Estimate, Span
from kb.model import Record, TraitId
from kb.profiles import defaults
from kb.profiles.geophytes import LEAVES_OUT_WEEK
from kb.profiles.known_values import MIDSUMMER_WEEK, KnownValues


def usual_ph(reaction_class: Estimate | None) -> tuple[float, float]:
    """The usual range of pH; moved out on the side where the plant is found, acid or lime.

    The class is not turned into a pH of the plant: its wording names ground on which the plant is found, and
    the stand-in does not close before such ground ends.
    """
    low, high = defaults.SOIL_PH
    if reaction_class is None:
        return low, high
    found = reaction_class.likely
    return min(low, _acid_ground(found, low)), max(high, _limy_ground(found, high))


def moved_out(span: Span, reaction_class: Estimate | None, *, of_a_group: bool) -> Span:
    """A range of pH that is advice or a find alone, where the plant is found on ground beyond it.

    Where a plant is found beyond what is advised, it bears that a little way (`FOUND_BEYOND`), be it by one
    of several authorities. Advice for a whole group ("Primrose") was no reading of this plant: it closes no
    end before the ground of its class.
    """
    if not span.found or reaction_class is None:
        return span
    low = max(_acid_ground(reaction_class.low, span.low), round(span.low - FOUND_BEYOND, 6))
    high = min(_limy_ground(reaction_class.high, span.high), round(span.high + FOUND_BEYOND, 6))
    if of_a_group:
        low = min(low, _acid_ground(reaction_class.likely, low))
        high = max(high, _limy_ground(reaction_class.likely, high))
    return replace(span, low=min(span.low, low), high=max(span.high, high))


def _acid_ground(reaction_class: float, otherwise: float) -> float:
    """Down to which pH the ground of a class goes, where its wording says that it is acid."""
    return next((end for most, end in defaults.ACID_GROUND_TO_PH if reaction_class <= most), otherwise)


def _limy_ground(reaction_class: float, otherwise: float) -> float:
    """Up to which pH the ground of a class goes, where its wording says that it is neutral or limy."""
    return next((end for least, end in defaults.LIMY_GROUND_TO_PH if reaction_class >= least), otherwise)


def light_to_crop(values: KnownValues, leaf: Activity) -> tuple[Estimate, Estimate]:
    """The light where a crop is not worth it and that of full growth, shares of open light.

    What is not on record stands in as a garden herb's. A plant of deep shade, by its light class, cannot
    need much more than the light it is found in: the stand-in is then no more than a small multiple of it.
    One of half shade does without full sun (`FULL_IN_HALF_SHADE`), one of those whose leaf is gone by
    midsummer with as little as a herb of the wood.
    Scales of shade tolerance bound nothing: seedlings that live on in shade may crop in sun (`trade` 3.3). Of
    what climbs they do: it grows up in the shade of its host year after year, not as a seedling alone.
    """
    zero = values.end("light-to-crop", upper=False, fallback=defaults.LIGHT_TO_CROP_ZERO, doubt=0.03)
    full = values.end("light-to-crop", upper=True, fallback=defaults.LIGHT_TO_CROP_FULL, doubt=0.12)
    lives_on = light_to_live(values)
    climbs = (values.choice("growth-form").value or "").startswith("climber")
    if not (climbs or values.rests_on("light-to-survive", _is_light_class)):
        return zero, full
    if lives_on.origin == "assumed":
        return zero, full
    if _of_half_shade(values) and not full.known:
        spring = of_spring(values, leaf)
        usual = defaults.FULL_OF_SPRING_WOODS if spring else defaults.FULL_IN_HALF_SHADE
        records = (*lives_on.records, *leaf.records) if spring else lives_on.records
        full = Estimate(*usual, full.origin, records)
    return (
        _at_most(zero, lives_on, defaults.ZERO_TO_SURVIVE),
        _at_most(full, lives_on, defaults.FULL_TO_SURVIVE),
    )


def _of_half_shade(values: KnownValues) -> bool:
    """Whether it is a herb, grass or fern whose class says half shade or less (a tree's is of young ones)."""
    found = values.maybe(LIGHT)
    low = values.choice("growth-form").value in {"herb", "graminoid", "fern"}
    return low and found is not None and found.likely <= defaults.HALF_SHADE_CLASS


def of_spring(values: KnownValues, leaf: Activity) -> bool:
    """Whether a lasting herb does its year's work before and while the trees come into leaf."""
    spring = not leaf.evergreen and leaf.start < LEAVES_OUT_WEEK and leaf.start < leaf.end <= MIDSUMMER_WEEK
    return spring and values.choice("life-cycle").value == "perennial"


def light_to_live(values: KnownValues) -> Estimate:
    """The share of open light that it lives on; of a root-clinger without a record, as inside a wood."""
    mode = values.choice("support-mode")
    known = values.estimate("light-to-survive", defaults.LIGHT_TO_SURVIVE)
    if known.known or mode.value != "root-clinger":
        return known
    return Estimate(*defaults.CLINGER_TO_SURVIVE, "form", mode.records)


def leaf_area(values: KnownValues, form: str, usual: tuple[float, float, float]) -> Estimate:
    """Leaf area per area under the crown; of a tree without a record by the shade that it bears itself.

    Common teaching of forestry: those that live on in deep shade carry most leaf. Of shrubs, canes and herbs
    the records here show no such step, and the usual value of the form stands in.
    """
    lives_on = values.maybe("light-to-survive")
    if form != "tree" or lives_on is None:
        return _at_least(values, values.estimate("leaf-area-index", usual, "form"))
    steps = defaults.LEAF_AREA_BY_SHADE
    step = next((leaf for most, leaf in steps if lives_on.likely <= most), steps[-1][1])
    deep = step == steps[0][1] and values.choice("leaf-retention").value == "evergreen"
    if deep and values.choice("family").value in defaults.CONIFERS:
        step = defaults.NEEDLES_OF_DEEP_SHADE
    found = values.estimate("leaf-area-index", step, "form")
    return found if found.known else replace(found, records=lives_on.records)


def _at_least(values: KnownValues, leaf: Estimate) -> Estimate:
    """A stand-in, no lower than what a source says that the plant carries at least."""
    told = values.adopted.get(TraitId("leaf-area-index"))
    if leaf.known or told is None or told.low is None or told.low <= leaf.likely:
        return leaf
    most = max(leaf.high, told.low * (1 + ONE_VALUE_SHARE))
    return replace(leaf, low=max(leaf.low, told.low), likely=told.low, high=most, records=told.records)


def extinction(values: KnownValues, usual: float) -> Estimate:
    """The extinction coefficient of its leaf; that of its kind of cover where none is on record."""
    share = defaults.EXTINCTION_SHARE
    return values.estimate("light-extinction", (usual * (1 - share), usual, usual * (1 + share)), "form")


def _is_light_class(record: Record) -> bool:
    return record.trait == LIGHT


def _at_most(usual: Estimate, lives_on: Estimate, times: tuple[float, float, float]) -> Estimate:
    """A stand-in, no higher than these multiples of the light lived on; what is known stays."""
    low, likely, high = (lives_on.likely * factor for factor in times)
    if usual.known or likely >= usual.likely:
        return usual
    return Estimate(min(usual.low, low), likely, min(usual.high, high), usual.origin, lives_on.records)
