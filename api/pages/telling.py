"""What a page says first of an answer, each thing once: its saying in lines, with the records of each.

Nothing is computed here: a saying is made of the texts of the reasons, so that each of its sentences finds
its reason again, with its kind and its records; what is in no reason stays as it is said.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.pages.judged_words import changing
from api.pages.words import VERDICT, upfirst

Answer = Mapping[str, Any]

AGAINST, GIVES = "against", "gives"


@dataclass(frozen=True, slots=True)
class Line:
    """One sentence of what is said first: the reason it is, if any, and what it is to the verdict."""

    text: str
    reason: Mapping[str, Any] | None = None
    role: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """A saying in lines, what it says of how sure it is, and the reasons it does not name."""

    lines: tuple[Line, ...]
    sureness: str
    others: tuple[Line, ...]
    conditions: tuple[Mapping[str, Any], ...]


def told(answer: Answer) -> Told:
    """The saying of a verdict cut where its reasons begin and end; the limiting reason is always in it."""
    reasons = _reasons(answer)
    verdict = str(answer["verdict"])
    lines, left = _lines(str(answer.get("saying") or ""), reasons, verdict)
    sureness, after = _sureness(left, str(answer["sureness"]["word"]))
    limiting = answer.get("limiting")
    if limiting and not any(line.role == AGAINST for line in lines):
        lines.append(reasons[0])
    lines += [line for text in after for line in _plain(text, verdict)]
    shown = {line.text for line in lines}
    said = " ".join(line.text for line in lines if line.reason is None)
    lines, left_over = _given(lines, answer["conditions"], verdict)
    return Told(
        tuple(lines),
        unsaid(sureness, shown),
        tuple(line for line in reasons if line.text not in shown),
        tuple({**c, "text": unsaid(str(c["text"]), shown)} for c in left_over if not _said(c, said)),
    )


def unsaid(text: str, shown: Iterable[str]) -> str:
    """A sentence that ends in one that is shown beside it, without that: "check first, ...: Digging ..."."""
    for sentence in shown:
        stem = f": {sentence.rstrip('.')}"
        if stem in text:
            return text.replace(stem, "")
    return text


def _given(
    lines: list[Line], conditions: Sequence[Mapping[str, Any]], verdict: str
) -> tuple[list[Line], list[Mapping[str, Any]]]:
    """A word that is given on one condition says it with the other word, so that it is not told again."""
    for condition in changing(conditions):
        text = str(condition["text"]).rstrip(".")
        sentence = f"{upfirst(verdict)}, given that {text}."
        for place, line in enumerate(lines):
            if condition["met"] is None and line.reason is None and line.text == sentence:
                whole = f"Given that {text}; if not: {VERDICT[condition['verdict_if_unmet']]}."
                others = [one for one in conditions if one is not condition]
                return [*lines[:place], Line(whole), *lines[place + 1 :]], others
    return lines, list(conditions)


def _said(condition: Mapping[str, Any], said: str) -> bool:
    """Whether the first sentence holds a condition already, as in "avoid, unless ...; then good"."""
    lifts = f"unless {condition['text'].rstrip('.')}; then {condition['verdict_if_met']}"
    return condition["met"] is None and lifts.lower() in said.lower() and bool(changing([condition]))


def _reasons(answer: Answer) -> list[Line]:
    """Every reason once, what limits first, then what the plants give, then the rest."""
    limiting = answer.get("limiting")
    parts = (
        (AGAINST, [limiting] if limiting else []),
        (GIVES, answer["benefits"]),
        ("", answer["reasons"]),
    )
    found: dict[str, Line] = {}
    for role, reasons in parts:
        for reason in reasons:
            found.setdefault(upfirst(str(reason["text"])), Line(upfirst(str(reason["text"])), reason, role))
    return list(found.values())


def _lines(saying: str, reasons: Sequence[Line], verdict: str) -> tuple[list[Line], str]:
    """The lines of a saying in its own order, and what follows the last reason."""
    found = [(saying.index(line.text), line) for line in reasons if line.text in saying]
    places = sorted(found, key=lambda place: place[0])
    lines: list[Line] = []
    at = 0
    for start, line in places:
        if start < at:
            continue
        lines += _plain(saying[at:start], verdict)
        lines.append(line)
        at = start + len(line.text)
    return lines, saying[at:].strip()


def _plain(text: str, verdict: str) -> list[Line]:
    """What is said between two reasons; the verdict's word alone is told by the heading."""
    words = text.replace(" (setting under)", ": “What fits under this tree?”")
    words = words.strip().removeprefix(f"{upfirst(verdict)}.").strip()
    if words.startswith(f"{upfirst(verdict)}, unless "):
        words = upfirst(words.removeprefix(f"{upfirst(verdict)}, "))
    return [Line(words)] if words else []


def _sureness(left: str, word: str) -> tuple[str, list[str]]:
    """What is said of how sure the verdict is, and what else stands after the last reason."""
    mark = f"{upfirst(word)}: "
    before, found, after = left.partition(mark)
    if not found:
        return "", [before] if before else []
    sentence, stop, rest = after.partition(". ")
    said = f"{mark}{sentence}{stop.strip()}"
    return said, [text for text in (before.strip(), rest.strip()) if text]
