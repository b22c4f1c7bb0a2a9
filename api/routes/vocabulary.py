"""Traits and sources: what the words mean, where the facts come from, what to look up next."""

from flask import Blueprint, Response

from api.routes.flow import respond

blueprint = Blueprint("vocabulary", __name__)


@blueprint.get("/traits")
def traits() -> Response:
    return respond("traits", "traits")


@blueprint.get("/traits/<trait>")
def trait(trait: str) -> Response:
    return respond("trait", "traits", {"trait": trait})


@blueprint.get("/worklist")
def worklist() -> Response:
    return respond("worklist", "worklist")


@blueprint.get("/sources")
def sources() -> Response:
    return respond("sources", "sources")


@blueprint.get("/sources/<source>")
def source(source: str) -> Response:
    return respond("source", "sources", {"source": source})
