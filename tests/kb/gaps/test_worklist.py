"""What to look up next: the worth of checking is reckoned, every doubt says what to do about it."""

from dataclasses import replace
from decimal import Decimal

import pytest

from api.answers.worklist import LABELS
from api.param_kinds import WORK_KINDS
from kb.gaps.worklist import FIELDS, KINDS, OF_REPORT, Task, worklist
from kb.mixture.lists.worth import Worth, partners, worth_of_checking
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.uncertainty import CHECKABLE
from kb.model import Plant
from kb.repository import MemoryRepository, open_repository
from kb.soundness.cross_checks import queries
from tests.api.invented import PLANTS, SOURCE, concept, number, plant
from tests.kb import invented as shrubs
from tests.mixture.profiles import about, invented

TALL_ID = "inventa-alta"
TALL = plant(
    TALL_ID,
    "Inventa alta",
    "tall trial herb",
    (
        concept(TALL_ID, "family", "Asteraceae"),
        concept(TALL_ID, "growth-form", "herb"),
        concept(TALL_ID, "life-cycle", "perennial"),
        number(TALL_ID, "mature-height", "1.5", None, "2.0"),
        number(TALL_ID, "effective-rooting-depth", "0.3", None, "0.9"),
        number(TALL_ID, "growth-window", "12", None, "40"),
    ),
)
"""It shades the others by a leaf area that nobody measured, so their verdicts hang on it."""


@pytest.fixture(scope="module")
def tasks() -> tuple[Task, ...]:
    """The list of a small invented store, each plant with all the others."""
    return worklist(MemoryRepository((*PLANTS, TALL), (SOURCE,)).snapshot(), each=len(PLANTS))


def test_the_lists_of_kinds_are_equal() -> None:
    """Parameter, labels, reports and fields name the same things."""
    assert KINDS == WORK_KINDS
    assert set(KINDS) == set(LABELS)
    assert {query.name for query in queries("reports")} == set(OF_REPORT)
    assert set(CHECKABLE) == set(FIELDS)


def test_every_report_says_how_to_mend() -> None:
    """A row of a report is of use only with what to do about it."""
    assert [] == [query.name for query in queries("reports") if not query.mend]


def test_every_task_says_what_to_do(tasks: tuple[Task, ...]) -> None:
    """Each task has words and a deed, and the kinds come in their order."""
    places = [KINDS.index(task.kind) for task in tasks]

    assert {"missing", "names", "verdicts"} == {task.kind for task in tasks}
    assert sorted(places) == places
    assert all(task.text and task.do for task in tasks)


def test_a_value_in_doubt_is_worth_more_than_the_same_well_known() -> None:
    """The same need of light is worth checking where it may be anything, and not where it is known."""
    tall = invented("tall", height_m=about(1.5, times=1.01))

    def worth(times: float) -> float:
        low = invented(
            "low",
            height_m=about(0.3),
            light_to_crop_zero=about(0.08, times=times),
            light_to_crop_full=about(0.7, times=times),
        )
        found = worth_of_checking((tall, low), [(0, 1)], REFERENCE_SITE)
        return sum(one.changed for one in found if (one.plant, one.trait) == ("low", "light-to-crop"))

    assert worth(1.001) == 0.0
    assert worth(1.6) > 0.0


def test_like_with_like_hangs_on_nothing() -> None:
    """Two of one species are left out: nothing that is looked up would change their answer."""
    assert () == worth_of_checking((invented("one"), invented("one")), [(0, 1)], REFERENCE_SITE)


def test_every_plant_gets_its_partners_and_trees_come_first() -> None:
    """Each plant meets at least as many others as asked; two trees never make a pair."""
    profiles = open_repository(None).snapshot().profiles()
    pairs = list(partners(profiles, 2))
    trees = {i for i, p in enumerate(profiles) if p.growth_form.value == "tree"}
    met: dict[int, int] = {}
    for pair in pairs:
        for place in pair:
            met[place] = met.get(place, 0) + 1

    assert set(range(len(profiles))) == set(met)
    assert min(met.values()) >= 2
    assert not [pair for pair in pairs if pair[1] in trees]
    assert pairs == list(partners(profiles, 2))


def test_a_share_is_of_the_pairs_tried() -> None:
    """Half a verdict for each move that changes the word, over the pairs in which the plant was tried."""
    assert 0.75 == Worth("x", "mature-height", 1.5, 2).share


def test_a_value_that_a_decision_rejects_leaves_the_list() -> None:
    """Whoever does what a task asks for is not asked again: a depth of 3 cm among relatives of 1 to 2 m."""

    def shrub(name: str, depth_m: str) -> Plant:
        plant = shrubs.other(name)
        record = replace(
            shrubs.RECORD,
            id=f"{plant.id}.rooting-depth.invented-book",
            plant=plant.id,
            low=None,
            likely=Decimal(depth_m),
            high=None,
            number_kind="single",
        )
        return replace(plant, records=(record,))

    def doubted(plant: Plant) -> list[tuple[str, ...]]:
        plants = (plant, shrub("altera", "1.0"), shrub("tertia", "2.0"))
        tasks = worklist(MemoryRepository(plants, (shrubs.SOURCE,)).snapshot())
        return [task.records for task in tasks if task.kind == "impossible"]

    wrong = shrub("parva", "0.03")
    decision = replace(shrubs.DECISION, id="inventa-parva.rooting-depth.1", plant=wrong.id)
    rejected = replace(decision, weighed=((wrong.records[0].id, "rejected"),))

    assert [(wrong.records[0].iri,)] == doubted(wrong)
    assert [] == doubted(replace(wrong, decisions=(rejected,)))
