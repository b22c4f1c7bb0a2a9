"""SPARQL in a process of its own: what may be asked, and what happens to a query that wants too much."""

import json
import socket
import threading
from collections.abc import Iterator

import pytest
from pyoxigraph import Store

from kb.errors import BadParameter
from kb.exchange.graphs import whole
from kb.repository import MemoryRepository
from kb.sparql import worker
from kb.sparql.endpoint import Endpoint
from kb.sparql.judging import Refused, judged
from kb.sparql.worker import Limits, in_child
from tests.kb.invented import PLANT, RECORD, SOURCE, other

FORMS = ("json", "turtle")
ALL = "SELECT * WHERE {?s ?p ?o}"


@pytest.fixture(scope="module")
def repository() -> MemoryRepository:
    return MemoryRepository((PLANT,), (SOURCE,))


@pytest.fixture(scope="module")
def endpoint(repository: MemoryRepository) -> Iterator[Endpoint]:
    started = Endpoint(repository, Limits(cpu_s=2, wall_s=3.0, memory_bytes=100_000_000, rows=5_000))
    yield started
    started.close()


@pytest.mark.parametrize(
    ("query", "form"),
    [
        ("SELECT ?s WHERE {?s ?p ?o}", "select"),
        ("# LOAD <x>\nASK {?s ?p 'INSERT DATA, SERVICE <x>'}", "ask"),
        ("CONSTRUCT WHERE {?s ?p ?o}", "graph"),
        ("DESCRIBE <a:b>", "graph"),
    ],
)
def test_questions_are_let_through(query: str, form: str) -> None:
    """Words of an update inside a comment or a text are no update."""
    assert form == judged(query)


@pytest.mark.parametrize(
    ("query", "told"),
    [
        (r'ASK { ?s ?p "\UFFFFFFFF" }', "cannot be read"),
        ("SELECT * FROM <a:b> WHERE {?s ?p ?o}", "leave FROM out"),
        ("SELECT * FROM NAMED <a:b> WHERE {?s ?p ?o}", "leave FROM out"),
        ("SELECT * WHERE {SERVICE <a:b> {?s ?p ?o}}", "leave SERVICE out"),
        (
            "ASK {FILTER NOT EXISTS {{SELECT ?s WHERE {OPTIONAL {SERVICE SILENT ?x {?s ?p ?o}}}}}}",
            "leave SERVICE out",
        ),
        ("INSERT DATA {<a:b> <a:b> <a:b>}", "can only be read"),
        ("DELETE WHERE {?s ?p ?o}", "can only be read"),
        ("LOAD <http://example.org/>", "can only be read"),
        ("CLEAR ALL", "can only be read"),
        ("SELECT * {\\u0053ERVICE <a:b> {?s ?p ?o}}", "leave SERVICE out"),
        ("SELECT (EXISTS {SERVICE <a:b> {?s ?p ?o}} AS ?x) {}", "leave SERVICE out"),
        ("ASK {#x\nSERVICE#y\n<a:b>#z\n{?s ?p ?o}}", "leave SERVICE out"),
        ("ASK {?s ?p ?o MINUS {SERVICE <a:b> {?s ?p ?o}}}", "leave SERVICE out"),
        ("ASK FR\\u004FM <a:b> {?s ?p ?o}", "leave FROM out"),
        ("ASK {} ; LOAD <a:b>", "is no SPARQL 1.1 query"),
        ("DROP ALL; " + ALL, "is no SPARQL 1.1 query"),
        ("SELECT * WHERE {?s ?p", "line 1, column"),
        ("", "is no SPARQL 1.1 query"),
        ("ASK {" + 5000 * "{" + 5000 * "}" + "}", "nested too deeply"),
        ("#" + 30_000 * "x", "20,000 are the most"),
    ],
)
def test_all_else_is_refused_before_it_runs(query: str, told: str) -> None:
    """Why, and what to leave out."""
    with pytest.raises(Refused, match=told):
        judged(query)


def test_the_whole_graph_can_be_asked(endpoint: Endpoint, repository: MemoryRepository) -> None:
    """As many triples as the Turtle export holds, and the record among them."""
    count = endpoint.ask("SELECT (COUNT(*) AS ?n) WHERE {?s ?p ?o}", FORMS)
    found = endpoint.ask(f"SELECT ?o WHERE {{<{RECORD.iri}> <https://w3id.org/traitbed/locator> ?o}}", FORMS)

    triples = {triple for graph in whole(repository.snapshot()) for triple in graph}
    assert str(len(triples)) == json.loads(count.body)["results"]["bindings"][0]["n"]["value"]
    assert [RECORD.locator] == [row["o"]["value"] for row in json.loads(found.body)["results"]["bindings"]]


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("SELECT (COUNT(*) AS ?n) WHERE {?a ?b ?c . ?d ?e ?f . ?g ?h ?i}", "took more"),
        ("SELECT DISTINCT ?a ?d ?g WHERE {?a ?b ?c . ?d ?e ?f . ?g ?h ?i} ORDER BY ?a", "took more"),
        ("SELECT * WHERE {?a ?b ?c . ?d ?e ?f}", "gives more than 5,000 rows"),
        ("CONSTRUCT {?a ?e ?f} WHERE {?a ?b ?c . ?d ?e ?f}", "gives more than 5,000 triples"),
        ("SELECT (<a:f>(1) AS ?x) {}", "cannot be answered"),
    ],
)
def test_a_query_that_wants_too_much_is_ended(endpoint: Endpoint, query: str, told: str) -> None:
    """Told as such, never cut short; the next query is answered as if nothing had been."""
    with pytest.raises(BadParameter, match=told):
        endpoint.ask(query, FORMS)

    assert b'"boolean":true' in endpoint.ask("ASK {?s ?p ?o}", FORMS).body


def test_no_query_reaches_another_server(monkeypatch: pytest.MonkeyPatch) -> None:
    """Even if the judge let SERVICE through, the process that runs it can open no connection."""
    monkeypatch.setattr(worker, "judged", lambda _: "select")
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0.5)
        reached: list[object] = []
        thread = threading.Thread(target=lambda: _accept(server, reached))
        thread.start()
        port = server.getsockname()[1]
        head, _ = in_child(
            Store(),
            {
                "query": f"SELECT * WHERE {{SERVICE <http://127.0.0.1:{port}/> {{?s ?p ?o}}}}",
                "form": ["json"],
            },
            Limits(wall_s=5),
        )
        thread.join()

    assert [] == reached
    assert head.get("form") is None


def _accept(server: socket.socket, reached: list[object]) -> None:
    try:
        reached.append(server.accept())
    except TimeoutError:
        return


def test_new_data_are_seen(repository: MemoryRepository, endpoint: Endpoint) -> None:
    """A write to the store is in the next answer."""
    question = f"ASK {{<https://w3id.org/traitbed/plant.{other('nova').id}> ?p ?o}}"
    before = endpoint.ask(question, FORMS)
    repository.put_plant(other("nova"))

    assert b'"boolean":false' in before.body
    assert b'"boolean":true' in endpoint.ask(question, FORMS).body


def test_a_worker_that_died_is_replaced(endpoint: Endpoint) -> None:
    """One question after."""
    endpoint.ask("ASK {?s ?p ?o}", FORMS)
    process = endpoint._process
    assert process is not None
    process.kill()
    process.wait()

    assert b'"boolean":true' in endpoint.ask("ASK {?s ?p ?o}", FORMS).body
