"""Values as people write them, with their unit: "3 m", "45 cm", "-18 °C", "week 14 to 20", "herb".

Nothing is guessed: a unit of another dimension, a missing unit and an unknown concept are refused.
"""

import difflib
import re
from dataclasses import dataclass
from decimal import Decimal
from typing import get_args

from kb.errors import BadParameter, ParameterFault
from kb.model import NumberKind, Trait
from kb.units import UNITS, convert, unit
from kb.vocabulary_store import Vocabulary

NUMBER = r"[+\-−]?[0-9]+(?:\.[0-9]+)?"
RANGE = re.compile(
    rf"^(?P<low>{NUMBER})\s*(?P<first>[^0-9\s.\-–][^\s]*)?\s*(?:\.\.|–|-|\bto\b)\s*(?P<high>{NUMBER})\s*(?P<unit>.*)$"
)
SINGLE = re.compile(rf"^(?P<value>{NUMBER})\s*(?P<unit>.*)$")
WEEKS = re.compile(r"^(?:weeks?\s+|w\s?)(.*)$", re.IGNORECASE)
OPEN_WEEK = re.compile(rf"^(?P<word>from|until)\s+(?:week\s+)?(?P<week>{NUMBER})$", re.IGNORECASE)
WRITTEN = {
    "°c": "degC",
    "° c": "degC",
    "deg c": "degC",
    "degc": "degC",
    "°f": "degF",
    "° f": "degF",
    "deg f": "degF",
    "degf": "degF",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "days": "day",
    "years": "year",
    "weeks": "week",
    "hours": "hour",
    "feet": "ft",
    "foot": "ft",
    "inch": "in",
    "inches": "in",
    "%": "percent",
    "g/m²": "g/m2",
    "kg/m²": "kg/m2",
    "ph": "pH",
}
"""Ways of writing a unit -> its label in the table of units."""
LOWER_KINDS = frozenset({"floor", "minimum"})
UPPER_KINDS = frozenset({"ceiling", "maximum"})
MAX_LENGTH = 200
DIGITS = 12


@dataclass(frozen=True, slots=True)
class ReadValue:
    """A value in the trait's own unit and the kind of number that it is."""

    low: Decimal | None
    likely: Decimal | None
    high: Decimal | None
    concepts: tuple[str, ...]
    number_kind: NumberKind


def read_value(trait: Trait, text: str, kind: str | None, vocabulary: Vocabulary) -> ReadValue:
    """What was written, in the trait's unit. Raises BadParameter where it is no value of this trait.

    ``kind`` says what sort of figure the source prints; a single figure with none given is ``single``.
    """
    text = text.strip()
    if not text or len(text) > MAX_LENGTH:
        raise _fault("value", f"is missing or longer than {MAX_LENGTH} letters; {_example(trait)}")
    if kind is not None and kind not in get_args(NumberKind):
        raise _fault("number_kind", f"'{kind}' is none of {', '.join(get_args(NumberKind))}")
    if trait.kind == "concept":
        return _concepts(trait, text, kind, vocabulary)
    if trait.kind == "window":
        return _window(trait, text, kind)
    return _numbers(trait, text, kind)


def _fault(parameter: str, detail: str) -> BadParameter:
    return BadParameter((ParameterFault(parameter, detail),))


def _example(trait: Trait) -> str:
    if trait.kind == "window":
        return "give weeks, such as 'week 14 to 20'"
    if trait.kind == "concept":
        return f"give a value of the list; 'traitbed traits {trait.id}' shows it"
    label = _shown_unit(trait)
    return f"give a number{f' with its unit, such as 3 {label}' if label else ''}"


def _shown_unit(trait: Trait) -> str:
    """The unit that must be written, empty where the trait is a bare number or pH."""
    if trait.unit is None:
        return ""
    label = unit(trait.unit).label
    return "" if label in {"1", "pH"} else label


def _concepts(trait: Trait, text: str, kind: str | None, vocabulary: Vocabulary) -> ReadValue:
    if kind not in {None, "membership", "class", "expert"}:
        raise _fault("number_kind", f"'{kind}' is a kind of number; {trait.id} is told by named values")
    found = []
    for name in (part.strip() for part in text.split(",")):
        concept = vocabulary.concept(trait.scheme or "", name)
        if concept is None:
            known = vocabulary.concepts.get(trait.scheme or "", {})
            near = difflib.get_close_matches(name, known, n=3) or list(known)[:8]
            raise _fault("value", f"'{name[:60]}' is no value of {trait.id}; there is {', '.join(near)}")
        found.append(concept.id)
    return ReadValue(None, None, None, tuple(sorted(set(found))), "membership")


