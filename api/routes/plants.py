"""Plants: the list, one plant, its records, what goes well with it, what fits under it."""

from typing import cast
from urllib.parse import quote, urlencode

from flask import Blueprint, Response, request

from api.answers.exports import plant_jsonld, plant_turtle
from api.answers.tables import plants_csv
from api.questions import PlantsQuestion, Question
from api.routes.flow import Answer, respond
from kb.errors import BadParameter, ParameterFault
from kb.snapshot import Snapshot

blueprint = Blueprint("plants", __name__)


def _list_csv(snapshot: Snapshot, question: Question, answer: Answer) -> str:
    return plants_csv(snapshot, cast("PlantsQuestion", question), answer)


def _plant_turtle(snapshot: Snapshot, _question: Question, answer: Answer) -> str:
    return plant_turtle(snapshot, str(answer["id"]))


def _plant_jsonld(snapshot: Snapshot, _question: Question, answer: Answer) -> str:
    return plant_jsonld(snapshot, str(answer["id"]))


@blueprint.get("/plants")
def plants() -> Response:
    return respond("plants", "plants", tables={"csv": _list_csv})


@blueprint.get("/plants/<plant>")
def plant(plant: str) -> Response:
    return respond("plant", "plant", {"plant": plant}, tables={"ttl": _plant_turtle, "jsonld": _plant_jsonld})


@blueprint.get("/plants/<plant>/records")
def records(plant: str) -> Response:
    return respond("records", "records", {"plant": plant})


@blueprint.get("/plants/<plant>/candidates")
def candidates(plant: str) -> Response:
    return respond("candidates", "candidates", {"plant": plant})


@blueprint.get("/plants/<plant>/under")
def under(plant: str) -> Response:
    return respond("under", "under", {"plant": plant})


@blueprint.get("/under")
def under_by_name() -> Response:
    """Send a form that names its tree in the query on to the tree's own address."""
    return _sent_on("tree", "under")


@blueprint.get("/candidates")
def candidates_by_name() -> Response:
    """Send a form that names its plant in the query on to the plant's own address."""
    return _sent_on("plant", "candidates")


def _sent_on(named_by: str, question: str) -> Response:
    """See other: the question about one plant, every other parameter passed on."""
    named = request.args.getlist(named_by)
    if len(named) != 1 or not named[0].strip():
        one = f"name one {named_by}"
        detail = f"is missing; {one}, e.g. {named_by}=apple." if not named else f"{one}, once."
        raise BadParameter((ParameterFault(named_by, detail),))
    rest = [(name, value) for name, value in request.args.items(multi=True) if name != named_by]
    where = f"{request.script_root}/plants/{quote(named[0].strip(), safe='')}/{question}"
    response = Response(status=303)
    response.headers["Location"] = f"{where}?{urlencode(rest)}" if rest else where
    return response
