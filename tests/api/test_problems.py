"""One error shape: RFC 9457 problem details for scripts, a page for browsers, no inner workings."""

import re
from typing import Any

import pytest
from flask.testing import FlaskClient

from api.app import MAX_BODY_BYTES, MAX_QUERY_BYTES, create_app
from kb.errors import StoreFault
from kb.repository import MemoryRepository
from kb.snapshot import Snapshot
from tests.api.invented import HERB_ID, TREE_ID
from tests.api.test_openapi import schema_faults

BROWSER = "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"
"""What browsers send."""


def problem(client: FlaskClient, address: str, status: int, slug: str, **keywords: Any) -> Any:
    """Give the problem; fails where its shape is not that of RFC 9457."""
    response = client.open(address, **keywords)
    assert status == response.status_code, response.text
    assert "application/problem+json" == response.mimetype
    told = response.get_json()
    assert {"type", "title", "status", "detail", "instance"} <= set(told)
    assert f"https://w3id.org/traitbed/problems#{slug}" == told["type"]
    assert status == told["status"]
    assert not re.search(r"/(work|home|usr|tmp)/|Traceback|\.py\b", response.text)
    return told


@pytest.mark.parametrize(
    ("address", "status", "slug"),
    [
        ("/plants/nonesuch", 404, "unknown-plant"),
        ("/plants/nonesuch/records", 404, "unknown-plant"),
        ("/plants/nonesuch/under", 404, "unknown-plant"),
        ("/plants/nonesuch/candidates", 404, "unknown-plant"),
        (f"/pairs?a=nonesuch&b={HERB_ID}", 404, "unknown-plant"),
        ("/plants/trialwort", 400, "ambiguous-plant"),
        ("/records/nonesuch.trait.source", 404, "unknown-record"),
        ("/traits/nonesuch", 404, "unknown-trait"),
        (f"/plants/{HERB_ID}/records?trait=nonesuch", 404, "unknown-trait"),
        ("/sources/nonesuch", 404, "unknown-source"),
        ("/plants?colour=red", 400, "bad-parameter"),
        ("/plants?trait=nonesuch%3D1", 400, "bad-parameter"),
        ("/plants?trait=growth-form%3Dtreeish", 400, "bad-parameter"),
        ("/plants?trait=mature-height%3D3..1", 400, "bad-parameter"),
        ("/plants?trait=mature-height", 400, "bad-parameter"),
        ("/plants?family=Nonesuchaceae", 400, "bad-parameter"),
        ("/plants?after=x", 400, "bad-parameter"),
        ("/plants?after=%F0%9F%8C%B3", 400, "bad-parameter"),
        ("/plants?q=", 400, "bad-parameter"),
        ("/plants?q=a%00b", 400, "bad-parameter"),
        ("/plants?q=" + "x" * 201, 400, "bad-parameter"),
        ("/pairs", 400, "bad-parameter"),
        ("/under", 400, "bad-parameter"),
        ("/candidates", 400, "bad-parameter"),
        (f"/plants/{HERB_ID}/under", 400, "bad-parameter"),
        (f"/plants/{TREE_ID}/under?crown_base_m=40", 400, "bad-parameter"),
        ("/health?x=1", 400, "bad-parameter"),
        ("/nowhere", 404, "not-found"),
        ("/exports/xml", 404, "not-found"),
        ("/plants.ttl", 406, "not-acceptable"),
        (f"/plants/{HERB_ID}.csv", 406, "not-acceptable"),
        ("/plants?q=" + "x" * MAX_QUERY_BYTES, 414, "too-long"),
    ],
)
def test_bad_questions_are_problems(client: FlaskClient, address: str, status: int, slug: str) -> None:
    """Whatever is wrong, the answer has one shape and says what is wrong."""
    assert problem(client, address, status, slug)["detail"]


def test_an_unknown_plant_offers_the_nearest_names(client: FlaskClient) -> None:
    """A slip of the hand is answered with the name that was meant."""
    told = problem(client, "/plants/trial%20hreb", 404, "unknown-plant")

    assert "trial herb" in told["nearest"]
    assert "trial herb" in told["detail"]


def test_an_ambiguous_name_offers_the_choices(client: FlaskClient) -> None:
    """A name of two plants is never guessed."""
    told = problem(client, "/plants/trialwort", 400, "ambiguous-plant")

    assert ["fictaria-fabulosa", "fictaria-radicosa"] == sorted(told["choices"])
    assert set(told["choices"]) == set(told["names"])
    assert [] == schema_faults(told, {"$ref": "#/components/schemas/Problem"})


