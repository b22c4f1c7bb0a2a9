"""What a row of a list says on the command line."""

from api.cli.output import Answer
from api.pages.row_words import row_said
from api.pages.words import upfirst

CHECK_FIRST = "check first"
"""How a condition begins that asks the gardener to look rather than to do."""
VERDICTS = {"like": "like with like"}


def verdict_word(verdict: str) -> str:
    return VERDICTS.get(verdict, verdict)


def why(row: Answer, alike: str | None = None, lift: str | None = None) -> str:
    """The best of a good pair, what limits it, and the first thing that would change its verdict.

    In JSON all of it. ``alike`` holds all rows, ``lift`` would change all: both were said before them.
    """
    told, clauses = row_said(row, alike), []
    if told.best is not None:
        clauses.append(_clause(told.best))
    if told.limit is not None:
        clauses.append(f"{row['limiting']['kind']}: {_clause(told.limit)}")
    said = upfirst("; ".join(clauses)) or (
        "nothing limits" if row["limiting"] is None else "nothing else limits"
    )
    changing = [c for c in row["conditions"] if c["verdict_if_met"] != c["verdict_if_unmet"]]
    unmet = [c for c in changing if c["met"] is not True and c["text"] != lift]
    if unmet:
        text = unmet[0]["text"].rstrip(".")
        met = verdict_word(unmet[0]["verdict_if_met"])
        given = "given that" if met == verdict_word(row["verdict"]) else f"{met} if"
        said += f"; {text}" if text.startswith(CHECK_FIRST) else f"; {given} {text}"
    return said


def _clause(text: str) -> str:
    """A sentence without what follows its colon, and without its stop."""
    return text.partition(": ")[0].rstrip(".")
