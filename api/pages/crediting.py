"""What a page calls a source: its credit line, cut to a few words; and links to the records of a reason."""

import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from jinja2 import pass_context
from jinja2.runtime import Context

from api.pages import words

CreditLines = Mapping[str, str]
"""Credit line by source key; a source that is not in it goes by its key."""

NO_LINES: CreditLines = MappingProxyType({})
OF_ENEMY = ".enemy."
"""In the id of a statement on a host: what follows is the pest or disease."""
OF_EMISSION = ".allelopathy."
"""In the id of a statement on harm by what a plant gives off: what follows is that plant."""
MOST_LETTERS = 60
LEAST_LETTERS = 12
MOST_SHOWN = 3
ENDS = ((". ",), (": ", "; ", " (", ", "))
"""Where a credit line may be cut without its sense being lost; a full stop before all else."""


@dataclass(frozen=True, slots=True)
class Link:
    """One record behind a reason: its IRI, and what its link says."""

    record: str
    label: str


def short(credit: str) -> str:
    """A credit line in at most 60 letters, cut where a part of it ends, else after a word."""
    if len(credit) <= MOST_LETTERS:
        return credit
    head = credit[: MOST_LETTERS - 1]
    for marks in ENDS:
        end = max(head.rfind(mark) for mark in marks)
        if end >= LEAST_LETTERS:
            return head[:end].rstrip()
    return (head.rpartition(" ")[0] or head).rstrip(" .,:;") + " \N{HORIZONTAL ELLIPSIS}"


def source_name(key: str, lines: CreditLines) -> str:
    """What a page calls the source of this key."""
    return short(lines[key]) if lines.get(key) else key


def record_label(reference: str, lines: CreditLines) -> str:
    """A short name for a record: what it is about and which source says it."""
    said = words.record_parts(reference)
    if said is None:
        return words.record_id(reference)
    about, key = said
    if OF_EMISSION in reference:
        named = f"what {words.upfirst(words.plain(about))} gives off"
    else:
        named = words.upfirst(words.plain(about)) if OF_ENEMY in reference else words.trait_words(about)
    return f"{named}, {source_name(key, lines)}"


def evidence(records: Sequence[str], lines: CreditLines) -> tuple[tuple[Link, ...], tuple[Link, ...]]:
    """The links that stand in the line, and the rest: no two in the line say the same.

    A trait is named where it first comes, and again after another.
    """
    first: dict[str, str] = {}
    for record in records:
        first.setdefault(record_label(record, lines), record)
    shown = list(first.values())[:MOST_SHOWN]
    return _links(shown, lines), _links([record for record in records if record not in shown], lines)


def all_evidence(records: Sequence[str], lines: CreditLines) -> tuple[Link, ...]:
    """The links to all records, those first that differ most."""
    shown, rest = evidence(records, lines)
    return (*shown, *rest)


def _links(records: Iterable[str], lines: CreditLines) -> tuple[Link, ...]:
    links, before = [], None
    for record in records:
        trait, key = words.record_parts(record) or (None, "")
        again = trait is not None and trait == before
        links.append(Link(record, source_name(key, lines) if again else record_label(record, lines)))
        before = trait
    return tuple(links)


def sort_key(name: str) -> str:
    """Where a name stands in a list: by its letters and figures alone, without accents."""
    plain = unicodedata.normalize("NFKD", name).casefold()
    return "".join(letter for letter in plain if letter.isalnum())


def in_context(filter_: Callable[[Any, CreditLines], Any]) -> Callable[[Context, Any], Any]:
    """A filter that is given the credits of the page."""

    @pass_context
    def filtered(context: Context, value: Any) -> Any:
        return filter_(value, context.get("credit_lines", NO_LINES))

    return filtered
