"""The service itself: its front page, its health, its description."""

from functools import cache
from importlib.resources import files

from flask import Blueprint, Response, request

from api.conditional import tag_of
from api.routes.flow import Answer, parsed, plain_answer, snapshot

blueprint = Blueprint("service", __name__)

SUGGESTIONS = 2000
"""Plant names offered to the front page's forms: all, lest the end of the alphabet be missing."""


def _counts() -> dict[str, int]:
    data = snapshot()
    return {
        "plants": len(data.plants),
        "records": sum(len(plant.records) for plant in data.plants.values()),
        "cautions": sum(len(plant.cautions) for plant in data.plants.values()),
        "sources": len(data.sources),
    }


@blueprint.get("/")
def home() -> Response:
    parsed("home", {})
    data = snapshot()
    names = [plant.common_name or plant.scientific_name for plant in data.plants.values()]
    answer: Answer = {
        "question": {"kind": "home"},
        "dataset_version": data.version,
        "cautions": [],
        "counts": _counts(),
        "suggestions": sorted(set(names))[:SUGGESTIONS],
        "links": {
            "plants": "/plants",
            "pairs": "/pairs?a=&b=",
            "under": "/plants/{id}/under",
            "candidates": "/plants/{id}/candidates",
            "records": "/plants/{id}/records",
            "traits": "/traits",
            "sources": "/sources",
            "description": "/openapi.json",
        },
        "reasons": [],
        "notes": [],
    }
    return plain_answer("home", answer)


@blueprint.get("/health")
def health() -> Response:
    """Whether the service can answer, and whether files of the base had to be left out."""
    parsed("health", {})
    data = snapshot()
    return plain_answer(
        "",
        {
            "status": "ok" if not data.faults else "some files left out",
            "dataset_version": data.version,
            "counts": _counts(),
            "files_left_out": len(data.faults),
        },
    )


@cache
def _description() -> bytes:
    return files("api").joinpath("openapi.json").read_bytes()


@blueprint.get("/openapi.json")
def openapi() -> Response:
    response = Response(_description(), content_type="application/json")
    response.set_etag(tag_of("", "openapi", "json"))
    response.make_conditional(request)
    return response
