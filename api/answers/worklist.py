"""The answer to 'what should be looked up next', a page at a time."""

import threading
from weakref import WeakKeyDictionary

from api.answers.cautions import names_of
from api.answers.evidence import rounded
from api.answers.knowledge import Answer
from api.paging import digest, part_of
from api.questions import WorklistQuestion
from kb.errors import Busy
from kb.gaps.worklist import Task, worklist
from kb.ids import TraitId
from kb.mixture.uncertainty import CHECKABLE
from kb.snapshot import Snapshot

WAIT_S = 0.5
RETRY_S = 30
"""Seconds: a list takes some ten to a hundred, and whoever waits for it takes up a thread."""
LABELS = {
    "verdicts": "What would change most verdicts",
    "contradictions": "Where sources disagree",
    "floors": "Depths that may be the bottom of a pot or core",
    "copies": "Values that may be copied, or stand twice",
    "impossible": "What cannot be, or hardly",
    "missing": "What goes with a record and is missing",
    "names": "Names that mean several plants",
}
HOW = (
    "Every plant was tried with {each} others or more at the reference site, in a bed or under a grown tree; "
    "each of {traits} was moved alone within its doubt, and every move that changed the word counts half."
)


class Kept:
    """The lists of a data set, made once for each number of partners; they take seconds."""

    def __init__(self) -> None:
        self._guard = threading.Lock()
        self._lists: WeakKeyDictionary[Snapshot, dict[int, tuple[Task, ...]]] = WeakKeyDictionary()

    def of(self, snapshot: Snapshot, each: int) -> tuple[Task, ...]:
        """The list, if need be made now: one at a time, whoever asks. Raises Busy while another is made."""
        ready = self._lists.get(snapshot, {}).get(each)
        if ready is not None:
            return ready
        if not self._guard.acquire(timeout=WAIT_S):
            raise Busy("the worklist", RETRY_S)
        try:
            lists = self._lists.setdefault(snapshot, {})
            if each not in lists:
                lists[each] = worklist(snapshot, each=each)
            return lists[each]
        finally:
            self._guard.release()


_KEPT = Kept()


def worklist_answer(snapshot: Snapshot, question: WorklistQuestion) -> Answer:
    """What to look up, what would change most verdicts first, and what to do about each."""
    tasks = _KEPT.of(snapshot, question.partners)
    wanted = [task for task in tasks if question.kind in {None, task.kind}]
    bound = digest("worklist", snapshot.version, str(question.kind), str(question.partners))
    part = part_of(wanted, limit=question.page.limit, after=question.page.after, bound=bound)
    plants = {task.plant for task in part.entries if task.plant is not None}
    return {
        "question": {
            "kind": "worklist",
            "of_kind": question.kind,
            "partners": question.partners,
            "limit": question.page.limit,
        },
        "dataset_version": snapshot.version,
        "cautions": [],
        "names": {plant: names_of(snapshot.plants[plant]) for plant in sorted(plants)},
        "tasks": [_task(task) for task in part.entries],
        "labels": LABELS,
        "start": part.start,
        "total": len(wanted),
        "next": part.next,
        "reasons": [],
        "notes": [
            HOW.format(
                each=question.partners,
                traits=", ".join(
                    snapshot.vocabulary.traits[TraitId(trait)].label.partition(" (")[0] for trait in CHECKABLE
                ),
            )
        ],
    }


def _task(task: Task) -> Answer:
    return {
        "kind": task.kind,
        "plant": task.plant,
        "trait": task.trait,
        "text": task.text,
        "do": task.do,
        "verdicts": None if task.tried is None else {"changed": rounded(task.changed), "tried": task.tried},
        "records": list(task.records),
    }
