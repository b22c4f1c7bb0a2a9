"""Signing in and out, for the pages that write."""

import contextlib

from flask import Blueprint, Response, request, session

from api.problems import problem_of
from api.routes.flow import as_page, content_type
from api.signing import (
    NotSignedIn,
    accounts,
    by_session,
    check_form_token,
    form_token,
    refuse_in_the_clear,
    sign_in,
)
from kb.bench.drafts import fault

blueprint = Blueprint("signing", __name__)
LONGEST = 200


def own_page(given: str) -> str:
    """Where to go after signing in: a page of ours, never an address elsewhere."""
    local = given.startswith("/") and not given.startswith("//") and "\\" not in given
    return given if local and len(given) <= LONGEST * 4 and given.isprintable() else "/"


def page(kind: str, answer: dict[str, object], status: int = 200) -> Response:
    """A page of one reader's own, kept by nobody."""
    response = Response(as_page(kind, answer), status=status, content_type=content_type("html"))
    response.headers["Cache-Control"] = "no-store"
    response.vary.add("Cookie")
    return response


def to(path: str) -> Response:
    response = Response(status=303)
    response.headers["Location"] = request.script_root + path
    response.headers["Cache-Control"] = "no-store"
    return response


def _form(handle: str, going: str, fault: str | None, status: int) -> Response:
    answer: dict[str, object] = {"handle": handle, "next": going, "fault": fault, "csrf": form_token()}
    return page("sign-in", answer, status)


@blueprint.get("/sign-in")
def ask() -> Response:
    if accounts() is None:
        raise NotSignedIn
    refuse_in_the_clear()
    if set(request.args) - {"next"}:
        raise fault("next", "is the only parameter here; leave the others out")
    return _form("", own_page(request.args.get("next", "/")), None, 200)


@blueprint.post("/sign-in")
def enter() -> Response:
    """Open a session; a wrong password and an unknown handle get the same answer."""
    if accounts() is None:
        raise NotSignedIn
    check_form_token(request.form.get("csrf", ""))
    handle, going = request.form.get("handle", "").strip()[:LONGEST], own_page(request.form.get("next", "/"))
    try:
        sign_in(handle, request.form.get("password", ""))
    except NotSignedIn:
        return _form(handle, going, "No account goes by this name and password.", 401)
    return to(going)


@blueprint.post("/sign-out")
def leave() -> Response:
    """End every session of the account: a copied cookie must not outlive a sign-out."""
    known = accounts()
    if known is None:
        raise NotSignedIn
    check_form_token(request.form.get("csrf", ""))
    with contextlib.suppress(NotSignedIn):
        known.end_sessions(by_session().handle)
    session.clear()
    return to("/")


def refused(error: Exception) -> tuple[int, str, list[dict[str, object]], dict[str, object]]:
    """Status, words, faults by field and further facts of what was refused."""
    problem = problem_of(error)
    return problem.status, problem.detail, list(problem.errors), problem.more
