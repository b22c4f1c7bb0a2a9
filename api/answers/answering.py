"""From a question to its answer, whichever door it came in by."""

import threading
from collections import OrderedDict
from collections.abc import Callable
from typing import cast

from api.answers import finding, knowledge, observed
from api.answers.agreement import agreed, plurals
from api.answers.knowledge import Answer
from api.questions import (
    CandidatesQuestion,
    HistoryQuestion,
    JudgeQuestion,
    PairQuestion,
    PlantQuestion,
    PlantsQuestion,
    Question,
    RecordQuestion,
    RecordsQuestion,
    SourcesQuestion,
    TraitsQuestion,
    UnderQuestion,
    WorklistQuestion,
)
from kb.snapshot import Snapshot

SHOWN = 5
"""How many plants observed at a place a note names."""
Answering = Callable[[Snapshot, Question], Answer]

_KNOWN: dict[type, Answering] = {
    PlantsQuestion: cast("Answering", finding.plants_answer),
    PlantQuestion: cast("Answering", knowledge.plant_answer),
    RecordsQuestion: cast("Answering", knowledge.records_answer),
    RecordQuestion: cast("Answering", knowledge.record_answer),
    HistoryQuestion: cast("Answering", observed.history_answer),
    SourcesQuestion: cast("Answering", knowledge.sources_answer),
    TraitsQuestion: cast("Answering", knowledge.traits_answer),
}


def answer(snapshot: Snapshot, question: Question) -> Answer:
    """The JSON-ready answer. The computation is loaded only for the questions that need it."""
    place = observed_at(question)
    if place is not None:
        snapshot = snapshot.at(place)
    if type(question) in _KNOWN:
        answered = _KNOWN[type(question)](snapshot, question)
    else:
        answered = _judged(snapshot, question)
        called = cast("dict[str, dict[str, str | None]]", answered.get("names", {}))
        answered = agreed(answered, (name["common"] or "" for name in called.values()), _enemies(snapshot))
    if place is None:
        return answered
    return {**answered, "notes": [*cast("list[str]", answered["notes"]), _as_observed(snapshot, place)]}


def _enemies(snapshot: Snapshot) -> frozenset[str]:
    """The names of enemies that are plurals, found once for a version."""
    kept: frozenset[str] = snapshot.told.of(
        (), ("enemies",), lambda: plurals(enemy.name for enemy in snapshot.enemies.values())
    )
    return kept


def observed_at(question: Question) -> str | None:
    """The place of one's own observations that a question names, if any."""
    site = getattr(question, "site", None)
    return cast("str | None", getattr(site or question, "observed_at", None))


def _as_observed(snapshot: Snapshot, place: str) -> str:
    here = [f"{plant} ({', '.join(traits)})" for plant, traits in snapshot.observed_here.items()]
    more = f" and {len(here) - SHOWN} more" if len(here) > SHOWN else ""
    return f"Taken as you observed them at {place}: {'; '.join(here[:SHOWN])}{more}."


def _judged(snapshot: Snapshot, question: Question) -> Answer:
    match question:
        case PairQuestion():
            from api.answers.pair import pair_answer  # noqa: PLC0415 - loads the computation

            return pair_answer(snapshot, question)
        case CandidatesQuestion():
            from api.answers.candidates import candidates_answer  # noqa: PLC0415

            return candidates_answer(snapshot, question)
        case UnderQuestion():
            from api.answers.under import under_answer  # noqa: PLC0415

            return under_answer(snapshot, question)
        case JudgeQuestion():
            from api.answers.judge import judge_answer  # noqa: PLC0415

            return judge_answer(snapshot, question)
        case WorklistQuestion():
            from api.answers.worklist import worklist_answer  # noqa: PLC0415

            return worklist_answer(snapshot, question)
        case _:
            msg = f"{type(question).__name__} asks for no answer"
            raise TypeError(msg)


class _Asked:
    """A question of a version as a key; a question has many parts, so that they are gone through once."""

    __slots__ = ("_hash", "_key")

    def __init__(self, version: str, question: Question) -> None:
        self._key = (version, question)
        self._hash = hash(self._key)

    def __hash__(self) -> int:
        return self._hash

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Asked) and self._key == other._key


class Recent:
    """The last few answers, so that another form of one costs nothing.

    Kept by data-set version and question; safe to share between threads.
    """

    def __init__(self, size: int = 16) -> None:
        self._size = size
        self._guard = threading.Lock()
        self._held: OrderedDict[_Asked, Answer] = OrderedDict()

    def held(self, snapshot: Snapshot, question: Question) -> Answer | None:
        """The answer, if it is held."""
        return self._found(_Asked(snapshot.version, question))

    def _found(self, key: "_Asked") -> Answer | None:
        with self._guard:
            found = self._held.get(key)
            if found is not None:
                self._held.move_to_end(key)
            return found

    def answer(self, snapshot: Snapshot, question: Question) -> Answer:
        """The answer, computed where it is not held."""
        key = _Asked(snapshot.version, question)
        held = self._found(key)
        if held is not None:
            return held
        found = answer(snapshot, question)
        with self._guard:
            self._held[key] = found
            while len(self._held) > self._size:
                self._held.popitem(last=False)
        return found
