"""Host statements and walnut lists open like records, over HTTP and as pages; pairs rest on them."""

from collections.abc import Iterator
from typing import Any

import pytest
from flask.testing import FlaskClient

from api.app import create_app
from kb.repository import open_repository
from tests.api.test_openapi import schema_faults

TOMATO_BLIGHT = "solanum-lycopersicum.enemy.phytophthora-infestans.core-lateblight-wwa"
LOVAGE_WORMWOOD = "levisticum-officinale.allelopathy.artemisia-absinthium.funke-1943-blumea.2"
TOMATO_WALNUT = "solanum-lycopersicum.allelopathy.juglans-nigra.morton-arboretum-sheet"
PINE_RUST = "pinus-strobus.enemy.cronartium-ribicola.pnw-wpbr-ribes"
BLIGHT_PAIR = "/pairs?a=solanum-lycopersicum&b=solanum-tuberosum&setting=bed"


@pytest.fixture(scope="module")
def shipped() -> FlaskClient:
    """The shipped base."""
    return create_app(open_repository(None), testing=True).test_client()


def get(client: FlaskClient, address: str) -> Any:
    response = client.get(address)
    assert response.status_code == 200, response.text
    return response.get_json()


def iris(answer: object) -> Iterator[str]:
    """Every record IRI of the reasons, conditions and limits of an answer."""
    if isinstance(answer, dict):
        for key, value in answer.items():
            if key == "records":
                yield from value
            else:
                yield from iris(value)
    elif isinstance(answer, list):
        for value in answer:
            yield from iris(value)


def test_a_host_statement_opens_with_what_is_printed(shipped: FlaskClient) -> None:
    """The printed distance opens with its meaning and its words (Pacific Northwest handbook)."""
    answer = get(shipped, f"/records/{PINE_RUST}")

    record = answer["record"]
    assert answer["kind"] == "enemy"
    assert (record["enemy_name"], record["role"]) == ("white pine blister rust", "alternate")
    assert (record["distance_m"], record["distance_meaning"]) == ([305.0, 805.0], "between-hosts")
    assert record["verbatim"] == "white or five-needled pine is an alternate"
    assert record["source"]["citation"]


def test_a_list_opens_with_its_grade(shipped: FlaskClient) -> None:
    """A walnut list shows that it is grade D, an observation."""
    answer = get(shipped, f"/records/{TOMATO_WALNUT}")

    assert answer["kind"] == "emission"
    assert (answer["record"]["listed_as"], answer["record"]["grade"]) == ("sensitive", "D")


@pytest.mark.parametrize("record", [TOMATO_BLIGHT, TOMATO_WALNUT, PINE_RUST])
def test_statements_hold_to_the_description(shipped: FlaskClient, record: str) -> None:
    """What is answered is what openapi.json describes."""
    assert (
        schema_faults(get(shipped, f"/records/{record}"), {"$ref": "#/components/schemas/RecordAnswer"}) == []
    )


@pytest.mark.parametrize(
    ("record", "words"),
    [
        (PINE_RUST, ("white pine blister rust", "305 to 805 m (between hosts)", "alternate host")),
        (TOMATO_WALNUT, ("juglone: listed as sensitive", "Evidence grade")),
        (LOVAGE_WORMWOOD, ("leaf washings (absinthiin): listed as sensitive", "does not name")),
    ],
)
def test_a_statement_has_a_page(shipped: FlaskClient, record: str, words: tuple[str, ...]) -> None:
    """A reader who follows the link of a reason finds the statement in words."""
    page = shipped.get(f"/records/{record}", headers={"Accept": "text/html"})

    assert page.status_code == 200
    text = " ".join(page.text.split())
    for word in words:
        assert word in text


@pytest.mark.parametrize(
    ("address", "record"),
    [
        (BLIGHT_PAIR, TOMATO_BLIGHT),
        (
            "/pairs?a=pinus-strobus&b=ribes-nigrum&setting=under&height_m=20&distance_m=100",
            PINE_RUST,
        ),
        (
            "/pairs?a=juglans-nigra&b=solanum-lycopersicum&setting=under&height_m=16&distance_m=6",
            TOMATO_WALNUT,
        ),
    ],
)
def test_a_verdict_names_the_statements_it_rests_on(shipped: FlaskClient, address: str, record: str) -> None:
    """Every IRI behind these verdicts opens, and the deciding statement is among them (`trade` B16-B18)."""
    answer = get(shipped, address)
    found = set(iris(answer))

    assert answer["verdict"] == "avoid"
    assert f"https://w3id.org/traitbed/record.{record}" in found
    for iri in found:
        assert get(shipped, f"/records/{iri.removeprefix('https://w3id.org/traitbed/record.')}")


def test_clean_ground_can_be_given(shipped: FlaskClient) -> None:
    """The gardener's word on the ground is asked for by the wilt of strawberry and tomato (`trade` T02)."""
    asked = "/pairs?a=fragaria-x-ananassa&b=solanum-lycopersicum&setting=bed"

    unknown, clean = get(shipped, asked), get(shipped, f"{asked}&given=clean-ground")

    met = [[c["met"] for c in answer["conditions"] if c["kind"] == "enemies"] for answer in (unknown, clean)]
    assert met == [[None], [True]]


def test_sources_count_their_statements(shipped: FlaskClient) -> None:
    """A source of nothing but host statements does not look unused."""
    listed = {source["key"]: source["records"] for source in get(shipped, "/sources")["sources"]}

    assert listed["core-lateblight-wwa"] == 2
    assert listed["obic-nema"] > 500