def _window(trait: Trait, text: str, kind: str | None) -> ReadValue:
    half = OPEN_WEEK.match(text)
    if half is not None:
        week = _decimal(half["week"])
        starts = half["word"].lower() == "from"
        return ReadValue(week if starts else None, None, None if starts else week, (), "single")
    bare = WEEKS.sub(r"\1", text)
    if bare == text:
        raise _fault("value", f"'{text[:60]}' names no weeks; {_example(trait)}")
    ends = RANGE.match(re.sub(r"\bweek\s+", "", bare, flags=re.IGNORECASE))
    if ends is None or ends["unit"] or ends["first"]:
        raise _fault("value", f"'{text[:60]}' is no window; {_example(trait)} or 'from week 14'")
    return ReadValue(_decimal(ends["low"]), None, _decimal(ends["high"]), (), _kind(kind, "range"))


def _kind(given: str | None, usual: NumberKind) -> NumberKind:
    return next((known for known in get_args(NumberKind) if known == given), usual)


def _numbers(trait: Trait, text: str, kind: str | None) -> ReadValue:
    text = re.sub(r"^pH\s+", "", text, flags=re.IGNORECASE)
    span = RANGE.match(text)
    if span is not None:
        if span["first"] and span["first"] != span["unit"]:
            raise _fault("value", f"'{text[:60]}' mixes units; write both figures in one")
        low, high = (_in_unit(trait, span[end], span["unit"]) for end in ("low", "high"))
        if low > high:
            raise _fault("value", f"'{text[:60]}' has its lower figure above the upper one")
        if kind is not None and kind in LOWER_KINDS | UPPER_KINDS | {"single"}:
            raise _fault("number_kind", f"'{kind}' has one figure, '{text[:60]}' has two")
        return ReadValue(low, None, high, (), _kind(kind, "range"))
    single = SINGLE.match(text)
    if single is None:
        raise _fault("value", f"'{text[:60]}' is no number; {_example(trait)}")
    value = _in_unit(trait, single["value"], single["unit"])
    if kind == "range":
        raise _fault("number_kind", f"a range has two figures, '{text[:60]}' has one")
    if kind in LOWER_KINDS:
        return ReadValue(value, None, None, (), _kind(kind, "floor"))
    if kind in UPPER_KINDS:
        return ReadValue(None, None, value, (), _kind(kind, "ceiling"))
    return ReadValue(None, value, None, (), _kind(kind, "single"))


def _decimal(text: str) -> Decimal:
    if len(text) > DIGITS:
        raise _fault("value", f"'{text[:20]}…' has more than {DIGITS} figures")
    return Decimal(text.replace("−", "-"))


def _in_unit(trait: Trait, text: str, written: str) -> Decimal:
    """A figure in the trait's unit. Raises BadParameter where the unit is missing or of another kind."""
    value = _decimal(text)
    own = _shown_unit(trait)
    label = WRITTEN.get(written.strip().lower(), written.strip())
    if not own:
        if label and label.lower() not in {"ph", "1", (trait.unit_label or "").lower()}:
            if label == "percent" and trait.unit_label and "share" in trait.unit_label:
                return convert(value, "percent", "1")
            raise _fault(
                "value", f"{trait.id} is a bare figure ({trait.unit_label}); leave '{label[:30]}' out"
            )
        return value
    if not label:
        raise _fault(
            "value", f"'{text}' has no unit; {trait.id} is kept in {own}, write such as {text} {own}"
        )
    if re.match(r"[,.]?\d|[eE]\d", label):
        raise _fault(
            "value",
            f"'{text}{written.strip()[:30]}' is no plain figure with its unit; write a decimal point and no "
            f"power of ten, such as 1.5 {own}",
        )
    try:
        return convert(value, label, own)
    except BadParameter:
        kind = unit(own).kind
        fitting = ", ".join(one.label for one in UNITS if one.kind == kind)
        detail = f"'{text} {label[:30]}' is no {kind}; {trait.id} is kept in {own} and taken in {fitting}"
        raise _fault("value", detail) from None
