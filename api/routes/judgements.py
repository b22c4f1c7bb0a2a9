"""Judgements: does a whole planting fit together."""

from flask import Blueprint, Response, request

from api.negotiation import chosen, wants_page
from api.plans import read_plan
from api.problems import NotJson
from api.routes.flow import answered, plain_answer, respond, suffix

blueprint = Blueprint("judgements", __name__)


@blueprint.get("/judgements")
def judgement() -> Response:
    """Plants in the address; a browser that names none gets the form."""
    if not request.args and wants_page(suffix(), request.accept_mimetypes):
        return plain_answer("judge", {"question": {}, "cautions": [], "notes": []})
    return respond("judge", "judge")


@blueprint.post("/judgements")
def judge() -> Response:
    """A plan in JSON."""
    chosen(suffix(), request.accept_mimetypes, ("json",))
    if request.mimetype != "application/json":
        raise NotJson
    return answered(read_plan(request.get_data()))
