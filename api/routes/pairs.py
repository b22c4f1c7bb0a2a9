"""Pairs: do these two fit."""

from flask import Blueprint, Response

from api.routes.flow import respond

blueprint = Blueprint("pairs", __name__)


@blueprint.get("/pairs")
def pairs() -> Response:
    return respond("pair", "pair")
