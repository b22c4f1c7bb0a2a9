"""Writing over HTTP: who may, on which revision, in which form; every refusal a problem, nothing lost.

Status codes as RFC 9110 (401, 403, 412, 413, 415, 422) and RFC 6585 (428, 429) define them.
"""

import json
import threading
from typing import Any

import pytest

from api.app import create_app
from kb.repository import MemoryRepository
from tests.api.benching import FORM, OBSERVATION, OWN, PLANT_ID, RECORD, Store, slug
from tests.api.invented import PLANTS, ROOT_ID, SOURCE
from tests.api.test_openapi import description, schema_faults

DECISION = {
    "plant": str(PLANT_ID),
    "trait": "mature-height",
    "why": "The only one measured.",
    "preferred": [OWN],
}


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
    ("age", "told"),
    [
        *((age, None) for age in (0, 30, 30.5, "30", " 30 ")),
        *((age, "takes a text") for age in (True, [30])),
        *((age, "is no age in years") for age in (-1, 2001, "1_0", "\u0668", "1e1", "NaN", "8 years")),
    ],
)
def test_a_number_whose_name_says_its_unit_may_be_a_json_number(
    store: Store, age: object, told: str | None
) -> None:
    """RFC 8259 has numbers; ``age_years`` leaves nothing to guess, as a length without a unit would."""
    response = store.post("/observations", {**OBSERVATION, "age_years": age}, "curator-a")

    assert (400 if told else 201) == response.status_code, response.text
    assert (told or "") in response.text


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
