"""How values are said on a page: rounding, units, weeks, and plain words for closed lists.

Numbers are rounded for reading only, after everything is computed; the JSON answer keeps them.
"""

import math
import re
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any
from urllib.parse import quote

from kb.ids import TraitId
from kb.namespaces import BASE
from kb.vocabulary_store import load_vocabulary

DASH = "\N{EN DASH}"
THIN = "\N{NARROW NO-BREAK SPACE}"

BASIS: Mapping[str, str] = {
    "read-in-source": "read in the source itself",
    "read-in-transcription": "read in a transcription of the source",
    "read-in-excerpt": "read in an excerpt of the source",
    "second-hand": "quoted by another work; the source itself was not read",
    "common-practice": "common practice in the trade; no single source",
    "recalled": "recalled from memory and not checked",
    "derived": "worked out from other records",
}
ORIGIN: Mapping[str, str] = {
    "cited": "cited, at least in part",
    "common-practice": "common practice in the trade; no single source",
    "recalled": "recalled from memory and not checked",
    "genus": "not on record for this plant: a guess from its near kin",
    "form": "not on record: a guess from its depth, its kind of root or its growth form",
    "assumed": "not on record: a guess that serves for any plant",
}
JOB_ORIGIN: Mapping[str, str] = {
    **ORIGIN,
    "genus": "in part a figure of its near kin",
    "form": "in part a usual figure of its kind",
    "assumed": "in part a usual figure",
}
"""The same of when a plant covers, flowers or bears: a first day on record may have a usual length."""
NUMBER_KIND: Mapping[str, str] = {
    "single": "one measurement",
    "mean": "a mean",
    "median": "a median",
    "range": "a range",
    "maximum": "the largest found",
    "minimum": "the smallest found",
    "class": "a class on a named scale",
    "floor": "at least this (a pot or core ended there)",
    "ceiling": "at most this",
    "expert": "an expert's estimate",
    "membership": "listed as such",
    "model-limit": "a limit used in a model",
}
STANDING: Mapping[str, str] = {
    "proposed": "nobody has decided on it yet",
    "accepted": "accepted by a decision",
    "outweighed": "outweighed by other records, by a decision",
    "superseded": "replaced by a later record",
    "rejected": "rejected by a decision",
}
CONFIDENCE: Mapping[str, str] = {
    "high": "high: three or more independent studies agree",
    "medium": "medium: two studies, or one measured",
    "low": "low: one source, a class or an estimate",
    "contested": "contested: the sources differ by more than three times",
}
KIND: Mapping[str, str] = {
    "roots": "Roots",
    "light": "Light",
    "season": "Season",
    "family": "Family",
    "enemies": "Shared enemies",
    "nitrogen": "Nitrogen",
    "water": "Water",
    "ph": "Soil reaction",
    "hardiness": "Cold",
    "support": "Support",
    "spread": "Spread",
    "allelopathy": "Harmful to neighbours",
    "digging": "Digging",
    "cover": "Ground cover",
    "flowers": "Flowers",
    "law": "Law",
    "site": "Site",
}
CAUTION_KIND: Mapping[str, str] = {
    "toxic": "Poisonous",
    "food-use": "Food use",
    "lookalike": "Look-alike",
    "skin": "Skin",
    "allergen": "Allergy",
    "thorn": "Thorns",
    "livestock": "Animals",
    "invasive": "Spreads into the wild",
    "prohibited": "Restricted by law",
}
VERDICT: Mapping[str, str] = {
    "good": "good",
    "workable": "workable",
    "poor": "poor",
    "avoid": "avoid",
    "like": "like with like",
}
SIDE: Mapping[str, str] = {"N": "north", "E": "east", "S": "south", "W": "west"}
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def plain(word: str) -> str:
    """An id as words: ``light-to-crop`` reads "light to crop"."""
    return word.replace("-", " ").replace("_", " ")


def trimmed(value: float, digits: int) -> str:
    """A number with at most so many decimals and no trailing zeros; a real minus sign."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "\N{MINUS SIGN}") if text != "-0" else "0"


def number(value: float) -> str:
    """A number to three figures and at most two decimals, for units without a rule of their own."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else DASH
    return trimmed(value, min(2, max(0, 2 - math.floor(math.log10(abs(value))))))


def metres(value: float) -> str:
    """Metres without the unit: to 0.01 under 0.2 m, to 0.05 under 3 m, to 0.1 above."""
    if abs(value) < 0.2:
        return trimmed(value, 2)
    return trimmed(round(value * 20) / 20, 2) if abs(value) < 3 else trimmed(value, 1)


def tree_metres(tree: Mapping[str, Any], name: str, times: int = 1) -> str:
    """A size of a tree without its unit: as it was said, or a guess of it to 0.1 m (``times`` 2: a width)."""
    size = float(tree[name])
    return trimmed(times * (size if name in tree.get("given", ()) else round(size, 1)), 2)


