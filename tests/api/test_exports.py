"""The data set handed out over HTTP: the same facts in every form, with their licences."""

import gzip
import io
import json
import zipfile
from typing import Any

import pytest
from flask.testing import FlaskClient
from pyld import jsonld as pyld
from rdflib import Graph

from tests.api.invented import DECIDED, HERB, HERB_ID, PLANTS, SOURCE, TREE_ID

LINKED = [
    f"/plants/{TREE_ID}",
    f"/plants/{HERB_ID}",
    f"/records/{HERB.records[0].id}",
    f"/records/caution.{TREE_ID}.toxic.invented",
    f"/records/decision.{DECIDED.decisions[0].id}",
]


def as_graph(text: bytes, form: str) -> set[Any]:
    return set(Graph().parse(data=text, format=form))


def by_pyld(text: bytes) -> set[Any]:
    """Expand by PyLD, the reference processor of the JSON-LD working group."""
    quads = pyld.to_rdf(json.loads(text), {"format": "application/n-quads"})
    return as_graph(quads.encode(), "nt")


@pytest.mark.parametrize("address", LINKED)
def test_json_ld_and_turtle_say_the_same(client: FlaskClient, address: str) -> None:
    """PyLD and rdflib both read from the JSON-LD the very triples of the Turtle."""
    turtle = as_graph(client.get(f"{address}.ttl").data, "turtle")
    linked = client.get(f"{address}.jsonld").data

    assert turtle
    assert turtle == as_graph(linked, "json-ld")
    assert turtle == by_pyld(linked)


def test_the_whole_data_set_is_the_same_in_both(client: FlaskClient) -> None:
    """Export for export; vocabulary and sources are in it."""
    turtle = as_graph(client.get("/exports/turtle").data, "turtle")
    linked = client.get("/exports/jsonld").data

    assert turtle == as_graph(linked, "json-ld")
    assert turtle == by_pyld(linked)
    said = {str(part) for triple in turtle for part in triple}
    assert {
        SOURCE.citation,
        HERB.records[0].iri,
        f"https://w3id.org/traitbed/caution.{TREE_ID}.toxic.invented",
    } <= said


@pytest.mark.parametrize("address", LINKED)
@pytest.mark.parametrize("media_type", ["text/turtle", "application/ld+json"])
def test_accept_asks_for_linked_data(client: FlaskClient, address: str, media_type: str) -> None:
    """Suffix or Accept, the same document; source, licence and credit are in it."""
    response = client.get(address, headers={"Accept": media_type})

    assert 200 == response.status_code
    assert response.content_type.startswith(media_type)
    assert SOURCE.citation in response.text
    assert "licenceText" in response.text or '"licence"' in response.text


def test_the_context_is_served_as_the_documents_carry_it(client: FlaskClient) -> None:
    """A reader may take it from either place."""
    served = client.get("/context.jsonld")

    assert "application/ld+json" == served.content_type
    assert json.loads(served.data)["@context"] == json.loads(client.get("/exports/jsonld").data)["@context"]


def test_every_property_has_a_name_in_the_context(client: FlaskClient) -> None:
    """What plants, records and sources say is read by plain names, not by prefixed ones."""
    nodes = json.loads(client.get(f"/plants/{TREE_ID}.jsonld").data)["@graph"]

    assert [] == sorted({name for node in nodes for name in node if ":" in name})


@pytest.mark.parametrize("form", ["csv", "dwca", "jsonld", "turtle"])
def test_an_export_is_tagged_and_credited(client: FlaskClient, form: str) -> None:
    """A second question costs nothing; each form carries citation, licence and credit."""
    first = client.get(f"/exports/{form}")
    again = client.get(f"/exports/{form}", headers={"If-None-Match": first.headers["ETag"]})

    assert (200, 304) == (first.status_code, again.status_code)
    assert b"" == again.data
    assert "attachment" in first.headers["Content-Disposition"]
    text = first.data
    if form == "dwca":
        with zipfile.ZipFile(io.BytesIO(text)) as archive:
            text = archive.read("reference.csv")
    assert SOURCE.citation.encode() in text


def test_a_streamed_body_is_packed_for_those_who_take_it(client: FlaskClient) -> None:
    """Packed piece by piece, it is the same text, under a tag of its own; an archive is left as it is."""
    plain = client.get("/exports/csv")
    packed = client.get("/exports/csv", headers={"Accept-Encoding": "gzip"})
    archive = client.get("/exports/dwca", headers={"Accept-Encoding": "gzip"})

    assert plain.data == gzip.decompress(packed.data)
    assert plain.headers["ETag"] != packed.headers["ETag"]
    assert "Content-Encoding" not in archive.headers


def test_adopted_values_have_no_place_in_other_forms(client: FlaskClient) -> None:
    """A parameter that would act on nothing is refused."""
    response = client.get("/exports/dwca?adopted=true")

    assert 400 == response.status_code
    assert "adopted" == response.get_json()["errors"][0]["parameter"]


def test_exports_do_not_take_up_the_whole_service(client: FlaskClient) -> None:
    """A third at the same time is asked to come back; one that ended, or was left, makes room."""
    first, second = (client.get("/exports/turtle", buffered=False) for _ in range(2))
    third = client.get("/exports/turtle")
    first.close()
    fourth = client.get("/exports/turtle")
    assert fourth.data.startswith(b"@prefix")
    table = client.get("/exports/csv")
    second.close()

    assert (503, 200, 200) == (third.status_code, fourth.status_code, table.status_code)
    assert ("busy", "60") == (third.get_json()["type"].rpartition("#")[2], third.headers["Retry-After"])


def test_a_record_brings_its_plants_cautions_along(client: FlaskClient) -> None:
    """Whoever takes one number of a plant takes its warnings too."""
    tree = next(plant for plant in PLANTS if plant.id == TREE_ID)

    text = client.get(f"/records/{tree.records[0].id}.ttl").text

    assert tree.cautions
    assert all(caution.text in text for caution in tree.cautions)
