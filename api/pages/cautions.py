"""Cautions as a page shows them: grouped by plant, those without one named last, never left out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from api.pages.crediting import short
from api.pages.views import Answer, name_of

NONE_KIND = "none-on-record"
SITE_KIND = "site-work"


@dataclass(frozen=True, slots=True)
class Told:
    """The cautions of an answer: on the work itself, plant by plant, and the plants without."""

    work: tuple[str, ...]
    plants: tuple[tuple[str, str, tuple[Mapping[str, Any], ...]], ...]
    without: tuple[str, ...] = field(default=())
    advice: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """What several of them advise in the same words, said once for all, and of which kinds it is."""


def told(answer: Answer) -> Told:
    """Group the cautions of an answer, in the order in which they came.

    Two sources that say the same are one line with both; no place, date or source is dropped.
    """
    work: list[str] = []
    plants: dict[str, dict[tuple[str, ...], list[Mapping[str, Any]]]] = {}
    without: list[str] = []
    for caution in answer.get("cautions", ()):
        if caution["kind"] == SITE_KIND:
            work.append(caution["text"])
        elif caution["kind"] == NONE_KIND:
            without.append(_name(answer, caution.get("plant")))
        else:
            same = tuple(str(caution.get(part)) for part in SAME)
            plants.setdefault(caution.get("plant") or "", {}).setdefault(same, []).append(caution)
    named = tuple(
        (plant, _name(answer, plant), tuple(_joined(cautions) for cautions in said.values()))
        for plant, said in plants.items()
    )
    advised: dict[str, list[str]] = {}
    for caution in (one for _, _, said in named for one in said if one.get("advice")):
        advised.setdefault(caution["advice"], []).append(caution["kind"])
    often = {words: tuple(dict.fromkeys(kinds)) for words, kinds in advised.items() if len(kinds) > 1}
    return Told(tuple(work), named, tuple(dict.fromkeys(without)), often)


SAME = ("kind", "text", "lookalike", "group", "advice", "basis")
"""Cautions that agree in these say the same."""


def _joined(cautions: Sequence[Mapping[str, Any]]) -> Mapping[str, Any]:
    """One line for cautions that say the same: its places with their dates, and its sources."""
    places = dict.fromkeys(
        f"{c['place']}, as of {c['as_of']}" if c.get("as_of") else str(c["place"])
        for c in cautions
        if c.get("place")
    )
    sources = [(source_words(c), str(c["id"])) for c in cautions if c.get("id")]
    return {**cautions[0], "places": tuple(places), "sources": sources}


def _name(answer: Answer, plant: str | None) -> str:
    return name_of(answer, plant) if plant else "This plant"


def source_words(caution: Mapping[str, Any]) -> str:
    """What the link to a caution's record says: its source in a few words."""
    source = caution.get("source")
    said = source.get("citation") or source.get("key") if isinstance(source, Mapping) else source
    return short(str(said or "record"))


def kinds_of(cautions: Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    """The kinds of the cautions of one plant, each once."""
    return tuple(dict.fromkeys(str(c["kind"]) for c in cautions if c["kind"] not in {NONE_KIND, SITE_KIND}))