def depth(depth_m: float) -> str:
    """A depth in soil to the nearest 5 cm (1 cm under 20 cm), as sentences use it."""
    centimetres = depth_m * 100
    return f"{round(centimetres) if centimetres < 20 else 5 * round(centimetres / 5)}\N{NO-BREAK SPACE}cm"


def percent(share: float | None) -> str:
    """A share (0-1) in whole per cent, for tables."""
    return DASH if share is None else f"{round(100 * share)}{THIN}%"


def about(share: float) -> str:
    """A share (0-1) to the nearest 5 %, for sentences."""
    nearest = 5 * round(20 * share)
    if nearest == 0:
        return "next to nothing" if share < 0.01 else f"under 5{THIN}%"
    return "all" if nearest == 100 and share > 0.99 else f"about {nearest}{THIN}%"


def month_of_week(week: float) -> str:
    """The month in which most of an ISO week lies (its Thursday), in a year of 52 weeks."""
    whole = min(52, max(1, math.floor(week)))
    return MONTHS[date.fromisocalendar(2025, whole, 4).month - 1]


def week(value: float) -> str:
    """An ISO week with its month: "week 14 (April)"."""
    return f"week {min(52, max(1, math.floor(value)))} ({month_of_week(value)})"


def with_unit(value: float, unit: str | None) -> str:
    """One number as read, without the unit, rounded by what the unit is."""
    if unit == "m":
        return metres(value)
    if unit is not None and unit.startswith("share"):
        return str(round(100 * value))
    return str(round(value)) if unit == "days" else number(value)


AROUND: Mapping[str, tuple[str, str]] = {
    "1-12": ("", " on the scale from 1 to 12"),
    "class": ("class ", ""),
    "days": ("", " days"),
    "deg C": ("", f"{THIN}°C"),
    "g/m2": ("", f"{THIN}g/m²"),
    "km/m2": ("", f"{THIN}km of roots under each m²"),
    "m2/m2": ("", f"{THIN}m² of leaf per m² of ground"),
    "of reference evapotranspiration": ("", " times the reference evapotranspiration"),
    "pH": ("pH ", ""),
    "share": ("", f"{THIN}%"),
    "share of available water": ("", f"{THIN}% of the available water"),
    "share of open light": ("", f"{THIN}% of open light"),
}
"""What is printed before and after a number, by the unit's label in the vocabulary."""


def dressed(number_text: str, unit: str | None) -> str:
    """A number's text with its unit; a unit without a rule of its own follows as it is."""
    if unit is None:
        return number_text
    before, after = AROUND.get(unit, ("", f"{THIN}{unit}"))
    return f"{before}{number_text}{after}"


def value_text(value: Mapping[str, Any]) -> str:
    """A record's or an adopted value as a phrase: concept words, a window, or low-likely-high."""
    concept = value.get("concept")
    if concept:
        return concept_words(str(concept))
    low, likely, high = (value.get(key) for key in ("low", "likely", "high"))
    unit = value.get("unit")
    if unit == "week":
        others = value.get("other_sowings") or ()
        return "; also ".join((_window(low, high), *(_window(o["low"], o["high"]) for o in others)))
    kind = value.get("number_kind")
    if kind == "floor" and low is not None:
        return f"at least {dressed(with_unit(low, unit), unit)}"
    if kind == "ceiling" and high is not None:
        return f"at most {dressed(with_unit(high, unit), unit)}"
    return _interval(low, likely, high, unit)


def _window(start: float | None, end: float | None) -> str:
    """The weeks of a window; one end may be all that is known."""
    if start is not None and end is not None:
        return f"{week(start)} to {week(end)}"
    if start is not None:
        return f"from {week(start)}; end not known"
    return DASH if end is None else f"until {week(end)}; start not known"


def _interval(low: float | None, likely: float | None, high: float | None, unit: str | None) -> str:
    if likely is not None and low is not None and high is not None and low != high:
        span = f"{with_unit(low, unit)} to {with_unit(high, unit)}"
        return f"{dressed(with_unit(likely, unit), unit)} ({span})"
    if likely is None and low is not None and high is not None and low != high:
        return dressed(f"{with_unit(low, unit)} to {with_unit(high, unit)}", unit)
    if likely is None and high is None and low is not None:
        return f"at least {dressed(with_unit(low, unit), unit)}"
    if likely is None and low is None and high is not None:
        return f"at most {dressed(with_unit(high, unit), unit)}"
    only = likely if likely is not None else low
    return DASH if only is None else dressed(with_unit(only, unit), unit)


def job_origin(job: str, origin: str) -> str:
    """What a job of a plant rests on where that is not cited; how deep it roots is told as roots are."""
    if origin == "cited":
        return ""
    return (ORIGIN if job == "deep roots" else JOB_ORIGIN).get(origin, plain(origin))


