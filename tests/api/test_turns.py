"""What takes seconds is done so many at a time; the rest are asked to come back (RFC 9110, 15.6.4)."""

import threading
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from api.answers import worklist
from api.cli.serving import THREADS
from api.routes.flow import SHARED
from api.turns import AllTurns, Turns
from kb.errors import Busy
from kb.repository import MemoryRepository
from tests.api.invented import HERB_ID, PLANTS, ROOT_ID, TREE_ID

PLAN = {"plants": [{"plant": HERB_ID}, {"plant": ROOT_ID}]}
ASKED: dict[str, Callable[[FlaskClient], Any]] = {
    "plan": lambda client: client.post("/judgements", json=PLAN),
    "planting": lambda client: client.get(f"/judgements?plant={HERB_ID}"),
    "under": lambda client: client.get(f"/plants/{TREE_ID}/under"),
    "candidates": lambda client: client.get(f"/plants/{HERB_ID}/candidates"),
    "list": lambda client: client.post("/lists", json={"list": "x"}),
}


@pytest.fixture
def turns(app: Flask) -> AllTurns:
    """The turns of the service, whose line does not wait."""
    made = AllTurns(
        Turns("the reckoning", waiting=0, wait_s=0.0), Turns("the exports", waiting=0, wait_s=0.0)
    )
    app.extensions[SHARED]["turns"] = made
    return made


@pytest.mark.parametrize("what", ASKED)
def test_a_third_reckoning_is_asked_to_come_back(client: FlaskClient, turns: AllTurns, what: str) -> None:
    """503 with Retry-After; what costs nothing is answered meanwhile, and a free turn is enough."""
    with turns.reckoning.turn(), turns.reckoning.turn():
        busy, light = ASKED[what](client), client.get("/plants")
    free = ASKED[what](client)

    assert (503, "10") == (busy.status_code, busy.headers.get("Retry-After"))
    assert busy.get_json()["type"].endswith("#busy")
    assert 200 == light.status_code
    assert 200 == free.status_code or "no names" in free.text or "no column" in free.text


def test_an_answer_that_is_held_needs_no_turn(client: FlaskClient, turns: AllTurns) -> None:
    """It costs nothing."""
    first = client.post("/judgements", json=PLAN)
    with turns.reckoning.turn(), turns.reckoning.turn():
        again = client.post("/judgements", json=PLAN)

    assert (200, first.data) == (again.status_code, again.data)


def test_a_failure_gives_its_turn_back(client: FlaskClient, turns: AllTurns) -> None:
    """However often it fails."""
    for _ in range(4):
        client.post("/judgements", json={"plants": [{"plant": "nonesuch"}]})

    assert 200 == client.post("/judgements", json=PLAN).status_code
    assert 200 == client.get("/exports/csv").status_code
    with turns.reckoning.turn(), turns.reckoning.turn():
        pass


def test_a_few_wait_and_are_served() -> None:
    """A page asked for a moment too early is not refused; beyond the line it is, at once."""
    turns = Turns("x", at_once=1, waiting=1, wait_s=30.0)
    served = threading.Event()

    def wait() -> None:
        with turns.turn():
            served.set()

    turns.take()
    other = threading.Thread(target=wait)
    other.start()
    while turns._line._value:  # the other stands in line now
        pass
    with pytest.raises(Busy):
        turns.take()
    turns.give_back()
    other.join(30)

    assert served.is_set()


def test_what_takes_seconds_never_takes_every_thread() -> None:
    """Reckonings that run and wait, exports, one SPARQL query, one worklist."""
    turns = AllTurns()
    taken = turns.reckoning.at_once + turns.reckoning.waiting + turns.exports.at_once + 1 + 1

    assert THREADS >= taken + 2


def test_a_worklist_is_made_once_and_nobody_waits_for_it(
    client: FlaskClient, repository: MemoryRepository, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Who asks while one is made is asked to come back; a list that is ready needs no turn."""
    made: list[int] = []
    begun, go_on = threading.Event(), threading.Event()

    def slowly(_: object, each: int) -> tuple[()]:
        made.append(each)
        begun.set()
        go_on.wait(30)
        return ()

    monkeypatch.setattr(worklist, "worklist", slowly)
    monkeypatch.setattr(worklist, "WAIT_S", 0.0)
    snapshot = MemoryRepository(PLANTS).snapshot()
    first = threading.Thread(target=worklist._KEPT.of, args=(snapshot, 2))
    first.start()
    begun.wait(30)
    try:
        busy = client.get("/worklist")
    finally:
        go_on.set()
        first.join(30)

    assert (503, "30") == (busy.status_code, busy.headers.get("Retry-After"))
    assert () == worklist._KEPT.of(snapshot, 2)
    assert [2] == made
