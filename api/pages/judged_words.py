"""What is said beside a verdict, its conditions and its numbers; the same on pages and the command line."""

from collections.abc import Mapping, Sequence
from typing import Any

from kb.mixture.limits import HOLDS_BACK
from kb.mixture.nitrogen import WORTH_NAMING_G_M2
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
    has = {True: " (you said this is done)", False: " (you said this is not done)", None: ""}
    return list(dict.fromkeys(f"{str(c['text']).rstrip('.')}{has[c['met']]}" for c in conditions))


def worth_naming(gift: Mapping[str, Any]) -> bool:
    """Whether a gift of nitrogen is so large that it is shown; the answer itself holds every gift."""
    return bool(gift["g_per_m2"][1] >= WORTH_NAMING_G_M2)


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
    return f"What rules the verdict is not in these numbers: {str(limiting['text']).rstrip('.')}."
