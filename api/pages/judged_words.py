"""What is said beside a verdict, its conditions and its numbers; the same on pages and the command line."""

from collections.abc import Mapping, Sequence
from typing import Any

from kb.mixture.counting import listed, so_many
from kb.mixture.limits import HOLDS_BACK
from kb.mixture.said_once import said_once
from kb.mixture.sharing.nitrogen import WORTH_NAMING_G_M2
from kb.mixture.stress import verdict_of

MOST_IDLE = 3
"""Conditions shown of those that change nothing by themselves: the hardest stand first."""


def changing(conditions: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """Those of the conditions that change the verdict by themselves."""
    return [c for c in conditions if c["verdict_if_met"] != c["verdict_if_unmet"]]


def idle(conditions: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """Those that change nothing by themselves, as another holds the verdict as well."""
    return [c for c in conditions if c["verdict_if_met"] == c["verdict_if_unmet"]]


def idle_words(conditions: Sequence[Mapping[str, Any]]) -> list[str]:
    """All that change nothing by themselves, each once; each says whether the gardener has it."""
    has = {True: " (as asked, it is so)", False: " (as asked, it is not so)", None: ""}
    return list(dict.fromkeys(f"{str(c['text']).rstrip('.')}{has[c['met']]}" for c in conditions))


def conflicts_at_once(answer: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Conflicts that nothing lifts, those of one doer to several plants as one, with the records of all."""
    left = [conflict for conflict in answer["conflicts"] if not conflict["lifted"]]
    kinds: dict[tuple[Any, ...], list[Mapping[str, Any]]] = {}
    for conflict in left:
        key = tuple(conflict[field] for field in ("kind", "holds_to", "lift"))
        kinds.setdefault(key, []).append(conflict)
    found = []
    for alike in kinds.values():
        for text, places in said_once([str(c["text"]) for c in alike], plant_names(answer)):
            records = dict.fromkeys(record for place in places for record in alike[place]["records"])
            found.append({**alike[places[0]], "text": text, "records": list(records)})
    return sorted(found, key=lambda c: HOLDS_BACK[c["holds_to"]])


def whys_at_once(answer: Mapping[str, Any]) -> list[str]:
    """What tells most for each plant of a planting, what is told of several once."""
    texts = [str(member["why"]["text"]) for member in answer["members"] if member["why"]]
    return [text for text, _ in said_once(list(dict.fromkeys(texts)), plant_names(answer))]


def pairs_at_once(answer: Mapping[str, Any]) -> list[tuple[str, str, str]]:
    """The pairs of a planting as rows (names, verdict, text): one plant with all beside which it fares so."""
    by_verdict: dict[str, list[tuple[tuple[str, str], str]]] = {}
    for pair in answer["pairs"]:
        one, other = _called(answer, pair["a"]), _called(answer, pair["b"])
        text = str(pair["text"])
        for both in (f"{one} and {other}", f"{other} and {one}"):
            text = text.replace(both, "they", 1) if text.startswith(both) else text
        by_verdict.setdefault(pair["verdict"], []).append(((one, other), text))
    rows = []
    for verdict, told in by_verdict.items():
        for text, places in said_once([text for _, text in told], plant_names(answer)):
            rows += [(who, verdict, text) for who in _beside([told[place][0] for place in places])]
    return rows


def _beside(pairs: Sequence[tuple[str, str]]) -> list[str]:
    """Pairs in words, the plant that is in most of them first, with all its partners."""
    left, said = list(pairs), []
    while left:
        one = max(
            dict.fromkeys(name for pair in left for name in pair), key=lambda n: sum(n in p for p in left)
        )
        mine = [pair for pair in left if one in pair]
        others = [other for pair in mine for other in pair if other != one]
        said.append(f"{mine[0][0]}, {mine[0][1]}" if len(mine) == 1 else f"{one} with {listed(others)}")
        left = [pair for pair in left if one not in pair]
    return said


def plant_names(answer: Mapping[str, Any]) -> list[str]:
    return [_called(answer, plant) for plant in answer["names"]]


def _called(answer: Mapping[str, Any], plant: str) -> str:
    names = answer["names"][plant.partition("#")[0]]
    return str(names["common"] or names["accepted"])


def worth_naming(gift: Mapping[str, Any]) -> bool:
    """Whether a gift of nitrogen is so large that it is shown; the answer itself holds every gift."""
    return bool(gift["g_per_m2"][1] >= WORTH_NAMING_G_M2)


def harvest_weeks(answer: Mapping[str, Any]) -> str:
    """The weeks with something to pick, of the plants whose weeks are on record; none on record is no 0."""
    grown = answer["members"]
    silent = sum(not member["harvest"] for member in grown)
    if silent == len(grown):
        return "not on record"
    weeks = str(answer["measures"]["weeks_of_harvest"])
    return weeks if not silent else f"{weeks}, of {len(grown) - silent} of {so_many(len(grown), 'plant')}"


def shut_out(answer: Mapping[str, Any]) -> list[str]:
    """Ids of the plants of a planting that a conflict forbids, which nothing lifts yet; each once."""
    found = [c["of"] for c in answer["conflicts"] if c["holds_to"] == "avoid" and not c["lifted"]]
    return list(dict.fromkeys(found))


def beside_numbers(answer: Mapping[str, Any]) -> str:
    """What to say beside a table of losses where the verdict does not come of them; empty where it does.

    A hard limit (wrong ground, an enemy in the soil, a neighbour that over-runs) is no share of growth, so
    the table would read as if nothing were lost.
    """
    limiting, verdict = answer.get("limiting"), answer["verdict"]
    members = answer.get("members")
    losses = answer["loss"].values() if members is None else [member["loss"] for member in members]
    worst = max((loss["all"] for loss in losses), default=0.0)
    if not limiting or verdict not in HOLDS_BACK or HOLDS_BACK[verdict] >= HOLDS_BACK[verdict_of(worst)]:
        return ""
    return "What rules the verdict is not in these numbers: it is said above."
