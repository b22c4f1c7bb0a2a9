"""Forms, tags, headers and pages: what any client of HTTP may rely on."""

import csv
import gzip
import io
from collections.abc import Callable
from typing import Any

import pytest
from flask.testing import FlaskClient

from kb.repository import MemoryRepository
from kb.turtle import plant_from_turtle
from tests.api.invented import BEAN_ID, DECIDED, HERB, HERB_ID, ROOT_ID, TREE_ID, WEED_ID
from tests.api.test_problems import BROWSER

Ask = Callable[[str], Any]


@pytest.mark.parametrize(
    ("address", "accept", "mimetype"),
    [
        ("/plants", None, "application/json"),
        ("/plants", "*/*", "application/json"),
        ("/plants", "application/json", "application/json"),
        ("/plants", BROWSER, "text/html"),
        ("/plants", "text/csv", "text/csv"),
        ("/plants", "text/*;q=0.5, application/json;q=0.1", "text/html"),
        ("/plants.json", BROWSER, "application/json"),
        ("/plants.csv", BROWSER, "text/csv"),
        ("/plants.html", "application/json", "text/html"),
        (f"/plants/{HERB_ID}.ttl", None, "text/turtle"),
        (f"/plants/{HERB_ID}", "text/turtle", "text/turtle"),
        (f"/plants/{HERB_ID}/records.json", BROWSER, "application/json"),
        ("/", None, "application/json"),
        ("/", BROWSER, "text/html"),
        ("/health", None, "application/json"),
        ("/openapi.json", BROWSER, "application/json"),
    ],
)
def test_a_suffix_beats_accept_and_json_is_the_default(
    client: FlaskClient, address: str, accept: str | None, mimetype: str
) -> None:
    """The form is what the suffix says, else what Accept prefers, else JSON."""
    response = client.get(address, headers={} if accept is None else {"Accept": accept})

    assert (200, mimetype) == (response.status_code, response.mimetype)
    assert "Accept" in response.headers["Vary"]


def test_a_form_that_is_not_there_is_a_406(client: FlaskClient) -> None:
    """An Accept that nothing can meet says what there is."""
    response = client.get("/plants", headers={"Accept": "image/png"})

    assert 406 == response.status_code
    assert ["json", "html", "csv"] == response.get_json()["offered"]


def test_dots_in_ids_are_no_suffix(client: FlaskClient) -> None:
    """An id with dots (a cultivar group, a record) is found as it is written."""
    record = HERB.records[0]

    assert record.iri == client.get(f"/records/{record.id}").get_json()["record"]["id"]
    assert record.iri == client.get(f"/records/{record.id}.json").get_json()["record"]["id"]
    assert record.iri == client.get(f"/records/{record.iri}").get_json()["record"]["id"]


def test_tags_are_strong_and_one_per_form(client: FlaskClient) -> None:
    """RFC 9110: each representation has a tag of its own; the same question has the same tag."""
    tags = [client.get(a).headers["ETag"] for a in ("/plants", "/plants.json", "/plants.html", "/plants.csv")]

    assert tags[0] == tags[1]
    assert 3 == len(set(tags))
    assert not any(tag.startswith("W/") for tag in tags)


@pytest.mark.parametrize(
    "address", ["/plants", f"/plants/{HERB_ID}", "/traits", "/exports/csv", "/openapi.json"]
)
def test_a_client_that_has_the_answer_is_told_so(client: FlaskClient, address: str) -> None:
    """If-None-Match with the tag of the answer gets 304 and no body."""
    tag = client.get(address).headers["ETag"]

    again = client.get(address, headers={"If-None-Match": tag})

    assert (304, b"") == (again.status_code, again.data)
    assert tag == again.headers["ETag"]


@pytest.mark.parametrize("address", ["/plants", "/exports/csv", "/plants.html"])
def test_a_packed_answer_is_the_same_answer(client: FlaskClient, address: str) -> None:
    """Packed with gzip for clients that take it, with a tag of its own; unpacked it is the plain body."""
    plain = client.get(address, buffered=True)  # read to its end, so that its turn ends
    small = client.get(address, headers={"Accept-Encoding": "gzip"}, buffered=True)
    refused = client.get(address, headers={"Accept-Encoding": "gzip;q=0"}, buffered=True)

    assert plain.data == gzip.decompress(small.data) == refused.data
    assert "gzip" == small.headers["Content-Encoding"]
    assert plain.headers["ETag"] == refused.headers["ETag"] != small.headers["ETag"]
    assert "Accept-Encoding" in plain.headers["Vary"]


