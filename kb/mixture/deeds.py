"""What has to be done, said once: the same deed for several plants, or sparing several, is one."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from math import ceil

WHOLE_M = 10.0
"""Distances from here on are told in whole metres, shorter ones in tenths."""
MOST_NAMES = 3
"""Plants that one deed names; of more it says how many (judgement: what is read at a glance)."""
VERBS = {"is": "are", "stands": "stand", "gets": "get", "goes": "go"}
"""How a deed goes on after the plant it is done to, for one and for several."""
ONE_OF_A_KIND = (["is", "a"], ["is", "an"])
"""What tells that a plant is to be another kind, which is said of each by itself."""
SPARING = " without moving "


def told(deeds: Iterable[str], *, most: int, others: str = "more like these") -> str:
    """Several deeds in one clause: at most so many by name, the first ones, then how many others.

    >>> told(["leek is lifted without moving onion", "leek is lifted without moving carrot"], most=2)
    'leek is lifted without moving onion and carrot'
    """
    return _told(tuple(deeds), most, others)


@lru_cache(maxsize=1024)
def _told(deeds: tuple[str, ...], most: int, others: str) -> str:
    """Kept by the words themselves: the deeds of a question stay while its figures are moved."""
    said = said_once(deeds)
    named, left = _shortened(said[:most]), len(said) - most
    parting = ", and " if any("," in one or " and " in one for one in named) else " and "
    more = f"{parting}{left} {others}" if left > 0 else ""
    return f"{parting.join(named)}{more}"


def at_least_m(distance_m: float) -> float:
    """A least distance as it is told: rounded up, so that what is told is enough.

    >>> at_least_m(4.41), at_least_m(17.3), at_least_m(18.0)
    (4.5, 18.0, 18.0)
    """
    step = 1.0 if distance_m >= WHOLE_M else 0.1
    return round(ceil(distance_m / step - 1e-9) * step, 1)


def said_once(deeds: Iterable[str]) -> tuple[str, ...]:
    """The deeds, each once, those that differ only in their plants joined; in the order they came in."""
    spared: dict[str, list[str]] = {}
    for deed in dict.fromkeys(deeds):
        stem, sparing, other = deed.partition(SPARING)
        spared.setdefault(stem + sparing, []).extend([other] if sparing else [])
    done: dict[tuple[str, str], list[str]] = {}
    for stem, others in spared.items():
        subject, verb, rest = _parted(f"{stem}{_listed(others)}")
        # A deed that cannot be shared stands under itself.
        done.setdefault((verb, rest) if verb else ("", subject), []).append(subject)
    return tuple(_clause(subjects, *way) for way, subjects in done.items())


def _shortened(clauses: Sequence[str]) -> list[str]:
    """The clauses, without who and verb where these and the next word are as in the clause before."""
    found = list(clauses[:1])
    for before, clause in pairwise(clauses):
        words, same = clause.split(" "), 0
        for mine, its in zip(words, before.split(" "), strict=False):
            if mine != its:
                break
            same += 1
        told = any(word in {*VERBS, *VERBS.values()} for word in words[: same - 1])
        found.append(" ".join(words[same:]) if told and same < len(words) else clause)
    return found


def _parted(deed: str) -> tuple[str, str, str]:
    """Who, the verb and the rest of a deed; all of it as who where others cannot share it."""
    words = deed.split(" ")
    at = next((place for place, word in enumerate(words) if word in VERBS), 0)
    if at == 0 or "or" in words[:at] or words[at:][:2] in ONE_OF_A_KIND:
        return deed, "", ""
    return " ".join(words[:at]), words[at], " ".join(words[at + 1 :])


def _clause(subjects: Sequence[str], verb: str, rest: str) -> str:
    if not verb:
        return subjects[0]
    if len(subjects) == 1:
        return f"{subjects[0]} {verb} {rest}"
    return f"{_listed(subjects)} {VERBS[verb]} {rest.replace(' its own', ' their own')}"


def _listed(names: Sequence[str]) -> str:
    """Names in one go; of many, how many more."""
    if len(names) > MOST_NAMES + 1:
        return f"{', '.join(names[:MOST_NAMES])} and {len(names) - MOST_NAMES} more"
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
