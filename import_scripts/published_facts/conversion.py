"""From the compilation's traits, units and kinds of number to those of the vocabulary."""

import re
from dataclasses import dataclass
from decimal import Decimal

from import_scripts.base import Row
from import_scripts.quantities import METRES, month_end, month_start, number, week_of_date, week_of_day
from kb.model import NumberKind

NO_TRAIT = {
    "base-temperature": "the vocabulary has no trait for a base temperature",
    "nitrogen-fixed": "the vocabulary has no trait for the amount fixed",
    "root-spread-ratio": "a ratio is no reach of roots",
    "shade-tolerance-scale": "the source prints no key to its classes",
    "sowing-window": "the vocabulary has no trait for a sowing window",
    "storage-organ-depth": "the vocabulary has no trait for the depth of a storage organ",
}
LENGTHS = frozenset(
    {
        "rooting-depth",
        "effective-rooting-depth",
        "root-depth-50",
        "root-spread",
        "mature-height",
        "crown-width",
        "model-rooting-limit",
    }
)
WINDOWS = frozenset({"leaf-window", "flowering-window", "growth-window", "harvest-window"})
FULL_LEAF = ("full leaf", "75 %", "95 %")
ROOT_FORMS: dict[str, tuple[str, ...]] = {
    "surface": ("surface",),
    "heart": ("heart",),
    "heart/surface": ("heart", "surface"),
    "spreading": ("spreading",),
    "tap": ("tap",),
    "suckering": ("suckering",),
    "sinker": ("sinker",),
    "taproot": ("tap",),
    "taproot, fleshy": ("tap",),
    "taproot (persistent, storage)": ("tap",),
    "taproot with side roots": ("tap",),
    "taproot with horizontal secondary roots": ("tap", "spreading"),
    "taproot with wide laterals": ("tap",),
    "taproot, large and fleshy, often several": ("tap",),
    "taproot, upper part fleshy": ("tap",),
    "taproot with long horizontal branches": ("tap",),
    "taproot with long horizontal branches; stems root at nodes": ("tap",),
    "taproot with many shallow horizontal roots": ("tap",),
    "taproot with many horizontal branches at 5-15 cm": ("tap",),
    "taproot (crown) at first, then adventitious roots on stolons": ("tap", "stolon"),
    "shallow taproot with strong horizontal laterals": ("tap",),
    "above-ground runners": ("stolon",),
    "bulb": ("bulb",),
    "bulb with contractile roots": ("bulb",),
    "bulb with unbranched or little branched roots": ("bulb",),
    "fibrous, very shallow; small bulbs": ("fibrous-shallow", "bulb"),
    "fibrous, very shallow; large bulb": ("fibrous-shallow", "bulb"),
    "rhizome (crown) with fleshy storage roots": ("rhizome",),
    "rhizome (crown) with thick deep and horizontal roots": ("rhizome",),
    "fibrous roots, rhizomes, tubers, basal bulbs": ("rhizome", "tuber"),
    "fibrous roots, pencil roots and storage roots": ("tuber",),
    "storage root (enlarged lateral root)": ("tuber",),
    "spreading lateral roots with buds": ("spreading", "suckering"),
}
"""Root forms as the compilation words them -> values of the vocabulary; ``fibrous`` alone says no depth."""
ROOTS = frozenset({"rooting-depth", "effective-rooting-depth", "root-depth-50", "root-spread"})
STEMS = ("rhizome", "underground stem")
"""Words for creeping stems: how deep they lie and how far they run is no depth or reach of roots."""
YOUNG = re.compile(r"\byoung (?:planted )?(?:plants|shrubs|trees)\b")
"""Words of the compilation that the plants measured were young: their depth is not that of grown ones."""
YOUNG_NOTE = "young plants: grown ones reach at least this"
AT_LEAST = {
    "not farthest root": "most roots lie within this: the farthest reach further",
    "zone of most roots": "most roots lie within this: the farthest reach further",
    "small plant": "a small plant: grown ones reach at least this",
    "one young tree": "a young plant: grown ones reach at least this",
    "seedlings": YOUNG_NOTE,
    "depth at distance, not overall": "seen at a distance from the plant: it roots at least so deep",
}
"""What the compilation remarks beside a number that is less than the whole -> why it is a floor."""


