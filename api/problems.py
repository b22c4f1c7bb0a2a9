"""Errors as RFC 9457 problem details: the only place that knows status codes.

``type`` is an IRI of ours (``…/problems#unknown-plant``), ``errors`` has one entry per fault with the
parameter it is about. A name that means several plants is a 400, not a 409: the request must
change, the resource is in no conflict. Nothing here shows a stack trace or a path of this machine;
an unexpected error is logged with a reference that the answer quotes.
"""

import logging
import secrets
from dataclasses import dataclass, field

from werkzeug.exceptions import HTTPException

from api.signing import Forged, Insecure, NotSignedIn, TooManyTries
from kb.errors import (
    AmbiguousPlant,
    BadFile,
    BadParameter,
    BadQuestion,
    BadRecord,
    Busy,
    Choice,
    KnowledgeBaseError,
    NotAllowed,
    Refused,
    SourceFault,
    StaleWrite,
    StoreFault,
    UnknownPlace,
    UnknownPlant,
    UnknownRecord,
    UnknownSource,
    UnknownTrait,
)
from kb.namespaces import BASE

LOG = logging.getLogger("traitbed.http")
MEDIA_TYPE = "application/problem+json"
PROBLEMS = f"{BASE}problems#"
NOT_FOUND = 404
SERVER_FAULT = 500


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem, ready to be sent."""

    slug: str
    title: str
    status: int
    detail: str
    errors: tuple[dict[str, object], ...] = ()
    more: dict[str, object] = field(default_factory=dict)
    headers: dict[str, str] = field(default_factory=dict)

    def as_dict(self, instance: str) -> dict[str, object]:
        shown: dict[str, object] = {
            "type": f"{PROBLEMS}{self.slug}",
            "title": self.title,
            "status": self.status,
            "detail": self.detail,
            "instance": instance,
        }
        if self.errors:
            shown["errors"] = list(self.errors)
        return {**shown, **self.more}


class NotAcceptable(BadQuestion):
    """The resource has no representation of the kind asked for."""

    def __init__(self, offered: tuple[str, ...]) -> None:
        super().__init__(f"This is here as {', '.join(offered)}; ask for one of them by suffix or Accept.")
        self.offered = offered


class NoRevision(Exception):
    """A write does not say which revision was read."""


class Unmatched(Exception):
    """A reader wants a version that is not the one here."""


class UnreadableAddress(BadQuestion):
    """An address whose escapes stand for no text."""

    def __init__(self) -> None:
        super().__init__("The address is not UTF-8; escape its letters as UTF-8, e.g. %C3%A9 for \u00e9.")


class NotJson(BadQuestion):
    """A body that should be JSON and does not say so."""

    def __init__(self) -> None:
        super().__init__("Send the plan as JSON, with Content-Type: application/json.")


class UnsupportedBody(BadQuestion):
    """What was sent is of no kind that is read here."""

    def __init__(self, taken: tuple[str, ...]) -> None:
        super().__init__(f"Send it as {', '.join(taken)}.")
        self.taken = taken


_KNOWN: dict[type[KnowledgeBaseError], tuple[str, str, int]] = {
    UnknownPlant: ("unknown-plant", "Unknown plant", NOT_FOUND),
    AmbiguousPlant: ("ambiguous-plant", "Ambiguous plant name", 400),
    UnknownRecord: ("unknown-record", "Unknown record", NOT_FOUND),
    UnknownTrait: ("unknown-trait", "Unknown trait", NOT_FOUND),
    UnknownSource: ("unknown-source", "Unknown source", NOT_FOUND),
    UnknownPlace: ("unknown-place", "Unknown place", NOT_FOUND),
    BadParameter: ("bad-parameter", "Bad parameter", 400),
    NotAcceptable: ("not-acceptable", "Not available in that form", 406),
    NotJson: ("unsupported-media-type", "Unsupported media type", 415),
    UnsupportedBody: ("unsupported-media-type", "Unsupported media type", 415),
    BadQuestion: ("bad-question", "Bad question", 400),
    Refused: ("refused", "Breaks a rule of the knowledge base", 422),
    NotAllowed: ("not-allowed", "Not allowed", 403),
    StaleWrite: ("stale-write", "Changed since it was read", 412),
    BadRecord: ("bad-record", "A record is broken", SERVER_FAULT),
    BadFile: ("bad-file", "A file is broken", SERVER_FAULT),
    SourceFault: ("source-fault", "A source cannot be used", SERVER_FAULT),
    Busy: ("busy", "Busy", 503),
    StoreFault: ("store-fault", "The store cannot be used", 503),
    KnowledgeBaseError: ("fault", "Something is wrong", SERVER_FAULT),
}
"""Our errors -> name, title, status; the most exact class of an error decides."""

_HTTP: dict[int, tuple[str, str, str]] = {
    404: (
        "not-found",
        "Nothing here",
        "There is nothing at this address; /openapi.json lists what there is.",
    ),
    405: (
        "method-not-allowed",
        "Method not allowed",
        "This address does not take that method; the Allow header says what it takes.",
    ),
    413: (
        "too-large",
        "Request too large",
        "Send at most 64 kB; a plan of 200 plants, a list of plants or an entry needs less.",
    ),
    414: ("too-long", "Address too long", "Shorten the question: names, lists and words have limits."),
    431: ("too-long", "Header too long", "Send shorter headers and a shorter address; 32 kB are read."),
    415: (
        "unsupported-media-type",
        "Unsupported media type",
        "Questions are asked in the address, without a body; what is written is sent as application/json.",
    ),
}


_AT_THE_DOOR: dict[type[Exception], tuple[str, str, int, str]] = {
    NotSignedIn: (
        "not-signed-in",
        "Not signed in",
        401,
        (
            "Reading needs no account. To write, sign in on a page or send a token; whoever keeps this store "
            "makes accounts on the command line (traitbed account add)."
        ),
    ),
    TooManyTries: ("too-many-tries", "Too many tries", 429, "Sign-in is closed after too many failed tries."),
    Forged: (
        "form-expired",
        "The form is out of date",
        403,
        "Nothing was written. Open the form again and resend it.",
    ),
    Insecure: (
        "insecure",
        "Not over an open line",
        403,
        "Passwords and tokens travel over https only. Change one that was sent in the clear.",
    ),
    Unmatched: (
        "precondition-failed",
        "Not the version asked for",
        412,
        "If-Match names another version of this than the one that is here. Ask without it to get this one.",
    ),
    NoRevision: (
        "revision-missing",
        "Which revision was read?",
        428,
        "Send the plant's revision in If-Match: it is 'revision' in /plants/{id}/history and in its ETag.",
    ),
}
"""Who is asking, and on what footing: name, title, status, words."""


def _more(error: KnowledgeBaseError) -> dict[str, object]:
    """Facts of an error beside its sentence: what was near, what could be meant."""
    if isinstance(error, StaleWrite):
        return _both_versions(error)
    match error:
        case UnknownPlant() | UnknownTrait():
            return {"nearest": list(error.nearest)}
        case UnknownSource():
            return {"nearest": list(error.known)}
        case AmbiguousPlant():
            return _choices(error.offered)
        case NotAcceptable():
            return {"offered": list(error.offered)}
        case _:
            return {}


def _choices(offered: tuple[Choice, ...]) -> dict[str, object]:
    """Plants to choose from, by id, and what each is called."""
    if not offered:
        return {}
    names = {one.plant: {"accepted": one.accepted, "common": one.common} for one in offered}
    return {"choices": list(names), "names": names}


def _both_versions(error: StaleWrite) -> dict[str, object]:
    return {
        "expected_revision": error.expected,
        "current_revision": error.current,
        "since": list(error.since),
        "stands": error.stands,
        "yours": error.yours,
    }


def _place(where: str) -> dict[str, str]:
    """The place of a fault: a JSON pointer into the body (RFC 6901; "" is all of it), or a parameter."""
    if where.startswith("/"):
        return {"pointer": where if where != "/" else ""}
    return {"parameter": where}


def problem_of(error: Exception) -> Problem:
    """The problem behind any exception; what nobody foresaw is logged and gets a reference."""
    if isinstance(error, KnowledgeBaseError):
        slug, title, status = next(_KNOWN[kind] for kind in type(error).__mro__ if kind in _KNOWN)
        errors: tuple[dict[str, object], ...] = ()
        if isinstance(error, BadParameter):
            errors = tuple(
                {**_place(f.parameter), "detail": f.detail, **_choices(f.offered)} for f in error.faults
            )
        detail = str(error) or title
        headers = {"Retry-After": str(error.retry_s)} if isinstance(error, Busy) else {}
        return Problem(slug, title, status, detail, errors, _more(error), headers)
    if type(error) in _AT_THE_DOOR:
        slug, title, status, detail = _AT_THE_DOOR[type(error)]
        headers = {"WWW-Authenticate": 'Bearer realm="traitbed"'} if status == 401 else {}
        if isinstance(error, TooManyTries):
            headers = {"Retry-After": str(error.wait_s)}
            detail = f"{detail} Try again in {error.wait_s} seconds."
        return Problem(slug, title, status, detail, headers=headers)
    if isinstance(error, HTTPException) and error.code is not None and error.code < SERVER_FAULT:
        return _http_problem(error)
    reference = secrets.token_hex(4)
    LOG.error("unexpected error, reference %s", reference, exc_info=error)
    detail = f"Something went wrong on our side. Quote reference {reference} when you report it."
    return Problem("internal-error", "Our fault", SERVER_FAULT, detail, more={"reference": reference})


def unread_problem(status: int, reason: str) -> Problem:
    """The problem of a request that the server turned away before it could be read whole."""
    slug, title, detail = _HTTP.get(
        status, ("bad-request", reason, "The request cannot be read as HTTP intends.")
    )
    return Problem(slug, title, status, detail)


def _http_problem(error: HTTPException) -> Problem:
    code = error.code or SERVER_FAULT
    slug, title, detail = _HTTP.get(
        code, ("bad-request", error.name, "The request cannot be read as HTTP intends.")
    )
    allowed = getattr(error, "valid_methods", None)
    headers = {"Allow": ", ".join(sorted(allowed))} if allowed else {}
    if allowed:
        detail = f"This address does not take that method; it takes {headers['Allow']}."
    return Problem(slug, title, code, detail, headers=headers)
