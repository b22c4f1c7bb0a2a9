"""Writing over HTTP: who may, on which revision, in which form; every refusal a problem, nothing lost.

Status codes as RFC 9110 (401, 403, 412, 413, 415, 422) and RFC 6585 (428, 429) define them.
"""

import json
import re
import threading
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from api.app import create_app
from kb.repository import MemoryRepository
from tests.api.benching import OBSERVATION, PASSWORD, PLANT_ID, RECORD, Store
from tests.api.invented import PLANTS, ROOT_ID, SOURCE, TREE_ID
from tests.api.test_openapi import description, schema_faults

FORM = f"/plants/{PLANT_ID}/write"
OWN = "inventa-herbacea.mature-height.invented"
DECISION = {
    "plant": str(PLANT_ID),
    "trait": "mature-height",
    "why": "The only one measured.",
    "preferred": [OWN],
}


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path)


def slug(response: TestResponse) -> str:
    """Give the name of a problem."""
    return str(response.get_json()["type"]).rpartition("#")[2]


def test_a_record_is_written_and_the_answer_is_as_described(store: Store) -> None:
    """201 with its address, the new revision as tag, and the values in use that moved."""
    response = store.post("/records", RECORD, "curator-a")

    answer = response.get_json()
    assert 201 == response.status_code
    assert [] == schema_faults(answer, {"$ref": "#/components/schemas/Written"})
    assert [f"https://w3id.org/traitbed/record.{OWN}.1001"] == answer["added"]
    assert f'"{store.revision()}"' == f'"{answer["revision"]}"' == response.headers["ETag"]
    opened = store.client.get(response.headers["Location"]).get_json()["record"]
    assert ("curator-a", 0.4, "40 cm") == (opened["entered_by"], opened["likely"], opened["verbatim"])


def test_an_observation_bends_the_plants_value_and_shows_its_weight(store: Store) -> None:
    """The plant's answer holds the place's estimate, the bent value and what it would be without."""
    response = store.post("/observations", OBSERVATION, "curator-a")

    plant = store.client.get(f"/plants/{PLANT_ID}.json").get_json()
    records = store.client.get(f"/plants/{PLANT_ID}/records.json").get_json()
    (here,) = plant["local"]
    assert 201 == response.status_code
    assert response.get_json()["local"] == plant["local"]
    assert ("home", 0.2) == (here["place"], here["weight"])
    value = plant["traits"]["mature-height"]
    assert value["bent"]["likely"] != value["likely"]
    assert [seen["id"] for seen in records["observations"]] == here["observations"]
    assert [] == schema_faults(plant, {"$ref": "#/components/schemas/PlantAnswer"})
    assert [] == schema_faults(records, {"$ref": "#/components/schemas/RecordsAnswer"})


def test_questions_take_plants_as_observed_at_a_place(store: Store) -> None:
    """The plant and the pair are judged by the place's estimate and say so; another place is a problem."""
    store.post(
        "/observations",
        {**OBSERVATION, "trait": "rooting-depth", "value": "2 m", "age_years": "30"},
        "curator-a",
    )
    plain, here = (
        store.client.get(f"/plants/{PLANT_ID}.json{query}").get_json() for query in ("", "?observed_at=home")
    )
    pair = store.client.get(f"/pairs?a={PLANT_ID}&b={ROOT_ID}&observed_at=home").get_json()
    refused = store.client.get(f"/pairs?a={PLANT_ID}&b={ROOT_ID}&observed_at=nowhere")

    depth = plain["local"][0]["likely"]
    assert depth == here["traits"]["rooting-depth"]["likely"]
    assert f"Taken as you observed them at home: {PLANT_ID} (rooting-depth)." in here["notes"]
    assert "home" == pair["question"]["site"]["observed_at"]
    assert any("as you observed them at home" in note for note in pair["notes"])
    assert [] == schema_faults(pair, {"$ref": "#/components/schemas/PairAnswer"})
    assert [] == schema_faults(here, {"$ref": "#/components/schemas/PlantAnswer"})
    assert (404, "unknown-place") == (refused.status_code, slug(refused))


