"""The application factory: nothing happens at import."""

import time
from urllib.parse import unquote_to_bytes

from flask import Flask, Response, abort, g, request

from api.accounts import Accounts
from api.answers.answering import Recent
from api.negotiation import Suffixes
from api.problems import Unmatched, UnreadableAddress, problem_of
from api.routes import (
    bench,
    exports,
    judgements,
    lists,
    pairs,
    plants,
    records,
    service,
    signing,
    sparql,
    vocabulary,
    writing,
)
from api.routes.flow import SHARED, problem_response
from api.signing import Throttle, prepare
from api.turns import AllTurns
from kb.repository import Repository, shipped_base
from kb.sparql.endpoint import Endpoint

MAX_QUERY_BYTES = 8192
MAX_BODY_BYTES = 65536
BLUEPRINTS = (
    service.blueprint,
    plants.blueprint,
    pairs.blueprint,
    judgements.blueprint,
    records.blueprint,
    vocabulary.blueprint,
    exports.blueprint,
    bench.blueprint,
    signing.blueprint,
    writing.blueprint,
    lists.blueprint,
    sparql.blueprint,
)
READING = frozenset({"GET", "HEAD"})
SECURITY_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; "
        "form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}
"""Nothing from elsewhere, nothing inline, no frames, no word on where a reader came from."""
CORS_HEADERS = {
    "Access-Control-Allow-Origin": "*",
    "Access-Control-Allow-Methods": "GET, HEAD, OPTIONS",
    "Access-Control-Allow-Headers": "Accept, If-None-Match",
    "Access-Control-Expose-Headers": "ETag, Link, Server-Timing",
}
"""Anyone may read, from any page; there are no credentials to send."""


def create_app(repository: Repository, *, testing: bool = False) -> Flask:
    """The service over one repository."""
    app = Flask("api")
    app.config.update(TESTING=testing, MAX_CONTENT_LENGTH=MAX_BODY_BYTES)
    own = repository.own_folder
    kept = None if own is None or own.resolve() == shipped_base().resolve() else Accounts(own)
    app.extensions[SHARED] = {
        "repository": repository,
        "recent": Recent(),
        "accounts": kept,
        "throttle": Throttle(),
        "turns": AllTurns(),
        "sparql": Endpoint(repository),
    }
    prepare(app, kept)
    app.url_map.strict_slashes = False
    app.url_map.merge_slashes = False
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    app.before_request(_guard)
    app.after_request(_finish)
    app.register_error_handler(Exception, _problem)
    app.wsgi_app = Suffixes(app.wsgi_app)  # type: ignore[method-assign]
    return app


def _guard() -> None:
    """Refuse what is too large, and bodies: every question is asked in the address."""
    g.started = time.perf_counter()
    if (request.content_length or 0) > MAX_BODY_BYTES:
        abort(413)
    if len(request.query_string) > MAX_QUERY_BYTES:
        abort(414)
    if request.headers.get("Content-Encoding", "identity").lower() != "identity":
        abort(415)
    if request.method in READING:
        g.if_match = request.if_match
        request.environ.pop("HTTP_IF_MATCH", None)  # judged by _unmatched; the library takes '*' for a tag
        if request.content_length or "Transfer-Encoding" in request.headers:
            abort(415)
    if not _is_text(request.environ.get("PATH_INFO", "").encode("latin-1")) or not _is_text(
        unquote_to_bytes(request.query_string)
    ):
        raise UnreadableAddress


def _problem(error: Exception) -> Response:
    return problem_response(problem_of(error))


def _is_text(octets: bytes) -> bool:
    try:
        octets.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def _unmatched(response: Response) -> bool:
    """Whether a reader's If-Match names no version that is here (RFC 9110, 13.1.1; strong comparison)."""
    wanted = g.get("if_match")
    if not wanted or wanted.star_tag or response.status_code not in {200, 206, 304}:
        return False
    tag, weak = response.get_etag()
    return tag is None or weak or not wanted.is_strong(tag)


def _finish(response: Response) -> Response:
    if _unmatched(response):
        response.close()
        response = problem_response(problem_of(Unmatched()))
    response.headers.extend({**SECURITY_HEADERS, **CORS_HEADERS})
    response.vary.update(("Accept", "Accept-Encoding"))
    spans = [*g.get("spans", []), f"total;dur={1000 * (time.perf_counter() - g.started):.1f}"]
    response.headers["Server-Timing"] = ", ".join(spans)
    return response
