"""Records: every IRI that a reason names opens here, cautions and decisions too."""

from flask import Blueprint, Response

from api.routes.flow import respond

blueprint = Blueprint("records", __name__)


@blueprint.get("/records/<path:record>")
def record(record: str) -> Response:
    return respond("record", "record", {"record": record})
