"""What a row of a list says in short: the best of the two, what holds them back, and what holds all rows.

Nothing is computed here: the texts are those of the row's own reasons.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.pages.judged_words import changing

Row = Mapping[str, Any]
ALIKE = "All of them: {} It is not said again in their rows."
LIFTED_ALIKE = "What would change it in all of them: {}."
MOST_ROWS = 0.5
"""A limit of the plant that is asked about which is the first of more than this share of the rows holds them
all: it is told of that plant alone (judgement)."""


@dataclass(frozen=True, slots=True)
class Said:
    """In whole sentences, None where there is nothing to say: the best of two plants, what limits them."""

    best: str | None
    limit: str | None


def row_said(row: Row, held_by: str | None = None) -> Said:
    """What a row says beside its verdict; ``held_by`` was said before the list and is not said again.

    Of a pair that is good the best is said too, since there a limit is a small loss and sets none apart from
    another. What limits all the rows alike leaves room for it as well.
    """
    limit = None if row["limiting"] is None else str(row["limiting"]["text"])
    shared = limit is not None and limit == held_by
    good = row.get("verdict") == "good"
    best = row.get("best") if good or shared else None
    return Said(None if best is None else str(best["text"]), None if shared else limit)


def held_alike(rows: Sequence[Row], subject: str) -> str | None:
    """What holds most rows back and is told of the plant that is asked about alone; None where nothing is."""
    first = (row["limiting"] for row in rows)
    texts = Counter(
        str(limiting["text"]) for limiting in first if limiting is not None and limiting["of"] == subject
    )
    if not texts:
        return None
    text, count = texts.most_common(1)[0]
    return text if count > max(1, MOST_ROWS * len(rows)) else None


def lifted_alike(rows: Sequence[Row]) -> str | None:
    """The one thing that would change every row, in words; None where there is none, or only one row."""
    open_ones = ([one for one in changing(row["conditions"]) if one["met"] is not True] for row in rows)
    lifts = [dict.fromkeys(str(one["text"]) for one in some) for some in open_ones]
    if len(lifts) < 2:
        return None
    return next((text for text in lifts[0] if all(text in others for others in lifts)), None)
