"""Signing in and writing on the pages: sessions, form tokens, throttling; what was typed is never lost."""

import re

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from tests.api.benching import FORM, OBSERVATION, OWN, PASSWORD, PLANT_ID, Store, slug
from tests.api.invented import TREE_ID


def token_of(page: TestResponse) -> str:
    """Give the token that a page's form carries."""
    found = re.search(r'name="csrf" value="([0-9a-f]+)"', page.text)
    assert found is not None, page.text
    return found[1]


def signed_in(store: Store, handle: str = "curator-b", password: str = PASSWORD) -> TestResponse:
    """Sign in as a browser does."""
    csrf = token_of(store.client.get("/sign-in"))
    return store.client.post(
        "/sign-in", data={"csrf": csrf, "handle": handle, "password": password, "next": FORM}
    )


def fields(client: FlaskClient, kind: str = "observation", **more: str) -> dict[str, str]:
    """Give a form as the page hands it out, filled in."""
    page = client.get(f"{FORM}?form={kind}")
    found = re.search(r'name="revision" value="([^"]*)"', page.text)
    assert found is not None
    filled = {k: v for k, v in OBSERVATION.items() if k != "plant"}
    return {"csrf": token_of(page), "form": kind, "revision": found[1], **filled, **more}


def test_signing_in_writing_and_signing_out(store: Store) -> None:
    """Without a session the form leads to sign-in and back; after signing out it does so again."""
    stranger = store.client.get(FORM)
    entered = signed_in(store)
    written = store.client.post(FORM, data=fields(store.client))
    left = store.client.post("/sign-out", data={"csrf": token_of(store.client.get(FORM))})

    assert (303, "/sign-in?next=") == (stranger.status_code, stranger.headers["Location"][:14])
    assert (303, FORM) == (entered.status_code, entered.headers["Location"])
    assert 303 == written.status_code
    assert "/history?record=" in written.headers["Location"]
    assert 200 == store.client.get(written.headers["Location"], headers={"Accept": "text/html"}).status_code
    assert (303, 303) == (left.status_code, store.client.get(FORM).status_code)
    (entry,) = store.repository.journal()
    assert ("curator-b", "observed") == (entry.who, entry.action)


def test_signing_out_ends_a_copied_session_too(store: Store) -> None:
    """Who kept the cookie, or is signed in elsewhere, is signed out as well; the token for scripts stays."""
    signed_in(store)
    kept = store.client.get_cookie("traitbed")
    assert kept is not None
    thief = store.app.test_client()
    thief.set_cookie("traitbed", kept.value)
    assert 200 == thief.get(FORM).status_code

    store.client.post("/sign-out", data={"csrf": token_of(store.client.get(FORM))})

    assert 303 == thief.get(FORM).status_code
    assert 303 == signed_in(store).status_code
    assert 200 == store.client.get(FORM).status_code


def test_session_cookies_are_kept_from_scripts_and_other_sites(store: Store) -> None:
    """HttpOnly, SameSite=Strict, and Secure wherever it is not this machine talking to itself."""
    here = store.client.get("/sign-in").headers["Set-Cookie"]
    over_tls = store.app.test_client().get("/sign-in", base_url="https://localhost").headers["Set-Cookie"]

    assert all(word in cookie for cookie in (here, over_tls) for word in ("HttpOnly", "SameSite=Strict"))
    assert ("Secure" in here, "Secure" in over_tls) == (False, True)


def test_pages_of_a_session_are_kept_by_nobody(store: Store) -> None:
    """Forms hold a token, so no cache may have them."""
    signed_in(store)

    assert ["no-store", "no-store"] == [
        store.client.get(address).headers["Cache-Control"] for address in (FORM, "/sign-in")
    ]


@pytest.mark.parametrize("csrf", ["", "0" * 32, None])
def test_a_form_without_its_token_is_refused(store: Store, csrf: str | None) -> None:
    """A form made by another site, and one of an earlier session, write nothing."""
    signed_in(store)
    old = fields(store.client)
    if csrf is None:
        signed_in(store)  # a new session has a new token
    sent = old if csrf is None else {**old, "csrf": csrf}

    response = store.client.post(FORM, data=sent)

    assert (403, "form-expired") == (response.status_code, slug(response))
    assert () == store.repository.journal()
    assert 403 == store.client.post("/sign-out", data={"csrf": "x"}).status_code
    assert (
        403
        == store.app.test_client()
        .post("/sign-in", data={"handle": "curator-b", "password": PASSWORD})
        .status_code
    )


def test_what_was_typed_survives_a_refusal(store: Store) -> None:
    """The form comes back with the fault beside its field and everything that was typed."""
    signed_in(store)

    page = store.client.post(FORM, data=fields(store.client, value="45 kg", place="my <own> garden"))

    assert 400 == page.status_code
    assert 'value="45 kg" aria-invalid="true" aria-describedby="f-value"' in page.text
    assert "is no length" in page.text
    assert "my &lt;own&gt; garden" in page.text


