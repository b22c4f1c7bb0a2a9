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
    trees = request.args.getlist("tree")
    if len(trees) != 1 or not trees[0].strip():
        detail = "is missing; name one tree, e.g. tree=apple." if not trees else "name one tree, once."
        raise BadParameter((ParameterFault("tree", detail),))
    rest = [(name, value) for name, value in request.args.items(multi=True) if name != "tree"]
    where = f"{request.script_root}/plants/{quote(trees[0].strip(), safe='')}/under"
    response = Response(status=303)
    response.headers["Location"] = f"{where}?{urlencode(rest)}" if rest else where
    return response
