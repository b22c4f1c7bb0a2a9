"""Exports: the whole data set as a table."""

from typing import cast

from flask import Blueprint, Response

from api.answers.tables import adopted_csv, records_csv
from api.asking import ask
from api.conditional import tag_of
from api.questions import ExportQuestion
from api.routes.flow import coding, known_to_client, parsed, sent, snapshot, timed

blueprint = Blueprint("exports", __name__)


@blueprint.get("/exports/csv")
def export_csv() -> Response:
    question = cast("ExportQuestion", ask(parsed("export", {})))
    data = snapshot()
    tag = tag_of(data.version, question, "csv", coding())
    if known_to_client(tag):
        response = Response(status=304)
    else:
        with timed("form"):
            text = adopted_csv(data) if question.adopted else records_csv(data)
            response = sent(text.encode(), "csv")
        name = "adopted.csv" if question.adopted else "records.csv"
        response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    response.set_etag(tag)
    response.headers["Cache-Control"] = "no-cache"
    return response
