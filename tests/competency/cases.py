"""Textbook and tricky combinations with the verdict that practice expects.

Expectations are common practice as the project's trade notes state them (cases B01-B20, T01-T12);
none is a measurement. Cases of three plants (B03, B13) are left to the question that judges whole plantings.
"""

import csv
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from api.answers.answering import answer
from api.asking import ask
from api.parsing import parse
from kb.snapshot import Snapshot

FILE = Path(__file__).with_name("textbook_cases.csv")


@dataclass(frozen=True, slots=True)
class Case:
    """One combination, how it stands, and the verdicts that practice would accept."""

    id: str
    a: str
    b: str
    options: dict[str, str]
    expected: tuple[str, ...]
    kinds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the tool said of a case."""

    case: Case
    verdict: str
    saying: str
    sureness: str
    said_kinds: frozenset[str]

    @property
    def met(self) -> bool:
        return self.verdict in self.case.expected


def read_cases() -> tuple[Case, ...]:
    """All cases of the table."""
    with FILE.open(newline="", encoding="utf-8") as table:
        return tuple(
            Case(
                row["id"],
                row["a"],
                row["b"],
                dict(option.split("=", 1) for option in row["options"].split(";")),
                tuple(row["expected"].split("|")),
                tuple(row["kinds"].split(";")),
            )
            for row in csv.DictReader(table)
        )


def run_case(case: Case, snapshot: Snapshot) -> Outcome:
    """Ask the question as a user would, through the same parameters."""
    given = parse("pair", [("a", case.a), ("b", case.b), *case.options.items()])
    said: dict[str, Any] = dict(answer(snapshot, ask(given)))
    parts = [*said["reasons"], *said["conditions"], *said["benefits"]]
    kinds = {part["kind"] for part in parts}
    if said["limiting"]:
        kinds.add(said["limiting"]["kind"])
    return Outcome(case, said["verdict"], said["saying"], said["sureness"]["word"], frozenset(kinds))
