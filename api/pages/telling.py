"""What a page says first of an answer, each thing once: its saying in lines, with the records of each.

Nothing is computed here: a saying is made of the texts of the reasons, so that each of its sentences finds
its reason again, with its kind and its records; what is in no reason stays as it is said.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.pages.asked import flat
from api.pages.judged_words import changing
from api.pages.views import growing_season, name_of
from api.pages.words import KIND, VERDICT, number, percent, upfirst

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
    return Told(
        tuple(lines),
        sureness,
        tuple(line for line in reasons if line.text not in shown),
        tuple(c for c in answer["conditions"] if not _said(c, said)),
    )


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
    """What is said between two reasons; a sentence that is the verdict's word alone is told by the heading."""
    words = text.strip().removeprefix(f"{upfirst(verdict)}.").strip()
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


def lower_first(text: str) -> str:
    """The text with its first letter small, for the middle of a sentence."""
    return text[:1].lower() + text[1:]


def line_gist(lines: Sequence[Line], nitrogen: Mapping[str, Any] | None = None) -> str:
    """What a folded list of reasons is about; of nitrogen the figure itself."""
    kinds = [str(line.reason["kind"]) for line in lines if line.reason]
    gist = reason_kinds(kinds)
    if nitrogen is None:
        return gist
    low, high = nitrogen["g_per_m2"]
    given = f"nitrogen {number(low)} to {number(high)} g/m²"
    return f"{gist}; {given}" if gist else given


def reason_gist(reasons: Sequence[Mapping[str, Any]]) -> str:
    """What a folded list of reasons is about."""
    return reason_kinds([str(reason["kind"]) for reason in reasons])


def reason_kinds(kinds: Sequence[str]) -> str:
    """The kinds of reasons in words, each once, with how many where there are several."""
    counts = {kind: kinds.count(kind) for kind in dict.fromkeys(kinds)}
    said = (lower_first(KIND.get(kind, kind)) + (f" ({n})" if n > 1 else "") for kind, n in counts.items())
    return ", ".join(said)


def loss_gist(answer: Answer) -> str:
    """What each plant goes without, all causes together."""
    return ", ".join(
        f"{name_of(answer, plant)} {percent(loss['all'])}" for plant, loss in answer["loss"].items()
    )


def root_gist(origins: Sequence[Mapping[str, Any]]) -> str:
    """Above which depth nearly all roots of each plant lie."""
    deepest = {str(said["name"]): str(said["depth"]) for said in origins}
    return f"nearly all above {', '.join(f'{depth} ({lower_first(n)})' for n, depth in deepest.items())}"


def member_gist(members: Sequence[Mapping[str, Any]]) -> str:
    """Who goes without most of a planting, and how much."""
    worst = max(members, key=lambda member: float(member["loss"]["all"]), default=None)
    if worst is None:
        return ""
    return f"most is missed by {lower_first(str(worst['title']))}: {percent(worst['loss']['all'])}"


def light_gist(answer: Answer, members: Sequence[Mapping[str, Any]]) -> str:
    """The least light that any plant of a planting gets in a month in which it grows."""
    least = [(min(lit), member) for member in members if (lit := _known(member["light"]))]
    if not least:
        return ""
    share, member = min(least, key=lambda one: one[0])
    return f"least for {name_of(answer, member['plant'])}: {percent(share)} in its darkest month"


def _known(shares: Sequence[float | None]) -> list[float]:
    return [share for share in shares if share is not None]


def job_gist(jobs: Sequence[Mapping[str, Any]]) -> str:
    """How many jobs are done, and which are not."""
    undone = [lower_first(str(job["words"])) for job in jobs if not job["by"]]
    done = f"{len(jobs) - len(undone)} of {len(jobs)} done"
    return f"{done}; nobody on record: {', '.join(undone)}" if undone else done


def pair_gist(pairs: Sequence[Mapping[str, Any]], verdicts: Mapping[str, str]) -> str:
    """The worst pair and its word."""
    worst = pairs[0]
    return f"{len(pairs)} shown; the worst, {lower_first(str(worst['names']))}: {verdicts[worst['verdict']]}"


BEST_SHOWN = 3
"""Plants of a ring that its line names."""


def ring_gist(answer: Answer, ring: Mapping[str, Any]) -> str:
    """The first plants of a ring, each with its word on its best side."""
    rows = ring["rows"][:BEST_SHOWN]
    if not rows:
        return "nothing on record fits"
    words: dict[str, list[str]] = {}
    for row in rows:
        words.setdefault(str(row["pair"]["verdict"]), []).append(name_of(answer, row["plant"]))
    more = " …" if len(ring["rows"]) > len(rows) else ""
    return "; ".join(f"{VERDICT[word]}: {', '.join(names)}" for word, names in words.items()) + more


def light_of_rings(answer: Answer, rings: Sequence[tuple[str, Sequence[Mapping[str, Any]]]]) -> str:
    """The light of the growing season from the innermost ring to the outermost, the mean of all sides."""
    latitude = float(dict(flat(answer["question"])).get("latitude", 51.0))
    season, months = growing_season(latitude)
    means = [
        sum(row["light"][month] for row in sides for month in months) / (len(sides) * len(months))
        for _, sides in rings
    ]
    return f"{', '.join(percent(mean) for mean in means)} of open light in {season}, from the trunk outwards"


GISTS = {
    one.__name__: one
    for one in (
        job_gist,
        light_gist,
        light_of_rings,
        line_gist,
        loss_gist,
        member_gist,
        pair_gist,
        reason_gist,
        ring_gist,
        root_gist,
    )
}
"""What templates may ask for the line of a folded section."""