@dataclass(frozen=True, slots=True)
class Value:
    """What a fact comes to: numbers in canonical units, or concepts, and the kind of number."""

    kind: NumberKind
    low: Decimal | None = None
    likely: Decimal | None = None
    high: Decimal | None = None
    concepts: tuple[str, ...] = ()
    note: str | None = None


class NotARecord(ValueError):
    """Why a fact cannot become a record."""


def trait_of(row: Row) -> str:
    """The trait that a fact speaks of, in the vocabulary's words. Raises NotARecord."""
    printed = row["trait"]
    if printed in NO_TRAIT:
        raise NotARecord(NO_TRAIT[printed])
    return "cycle-length" if printed == "days-to-maturity" else printed


def value_of(row: Row, trait: str) -> Value:
    """The fact in canonical units. Raises NotARecord where the vocabulary cannot hold it."""
    if trait == "root-form":
        return _root_form(row)
    if trait in WINDOWS:
        return _window(row)
    if trait in LENGTHS:
        return _limited(row, METRES[row["unit"]])
    return _other(row, trait)


def _root_form(row: Row) -> Value:
    concepts = ROOT_FORMS.get(row["value"])
    if concepts is None:
        raise NotARecord(f"the root form '{row['value']}' says neither shallow nor deep")
    if "suckering" in concepts and "rhizome" in row["conditions"] + row["verbatim"]:
        return Value(
            "membership", concepts=("rhizome",), note="the compilation says suckering, the print rhizomes"
        )
    note = row["value"] if row["value"] not in concepts else None
    return Value(
        "membership", concepts=concepts, note=f"as worded in the compilation: {note}" if note else None
    )


def _scaled(row: Row, factor: Decimal) -> tuple[Decimal | None, Decimal | None, Decimal | None]:
    cells = (number(row[column]) for column in ("low", "high", "value"))
    low, high, value = (cell * factor if cell is not None else None for cell in cells)
    if low is None and high is None and value is None:
        raise NotARecord(f"'{row['value']}' is no number")
    return low, high, value


def _limited(row: Row, factor: Decimal) -> Value:
    """A length: floors, ceilings and largest values keep their kind; a layer from 0 is its depth."""
    low, high, value = _scaled(row, factor)
    trait, printed = row["trait"], row["number_kind"]
    _refuse_other_lengths(row, trait)
    less = _why_at_least(row, trait)
    if less:
        return Value("floor", low=high or value or low, note=less)
    if printed in {"floor", "minimum"}:
        return Value("floor", low=low or value or high)
    if printed == "maximum" and trait in {"root-depth-50", "effective-rooting-depth"}:
        return Value("ceiling", high=high or value)
    if printed == "class" and trait == "root-depth-50":
        return Value("ceiling", high=high or value, note="the layer with most roots, not a median")
    if printed == "maximum":
        deepest = value if value is not None else high
        return (
            Value("maximum", likely=deepest) if trait == "rooting-depth" else Value("maximum", high=deepest)
        )
    return _plain(_kind(printed), low, high, value)


def _refuse_other_lengths(row: Row, trait: str) -> None:
    """Raises NotARecord where the length is one of something else than the trait."""
    remark, remarks = row["confidence_note"], row["confidence_note"] + row["conditions"]
    if trait == "root-spread" and "diameter" in remarks:
        raise NotARecord("the printed spread is, or may be, a diameter")
    if trait in ROOTS and any(word in remarks.lower() for word in STEMS):
        raise NotARecord("tells of creeping stems, not of roots")
    if "mechanical measure" in remark:
        raise NotARecord("tells how deep roots hold the soil, not how deep they drink")
    if "branch length" in remark:
        raise NotARecord("gives lengths of branches of young roots, not their reach")


def _why_at_least(row: Row, trait: str) -> str | None:
    """Why the printed number is less than the whole, where the compilation says that it is."""
    remark = row["confidence_note"]
    if trait not in ROOTS - {"root-depth-50"}:
        return None
    young = YOUNG_NOTE if _of_young_plants(row, trait) else None
    if row["number_kind"] in {"floor", "minimum"}:
        return young
    return next((why for words, why in AT_LEAST.items() if words in remark), young)


