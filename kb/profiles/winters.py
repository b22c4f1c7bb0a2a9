"""What winters a plant is known to live with: a sign of its climate, not of what it bears, never degrees."""

from kb.mixture.profile import Choice
from kb.model import Plant, TraitId
from kb.profiles import defaults
from kb.profiles.known_values import KnownValues

OF_COLD_FLORAS = (
    "light-indicator-1-7",
    "moisture-indicator-1-12-swedish",
    "reaction-indicator-1-8",
    "flowering-class-1-15",
)
"""Scales of the flora of Sweden (Tyler et al. 2021): what lives wild there lives with frozen ground."""


def winters_of(values: KnownValues, plant: Plant) -> Choice:
    """``none`` of a crop of the tropics; ``cold`` or ``mild`` by hardiness, ``cold`` by flora."""
    if defaults.TROPICAL_GROUP in plant.groups:
        return Choice("none", "common-practice")
    hardiness = values.maybe("hardiness")
    if hardiness is not None:
        cold = hardiness.likely <= defaults.CHILL_BELOW_C
        return Choice("cold" if cold else "mild", hardiness.origin, hardiness.records)
    for trait in OF_COLD_FLORAS:
        value = values.adopted.get(TraitId(trait))
        if value is not None:
            return Choice("cold", values.origin(value), value.records)
    return Choice(None, "assumed")
