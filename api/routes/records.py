"""Records: every IRI that a reason names opens here, cautions and decisions too."""

from flask import Blueprint, Response

from api.answers.exports import statement_jsonld, statement_turtle
from api.questions import Question
from api.routes.flow import Answer, respond
from kb.snapshot import Snapshot

blueprint = Blueprint("records", __name__)


def _turtle(snapshot: Snapshot, _question: Question, answer: Answer) -> str:
    return statement_turtle(snapshot, str(answer["question"]["record"]))


def _jsonld(snapshot: Snapshot, _question: Question, answer: Answer) -> str:
    return statement_jsonld(snapshot, str(answer["question"]["record"]))


@blueprint.get("/records/<path:record>")
def record(record: str) -> Response:
    return respond("record", "record", {"record": record}, tables={"ttl": _turtle, "jsonld": _jsonld})
