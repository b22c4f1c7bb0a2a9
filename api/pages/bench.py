"""What the pages that write show: titles, labels, controls; the fields themselves are `api.fields`."""

import re
from collections.abc import Mapping
from typing import Any

from api.fields import FORMS, ROLES, Field
from api.pages import words
from api.pages.crediting import CreditLines, record_label, source_name
from kb.namespaces import BASE

TITLES = {
    "observation": "Log an observation",
    "record": "Add a record",
    "decision": "Decide between records",
    "caution": "Add a caution",
    "review": "Review a caution",
    "undo": "Take something back",
}
EXPLAINED = {
    "observation": (
        "What you saw on a plant of your own. It bends the estimate for its place first, and that for the "
        "kind a little; it can be withdrawn."
    ),
    "record": "One statement of one source about one trait, with its place there and the printed words.",
    "decision": "The records stay on file; the decision says which count. A preferred one counts alone.",
    "caution": "A warning is shown at once. Retiring one takes two reviewers.",
    "review": "Two different reviewers retire a caution, and neither of them may have entered it.",
    "undo": "A further decision or a withdrawal takes it back; it stays on file and in the history.",
}
BUTTONS = {"undo": "Take it back", "review": "Give the verdict", "decision": "Decide"}
LABELS = {
    "trait": "Trait",
    "value": "Value with its unit, such as 3 m or week 14 to 20",
    "basis": "How you came by it",
    "why": "Why, for those who come after",
    "number_kind": "Kind of figure",
    "source": "Source key",
    "locator": "Where in it: page, table, row",
    "verbatim": "As printed",
    "name_as_printed": "Plant's name as printed",
    "source_citation": "New source: full citation",
    "source_licence": "New source: terms of use",
    "source_identifier": "New source: DOI or address",
    "source_year": "New source: year",
    "source_tier": "New source: A first-hand, B other",
    "condition": "Circumstances, one a line, such as stock=M9",
    "note": "Note",
    "revises": "Corrects the record",
    "place": "Place, coarsely: a region or a name of your own",
    "observed_on": "Day",
    "procedure": "How you measured or judged it",
    "quality": "Measured or estimated",
    "age_years": "Age, years since planting",
    "stock": "Stock",
    "quality_note": "What may be wrong with the figure",
    "caution": "Kind of caution",
    "text": "The warning",
    "part": "Part of the plant",
    "agent": "What does the harm",
    "group": "Who is at risk",
    "as_of": "As of (date of a law)",
    "lookalike": "Mistaken for",
    "verdict": "Verdict",
    "undo": "What is taken back",
}
HINTS = dict.fromkeys(("source", "locator", "verbatim", "name_as_printed"), "unless from practice or memory")
"""What stands beside a field that is not always needed, where it is not simply free."""
LONG = frozenset({"why", "text", "condition", "note", "quality_note", "verbatim", "source_citation"})
MORE = frozenset({"condition", "note", "revises", "part", "agent", "group", "place", "as_of", "lookalike"})
CAUTION_KINDS = tuple((kind, word) for kind, word in words.CAUTION_KIND.items())
CHOICES: Mapping[str, tuple[tuple[str, str], ...]] = {
    "basis": tuple(words.BASIS.items()),
    "number_kind": tuple(words.NUMBER_KIND.items()),
    "quality": (("measured", "measured"), ("estimated", "estimated by eye (counts half)")),
    "verdict": (("retire", "retire it"), ("keep", "keep it")),
}
TAKEN_BACK = re.compile(r"(record|decision|observation|withdrawal)[.]")


