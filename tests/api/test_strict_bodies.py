"""What is sent is read in one way only: JSON by RFC 8259 and I-JSON (RFC 7493), texts without tricks."""

import pytest
from flask.testing import FlaskClient

from api.json_reading import read_json
from tests.api.benching import PLANT_ID, RECORD, Store


@pytest.mark.parametrize(
    ("body", "told"),
    [
        (b'{"a": 1, "a": 2}', "says 'a' twice"),
        (b'{"a": {"b": 1, "b": 1}}', "says 'b' twice"),
        (b'{"\\ud800": 1, "\\ud800": 1}', "twice"),
        (b'{"a": NaN}', "NaN, which is no JSON number"),
        (b'{"a": -Infinity}', "-Infinity, which is no JSON number"),
        (b'{"a": [1e400]}', "the number 1e400, which is too large"),
        (b'{"a": -1.5e999}', "the number -1.5e999, which is too large"),
        (b'{"a": "\\ud800"}', "half a character"),
        (b'{"\\udfff": 1}', "half a character"),
        (b'["\\ud800"]', "half a character"),
        (b"[" * 60_000, "nested too deep"),
        (b"[1" + b"0" * 5000 + b"]", "thousands of digits"),
        (b'{"a": "\xff"}', "not UTF-8"),
        (b'{"a"', "not JSON"),
    ],
)
def test_json_of_two_meanings_is_refused(body: bytes, told: str) -> None:
    """RFC 7493 sections 2.1 to 2.3: unique names, no surrogates; RFC 8259 section 6: no NaN or Infinity."""
    with pytest.raises(ValueError, match=told):
        read_json(body)


def test_a_pair_of_escapes_is_one_character() -> None:
    """RFC 8259, section 7: its own example, the G clef."""
    assert ["\U0001d11e"] == read_json(b'["\\uD834\\uDD1E"]')


@pytest.mark.parametrize(
    "body",
    [
        '{"plants": [{"plant": "\\ud800"}]}',
        '{"\\ud800": 1, "plants": []}',
        '{"plants": [{"plant": "Inventa herbacea"}], "dataset_version": "\\udfff"}',
    ],
)
def test_half_a_character_in_a_plan_is_a_bad_request(client: FlaskClient, body: str) -> None:
    """It was 'our fault' once: an answer cannot quote it."""
    response = client.post("/judgements", data=body, content_type="application/json")

    assert (400, True) == (response.status_code, "half a character" in response.text)


def test_a_name_given_twice_is_written_nowhere(store: Store, client: FlaskClient) -> None:
    """Neither the first value nor the last is taken."""
    before = store.revision()
    headers = {"Authorization": f"Bearer {store.tokens['curator-b']}", "If-Match": f'"{before}"'}
    body = '{"plant": "a", "plant": "b"}'
    written = store.client.post("/records", data=body, headers=headers, content_type="application/json")
    listed = client.post("/lists", data='{"list": "a", "list": "b"}', content_type="application/json")

    assert [400, 400] == [written.status_code, listed.status_code]
    assert before == store.revision()


@pytest.mark.parametrize(
    "text",
    [
        "holds an escape \x1b[31m",
        "holds a one-byte escape \x9b31m",
        "holds a deletion \x7f",
        "holds a next line \x85",
        "holds a line separator \u2028",
        "turns its direction \u202e",
        "isolates a direction \u2067",
        "=HYPERLINK(1)",
        "@SUM(A1)",
        "+1+cmd|' /C x'!A0",
        "-2+HYPERLINK(1)",
    ],
)
@pytest.mark.parametrize("field", ["why", "note", "verbatim", "source_citation", "source_licence"])
def test_no_text_plays_tricks_on_its_reader(store: Store, field: str, text: str) -> None:
    """A terminal obeys control characters, a spreadsheet formulas; both get these texts from others."""
    more = {"source": "fresh", "source_citation": "Invented (2026)", "source_licence": "invented"}
    refused = store.post("/records", {**RECORD, **more, field: text})

    assert 400 == refused.status_code, refused.text
    assert [field] == [fault["parameter"] for fault in refused.get_json()["errors"]]


@pytest.mark.parametrize(
    "text", ["-25 (30)", "+/- 2 cm", "- about 40 cm", "3 = three", "40\u00a0cm", "日本 ½"]
)
def test_figures_as_printed_are_no_formula(store: Store, text: str) -> None:
    """The first stands in the shipped base."""
    assert 201 == store.post("/records", {**RECORD, "verbatim": text}).status_code


@pytest.mark.parametrize("field", ["part", "agent", "group", "place", "as_of", "lookalike", "text"])
def test_every_text_of_a_caution_is_read_as_strictly(store: Store, field: str) -> None:
    """They are shown before anything else."""
    caution = {**RECORD, "caution": "toxic", "text": "Invented warning."}
    for name in ("trait", "value"):
        del caution[name]
    refused = store.post("/records", {**caution, field: "a\x1b[2Jb"})

    assert (400, field) == (refused.status_code, refused.get_json()["errors"][0]["parameter"])


@pytest.mark.parametrize("key", ["../x", "A b", "x/y", "ä", "x\ny", "-x"])
def test_the_key_of_a_new_source_is_plain(store: Store, key: str) -> None:
    """It becomes a file's name and an IRI; a bad one is the sender's fault, not the store's."""
    sent = {**RECORD, "source": key, "source_citation": "Invented (2026)", "source_licence": "invented"}
    refused = store.post("/records", sent)

    assert (400, "source") == (refused.status_code, refused.get_json()["errors"][0]["parameter"])
    assert ["invented.ttl"] == [path.name for path in store.folder.parent.rglob("sources/*")]


def test_an_author_cannot_take_back_what_an_importer_entered(store: Store) -> None:
    """Only their own; the handle of an importer holds a space, which no account's may."""
    record = store.repository.snapshot().plants[PLANT_ID].records[0]
    refused = store.post(
        "/decisions", {"undo": f"record.{record.id}", "why": "because it is so"}, who="curator-a"
    )

    assert 403 == refused.status_code
