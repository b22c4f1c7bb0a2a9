"""The depths above which 95 % and half of the roots lie, from records, genus or root form."""

import math

from kb.adoption.intervals import interval_of_middle
from kb.mixture.profile import Choice, Estimate
from kb.model import PlantId, TraitId
from kb.profiles import defaults
from kb.profiles.genus import GenusFacts
from kb.profiles.known_values import KnownValues, scaled


def d95_of(values: KnownValues, plant_id: PlantId, root_form: Choice, genus: GenusFacts) -> Estimate:
    """Depth above which 95 % of the roots lie: effective depth, else from the deepest, genus, form."""
    effective = values.maybe("effective-rooting-depth")
    deepest = values.maybe("rooting-depth")
    reached = None
    if deepest is not None:
        reached = Estimate(*scaled(deepest, defaults.DEEPEST_TO_D95), deepest.origin, deepest.records)
    if effective is not None and reached is not None and effective.origin == reached.origin:
        return _pooled(effective, reached)
    known = effective or reached
    if known is not None:
        return known
    median = genus.median_depth(plant_id)
    if median is not None:
        low, high = interval_of_middle(median, defaults.GENUS_LOG_SD)
        return _above_floor(values, Estimate(low, median, high, "genus"))
    _, depth = defaults.ROOT_FORM_DEPTHS_M[root_form.value or "fibrous-shallow"]
    low, high = interval_of_middle(depth, defaults.ROOT_FORM_LOG_SD)
    return _above_floor(values, Estimate(low, depth, high, "form"))


def _pooled(effective: Estimate, reached: Estimate) -> Estimate:
    """The depth of 95 % of the roots from a handbook depth and from roots that were dug for.

    The one is how deep watering pays, the other what was found: the truth lies between, nearer what
    was found (weights 0.6 and 1, `data` section 2), and the interval spans both.
    """
    weight = defaults.HANDBOOK_WEIGHT
    middle = (weight * math.log(effective.likely) + math.log(reached.likely)) / (weight + 1)
    return Estimate(
        min(effective.low, reached.low),
        math.exp(middle),
        max(effective.high, reached.high),
        effective.origin,
        (*effective.records, *reached.records),
    )


def _above_floor(values: KnownValues, estimate: Estimate) -> Estimate:
    """An interval lifted above what a pot or core has shown at least."""
    floor = max(
        (
            value.low
            for trait in ("effective-rooting-depth", "rooting-depth")
            if (value := values.adopted.get(TraitId(trait))) is not None and value.low is not None
        ),
        default=0.0,
    )
    if estimate.low >= floor:
        return estimate
    likely = max(estimate.likely, floor * 1.2)
    return Estimate(floor, likely, max(estimate.high, likely * 1.5), estimate.origin)


def d50_of(values: KnownValues, d95: Estimate, root_form: Choice) -> Estimate:
    """Depth above which half the roots lie, between D95/8 and D95/1.6 (`trade` 3.4).

    A middle depth from practice or memory was recalled together with a depth of its own; beside a
    cited one that differs it would bend the profile, so the usual share of the root form stands in.
    So it does where studies contradict each other, one's half lying deeper than another's all but (bean by
    minirhizotron, .46 m, against tables of .7 m for nearly all): the doubt then spans both.
    """
    known = values.maybe("root-depth-50")
    if known is not None and known.origin != "cited" and d95.origin == "cited":
        known = None
    share = defaults.HALF_SHARE.get(root_form.value or "", 0.25)
    least, most = d95.likely / 8, d95.likely / 1.6
    if known is not None and least <= known.likely <= most:
        return known
    likely = d95.likely * share
    low, high = interval_of_middle(likely, math.hypot(defaults.HALF_LOG_SD, 0.2))
    if known is not None:
        end = most if known.likely > most else least
        return Estimate(min(low, end), likely, max(high, end), known.origin, (*known.records, *d95.records))
    return Estimate(low, likely, high, d95.origin if d95.known else "form", d95.records)
