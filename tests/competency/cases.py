"""Textbook and tricky combinations with the verdict that practice expects.

Expectations are common practice as the project's trade notes state them (cases B01-B20, T01-T12);
none is a measurement. Cases of three plants (B03, B13), and B02, which hangs on spacing, are asked as
whole plantings (``textbook_plantings.csv``).
"""

import csv
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from api.answers.answering import answer
from api.asking import ask
from api.param_kinds import QuestionKind
from api.parsing import parse
from kb.snapshot import Snapshot

FILE = Path(__file__).with_name("textbook_cases.csv")
PLANTINGS = Path(__file__).with_name("textbook_plantings.csv")


@dataclass(frozen=True, slots=True)
class Case:
    """One combination, as it is asked, and the verdicts that practice would accept."""

    id: str
    question: QuestionKind
    items: tuple[tuple[str, str], ...]
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
    """All cases of both tables, in the order of their ids."""
    pairs = [_case(row, "pair", [("a", row["a"]), ("b", row["b"])]) for row in _rows(FILE)]
    sets = [_case(row, "judge", _each("plant", row["plants"])) for row in _rows(PLANTINGS)]
    return tuple(sorted((*pairs, *sets), key=lambda case: case.id))


def _rows(file: Path) -> list[dict[str, str]]:
    with file.open(newline="", encoding="utf-8") as table:
        return list(csv.DictReader(table))


def _case(row: dict[str, str], question: QuestionKind, items: list[tuple[str, str]]) -> Case:
    for option in filter(None, row["options"].split(";")):
        name, _, value = option.partition("=")
        items = [*items, *_each(name, value)]
    return Case(
        row["id"], question, tuple(items), tuple(row["expected"].split("|")), tuple(row["kinds"].split(";"))
    )


def _each(name: str, values: str) -> list[tuple[str, str]]:
    """One item for each value; those of several plants are parted by bars."""
    return [(name, value) for value in values.split("|")]


def run_case(case: Case, snapshot: Snapshot) -> Outcome:
    """Ask the question as a user would, through the same parameters."""
    said: dict[str, Any] = dict(answer(snapshot, ask(parse(case.question, case.items))))
    parts = [*said["reasons"], *said["conditions"], *said["benefits"]]
    kinds = {part["kind"] for part in parts}
    if said["limiting"]:
        kinds.add(said["limiting"]["kind"])
    return Outcome(case, said["verdict"], said["saying"], said["sureness"]["word"], frozenset(kinds))