@pytest.mark.parametrize(
    ("path", "body", "who", "status", "name"),
    [
        ("/records", RECORD, None, 401, "not-signed-in"),
        ("/records", RECORD, "curator-a.wrong", 401, "not-signed-in"),
        ("/records", RECORD, "nobody.at-all", 401, "not-signed-in"),
        ("/observations", OBSERVATION, None, 401, "not-signed-in"),
        ("/decisions", DECISION, None, 401, "not-signed-in"),
        ("/records", RECORD, "curator-a", 201, ""),
        ("/observations", OBSERVATION, "curator-a", 201, ""),
        ("/decisions", DECISION, "curator-a", 403, "not-allowed"),
        ("/decisions", DECISION, "curator-b", 201, ""),
    ],
)
def test_roles_are_enforced(
    store: Store, path: str, body: Any, who: str | None, status: int, name: str
) -> None:
    """No account, no write; an author decides nothing; a refusal leaves the plant as it was."""
    before = store.revision()

    response = store.post(path, body, who)

    assert status == response.status_code, response.text
    assert (status == 201) == (before != store.revision())
    if name:
        assert name == slug(response)
    if status == 401:
        assert "Bearer" in response.headers["WWW-Authenticate"]


@pytest.mark.parametrize(
    ("body", "status", "name", "told"),
    [
        ({**RECORD, "value": "40 kg"}, 400, "bad-parameter", "no length"),
        ({**RECORD, "value": 40}, 400, "bad-parameter", "takes a text"),
        ({**RECORD, "colour": "red"}, 400, "bad-parameter", "is not known"),
        ({**RECORD, "condition": "stock=M9"}, 400, "bad-parameter", "a list"),
        ({**RECORD, "condition": ["stock"]}, 400, "bad-parameter", "key=value"),
        ({k: v for k, v in RECORD.items() if k != "why"}, 400, "bad-parameter", "is missing"),
        ({**RECORD, "locator": ""}, 400, "bad-parameter", "locator"),
        ({**RECORD, "plant": "no such plant"}, 404, "unknown-plant", "no such plant"),
        ({**RECORD, "trait": "no-such-trait"}, 404, "unknown-trait", "no-such-trait"),
        ({**RECORD, "source": "nowhere"}, 404, "unknown-source", "nowhere"),
        ({**RECORD, "value": "400 m"}, 422, "refused", "impossible"),
        ({**RECORD, "source_citation": "A book"}, 400, "bad-parameter", "source_licence"),
        ([RECORD], 400, "bad-parameter", "object"),
        ({**RECORD, "note": "x" * 2001}, 400, "bad-parameter", "2000"),
    ],
)
def test_a_bad_body_is_refused_with_what_to_mend(
    store: Store, body: Any, status: int, name: str, told: str
) -> None:
    """Each fault is named; nothing is written."""
    before = store.revision()

    response = store.post("/records", body)

    assert (status, name) == (response.status_code, slug(response))
    assert told in response.text
    assert before == store.revision()


def test_only_json_comes_in(store: Store) -> None:
    """A form, Turtle, JSON-LD and what is no JSON are refused; so is more than a statement needs."""
    headers = {"Authorization": f"Bearer {store.tokens['curator-b']}", "If-Match": f'"{store.revision()}"'}

    def sent(data: str, kind: str) -> int:
        return store.client.post("/records", data=data, content_type=kind, headers=headers).status_code

    assert [415, 415, 415, 415] == [
        sent(json.dumps(RECORD), kind)
        for kind in ("application/x-www-form-urlencoded", "text/turtle", "application/ld+json", "text/plain")
    ]
    assert 400 == sent("{", "application/json")
    assert 400 == sent(json.dumps({**RECORD, "note": "x" * 20000}), "application/json")
    assert 413 == sent("x" * 70000, "application/json")


def test_a_write_names_the_revision_that_was_read(store: Store) -> None:
    """Without it 428; with an old one 412 and both versions; with the tag of the history it is taken."""
    tag = store.client.get(f"/plants/{PLANT_ID}/history.json").headers["ETag"].strip('"')
    read = store.revision()

    missing = store.post("/records", RECORD, revision=None)
    taken = store.post("/records", RECORD, "curator-a", tag)
    stale = store.post("/observations", OBSERVATION, "curator-b", read)

    assert (428, "revision-missing") == (missing.status_code, slug(missing))
    assert 201 == taken.status_code
    assert tag.startswith(read)
    told = stale.get_json()
    assert (412, "stale-write") == (stale.status_code, slug(stale))
    assert (read, store.revision()) == (told["expected_revision"], told["current_revision"])
    assert "curator-a added record" in told["since"][0]
    assert "40 cm" in told["stands"]
    assert "45 cm" not in told["stands"]
    assert "45 cm" in told["yours"]
    assert [] == schema_faults(told, description()["components"]["schemas"]["Problem"])