def test_any_tag_matches_only_where_there_is_an_answer(client: FlaskClient) -> None:
    """``If-None-Match: *`` is met by a plant that is there, and not by one that is not (RFC 9110)."""
    anything = {"If-None-Match": "*"}

    assert 304 == client.get(f"/plants/{HERB_ID}", headers=anything).status_code
    assert 404 == client.get("/plants/nonesuch", headers=anything).status_code


READ = ["/", "/plants", f"/plants/{HERB_ID}/history", "/exports/csv", "/openapi.json", "/context.jsonld"]


@pytest.mark.parametrize("address", [*READ, "/static/page.css"])
def test_a_reader_who_names_a_version_gets_that_or_none(client: FlaskClient, address: str) -> None:
    """RFC 9110, 13.1.1: If-Match that names another version ends with 412, its own tag or ``*`` with 200."""
    here = client.get(address, buffered=True).headers.get("ETag")
    asked = ['"another"', "*", *([here, f'"another", {here}'] if here else [])]
    answers = [client.get(address, headers={"If-Match": one}, buffered=True) for one in asked]

    assert [412, *[200 for _ in asked[1:]]] == [answer.status_code for answer in answers]
    assert "application/problem+json" == answers[0].content_type
    assert "If-Match names another version" in answers[0].get_json()["detail"]
    assert 412 == client.head(address, headers={"If-Match": '"another"'}).status_code


def test_a_version_that_is_not_here_is_said_before_it_is_said_to_be_unchanged(client: FlaskClient) -> None:
    """RFC 9110, 13.2.2: If-Match is judged before If-None-Match; where nothing is found, neither counts."""
    tag = client.get("/plants").headers["ETag"]
    both = {"If-Match": '"another"', "If-None-Match": tag}

    assert 412 == client.get("/plants", headers=both).status_code
    assert 404 == client.get("/plants/nonesuch", headers=both).status_code


@pytest.mark.parametrize("form", ["csv", "dwca", "turtle", "jsonld"])
def test_an_export_is_always_there(client: FlaskClient, form: str) -> None:
    """RFC 9110, 13.1.2: ``If-None-Match: *`` ends with 304 where there is anything at all."""
    answer = client.get(f"/exports/{form}", headers={"If-None-Match": "*"}, buffered=True)

    assert (304, b"") == (answer.status_code, answer.data)


@pytest.mark.parametrize(
    ("path", "query"),
    [(f"/plants/{HERB_ID}\xff", ""), ("/plants/\xc3(", ""), ("/plants", "q=%FF"), ("/pairs", "a=x&b=%E2%82")],
)
def test_an_address_that_is_no_text_is_refused(client: FlaskClient, path: str, query: str) -> None:
    """RFC 3986, 2.5: the octets of an address are UTF-8. Another name is never read into broken ones."""
    # as PEP 3333 hands a server's octets on; the test client would mend them
    answer = client.get("/", environ_overrides={"PATH_INFO": path, "QUERY_STRING": query})

    assert (400, "application/problem+json") == (answer.status_code, answer.content_type)
    assert "not UTF-8" in answer.get_json()["detail"]


def test_an_address_is_told_back_without_breaking_out(client: FlaskClient) -> None:
    """What stands in the query cannot end the Link or start another header."""
    link = client.get("/plants", query_string='q=trial>; rel="x').headers["Link"]

    assert link.startswith("</plants?q=trial%3E;%20rel=%22x>")


def test_a_changed_record_changes_the_tag(client: FlaskClient, repository: MemoryRepository) -> None:
    """A tag never outlives the facts."""
    tag = client.get("/plants").headers["ETag"]
    repository.put_plant(HERB)

    assert 200 == client.get("/plants", headers={"If-None-Match": tag}).status_code


def test_head_and_options_are_answered(client: FlaskClient) -> None:
    """HEAD has the headers of GET; OPTIONS says what is allowed."""
    head, options = client.head("/plants"), client.options("/plants")

    assert (200, b"") == (head.status_code, head.data)
    assert head.headers["ETag"] == client.get("/plants").headers["ETag"]
    assert {"GET", "HEAD", "OPTIONS"} == set(options.headers["Allow"].replace(" ", "").split(","))


