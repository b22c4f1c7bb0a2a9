"""The one path of every request: parameters, form, tag, answer, body, headers."""

import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any, cast
from urllib.parse import quote, urlencode

import orjson
from flask import Response, current_app, g, request

from api.answers.answering import Recent
from api.asking import ask
from api.compression import SMALLEST, coding_for, packed, packed_pieces
from api.conditional import tag_of
from api.negotiation import ASKED_PATH_KEY, FORMATS, SUFFIX_KEY, chosen, wants_page
from api.param_kinds import QuestionKind
from api.parsing import Given, parse
from api.problems import MEDIA_TYPE, Problem
from api.questions import Question
from api.site_asking import SITE_NAMES
from api.turns import AllTurns
from kb.repository import Repository
from kb.snapshot import Snapshot

Answer = dict[str, Any]
Table = Callable[[Snapshot, Question, Answer], str]
SHARED = "traitbed"
"""Where the application keeps its repository and recent answers (``app.extensions``)."""


_UNQUOTED = "/:@!$'()*,;~"
"""Marks that may stand in an address as they are (RFC 3986)."""


@contextmanager
def timed(name: str) -> Iterator[None]:
    """Add a span to the Server-Timing header of this answer."""
    start = time.perf_counter()
    try:
        yield
    finally:
        g.setdefault("spans", []).append(f"{name};dur={1000 * (time.perf_counter() - start):.1f}")


def repository() -> Repository:
    return cast("Repository", current_app.extensions[SHARED]["repository"])


def snapshot() -> Snapshot:
    """The data set of this request: one version from beginning to end."""
    if "snapshot" not in g:
        with timed("store"):
            g.snapshot = repository().snapshot()
    return cast("Snapshot", g.snapshot)


def suffix() -> str | None:
    return cast("str | None", request.environ.get(SUFFIX_KEY))


def asked_path() -> str:
    """The address as the client wrote it (with its suffix), safe to show and to link to."""
    path = quote(request.script_root + str(request.environ.get(ASKED_PATH_KEY, request.path)), safe=_UNQUOTED)
    query = quote(request.query_string, safe=_UNQUOTED + "%=&+?")
    return f"{path}?{query}" if query else path


def parsed(kind: QuestionKind, path_values: Mapping[str, str]) -> Given:
    """The parameters of this request, of its path and its query. Raises BadParameter.

    An empty field of a page's form (`MAY_BE_EMPTY`) says nothing, so that it is left out; asked for data,
    an empty value is a fault like any other.
    """
    asked = list(request.args.items(multi=True))
    if wants_page(suffix(), request.accept_mimetypes):
        asked = [(name, value) for name, value in asked if not _left_empty(name, value)]
    return parse(kind, [*path_values.items(), *asked])


MAY_BE_EMPTY = {
    *SITE_NAMES,
    *("height_m", "age_years"),
    *("sow_week_a", "clear_week_a", "sow_week_b", "gap_years"),
}
"""Fields of the pages' forms that nobody has to fill in: of the site, the tree or hedge, and the weeks."""


def _left_empty(name: str, value: str) -> bool:
    return name in MAY_BE_EMPTY and not value.strip()


def _without_empty(path: str) -> str:
    """The address of a page without the form fields that were left empty."""
    place, mark, query = path.partition("?")
    kept = [
        part for part in query.split("&") if not _left_empty(part.partition("=")[0], part.partition("=")[2])
    ]
    return f"{place}{mark}{'&'.join(kept)}" if kept else place


def respond(
    kind: QuestionKind,
    page: str,
    path_values: Mapping[str, str] | None = None,
    *,
    tables: Mapping[str, Table] | None = None,
    head: Callable[[Snapshot, Question], str] | None = None,
) -> Response:
    """Answer a question: JSON, a page, or one of the resource's own ``tables`` (csv, ttl).

    ``head`` gives what the tag begins with, before a full stop.
    """
    question = ask(parsed(kind, path_values or {}))
    form = chosen(suffix(), request.accept_mimetypes, ("json", "html", *(tables or {})))
    data = snapshot()
    today = datetime.now(UTC).date().isoformat() if form == "html" else ""
    tag = tag_of(data.version, question, form, coding(), asked_path() if form == "html" else "", today)
    if head is not None:
        tag = f"{head(data, question)}.{tag}"
    if known_to_client(tag):
        return _headed(Response(status=304), tag, {})
    answer = _reckoned(data, question)
    if request.if_none_match.star_tag:
        return _headed(Response(status=304), tag, {})
    with timed("form"):
        if form == "json":
            body = as_json(answer)
        elif form == "html":
            body = as_page(page, answer, data)
        else:
            body = (tables or {})[form](data, question, answer).encode()
    return _headed(sent(body, form), tag, answer)


