"""Verbs that agree with plural names: "cole crops go without", where the texts are made for one plant.

English tells the number of a name by its last word, so nothing has to be recorded for it. Names that end so
and are no plural by all dictionaries (avens, ramsons) are read as plurals too, which they may be.
"""

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

from kb.mixture.kept import KeptBy

SINGULAR_ENDS = ("ss", "us", "is", "as", "'s")
"""Endings in s of words that are no plurals: cress, asparagus, orris, sassafras."""
IRREGULAR = {"is": "are", "has": "have", "was": "were", "does": "do", "goes": "go"}
NO_VERBS = frozenset({"as", "its", "this", "thus", "always", "perhaps", "plus", "besides", "weeks", "years"})
SUBJECT = r"(?:^|[.:;,(] |\b(?:unless|that|if|while|where|when|how|what|whether|which|after|before) )"
"""What stands before a name that is the subject of a clause: "Shade of chives costs" has another one."""
BEHIND = {
    " it would find in a bed of its own": " they would find in a bed of their own",
    " to itself": " to themselves",
    " a frame of its own": " a frame of their own",
    " a host": " hosts",
    " before it flowers": " before they flower",
    " of its growing": " of their growing",
    " of its yield": " of their yield",
    " in its own weeks": " in their own weeks",
}
"""Words behind the verb that mean its subject again: of one, and of many."""
SPENT = r"\bcosts?"
"""What goes before a name that pays: "costs chives about 10 % of their crop"."""
ASIDE = r"(?:, (?:sown|planted|set|taken)[^,.;:]*,)?"
_NO_WORDS = frozenset({float, int, bool, type(None)})
VERBATIM = frozenset(
    {"cautions", "question", "records", "names", "as_printed", "root_profiles", "loss", "score"}
)
"""Parts of an answer that hold words of sources or of the asker, or numbers alone."""


@lru_cache(maxsize=4096)
def is_plural(name: str) -> bool:
    """Whether a common name is a plural.

    >>> [is_plural(n) for n in ("cole crops", "chives", "squash and pumpkin", "asparagus", "garden cress")]
    [True, True, True, False, False]
    """
    last = name.rpartition(" ")[2]
    return " and " in name or (last.endswith("s") and not last.endswith(SINGULAR_ENDS))


def for_many(verb: str) -> str:
    """A verb of one as that of many.

    >>> [for_many(v) for v in ("goes", "carries", "lies", "reaches", "bears", "over-runs")]
    ['go', 'carry', 'lie', 'reach', 'bear', 'over-run']
    """
    if verb in IRREGULAR:
        return IRREGULAR[verb]
    if verb.endswith("ies") and len(verb) > len("lies"):
        return f"{verb[:-3]}y"
    return verb[:-2] if verb.endswith(("ches", "shes", "sses", "xes")) else verb[:-1]


def plurals(names: Iterable[str]) -> frozenset[str]:
    """Those of the names that are plurals."""
    return frozenset(name for name in names if is_plural(name))


def agreed(
    answer: dict[str, Any], names: Iterable[str], plural: frozenset[str] = frozenset()
) -> dict[str, Any]:
    """The answer with the verbs behind plural names made plural, in all texts that the service words.

    ``plural`` are names that are known to be.
    """
    own = tuple(names)
    verbs = _VERBS.of((plural,), own, lambda: _verbs_behind(plural | plurals(own)))
    if verbs is None:
        return answer
    return {key: value if key in VERBATIM else _worded(value, verbs) for key, value in answer.items()}


class _Verbs:
    """What finds the verbs behind some names; a key by itself, as a pattern is hashed by all it holds."""

    __slots__ = ("behind",)

    def __init__(self, behind: re.Pattern[str]) -> None:
        self.behind = behind


_VERBS: KeptBy[_Verbs | None] = KeptBy(256)
"""By the plurals of a version themselves and the names beside them: to join them goes through them all."""


def _verbs_behind(names: frozenset[str]) -> _Verbs | None:
    """The verbs behind these names, the longest name first; None where there are none."""
    if not names:
        return None
    known = "|".join(re.escape(name) for name in sorted(names, key=lambda name: (-len(name), name)))
    again = "|".join(BEHIND)
    subject = rf"({SUBJECT}(?:{known}){ASIDE} )([a-z-]+s)\b([^.;:]*?(?:{again}))?"
    paid = rf"({SPENT} (?:{known}) [^.;:]*?\bof )its\b"
    return _Verbs(re.compile(rf"{subject}|{paid}", re.IGNORECASE))


def _worded(value: Any, verbs: _Verbs) -> Any:
    of = type(value)  # most parts of an answer are of one of these, which is told sooner than by isinstance
    if of is str or isinstance(value, str):
        return _text(value, verbs) if " " in value else value
    if of in _NO_WORDS:
        return value
    if of is dict or (of is not list and isinstance(value, Mapping)):
        return {key: one if key in VERBATIM else _worded(one, verbs) for key, one in value.items()}
    if of is list or isinstance(value, list | tuple):
        return [_worded(one, verbs) for one in value]
    return value


@lru_cache(maxsize=8192)
def _text(text: str, verbs: _Verbs) -> str:
    """One text; most texts of an answer stood in the one before it, as a figure was moved."""
    return verbs.behind.sub(_many, text)


def _many(found: re.Match[str]) -> str:
    before, verb, behind, paid = found[1], found[2], found[3] or "", found[4]
    if paid:
        return f"{paid}their"
    if verb in NO_VERBS:
        return found[0]
    for of_one, of_many in BEHIND.items():
        behind = behind.replace(of_one, of_many)
    return f"{before}{for_many(verb)}{behind}"