@pytest.mark.parametrize("address", ["/", "/plants.html", "/plants/nonesuch", "/nowhere", "/static/page.css"])
def test_security_headers_are_on_every_answer(client: FlaskClient, address: str) -> None:
    """Nothing inline, nothing from elsewhere, no sniffing; reading from any page, without credentials."""
    with client.get(address) as response:
        headers = response.headers

    policy = headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert "nosniff" == headers["X-Content-Type-Options"]
    assert "no-referrer" == headers["Referrer-Policy"]
    assert "*" == headers["Access-Control-Allow-Origin"]
    assert "Access-Control-Allow-Credentials" not in headers
    assert "total;dur=" in headers["Server-Timing"]


def test_every_answer_says_what_was_asked_and_of_what(ask: Ask) -> None:
    """Question, data set, cautions, reasons, notes are in every answer; cautions before the rest."""
    for address in ("/plants", f"/plants/{HERB_ID}", f"/plants/{HERB_ID}/records", "/sources", "/traits"):
        keys = list(ask(address))
        assert {"question", "dataset_version", "cautions", "reasons", "notes"} <= set(keys), address
        assert keys.index("cautions") < 5, address


def test_plants_are_found_by_words_family_and_trait(ask: Ask) -> None:
    """Filters are joined; an unknown value fits nothing."""

    def ids(query: str) -> list[str]:
        return [plant["id"] for plant in ask(f"/plants?{query}")["plants"]]

    assert [ROOT_ID, WEED_ID] == ids("family=Apiaceae")
    assert [TREE_ID] == ids("trait=growth-form%3Dtree")
    assert [HERB_ID] == ids("trait=mature-height%3D..0.45")
    assert [BEAN_ID] == ids("trait=growth-window%3D2")
    assert [BEAN_ID] == ids("trait=growth-window%3D45..46&trait=growth-form%3Dherb")
    assert [WEED_ID, HERB_ID] == ids("q=trial%20herb")
    assert [HERB_ID] == ids("q=vetusta")
    assert [] == ids("q=oak")


def test_pages_of_a_list_join_without_gap_or_overlap(client: FlaskClient, ask: Ask) -> None:
    """Following 'next' (in the answer and in Link, RFC 8288) gives each plant once."""
    seen: list[str] = []
    address: str | None = "/plants?limit=2"
    while address:
        answer = ask(address)
        seen += [plant["id"] for plant in answer["plants"]]
        link = client.get(address).headers["Link"]
        found = [part.partition(">")[0].lstrip(" <") for part in link.split(",") if 'rel="next"' in part]
        assert bool(answer["next"]) == bool(found)
        address = found[0] if found else None

    assert sorted([TREE_ID, HERB_ID, ROOT_ID, BEAN_ID, WEED_ID]) == seen


def test_a_token_of_another_question_is_refused(client: FlaskClient, ask: Ask) -> None:
    """A token is bound to its question and data set; elsewhere it would skip plants silently."""
    token = ask("/plants?limit=2")["next"]

    response = client.get(f"/plants?limit=2&family=Apiaceae&after={token}")

    assert 400 == response.status_code
    assert "another question" in response.get_json()["detail"]


def test_a_token_holds_for_any_page_size(ask: Ask) -> None:
    """The size of a page is no part of the question."""
    token = ask("/plants?limit=2")["next"]

    assert 3 == len(ask(f"/plants?limit=10&after={token}")["plants"])


def test_a_plant_shows_every_trait_and_why_one_is_missing(ask: Ask) -> None:
    """A trait without a value is null, with the reason beside it (interface.md)."""
    answer = ask(f"/plants/{HERB_ID}")

    assert answer["traits"]["reach"] is None
    assert "no record" == answer["missing"]["reach"]
    height = answer["traits"]["mature-height"]
    assert height["low"] <= 0.4 <= height["high"]
    assert [HERB.records[3].iri] == height["records"]
    assert "decision" == height["rule"]
    assert "Lamiaceae" == answer["traits"]["family"]["concept"]


def test_records_show_source_weight_and_decisions(ask: Ask) -> None:
    """Every record with its printed text, its place in the source, and how it counted."""
    answer = ask(f"/plants/{HERB_ID}/records?trait=mature-height")

    assert 1 == len(answer["records"])
    record = answer["records"][0]
    assert ("0.3-0.5", "p. 1", "invented") == (record["verbatim"], record["locator"], record["source"]["key"])
    assert record["weight"] > 0
    assert "preferred" == answer["decisions"][0]["weighed"][0]["role"]


