"""The line of a folded section: what is in it, and its most important figure."""

from collections.abc import Mapping, Sequence
from typing import Any

from api.pages.telling import Line
from api.pages.views import name_of
from api.pages.words import KIND, VERDICT, number, percent
from kb.mixture.counting import so_many

Answer = Mapping[str, Any]


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
    """How far each plant is held back, all causes together."""
    return ", ".join(
        f"{name_of(answer, plant)} {percent(loss['all'])}" for plant, loss in answer["loss"].items()
    )


def root_gist(origins: Sequence[Mapping[str, Any]]) -> str:
    """Above which depth nearly all roots of each plant lie."""
    deepest = {str(said["called"]): str(said["depth"]) for said in origins}
    if len(deepest) == 1:
        return f"nearly all above {next(iter(deepest.values()))}"
    return f"nearly all above {', '.join(f'{depth} ({name})' for name, depth in deepest.items())}"


def member_gist(answer: Answer, members: Sequence[Mapping[str, Any]]) -> str:
    """Who goes without most of a planting, and how much."""
    worst = max(members, key=lambda member: float(member["loss"]["all"]), default=None)
    if worst is None:
        return ""
    return f"most is missed by {name_of(answer, worst['plant'])}: {percent(worst['loss']['all'])}"


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


def pair_gist(answer: Answer, pairs: Sequence[Mapping[str, Any]]) -> str:
    """The worst pair and its word."""
    worst = pairs[0]
    names = " and ".join(name_of(answer, worst[end]) for end in ("a", "b"))
    return f"{names}: {VERDICT[worst['verdict']]}"


def record_gist(records: Sequence[Mapping[str, Any]]) -> str:
    """How many records of a trait there are, and from how many sources."""
    sources = {record["source"]["key"] for record in records}
    return f"{so_many(len(records), 'record')} from {so_many(len(sources), 'source')}"


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


def draw_of_rings(rings: Sequence[tuple[str, Sequence[Mapping[str, Any]]]]) -> str:
    """How hard the tree's roots draw from the innermost ring to the outermost."""
    draws = [percent(sides[0]["root_draw"]) for _, sides in rings]
    return f"every ring, side and month; roots draw {', '.join(draws)} of the average from the trunk outwards"


def event_gist(event: Mapping[str, Any]) -> str:
    """How many records an entry of the history is about, and how many values in use it changed."""
    changed = so_many(len(event["changes"] or ()), "value") + " in use changed"
    return f"{so_many(len(event['things']), 'entry', 'entries')}; {changed}"


GISTS = {
    one.__name__: one
    for one in (
        job_gist,
        light_gist,
        draw_of_rings,
        event_gist,
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
