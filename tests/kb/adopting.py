"""Invented records of one plant, and what is adopted of them."""

from datetime import date
from decimal import Decimal

from kb.adopt import adopt
from kb.model import Adopted, Decision, Plant, PlantId, Record, SourceKey, Trait, TraitId

PLANT = Plant(
    id=PlantId("inventa-prima"),
    scientific_name="Inventa prima",
    authority=None,
    rank="species",
    according_to=SourceKey("invented"),
    parent=None,
    groups=(),
)


def a_trait(trait_id: str, adoption: str) -> Trait:
    """Give a trait with that rule."""
    return Trait(
        id=TraitId(trait_id),
        label=trait_id,
        definition="",
        kind="number",
        unit=None,
        unit_label="m",
        allowed=None,
        usual=None,
        scheme=None,
        adoption=adoption,
    )


DEEPEST = a_trait("rooting-depth", "log-normal-censored")
EFFECTIVE = a_trait("effective-rooting-depth", "log-normal-censored")


def a_record(number: int, trait: Trait = DEEPEST, **changes: object) -> Record:
    """Give a record; ``changes`` set what the case is about."""
    values: dict[str, object] = {
        "id": f"inventa-prima.{trait.id}.invented.{number}",
        "plant": PLANT.id,
        "trait": trait.id,
        "low": None,
        "likely": None,
        "high": None,
        "concepts": (),
        "number_kind": "single",
        "conditions": (("study", f"study {number}"), ("method", "excavation")),
        "verbatim": "as printed",
        "name_as_printed": "Inventa prima",
        "source": SourceKey("invented"),
        "locator": "p. 1",
        "basis": "read-in-transcription",
        "standing": "proposed",
        "entered_by": "tests",
        "entered_on": date(2026, 11, 25),
    }
    return Record(**{**values, **changes})  # type: ignore[arg-type]


def depth(number: int, metres: str, study: str, method: str = "excavation") -> Record:
    """Give one measured depth in one study."""
    return a_record(number, likely=Decimal(metres), conditions=(("study", study), ("method", method)))


def floor(number: int, metres: str, study: str) -> Record:
    """Give one pot or core that ended in roots."""
    return a_record(number, low=Decimal(metres), number_kind="floor", conditions=(("study", study),))


def adopted(trait: Trait, *records: Record, decisions: tuple[Decision, ...] = ()) -> Adopted:
    """Give the adopted value, which must exist."""
    value = adopt(PLANT, trait, records, decisions)
    assert value is not None
    return value