@pytest.mark.parametrize("kind", ["record", "caution", "decision"])
def test_every_kind_of_iri_opens(ask: Ask, kind: str) -> None:
    """Records, cautions and decisions open at one address."""
    tree_caution = next(c for c in ask(f"/plants/{TREE_ID}")["cautions"])
    iri = {
        "record": HERB.records[0].iri,
        "caution": tree_caution["id"],
        "decision": DECIDED.decisions[0].iri,
    }[kind]

    answer = ask(f"/records/{iri.removeprefix('https://w3id.org/traitbed/')}")

    assert (kind, iri) == (answer["kind"], answer["record"]["id"])


def test_no_caution_on_record_is_said_in_words(ask: Ask) -> None:
    """Nothing on record is never shown as nothing to fear (trade J3)."""
    cautions = ask(f"/plants/{HERB_ID}")["cautions"]

    assert ["No caution on record; that is not the same as safe. Not searched yet."] == [
        c["text"] for c in cautions
    ]


def test_the_audience_orders_the_cautions(ask: Ask) -> None:
    """A keeper of animals hears first what concerns them; a school gets stricter words."""
    kinds = {
        audience: [c["kind"] for c in ask(f"/plants/{ROOT_ID}?audience={audience}")["cautions"]]
        for audience in ("livestock", "school", "household")
    }
    school = ask(f"/plants/{ROOT_ID}?audience=school")["cautions"]

    assert "livestock" == kinds["livestock"][0]
    assert "lookalike" == kinds["school"][0]
    assert "prohibited" == kinds["household"][0]
    assert any("school ground" in (c["advice"] or "") for c in school)


@pytest.mark.parametrize(
    ("place", "shown"), [("DE", True), ("EU", True), ("GB", False), ("US-CA", False), (None, True)]
)
def test_law_is_told_where_it_holds(ask: Ask, place: str | None, shown: bool) -> None:
    """A rule of the Union holds in its member states; where the place is unknown it is shown."""
    answer = ask(f"/plants/{ROOT_ID}" + (f"?place={place}" if place else ""))

    assert shown == any(c["kind"] == "prohibited" for c in answer["cautions"])
    assert shown != any("left out" in note for note in answer["notes"])


def test_a_plant_file_comes_as_it_is_kept(client: FlaskClient) -> None:
    """The Turtle of a plant reads back as that plant."""
    text = client.get(f"/plants/{HERB_ID}.ttl").text

    assert HERB_ID == plant_from_turtle(text, "x.ttl").id


def test_the_plants_table_has_one_row_a_plant(client: FlaskClient) -> None:
    """CSV as RFC 4180 has it, with a header."""
    rows = list(csv.DictReader(io.StringIO(client.get("/plants.csv").text)))

    assert [BEAN_ID, ROOT_ID, TREE_ID, WEED_ID, HERB_ID] == [row["id"] for row in rows]
    assert "Rosaceae" == rows[2]["family"]


def test_exports_keep_the_column_order_scripts_rely_on(client: FlaskClient) -> None:
    """The columns of interface.md, in that order; every record once."""
    records = client.get("/exports/csv").text
    adopted = client.get("/exports/csv?adopted=true").text

    assert records.startswith(
        "record,plant,scientific_name,trait,low,likely,high,concept,unit,number_kind,conditions,verbatim,"
        "name_as_printed,source,locator,basis,standing,entered_by,entered_on,licence,"
    )
    assert adopted.startswith("plant,trait,low,likely,high,concept,unit,confidence,rule,records\r\n")
    rows = {row["record"]: row for row in csv.DictReader(io.StringIO(records))}
    row = rows[HERB.records[3].iri]
    assert ("0.3", "", "0.5", "0.3-0.5", "invented") == tuple(
        row[name] for name in ("low", "likely", "high", "verbatim", "licence")
    )


@pytest.mark.parametrize(
    "address", ["/", "/plants", f"/plants/{TREE_ID}", f"/plants/{ROOT_ID}/records", "/traits", "/sources"]
)
def test_pages_ask_nothing_of_elsewhere(client: FlaskClient, address: str) -> None:
    """Pages hold no script, no inline style, and nothing is loaded from another server."""
    page = client.get(address, headers={"Accept": BROWSER}).text

    assert page.lstrip().lower().startswith("<!doctype html>")
    assert "<script" not in page
    assert ' style="' not in page
    assert 'src="http' not in page
    assert '<link rel="stylesheet" href="http' not in page


def test_health_counts_what_is_there(ask: Ask) -> None:
    """A probe sees at once whether the base is whole."""
    answer = ask("/health")

    assert ("ok", 5, 0) == (answer["status"], answer["counts"]["plants"], answer["files_left_out"])