def write_page(answer: Mapping[str, Any]) -> dict[str, Any]:
    """What the page of a form needs beside its answer."""
    kind = str(answer["form"])
    hidden = {"plant", *(ROLES if kind == "decision" else ()), *(("trait",) if kind == "decision" else ())}
    fields = [_control(field, kind, answer) for field in FORMS[answer["form"]] if field.name not in hidden]
    later = [
        f for f in fields if f["name"].startswith("source_") or (f["name"] in MORE and kind != "observation")
    ]
    return {
        "form_title": TITLES[kind],
        "form_words": EXPLAINED[kind],
        "form_button": BUTTONS.get(kind, "Write it"),
        "form_links": [(name, word) for name, word in TITLES.items() if name not in {"undo", "review"}],
        "fields": [field for field in fields if field not in later],
        "more_fields": later,
        "more_open": any(answer["given"].get(field["name"]) for field in later),
        "shown_names": {*(field["name"] for field in fields), "weighed"},
        "faults": {fault["parameter"] for fault in answer["errors"]},
        "roles": ROLES,
    }


def _control(field: Field, kind: str, answer: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "name": field.name,
        "label": "Caution" if kind == "review" and field.name == "caution" else LABELS[field.name],
        "required": field.required,
        "hint": HINTS.get(field.name, "may be left out"),
        "long": field.name in LONG,
        "type": "date" if field.name == "observed_on" else None,
        "choices": _choices(field.name, kind, answer),
        "usual": "measured" if field.name == "quality" else "",
    }


def _choices(name: str, kind: str, answer: Mapping[str, Any]) -> list[tuple[str, str]]:
    if name == "caution":
        return list(CAUTION_KINDS) if kind == "caution" else []
    if name in {"trait", "value"}:
        return list(answer[f"{name}s"])
    return list(CHOICES.get(name, ()))


def moment(at: str) -> str:
    """``2026-11-26T17:33:42Z`` -> "26 November 2026, 17:33 UTC"; a day has no time."""
    day, time_mark, rest = at.partition("T")
    return f"{words.day_words(day)}, {rest[:5]} UTC" if time_mark else words.day_words(day)


def doer(event: Mapping[str, Any]) -> str:
    """Who did what: "anna decided"; what an importer brought in is "brought in with biflora"."""
    who, action = str(event["who"]), str(event["action"])
    name = who.removeprefix("importer ")
    return f"brought in with {name}" if name != who and action == "entered" else f"{who} {action}"


def after_words(change: Mapping[str, Any]) -> str:
    """The value after a change; where it reads as before, what else is new about it."""
    before, after = change["before"], change["after"]
    if before is None or after is None or value_or_none(before) != value_or_none(after):
        return value_or_none(after)
    sure = (before["confidence"], after["confidence"])
    if sure[0] != sure[1]:
        return f"the same; confidence {sure[0]}, now {sure[1]}"
    return "the same, from other records"


def local_name(thing: str) -> str:
    """The local IRI of a thing: ``decision.malus-domestica...``."""
    return thing.removeprefix(BASE)


def takes_back(thing: str) -> bool:
    """Whether a thing can be taken back on the page; cautions are reviewed instead."""
    return TAKEN_BACK.match(local_name(thing)) is not None


def thing_label(thing: str, lines: CreditLines) -> str:
    """A short name for a part of a plant: what kind it is, and what it is about."""
    kind, _, rest = local_name(thing).partition(".")
    parts = [part for part in rest.split(".")[1:] if not part.isdigit()]
    about = words.trait_words(parts[0]) if parts else rest
    if kind == "observation" and len(parts) > 1:
        return f"observation of {about} by {parts[-1]}"
    if kind in {"record", "caution"}:
        if kind == "record":
            return record_label(thing, lines)
        said = words.CAUTION_KIND.get(parts[0], about).lower()
        return f"caution: {said}, {source_name(parts[-1], lines)}"
    return f"decision on {about}" if kind == "decision" else f"{kind} {rest.rpartition('.')[2]}"


def value_or_none(value: Mapping[str, Any] | None) -> str:
    return "none" if value is None else words.value_text(value)


def before_bent(value: Mapping[str, Any]) -> str:
    """The value that would be in use without one's own observations."""
    return words.value_text({**value, **value["bent"]})