def _of_young_plants(row: Row, trait: str) -> bool:
    """Whether the number is of young plants.

    How deep to water trees of an age on a stock is kept as printed: their age is a condition, and a floor
    alone would leave the trees on that stock without a depth.
    """
    if trait == "effective-rooting-depth" and "rootstock=" in row["conditions"]:
        return False
    return YOUNG.search(f"{row['conditions']}; {row['confidence_note']}") is not None


def _kind(printed: str) -> NumberKind:
    known: dict[str, NumberKind] = {
        "single": "single",
        "mean": "mean",
        "median": "median",
        "range": "range",
        "class": "class",
        "expert": "expert",
        "maximum": "maximum",
        "floor": "floor",
        "minimum": "minimum",
        "model-limit": "model-limit",
    }
    if printed not in known:
        raise NotARecord(f"the kind of number '{printed}' is not known")
    return known[printed]


def _plain(kind: NumberKind, low: Decimal | None, high: Decimal | None, value: Decimal | None) -> Value:
    if low is not None and low == 0:
        if high is None or value is not None:
            return Value(kind, likely=value if value is not None else high)
        return Value("single", likely=high, note="printed as a layer from the surface down")
    if low is not None and low == high:
        return Value(kind, likely=low)
    if low is None and high is None:
        return Value("single" if kind == "range" else kind, likely=value)
    return Value(kind, low=low, likely=value, high=high)


def _other(row: Row, trait: str) -> Value:
    unit, printed = row["unit"], row["number_kind"]
    if trait == "nitrogen-uptake" and unit == "kg N/ha":
        if "part=" in row["conditions"] and "part=Total" not in row["conditions"]:
            raise NotARecord("speaks of a part of the crop, not of the whole")
        low, high, value = _scaled(row, Decimal("0.1"))
        return (
            Value("maximum", high=value) if printed == "maximum" else _plain(_kind(printed), low, high, value)
        )
    if trait == "cycle-length" and unit == "days":
        return _plain(_kind(printed), *_scaled(row, Decimal(1)))
    if trait == "leaf-area-index":
        low, high, value = _scaled(row, Decimal(1))
        return Value("floor", low=value) if printed == "floor" else _plain(_kind(printed), low, high, value)
    if trait == "crown-transmission" and unit.startswith("% of"):
        return _plain(_kind(printed), *_scaled(row, Decimal("0.01")))
    if trait == "light-to-crop" and unit == "% of full light at which yield levels off":
        return Value("single", high=_scaled(row, Decimal("0.01"))[2])
    raise NotARecord(f"'{unit}' is no measure of {trait} that the vocabulary can hold")


def _window(row: Row) -> Value:
    if row["number_kind"] == "minimum":
        raise NotARecord("the earliest date on record is no window of an ordinary year")
    if "any month" in row["confidence_note"] or "very wide" in row["confidence_note"]:
        raise NotARecord("flowers in any month: the mean date says nothing")
    if any(stage in row["conditions"] for stage in FULL_LEAF):
        raise NotARecord("speaks of leaves at full size, not of the start of the leaf season")
    unit = row["unit"]
    if unit == "day of year":
        first = number(row["value"])
        if first is None:
            raise NotARecord(f"'{row['value']}' is no day of the year")
        return Value(_kind(row["number_kind"]), low=week_of_day(first))
    if unit == "month":
        early = Decimal(10) / 7 if "early" in row["high"] else None
        last = int(row["high"][:2])
        end = month_start(last) + round(early, 1) if early else month_end(last)
        return Value("range", low=month_start(int(row["low"])), high=end)
    if unit == "month-day":
        if row["low"] and row["high"]:
            return Value("range", low=_week(row["low"]), high=_week(row["high"]))
        return Value(_kind(row["number_kind"]), low=_week(row["value"]))
    raise NotARecord(f"'{unit}' depends on a frost date that the fact does not give")


def _week(month_day: str) -> Decimal:
    month, _, day = month_day.partition("-")
    return week_of_date(int(month), int(day))
