"""Lists: which plants of a list of one's own are known here. Nothing is kept, so no account is needed."""

from typing import cast

from flask import Blueprint, Response, request

from api.answers.lists import list_answer
from api.json_reading import read_json
from api.negotiation import chosen
from api.problems import UnsupportedBody
from api.routes.flow import Answer, as_json, as_page, parsed, plain_answer, sent, snapshot, suffix, turns
from kb.errors import BadFile, BadParameter, ParameterFault
from kb.exchange.plant_list import read_list

blueprint = Blueprint("lists", __name__)

MOST_ROWS = 300
"""Rows of one list over HTTP; 'traitbed match' takes longer ones."""
TAKEN = ("application/json", "text/csv", "text/plain", "application/x-www-form-urlencoded")


@blueprint.get("/lists")
def form() -> Response:
    """The page with the form; as JSON, what to send."""
    parsed("home", {})
    return plain_answer(
        "lists",
        {
            "question": {"kind": "lists"},
            "dataset_version": snapshot().version,
            "cautions": [],
            "takes": list(TAKEN),
            "most_rows": MOST_ROWS,
            "reasons": [],
            "notes": [],
        },
    )


@blueprint.post("/lists")
def match() -> Response:
    parsed("home", {})
    raw, column = _sent()
    data = snapshot()
    shape = chosen(suffix(), request.accept_mimetypes, ("json", "html"))
    try:
        with turns().reckoning.turn():
            read = read_list(raw, "the list", data, column=column, most=MOST_ROWS)
    except BadFile as fault:
        where = f"line {fault.line} " if fault.line else ""
        raise BadParameter((ParameterFault("list", f"{where}{fault.detail}"),)) from None
    answer = cast("Answer", list_answer(data, read, column=column))
    response = sent(as_page("lists", answer) if shape == "html" else as_json(answer), shape)
    response.headers["Cache-Control"] = "no-store"
    return response


def _sent() -> tuple[bytes, str | None]:
    """The list and the column that is named, however they were sent. Raises BadParameter."""
    kind = request.mimetype
    if kind == "application/x-www-form-urlencoded":
        _only(set(request.form))
        return request.form.get("list", "").encode(), request.form.get("column", "").strip() or None
    if kind == "application/json":
        return _from_json(request.get_data())
    if kind not in TAKEN:
        raise UnsupportedBody(TAKEN)
    return request.get_data(), None


def _from_json(body: bytes) -> tuple[bytes, str | None]:
    try:
        said = read_json(body)
    except ValueError as fault:
        raise BadParameter((ParameterFault("list", f"the body {fault}."),)) from None
    if not isinstance(said, dict):
        detail = 'send an object: {"list": "one plant a line", "column": null}.'
        raise BadParameter((ParameterFault("list", detail),))
    _only(set(said))
    text, column = said.get("list"), said.get("column")
    if not isinstance(text, str) or not isinstance(column, str | None):
        raise BadParameter((ParameterFault("list", "must be a text, and column a text or null."),))
    return text.encode(), column or None


def _only(names: set[str]) -> None:
    unknown = sorted(names - {"list", "column"})
    if unknown:
        detail = "is not taken here; send list and column."
        raise BadParameter(tuple(ParameterFault(name[:60], detail) for name in unknown))