def test_two_at_once_are_not_both_taken(store: Store) -> None:
    """Eight clients write on one revision at the same time: one is taken, seven are told."""
    read, codes = store.revision(), list[int]()

    def write() -> None:
        codes.append(store.post("/observations", OBSERVATION, "curator-b", read).status_code)

    threads = [threading.Thread(target=write) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert [201, *[412] * 7] == sorted(codes)
    assert 1 == len(store.repository.snapshot().plants[PLANT_ID].observations)


def test_a_caution_is_added_reviewed_and_undone_over_http(store: Store) -> None:
    """The author of a caution, reviewer or not, does not review it."""
    warning = {
        **{k: v for k, v in RECORD.items() if k not in {"trait", "value"}},
        "caution": "skin",
        "text": "The invented sap burns the skin.",
    }
    added = store.post("/records", warning).get_json()["added"][0]
    review = {"plant": str(PLANT_ID), "caution": added, "verdict": "retire", "why": "It was another plant."}

    own = store.post("/decisions", review)
    undo = store.post("/decisions", {"undo": added, "why": "It was another plant."})

    assert (403, "not-allowed") == (own.status_code, slug(own))
    assert "own caution" in own.text
    assert 400 == undo.status_code
    assert "two reviewers" in undo.text


def test_undo_over_http_is_a_further_act(store: Store) -> None:
    """What is taken back stays on file and in the history, with who and why."""
    seen = store.post("/observations", OBSERVATION, "curator-a").get_json()["added"][0]

    undone = store.post("/decisions", {"undo": seen, "why": "Measured the wrong plant."}, "curator-a")

    told = store.client.get(f"/plants/{PLANT_ID}/history.json?record={seen}").get_json()["events"]
    assert 201 == undone.status_code
    assert ["observed", "took back"] == [event["action"] for event in told]
    assert ("curator-a", "Measured the wrong plant.") == (told[1]["who"], told[1]["why"])
    assert store.client.get(f"/records/{seen.rpartition('/')[2]}").get_json()["record"]["withdrawn"]


def test_without_a_store_of_ones_own_nothing_is_written() -> None:
    """The service over the shipped base, or in memory, takes no writes and offers no sign-in."""
    client = create_app(MemoryRepository(PLANTS, (SOURCE,)), testing=True).test_client()
    headers = {"Authorization": "Bearer curator-a.token", "If-Match": '"x"'}

    assert 401 == client.post("/records", json=RECORD, headers=headers).status_code
    assert [401, 401, 401] == [
        client.get("/sign-in").status_code,
        client.post("/sign-in", data={"csrf": "x"}).status_code,
        client.post(FORM, data={"csrf": "x", "form": "record"}).status_code,
    ]


def test_secrets_do_not_travel_in_the_clear(store: Store) -> None:
    """From another machine a token or password is taken over https only."""
    elsewhere = {"REMOTE_ADDR": "192.0.2.7"}

    clear = store.post("/records", RECORD, environ_overrides=elsewhere)
    form = store.client.get("/sign-in", environ_overrides=elsewhere)
    safe = store.post("/records", RECORD, environ_overrides=elsewhere, base_url="https://localhost")

    assert [(403, "insecure"), (403, "insecure")] == [(r.status_code, slug(r)) for r in (clear, form)]
    assert 201 == safe.status_code


# Pages


def token_of(page: TestResponse) -> str:
    """Give the token that a page's form carries."""
    found = re.search(r'name="csrf" value="([0-9a-f]+)"', page.text)
    assert found is not None, page.text
    return found[1]


def signed_in(store: Store, handle: str = "curator-b", password: str = PASSWORD) -> TestResponse:
    """Sign in as a browser does."""
    csrf = token_of(store.client.get("/sign-in"))
    return store.client.post(
        "/sign-in", data={"csrf": csrf, "handle": handle, "password": password, "next": FORM}
    )


def fields(client: FlaskClient, kind: str = "observation", **more: str) -> dict[str, str]:
    """Give a form as the page hands it out, filled in."""
    page = client.get(f"{FORM}?form={kind}")
    found = re.search(r'name="revision" value="([^"]*)"', page.text)
    assert found is not None
    filled = {k: v for k, v in OBSERVATION.items() if k != "plant"}
    return {"csrf": token_of(page), "form": kind, "revision": found[1], **filled, **more}


def test_signing_in_writing_and_signing_out(store: Store) -> None:
    """Without a session the form leads to sign-in and back; after signing out it does so again."""
    stranger = store.client.get(FORM)
    entered = signed_in(store)
    written = store.client.post(FORM, data=fields(store.client))
    left = store.client.post("/sign-out", data={"csrf": token_of(store.client.get(FORM))})

    assert (303, "/sign-in?next=") == (stranger.status_code, stranger.headers["Location"][:14])
    assert (303, FORM) == (entered.status_code, entered.headers["Location"])
    assert 303 == written.status_code
    assert "/history?record=" in written.headers["Location"]
    assert 200 == store.client.get(written.headers["Location"], headers={"Accept": "text/html"}).status_code
    assert (303, 303) == (left.status_code, store.client.get(FORM).status_code)
    (entry,) = store.repository.journal()
    assert ("curator-b", "observed") == (entry.who, entry.action)


def test_signing_out_ends_a_copied_session_too(store: Store) -> None:
    """Who kept the cookie, or is signed in elsewhere, is signed out as well; the token for scripts stays."""
    signed_in(store)
    kept = store.client.get_cookie("traitbed")
    assert kept is not None
    thief = store.app.test_client()
    thief.set_cookie("traitbed", kept.value)
    assert 200 == thief.get(FORM).status_code

    store.client.post("/sign-out", data={"csrf": token_of(store.client.get(FORM))})

    assert 303 == thief.get(FORM).status_code
    assert 303 == signed_in(store).status_code
    assert 200 == store.client.get(FORM).status_code


def test_session_cookies_are_kept_from_scripts_and_other_sites(store: Store) -> None:
    """HttpOnly, SameSite=Strict, and Secure wherever it is not this machine talking to itself."""
    here = store.client.get("/sign-in").headers["Set-Cookie"]
    over_tls = store.app.test_client().get("/sign-in", base_url="https://localhost").headers["Set-Cookie"]

    assert all(word in cookie for cookie in (here, over_tls) for word in ("HttpOnly", "SameSite=Strict"))
    assert ("Secure" in here, "Secure" in over_tls) == (False, True)


def test_pages_of_a_session_are_kept_by_nobody(store: Store) -> None:
    """Forms hold a token, so no cache may have them."""
    signed_in(store)

    assert ["no-store", "no-store"] == [
        store.client.get(address).headers["Cache-Control"] for address in (FORM, "/sign-in")
    ]


@pytest.mark.parametrize("csrf", ["", "0" * 32, None])
def test_a_form_without_its_token_is_refused(store: Store, csrf: str | None) -> None:
    """A form made by another site, and one of an earlier session, write nothing."""
    signed_in(store)
    old = fields(store.client)
    if csrf is None:
        signed_in(store)  # a new session has a new token
    sent = old if csrf is None else {**old, "csrf": csrf}

    response = store.client.post(FORM, data=sent)

    assert (403, "form-expired") == (response.status_code, slug(response))
    assert () == store.repository.journal()
    assert 403 == store.client.post("/sign-out", data={"csrf": "x"}).status_code
    assert (
        403
        == store.app.test_client()
        .post("/sign-in", data={"handle": "curator-b", "password": PASSWORD})
        .status_code
    )


def test_what_was_typed_survives_a_refusal(store: Store) -> None:
    """The form comes back with the fault beside its field and everything that was typed."""
    signed_in(store)

    page = store.client.post(FORM, data=fields(store.client, value="45 kg", place="my <own> garden"))

    assert 400 == page.status_code
    assert 'value="45 kg" aria-invalid="true" aria-describedby="f-value"' in page.text
    assert "is no length" in page.text
    assert "my &lt;own&gt; garden" in page.text


def test_a_stale_form_shows_both_versions_and_can_be_sent_again(store: Store) -> None:
    """The page that comes back carries the new revision."""
    signed_in(store)
    mine = fields(store.client, place="my place")
    store.post("/observations", {**OBSERVATION, "place": "another place"}, "curator-a")

    refused = store.client.post(FORM, data=mine)
    again = re.search(r'name="revision" value="([^"]*)"', refused.text)

    assert 412 == refused.status_code
    assert "What stands now" in refused.text
    assert "another place" in refused.text
    assert again is not None
    assert 303 == store.client.post(FORM, data={**mine, "revision": again[1]}).status_code
    assert 2 == len(store.repository.snapshot().plants[PLANT_ID].observations)


def test_a_form_without_a_revision_is_not_taken_blindly(store: Store) -> None:
    """A browser that lost the hidden field writes nothing."""
    signed_in(store)

    response = store.client.post(FORM, data={**fields(store.client), "revision": ""})

    assert 428 == response.status_code
    assert () == store.repository.journal()


def test_a_decision_is_made_on_the_page(store: Store) -> None:
    """Each record of the trait has its part to choose."""
    signed_in(store)
    page = store.client.get(f"{FORM}?form=decision&trait=mature-height")
    revision = re.search(r'name="revision" value="([^"]*)"', page.text)
    assert revision is not None

    response = store.client.post(
        FORM,
        data={
            "csrf": token_of(page),
            "form": "decision",
            "revision": revision[1],
            "trait": "mature-height",
            "why": "The only one measured.",
            f"role:{OWN}": "rejected",
        },
    )

    assert f'name="role:{OWN}"' in page.text
    assert 303 == response.status_code, response.text
    decided = store.repository.snapshot().plants[PLANT_ID].decisions[-1]
    assert (((OWN, "rejected"),), "curator-b") == (decided.weighed, decided.decided_by)


def test_every_form_has_its_page(store: Store) -> None:
    """All forms open with a label for each control, and an unknown one is refused."""
    signed_in(store)

    for kind in ("record", "caution", "observation", "decision", "review", "undo"):
        page = store.client.get(f"{FORM}?form={kind}")
        names = set(re.findall(r'<(?:input|select|textarea) id="([^"]+)"', page.text))
        assert 200 == page.status_code
        assert names == set(re.findall(r'<label for="([^"]+)"', page.text)) & names
        assert names
    assert [400, 400] == [store.client.get(f"{FORM}?{q}").status_code for q in ("form=poem", "colour=red")]


def test_sign_in_leads_nowhere_else(store: Store) -> None:
    """A next address of another site is not followed."""
    for going in ("https://example.org/", "//example.org/", "/\\example.org", "javascript:alert(1)"):
        csrf = token_of(store.client.get("/sign-in"))
        form = {"csrf": csrf, "handle": "curator-b", "password": PASSWORD, "next": going}
        assert "/" == store.client.post("/sign-in", data=form).headers["Location"]


def test_wrong_handle_and_wrong_password_get_one_answer(store: Store) -> None:
    """Nobody learns which handles there are; an account with a token alone has no password."""
    pages = [
        signed_in(store, handle, word)
        for handle, word in (("curator-b", "wrong"), ("nobody", "wrong"), ("curator-a", "wrong"))
    ]

    assert [401, 401, 401] == [page.status_code for page in pages]
    texts = {re.sub(r'value="[^"]*"', "", page.text) for page in pages}
    assert 1 == len(texts)


def test_guessing_is_throttled(store: Store) -> None:
    """After five failed tries even the right password waits; another handle is not shut out by it."""
    for _ in range(5):
        assert 401 == signed_in(store, "curator-b", "wrong").status_code

    shut = signed_in(store)

    assert 429 == shut.status_code
    assert 0 < int(shut.headers["Retry-After"]) <= 900
    assert 401 == signed_in(store, "nobody", "wrong").status_code


def test_a_new_password_or_a_closed_account_ends_sessions_and_tokens(store: Store) -> None:
    """What was signed in before is out at once."""
    signed_in(store)
    assert 200 == store.client.get(FORM).status_code
    store.accounts.set_password("curator-b", "another invented phrase")
    assert 303 == store.client.get(FORM).status_code
    store.accounts.close("curator-a")
    assert 401 == store.post("/observations", OBSERVATION, "curator-a").status_code


def test_reading_pages_offer_writing_only_where_it_is_possible(store: Store, client: FlaskClient) -> None:
    """The plant of a store of one's own links to the forms."""
    own = store.client.get(f"/plants/{TREE_ID}/records.html").text

    assert f"/plants/{TREE_ID}/write?form=record" in own
    assert "Traceback" not in own
