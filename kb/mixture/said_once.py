"""Sentences that differ in one plant only, said once with all these plants.

>>> said_once(["mint runs into kale: it has to be cut back.", "mint runs into leek: it has to be cut back."],
...           ["mint", "kale", "leek"])
[('mint runs into kale and leek: it has to be cut back.', (0, 1))]

A plant that does something stands first and keeps a sentence of its own: only those to whom it is done are
joined, and only where no verb of theirs follows.
"""

import re
from collections.abc import Iterable, Sequence

from kb.mixture.counting import listed

MOST_JOINED = 6
"""So many plants one sentence names; the rest are a number."""
SLOT = "\x00"
ASIDE = r"(?: \([^()]*\))?"
"""What is said of a plant in brackets behind its name goes with it."""
FOLLOWS = re.compile(r"$|[.:,;]| (?:by|in|from|at|with|to)\b")
"""What may follow a name that others can stand beside: the end, a stop, or how or where it is done."""


def said_once(texts: Sequence[str], names: Iterable[str]) -> list[tuple[str, tuple[int, ...]]]:
    """The sentences, those that differ in one joinable plant as one, each with the places of its parts."""
    found: dict[tuple[str, ...], list[tuple[int, str, str]]] = {}
    pattern = _any_of(names)
    for place, text in enumerate(texts):
        shape, who = _shape(text, pattern)
        found.setdefault((shape,) if who else (text,), []).append((place, who, text))
    return [(_joined(shape[0], parts), tuple(place for place, *_ in parts)) for shape, parts in found.items()]


def shape_of(text: str, names: Iterable[str]) -> str:
    """A sentence without the plant in which others of its kind differ."""
    return _shape(text, _any_of(names))[0]


def _any_of(names: Iterable[str]) -> re.Pattern[str] | None:
    longest_first = sorted({name for name in names if name}, key=lambda name: (-len(name), name))
    if not longest_first:
        return None
    return re.compile(rf"(?<![\w-])({'|'.join(map(re.escape, longest_first))})(?![\w-])({ASIDE})")


def _shape(text: str, pattern: re.Pattern[str] | None) -> tuple[str, str]:
    """The sentence with a slot in place of the last plant that can be joined, and that plant."""
    hits = list(pattern.finditer(text)) if pattern else []
    for last in reversed(hits):
        name = last[1]
        same = [hit for hit in hits if hit[1] == name]
        if same[0].start() > 0 and all(FOLLOWS.match(text, hit.end()) for hit in same):
            shape, end = "", 0
            for hit in same:
                shape += text[end : hit.start()] + SLOT
                end = hit.end()
            return shape + text[end:], f"{name}{max((hit[2] for hit in same), key=len)}"
    return text, ""


def _joined(shape: str, parts: Sequence[tuple[int, str, str]]) -> str:
    who = list(dict.fromkeys(who for _, who, _ in parts))
    if len(who) == 1:
        return parts[0][2]
    more = len(who) - MOST_JOINED
    return shape.replace(SLOT, listed([*who[:MOST_JOINED], *([f"{more} more"] if more > 0 else [])]))
