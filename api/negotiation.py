"""Which form an answer takes: a suffix beats ``Accept``; JSON where nothing is said."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from werkzeug.datastructures import MIMEAccept

from api.problems import NotAcceptable

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

FORMATS: Mapping[str, str] = {
    "json": "application/json",
    "html": "text/html",
    "csv": "text/csv",
    "ttl": "text/turtle",
    "jsonld": "application/ld+json",
}
"""Suffix -> media type. A suffix that a resource does not offer is a 406 that says what it does."""
SUFFIX_KEY = "traitbed.suffix"
ASKED_PATH_KEY = "traitbed.path"
FIXED = ("/static/", "/openapi.json", "/context.jsonld", "/favicon.ico")
"""Addresses whose ending is part of their name."""


@dataclass(frozen=True)
class Suffixes:
    """WSGI layer that takes a known suffix off the path before it is routed."""

    app: "WSGIApplication"

    def __call__(self, environ: "WSGIEnvironment", start_response: "StartResponse") -> Iterable[bytes]:
        path = environ.get("PATH_INFO", "")
        environ[ASKED_PATH_KEY] = path
        stem, dot, ending = path.rpartition(".")
        if dot and ending in FORMATS and stem.strip("/") and not path.startswith(FIXED):
            environ[SUFFIX_KEY] = ending
            environ["PATH_INFO"] = stem
        return self.app(environ, start_response)


def chosen(suffix: str | None, accept: MIMEAccept, offered: tuple[str, ...]) -> str:
    """The format (``json``, ``html`` …) to answer in. Raises NotAcceptable with what is offered.

    ``*/*`` and a missing header mean JSON, the first of every offer; a browser says text/html.
    """
    if suffix is not None:
        if suffix not in offered:
            raise NotAcceptable(offered)
        return suffix
    if not accept:
        return offered[0]
    best = accept.best_match([FORMATS[name] for name in offered])
    if best is None:
        raise NotAcceptable(offered)
    return next(name for name in offered if FORMATS[name] == best)


def wants_page(suffix: str | None, accept: MIMEAccept) -> bool:
    """Whether an error should be a page: for a browser, or where .html was asked for."""
    if suffix is not None:
        return suffix == "html"
    best = accept.best_match(["application/json", "application/problem+json", "text/html"])
    return best == "text/html"