def test_an_ambiguous_name_in_a_planting_offers_the_choices(client: FlaskClient) -> None:
    """Ids stand beside the fault that is told in names."""
    told = problem(client, f"/judgements?plant=trialwort&plant={HERB_ID}", 400, "bad-parameter")

    (fault,) = told["errors"]
    assert {"fictaria-fabulosa", "fictaria-radicosa"} == set(fault["choices"]) == set(fault["names"])
    assert [] == schema_faults(told, {"$ref": "#/components/schemas/Problem"})


@pytest.mark.parametrize("address", ["/plants/trialwort", f"/judgements?plant=trialwort&plant={HERB_ID}"])
def test_the_page_leads_from_a_shared_name_to_the_same_question(client: FlaskClient, address: str) -> None:
    """One link a plant, told by name; the rest of the question is kept."""
    page = client.get(address, headers={"Accept": "text/html"}).text

    assert f'href="{address.replace("trialwort", "fictaria-radicosa").replace("&", "&amp;")}"' in page
    assert "Fictaria radicosa" in page


def test_faults_are_listed_by_parameter(client: FlaskClient) -> None:
    """Each fault has an entry of its own, so that a form can show it where it belongs."""
    told = problem(client, "/pairs?a=x&latitude=99&soil_ph=z", 400, "bad-parameter")

    assert {"b", "latitude", "soil_ph"} == {fault["parameter"] for fault in told["errors"]}


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE"])
def test_nothing_can_be_written(client: FlaskClient, method: str) -> None:
    """Only reading is offered; what is allowed is said."""
    response = client.open("/plants", method=method)

    assert 405 == response.status_code
    assert "application/problem+json" == response.mimetype
    assert "GET" in response.headers["Allow"]


def test_bodies_are_refused(client: FlaskClient) -> None:
    """A body on a reading request is never accepted and ignored."""
    told = problem(client, "/plants", 415, "unsupported-media-type", method="GET", data=b"{}")

    assert "/plants" == told["instance"]
    assert told["detail"]


def test_large_bodies_are_refused(client: FlaskClient) -> None:
    """Size is limited before anything is read."""
    told = problem(client, "/plants", 413, "too-large", method="GET", data=b"x" * (MAX_BODY_BYTES + 1))

    assert "/plants" == told["instance"]
    assert told["detail"]


def test_a_browser_gets_a_page(client: FlaskClient) -> None:
    """A person sees the problem as a page, with the same status."""
    response = client.get("/plants/nonesuch", headers={"Accept": BROWSER})

    assert 404 == response.status_code
    assert "text/html" == response.mimetype
    assert "nonesuch" in response.text


def test_names_in_a_problem_page_are_escaped(client: FlaskClient) -> None:
    """What a stranger puts into an address never becomes markup."""
    response = client.get("/plants/%3Cscript%3Ealert(1)%3C%2Fscript%3E.html")

    assert "<script>alert" not in response.text


class BrokenRepository(MemoryRepository):
    """A store that fails as told."""

    def __init__(self, error: Exception) -> None:
        super().__init__()
        self._error = error

    def snapshot(self) -> Snapshot:
        raise self._error


def test_an_unforeseen_error_shows_a_reference_only(caplog: pytest.LogCaptureFixture) -> None:
    """The log holds the error under the reference that the answer quotes; the answer holds nothing else."""
    client = create_app(BrokenRepository(RuntimeError("/secret/path")), testing=True).test_client()

    told = problem(client, "/plants", 500, "internal-error")

    assert told["reference"] in told["detail"]
    assert "secret" not in str(told)
    assert told["reference"] in caplog.text
    assert "/secret/path" in caplog.text


def test_a_store_that_is_gone_is_a_503() -> None:
    """The service is there, its store is not."""
    client = create_app(
        BrokenRepository(StoreFault("folder 'mine'", "is not there")), testing=True
    ).test_client()

    assert "is not there" in problem(client, "/plants", 503, "store-fault")["detail"]


@pytest.mark.parametrize("address", ["/decisions", "/observations", "/records"])
def test_a_wrong_method_is_told_of_this_address(client: FlaskClient, address: str) -> None:
    """RFC 9110, section 15.5.6: the methods of the address, here POST, and nothing of another one."""
    detail = client.get(address).get_json()["detail"]

    assert "POST" in detail
    assert "planting" not in detail