def answered(question: Question) -> Response:
    """The answer to a question that came in a body: JSON, and not kept."""
    data = snapshot()
    answer = _reckoned(data, question)
    response = sent(as_json(answer), "json")
    response.headers["Cache-Control"] = "no-store"
    return response


def _reckoned(data: Snapshot, question: Question) -> Answer:
    """The answer that is held, or a new one in its turn. Raises Busy."""
    recent = cast("Recent", current_app.extensions[SHARED]["recent"])
    with timed("answer"):
        held = recent.held(data, question)
        if held is not None:
            return cast("Answer", held)
        with turns().for_question(question):
            return cast("Answer", recent.answer(data, question))


def turns() -> AllTurns:
    return cast("AllTurns", current_app.extensions[SHARED]["turns"])


def coding() -> str:
    return coding_for(request.accept_encodings)


def sent(body: bytes, form: str) -> Response:
    """The body in the form and coding that the client takes."""
    use = coding() if len(body) >= SMALLEST else ""
    response = Response(packed(body) if use else body, content_type=content_type(form))
    if use:
        response.headers["Content-Encoding"] = use
    return response


def streamed(pieces: Iterator[bytes], media_type: str, *, packed: bool) -> Response:
    """A body that is made as it is sent; what is ``packed`` by itself is not packed again."""
    use = "" if packed else coding()
    response = Response(packed_pieces(pieces) if use else pieces, content_type=media_type)
    if use:
        response.headers["Content-Encoding"] = use
    return response


def known_to_client(tag: str) -> bool:
    """Whether If-None-Match names this tag. ``*`` does not count: it needs an answer to exist first."""
    return not request.if_none_match.star_tag and request.if_none_match.contains_weak(tag)


def plain_answer(page: str, answer: Answer) -> Response:
    """An answer that is no question to the knowledge base: home, health."""
    offered = ("json", "html") if page else ("json",)
    form = chosen(suffix(), request.accept_mimetypes, offered)
    body = as_page(page, answer) if form == "html" else as_json(answer)
    response = sent(body, form)
    response.headers["Cache-Control"] = "no-cache"
    return response


def as_json(answer: Mapping[str, Any]) -> bytes:
    return orjson.dumps(answer, option=orjson.OPT_INDENT_2 | orjson.OPT_APPEND_NEWLINE)


def as_page(kind: str, answer: Answer, data: Snapshot | None = None) -> bytes:
    """The page of an answer; ``data`` says what the sources of its records are called."""
    from api.render import render_page  # noqa: PLC0415 - pages are loaded where one is asked for

    lines = {str(source.key): source.credit for source in data.sources.values()} if data else {}
    return render_page(kind, answer, path=_without_empty(asked_path()), credit_lines=lines).encode()


def content_type(form: str) -> str:
    media_type = FORMATS[form]
    return media_type if form == "json" else f"{media_type}; charset=utf-8"


def _headed(response: Response, tag: str, answer: Answer) -> Response:
    response.set_etag(tag)
    response.headers["Cache-Control"] = "no-cache"
    links = [f'<{asked_path()}>; rel="self"']
    if answer.get("next"):
        kept = [(name, value) for name, value in request.args.items(multi=True) if name != "after"]
        query = urlencode([*kept, ("after", str(answer["next"]))])
        links.append(f'<{asked_path().partition("?")[0]}?{query}>; rel="next"')
    response.headers["Link"] = ", ".join(links)
    return response


def problem_response(problem: Problem) -> Response:
    """A problem as problem+json, or as a page for a browser."""
    shown = problem.as_dict(asked_path())
    if wants_page(suffix(), request.accept_mimetypes):
        response = Response(as_page("problem", shown), content_type=content_type("html"))
    else:
        response = Response(as_json(shown), content_type=MEDIA_TYPE)
    response.status_code = problem.status
    response.headers.update(problem.headers)
    response.headers["Cache-Control"] = "no-store"
    return response
