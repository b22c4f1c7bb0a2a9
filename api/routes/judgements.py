"""Judgements: does a whole planting fit together."""

from flask import Blueprint, Response, request

from api.negotiation import chosen, wants_page
from api.plans import read_plan
from api.problems import NotJson
from api.routes.flow import answered, plain_answer, respond, suffix
from kb.errors import BadParameter, ParameterFault

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
    if request.args:
        raise BadParameter(
            tuple(
                ParameterFault(name[:80], "is not used beside a plan; say all of it in the plan.")
                for name in request.args
            )
        )
    return answered(read_plan(request.get_data()))
