"""The sources behind the reasons of an answer, numbered, for the end of a page."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from jinja2 import pass_context
from jinja2.runtime import Context

from api.pages.crediting import CreditLines, Link, record_label
from api.pages.words import record_parts

Answer = Mapping[str, Any]

AFTER = ("conflicts", "limiting", "benefits", "reasons", "jobs", "root_profiles")
"""The parts of an answer whose records a page names after what it says first."""


@dataclass(frozen=True, slots=True)
class Cited:
    """One source: its number on the page, its key, its credit line in full, and the records it gave."""

    number: int
    key: str
    credit: str
    links: tuple[Link, ...]


def cited(
    answer: Answer, lines: CreditLines, plants: Mapping[str, str], first: Sequence[Mapping[str, Any]] = ()
) -> tuple[Cited, ...]:
    """Sources in the order in which the page calls on them, the ``first`` reasons before all else.

    ``plants`` names plants by their ids.
    """
    found: dict[str, dict[str, None]] = {}
    parts = (first, *(answer.get(part) for part in AFTER))
    for record in dict.fromkeys(record for part in parts for record in _records(part)):
        found.setdefault(source_key(record), {})[record] = None
    return tuple(
        Cited(number, key, lines.get(key) or key, _links(records, plants))
        for number, (key, records) in enumerate(found.items(), start=1)
    )


def source_key(record: str) -> str:
    """The key of the source that a record comes from, as its id holds it."""
    parts = record_parts(record)
    return parts[1] if parts else record


def numbers(records: Sequence[str], sources: Iterable[Cited]) -> str:
    """The numbers of the sources of some records, runs joined: "1, 3 to 5"."""
    keys = {source_key(record) for record in records}
    runs: list[list[int]] = []
    for number in (source.number for source in sources if source.key in keys):
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(_run(run) for run in runs)


@pass_context
def numbers_in_context(context: Context, records: Sequence[str]) -> str:
    """The same in a template, by the sources of its page; empty where a page numbers none."""
    return numbers(records, context.get("cited", ()))


def _run(run: Sequence[int]) -> str:
    return ", ".join(map(str, run)) if len(run) < 3 else f"{run[0]} to {run[-1]}"


def _records(part: Any) -> Iterable[str]:
    """Every record that a part of an answer names, however deep."""
    if isinstance(part, Mapping):
        for name, held in part.items():
            if name == "records":
                yield from held or ()
            else:
                yield from _records(held)
    elif isinstance(part, (list, tuple)):
        for one in part:
            yield from _records(one)


def _links(records: Iterable[str], plants: Mapping[str, str]) -> tuple[Link, ...]:
    """One link a record; those about the same stand together, and the later ones are only counted."""
    groups: dict[str, list[str]] = {}
    for record in records:
        groups.setdefault(_label(record, plants), []).append(record)
    return tuple(
        Link(record, label if place == 1 else f"record {place}")
        for label, alike in groups.items()
        for place, record in enumerate(alike, start=1)
    )


def _label(record: str, plants: Mapping[str, str]) -> str:
    """What a record is about, and of which plant."""
    about = record_label(record, {}).rpartition(", ")[0] or record
    named = max((plant for plant in plants if f"record.{plant}." in record), key=len, default=None)
    return f"{about} of {plants[named]}" if named else about