def record_id(reference: str) -> str:
    """The id of a record, caution or decision behind its IRI; an id comes back as it is."""
    rest = reference.removeprefix(BASE)
    return rest.removeprefix("record.")


def record_url(reference: str) -> str:
    """Where a record opens."""
    return f"/records/{quote(record_id(reference), safe='')}"


def record_parts(reference: str) -> tuple[str, str] | None:
    """The trait that a record is about and the key of its source, as its id holds them."""
    parts = record_id(reference).split(".")
    if parts and parts[-1].isdigit():
        parts.pop()
    return (parts[-2], parts[-1]) if len(parts) >= 3 else None


def trait_words(trait: str) -> str:
    """What a trait is called in a sentence: the vocabulary's label without what is in brackets."""
    known = load_vocabulary().traits.get(TraitId(trait))
    return known.label.partition(" (")[0] if known else plain(trait)


def concept_words(concept: str, scheme: str | None = None) -> str:
    """A word of a closed list: the vocabulary's label, else its id as words.

    Without a scheme it is a value of some trait; no two traits give one id two labels.
    """
    vocabulary = load_vocabulary()
    for held in (scheme,) if scheme else vocabulary.traits:
        known = vocabulary.concepts.get(str(held), {}).get(concept)
        if known:
            return known.label
    return plain(concept)


def plant_url(plant: str) -> str:
    """The page of a plant."""
    return f"/plants/{quote(plant, safe='')}"


def scientific(plant: str) -> str:
    """A readable botanical name made from a plant id, where the answer carries none."""
    words = plant.partition("#")[0].replace(".", " ").replace("-x-", " × ").replace("-", " ")
    return words[:1].upper() + words[1:]


def conditions_text(conditions: Mapping[str, Any]) -> str:
    """The conditions of a record as one phrase: "method profile; age 12 years"."""
    return "; ".join(f"{plain(key)}: {value}" for key, value in conditions.items())


def span_text(span: Sequence[float | None] | None, unit: str, meaning: str | None) -> str:
    """A printed span with what it is a span of: "305 to 805 m (between hosts)"; empty where there is none."""
    if span is None:
        return ""
    low, high = (None if end is None else f"{end:g}" for end in span)
    if (high or low) == "1":
        unit = unit.removesuffix("s")
    if low is not None and high is not None:
        said = f"{low} {unit}" if low == high else f"{low} to {high} {unit}"
    else:
        said = f"at least {low} {unit}" if high is None else f"up to {high} {unit}"
    return f"{said} ({plain(meaning)})" if meaning else said


def tint(share: float) -> int:
    """The grey step 0 (full light) to 8 (none) behind a printed light share; black text reads on all."""
    return min(8, max(0, 8 - int(share * 9)))


def field(value: object, default: float, digits: int) -> str:
    """A number for a form field: plain digits with a point, as the parameters are read."""
    number = value if isinstance(value, (int, float)) else default
    return f"{number:.{digits}f}".rstrip("0").rstrip(".") if digits else f"{number:.0f}"


def years(value: object, default: str) -> str:
    """Years for a form field, with commas."""
    return ",".join(str(year) for year in value) if isinstance(value, (list, tuple)) else default


def yearly_date(text: str) -> str:
    """A date of every year, ``--05-10``, as words: 10 May."""
    _, _, month, day = text.split("-")
    return f"{int(day)} {MONTHS[int(month) - 1]}"


def day_words(day: str) -> str:
    """A day ``2026-11-25`` as words: 25 November 2026; anything else stays as it is."""
    try:
        read = date.fromisoformat(day)
    except ValueError:
        return day
    return f"{read.day} {MONTHS[read.month - 1]} {read.year}"


def latitude(degrees: float) -> str:
    """Degrees with the hemisphere's letter: 51° N."""
    return f"{trimmed(abs(degrees), 1)}° {'S' if degrees < 0 else 'N'}"


def upfirst(text: str) -> str:
    """The text with its first letter a capital, the rest as it is."""
    return text[:1].upper() + text[1:]


def tidy(text: str) -> str:
    """A sentence of an answer: first letter a capital, numbers and their units kept on one line."""
    return upfirst(_UNIT_AFTER.sub("\N{NO-BREAK SPACE}", text))


def halves(text: str) -> tuple[str, str]:
    """A sentence cut before what explains it (after a colon, in brackets); the second may be empty."""
    found = _EXPLAINS.search(text)
    return (text[: found.start()], text[found.start() :]) if found else (text, "")


_EXPLAINS = re.compile(r": | \(")
_UNIT_AFTER = re.compile(r"(?<=\d) (?=(?:%|m|cm|mm|kg|g|°)(?:\W|$))")


def rule_alone(sureness: Mapping[str, Any]) -> bool:
    """Whether a rule decides by itself: in every draw the same word, so that no number would change it."""
    return bool(sureness.get("by_rule")) and sureness["share_of_draws"] >= 1
