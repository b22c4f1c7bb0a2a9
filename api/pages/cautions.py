"""Cautions as a page shows them: grouped by plant, those without one named last, never left out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from api.pages.views import Answer, name_of

NONE_KIND = "none-on-record"
SITE_KIND = "site-work"


@dataclass(frozen=True, slots=True)
class Told:
    """The cautions of an answer: on the work itself, plant by plant, and the plants without."""

    work: tuple[str, ...]
    plants: tuple[tuple[str, str, tuple[Mapping[str, Any], ...]], ...]
    without: tuple[str, ...] = field(default=())


def told(answer: Answer) -> Told:
    """Group the cautions of an answer, in the order in which they came."""
    work: list[str] = []
    plants: dict[str, list[Mapping[str, Any]]] = {}
    without: list[str] = []
    for caution in answer.get("cautions", ()):
        if caution["kind"] == SITE_KIND:
            work.append(caution["text"])
        elif caution["kind"] == NONE_KIND:
            without.append(_name(answer, caution.get("plant")))
        else:
            plants.setdefault(caution.get("plant") or "", []).append(caution)
    named = tuple((plant, _name(answer, plant), tuple(cautions)) for plant, cautions in plants.items())
    return Told(tuple(work), named, tuple(dict.fromkeys(without)))


def _name(answer: Answer, plant: str | None) -> str:
    return name_of(answer, plant) if plant else "This plant"


def source_words(caution: Mapping[str, Any]) -> str:
    """What the link to a caution's record says: its source, or that it is common practice."""
    source = caution.get("source")
    key = source.get("key") if isinstance(source, Mapping) else source
    return f"source: {key}" if key else "source"


def kinds_of(cautions: Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    """The kinds of the cautions of one plant, each once."""
    return tuple(dict.fromkeys(str(c["kind"]) for c in cautions if c["kind"] not in {NONE_KIND, SITE_KIND}))
