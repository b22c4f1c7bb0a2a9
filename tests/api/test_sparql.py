"""The SPARQL 1.1 protocol (W3C Recommendation, section 2.1) over HTTP, read only."""

from collections.abc import Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient
from rdflib import Graph, Namespace

from api.routes.flow import SHARED
from tests.api.invented import TREE_ID

SD = Namespace("http://www.w3.org/ns/sparql-service-description#")
ASK = "ASK {?s ?p ?o}"


@pytest.fixture(autouse=True)
def _ended(app: Flask) -> Iterator[None]:
    yield
    app.extensions[SHARED]["sparql"].close()


@pytest.mark.parametrize("way", ["get", "form", "body"])
def test_a_query_comes_in_by_each_way(client: FlaskClient, way: str) -> None:
    """Sections 2.1.1 to 2.1.3: GET, URL-encoded POST, POST directly."""
    if way == "get":
        response = client.get("/sparql", query_string={"query": ASK})
    elif way == "form":
        response = client.post("/sparql", data={"query": ASK})
    else:
        response = client.post("/sparql", data=ASK, content_type="application/sparql-query")

    assert (200, "application/sparql-results+json") == (response.status_code, response.content_type)
    assert response.get_json()["boolean"] is True


@pytest.mark.parametrize(
    ("accept", "query", "content_type"),
    [
        ("text/csv", "SELECT ?s WHERE {?s ?p ?o} LIMIT 1", "text/csv; charset=utf-8"),
        ("application/sparql-results+xml", ASK, "application/sparql-results+xml"),
        (
            "text/turtle",
            f"DESCRIBE <https://w3id.org/traitbed/plant.{TREE_ID}>",
            "text/turtle; charset=utf-8",
        ),
        ("application/n-triples", "CONSTRUCT WHERE {?s ?p ?o} LIMIT 1", "application/n-triples"),
        ("text/html,*/*;q=0.8", ASK, "application/sparql-results+json"),
    ],
)
def test_the_client_chooses_the_form(client: FlaskClient, accept: str, query: str, content_type: str) -> None:
    """By Accept (section 2.1.6)."""
    response = client.get("/sparql", query_string={"query": query}, headers={"Accept": accept})

    assert (200, content_type) == (response.status_code, response.content_type)


def test_without_a_query_it_says_what_it_is(client: FlaskClient) -> None:
    """SPARQL 1.1 Service Description: RDF that names the endpoint; no update is advertised."""
    graph = Graph().parse(data=client.get("/sparql").data, format="turtle")

    assert ["http://localhost/sparql"] == [str(node) for node in graph.objects(None, SD.endpoint)]
    assert SD.SPARQL11Update not in set(graph.objects(None, SD.supportedLanguage))


@pytest.mark.parametrize(
    ("sent", "status", "told"),
    [
        ({"query_string": {"query": "SELECT"}}, 400, "is no SPARQL 1.1 query"),
        ({"query_string": {"query": "ASK {SERVICE <a:b> {?s ?p ?o}}"}}, 400, "leave SERVICE out"),
        ({"query_string": {"query": ASK, "default-graph-uri": "a:b"}}, 400, "default-graph-uri"),
        ({"query_string": {"update": "CLEAR ALL"}}, 400, "can only be read"),
        ({"query_string": [("query", ASK), ("query", ASK)]}, 400, "more than once"),
        ({"query_string": {"query": "ASK {?s foo:x ?o}"}}, 400, "a prefix that it does not declare"),
        ({"query_string": {"query": ASK}, "headers": {"Accept": "image/png"}}, 406, "is here as json"),
        ({"query_string": {"query": ASK}, "headers": {"Accept": "text/turtle"}}, 400, "gives a table"),
        (
            {"method": "POST", "data": "CLEAR ALL", "content_type": "application/sparql-update"},
            415,
            "Send it as",
        ),
        ({"method": "POST", "data": {"update": "CLEAR ALL"}}, 400, "can only be read"),
        ({"method": "POST", "data": {}}, 415, "Send it as"),
        (
            {"method": "POST", "data": b"\xff", "content_type": "application/sparql-query"},
            400,
            "is not UTF-8",
        ),
    ],
)
def test_all_else_is_a_problem(client: FlaskClient, sent: dict[str, object], status: int, told: str) -> None:
    """Told why, and what to do."""
    response = client.open("/sparql", **sent)  # type: ignore[arg-type]

    assert status == response.status_code, response.text
    assert told in response.text
