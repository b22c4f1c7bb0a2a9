"""POST /lists: a list comes in, its rows come back matched, ambiguous or unknown; nothing is kept."""

import pytest
from flask.testing import FlaskClient

from tests.api.invented import HERB_ID, ROOT_ID
from tests.api.test_openapi import description, schema_faults

LIST = f"{HERB_ID}\nnonesuch\n{ROOT_ID}\n"


@pytest.mark.parametrize(
    ("sent", "kind"),
    [
        (LIST, "text/plain"),
        (LIST, "text/csv; charset=utf-8"),
        ('{"list": "' + LIST.replace("\n", "\\n") + '"}', "application/json"),
        (f"list={LIST}".replace("\n", "%0D%0A"), "application/x-www-form-urlencoded"),
    ],
)
def test_a_list_is_matched_however_it_is_sent(client: FlaskClient, sent: str, kind: str) -> None:
    """The same rows, held to the description."""
    response = client.post("/lists", data=sent, content_type=kind)

    answer = response.get_json()
    assert 200 == response.status_code
    assert [HERB_ID, None, ROOT_ID] == [row["plant"] for row in answer["rows"]]
    assert {"matched": 2, "ambiguous": 0, "unknown": 1} == answer["counts"]
    assert [] == schema_faults(answer, {"$ref": "#/components/schemas/ListAnswer"})
    assert "ListAnswer" in description()["components"]["schemas"]
    assert "no-store" == response.headers["Cache-Control"]


def test_the_page_works_by_form_alone(client: FlaskClient) -> None:
    """A textarea and a button; the answer is a page with the form again, cautions before the rows."""
    form = client.get("/lists", headers={"Accept": "text/html"}).text
    answered = client.post("/lists", data={"list": LIST}, headers={"Accept": "text/html"}).text

    assert '<form action="/lists" method="post">' in form
    assert "<textarea" in form
    assert "2 matched, 0 ambiguous, 1 unknown" in answered
    assert f'href="/plants/{HERB_ID}"' in answered
    assert answered.index("Cautions") < answered.index("To look at: 1 row") < answered.index("Known here")


def test_words_of_the_list_are_shown_as_words(client: FlaskClient) -> None:
    """What is sent cannot become a part of the page."""
    answered = client.post(
        "/lists", data={"list": "<script>alert(1)</script>"}, headers={"Accept": "text/html"}
    ).text

    assert "<script>" not in answered
    assert "&lt;script&gt;" in answered


@pytest.mark.parametrize(
    ("sent", "kind", "status", "told"),
    [
        ("", "text/plain", 400, "holds no names"),
        ("x\n" * 400, "text/plain", 400, "has 400 rows, 300 are the most"),
        ("{", "application/json", 400, "not JSON"),
        ("[]", "application/json", 400, "send an object"),
        ('{"list": 3}', "application/json", 400, "must be a text"),
        ('{"list": "x", "store": "y"}', "application/json", 400, "is not taken here"),
        ("a,b\nc,d", "text/csv", 400, "no column holds a name known here"),
        (b"\xff\xfe\x00", "text/plain", 400, "is not utf-16"),
        ("<a/>", "application/xml", 415, "Send it as"),
        ("x" * 70_000, "text/plain", 413, "at most 64 kB"),
    ],
)
def test_a_list_that_cannot_be_read_is_a_problem(
    client: FlaskClient, sent: str | bytes, kind: str, status: int, told: str
) -> None:
    """What is wrong and how to mend it."""
    response = client.post("/lists", data=sent, content_type=kind)

    assert status == response.status_code
    assert "application/problem+json" == response.content_type
    assert told in response.text
