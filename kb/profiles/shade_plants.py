"""The most light that a plant bears, from its records, and whether they tell only where it is found."""

from kb.adopt import ONE_SEASON
from kb.adoption.indicators import LIGHT
from kb.mixture.profile import Activity, Choice, Span
from kb.model import Record
from kb.profiles.known_values import KnownValues
from kb.profiles.stand_ins import of_spring

TRAIT = "light-to-scorch"
FOUND = "found"
"""Condition ``extent`` of a record that says in what light a plant is found, not what it bears."""
LOW_FORMS = frozenset({"herb", "fern", "graminoid", "subshrub"})
"""Of trees, shrubs and what climbs the class is of the young plant (Attributes of British and Irish Plants,
PLANTATT 2004, light values: "for canopy trees" of the sapling), which grows up into the light."""


def most_light(values: KnownValues, form: str, cycle: Choice, leaf: Activity) -> Span | None:
    """The share of open light from which a plant may and does suffer; None where nothing says that it does.

    Where a plant is found binds no crop that is sown for one season (`trade` 4.4), none that grows out of the
    shade, and none that does its work while trees are bare: the light of such places is told of summer.
    """
    value = values.maybe(TRAIT)
    if value is None:
        return None
    found = values.rests_on(TRAIT, _tells_where_found)
    if found and (form not in LOW_FORMS or cycle.value in ONE_SEASON or of_spring(values, leaf)):
        return None
    return Span(value.likely, value.high, value.origin, value.records, thin=found, found=found)


def _tells_where_found(record: Record) -> bool:
    return record.trait == LIGHT or record.condition("extent") == FOUND
