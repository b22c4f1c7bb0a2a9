"""The application factory: nothing happens at import."""

import time

from flask import Flask, Response, abort, g, request

from api.accounts import Accounts
from api.answers.answering import Recent
from api.negotiation import Suffixes
from api.problems import problem_of
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
    if request.method in {"GET", "HEAD"} and (
        request.content_length or "Transfer-Encoding" in request.headers
    ):
        abort(415)


def _problem(error: Exception) -> Response:
    return problem_response(problem_of(error))


def _finish(response: Response) -> Response:
    response.headers.extend({**SECURITY_HEADERS, **CORS_HEADERS})
    response.vary.update(("Accept", "Accept-Encoding"))
    spans = [*g.get("spans", []), f"total;dur={1000 * (time.perf_counter() - g.started):.1f}"]
    response.headers["Server-Timing"] = ", ".join(spans)
    return response