def test_a_stale_form_shows_both_versions_and_can_be_sent_again(store: Store) -> None:
    """The page that comes back carries the new revision."""
    signed_in(store)
    mine = fields(store.client, place="my place")
    store.post("/observations", {**OBSERVATION, "place": "another place"}, "curator-a")

    refused = store.client.post(FORM, data=mine)
    again = re.search(r'name="revision" value="([^"]*)"', refused.text)

    assert 412 == refused.status_code
    assert "What stands now" in refused.text
    assert "another place" in refused.text
    assert again is not None
    assert 303 == store.client.post(FORM, data={**mine, "revision": again[1]}).status_code
    assert 2 == len(store.repository.snapshot().plants[PLANT_ID].observations)


def test_a_form_without_a_revision_is_not_taken_blindly(store: Store) -> None:
    """A browser that lost the hidden field writes nothing."""
    signed_in(store)

    response = store.client.post(FORM, data={**fields(store.client), "revision": ""})

    assert 428 == response.status_code
    assert () == store.repository.journal()


def test_a_decision_is_made_on_the_page(store: Store) -> None:
    """Each record of the trait has its part to choose."""
    signed_in(store)
    page = store.client.get(f"{FORM}?form=decision&trait=mature-height")
    revision = re.search(r'name="revision" value="([^"]*)"', page.text)
    assert revision is not None

    response = store.client.post(
        FORM,
        data={
            "csrf": token_of(page),
            "form": "decision",
            "revision": revision[1],
            "trait": "mature-height",
            "why": "The only one measured.",
            f"role:{OWN}": "rejected",
        },
    )

    assert f'name="role:{OWN}"' in page.text
    assert 303 == response.status_code, response.text
    decided = store.repository.snapshot().plants[PLANT_ID].decisions[-1]
    assert (((OWN, "rejected"),), "curator-b") == (decided.weighed, decided.decided_by)


def test_every_form_has_its_page(store: Store) -> None:
    """All forms open with a label for each control, and an unknown one is refused."""
    signed_in(store)

    for kind in ("record", "caution", "observation", "decision", "review", "undo"):
        page = store.client.get(f"{FORM}?form={kind}")
        names = set(re.findall(r'<(?:input|select|textarea) id="([^"]+)"', page.text))
        assert 200 == page.status_code
        assert names == set(re.findall(r'<label for="([^"]+)"', page.text)) & names
        assert names
    assert [400, 400] == [store.client.get(f"{FORM}?{q}").status_code for q in ("form=poem", "colour=red")]


def test_sign_in_leads_nowhere_else(store: Store) -> None:
    """A next address of another site is not followed."""
    for going in ("https://example.org/", "//example.org/", "/\\example.org", "javascript:alert(1)"):
        csrf = token_of(store.client.get("/sign-in"))
        form = {"csrf": csrf, "handle": "curator-b", "password": PASSWORD, "next": going}
        assert "/" == store.client.post("/sign-in", data=form).headers["Location"]


def test_wrong_handle_and_wrong_password_get_one_answer(store: Store) -> None:
    """Nobody learns which handles there are; an account with a token alone has no password."""
    pages = [
        signed_in(store, handle, word)
        for handle, word in (("curator-b", "wrong"), ("nobody", "wrong"), ("curator-a", "wrong"))
    ]

    assert [401, 401, 401] == [page.status_code for page in pages]
    texts = {re.sub(r'value="[^"]*"', "", page.text) for page in pages}
    assert 1 == len(texts)


def test_guessing_is_throttled(store: Store) -> None:
    """After five failed tries even the right password waits; another handle is not shut out by it."""
    for _ in range(5):
        assert 401 == signed_in(store, "curator-b", "wrong").status_code

    shut = signed_in(store)

    assert 429 == shut.status_code
    assert 0 < int(shut.headers["Retry-After"]) <= 900
    assert 401 == signed_in(store, "nobody", "wrong").status_code


def test_a_new_password_or_a_closed_account_ends_sessions_and_tokens(store: Store) -> None:
    """What was signed in before is out at once."""
    signed_in(store)
    assert 200 == store.client.get(FORM).status_code
    store.accounts.set_password("curator-b", "another invented phrase")
    assert 303 == store.client.get(FORM).status_code
    store.accounts.close("curator-a")
    assert 401 == store.post("/observations", OBSERVATION, "curator-a").status_code


def test_reading_pages_offer_writing_only_where_it_is_possible(store: Store, client: FlaskClient) -> None:
    """The plant of a store of one's own links to the forms."""
    own = store.client.get(f"/plants/{TREE_ID}/records.html").text

    assert f"/plants/{TREE_ID}/write?form=record" in own
    assert "Traceback" not in own
