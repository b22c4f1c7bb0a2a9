"""Writing over HTTP: JSON in, with a bearer token and the revision that was read (If-Match)."""

from datetime import UTC, datetime
from typing import Any, cast

from flask import Blueprint, Response, request
from werkzeug.exceptions import UnsupportedMediaType

from api.answers.observed import revision_of
from api.bench import done_dict, kind_of, perform, read_fields
from api.json_reading import read_json
from api.problems import NoRevision
from api.routes.flow import as_json, repository, respond
from api.signing import by_token
from kb.bench.drafts import fault
from kb.curation import Bench
from kb.snapshot import Snapshot

blueprint = Blueprint("bench", __name__)
MAX_DEPTH_BYTES = 16384
"""A body is a flat object of short texts; nothing longer is read."""


def _history_head(snapshot: Snapshot, question: Any) -> str:
    return revision_of(snapshot, question.plant)


@blueprint.get("/plants/<plant>/history")
def history(plant: str) -> Response:
    """What happened to a plant; the tag begins with its revision, which a write names in If-Match."""
    return respond("history", "history", {"plant": plant}, head=_history_head)


@blueprint.post("/records")
def add_record() -> Response:
    return _written("records")


@blueprint.post("/decisions")
def decide() -> Response:
    return _written("decisions")


@blueprint.post("/observations")
def observe() -> Response:
    return _written("observations")


def _written(resource: str) -> Response:
    """Who, what, on which revision; then the write. Who comes first: a stranger learns nothing."""
    curator = by_token()
    given = _body()
    expected = _revision()
    kind = kind_of(resource, given)
    fields = read_fields(kind, given)
    bench = Bench(repository(), curator, datetime.now(UTC).date())
    done = perform(kind, fields, bench, expected)
    answer = done_dict(repository().snapshot(), kind, done)
    response = Response(as_json(answer), status=201, content_type="application/json")
    response.headers["Location"] = f"{request.script_root}/records/{done.things[0]}"
    response.headers["Cache-Control"] = "no-store"
    response.set_etag(done.revision)
    return response


def _body() -> dict[str, Any]:
    """The JSON object that was sent. Raises 415 for another form, BadParameter for no object."""
    if request.mimetype != "application/json":
        raise UnsupportedMediaType
    body = request.get_data()
    if len(body) > MAX_DEPTH_BYTES:
        raise fault("body", f"is longer than {MAX_DEPTH_BYTES} bytes; send one statement at a time")
    try:
        given = read_json(body)
    except ValueError as error:
        raise fault("body", str(error)) from None
    if not isinstance(given, dict):
        raise fault("body", "must be one JSON object of texts")
    return cast("dict[str, Any]", given)


def _revision() -> str:
    """The revision in If-Match: bare, or at the head of the tag of a plant's history."""
    tags = list(request.if_match.as_set(include_weak=False)) if request.if_match else []
    if len(tags) != 1:
        raise NoRevision
    return str(tags[0]).partition(".")[0]
