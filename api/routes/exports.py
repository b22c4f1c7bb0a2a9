"""Exports: the whole data set as a table, an archive or linked data; and the context of the JSON-LD."""

from collections.abc import Iterator
from typing import cast

from flask import Blueprint, Response, abort, request

from api.answers.exports import EXPORTS, export_pieces
from api.answers.linked import context_text
from api.asking import ask
from api.conditional import tag_of
from api.negotiation import FORMATS
from api.questions import ExportQuestion
from api.routes.flow import coding, known_to_client, parsed, snapshot, streamed, turns
from api.turns import Turns

blueprint = Blueprint("exports", __name__)


class _Turn:
    """A turn that ends with the last piece of an export, or with its client."""

    def __init__(self, kept: Turns) -> None:
        kept.take()
        self._kept: Turns | None = kept

    def during(self, pieces: Iterator[bytes]) -> Iterator[bytes]:
        try:
            yield from pieces
        finally:
            self.end()

    def end(self) -> None:
        if self._kept is not None:
            kept, self._kept = self._kept, None
            kept.give_back()


@blueprint.get("/exports/<format>")
def export(format: str) -> Response:  # noqa: A002 - the name in the address
    if format not in EXPORTS:
        abort(404)
    question = cast("ExportQuestion", ask(parsed("export", {"format": format})))
    form = EXPORTS[format]
    data = snapshot()
    tag = tag_of(data.version, question, format, "" if form.packed else coding())
    if known_to_client(tag) or request.if_none_match.star_tag:  # an export that is offered always exists
        response = Response(status=304)
    else:
        turn = _Turn(turns().exports)
        pieces = export_pieces(data, format, adopted=question.adopted)
        response = streamed(turn.during(pieces), form.media_type, packed=form.packed)
        response.call_on_close(turn.end)
        name = "adopted" if question.adopted else "records" if format == "csv" else "traitbed"
        response.headers["Content-Disposition"] = f'attachment; filename="{name}.{form.ending}"'
    response.set_etag(tag)
    response.headers["Cache-Control"] = "no-cache"
    return response


@blueprint.get("/context.jsonld")
def context() -> Response:
    """The words of the JSON-LD (the documents carry it too)."""
    response = Response(context_text(), content_type=FORMATS["jsonld"])
    response.set_etag(tag_of("", "context", "jsonld"))
    response.make_conditional(request)
    return response
