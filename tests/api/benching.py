"""A store of one's own with two accounts, and the service over it."""

from pathlib import Path
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from api.accounts import Accounts
from api.app import create_app
from kb.repository import FilesRepository
from tests.api.invented import HERB, PLANTS, SOURCE

PLANT_ID = HERB.id
FORM = f"/plants/{PLANT_ID}/write"
OWN = "inventa-herbacea.mature-height.invented"
PASSWORD = "an invented phrase of words"  # noqa: S105 - of accounts that live for one test
RECORD = {
    "plant": str(PLANT_ID),
    "trait": "mature-height",
    "value": "40 cm",
    "basis": "read-in-source",
    "why": "Entered from an invented book.",
    "source": "invented",
    "locator": "p. 9",
    "verbatim": "40 cm",
    "name_as_printed": "Inventa herbacea",
}
OBSERVATION = {
    "plant": str(PLANT_ID),
    "trait": "mature-height",
    "value": "45 cm",
    "place": "home",
    "observed_on": "2026-07-01",
    "procedure": "ruler",
}


class Store:
    """A base, a folder laid over it, an author and a reviewer with tokens."""

    def __init__(self, folder: Path) -> None:
        base = FilesRepository(None, folder / "base")
        base.put_source(SOURCE)
        for plant in PLANTS:
            base.put_plant(plant)
        self.folder = folder / "own"
        self.repository = FilesRepository(folder / "base", self.folder)
        self.accounts = Accounts(self.folder)
        self.tokens = {}
        for handle, role in (("curator-a", "author"), ("curator-b", "reviewer")):
            self.accounts.add(handle, role)
            self.tokens[handle] = self.accounts.new_token(handle)
        self.accounts.set_password("curator-b", PASSWORD)
        self.app: Flask = create_app(self.repository, testing=True)
        self.client: FlaskClient = self.app.test_client()

    def revision(self) -> str:
        return self.repository.revision(PLANT_ID)

    def post(
        self, path: str, body: Any, who: str | None = "curator-b", revision: str | None = "now", **more: Any
    ) -> TestResponse:
        """Send JSON with a token and the plant's revision."""
        headers = dict(more.pop("headers", {}))
        if who is not None:
            headers["Authorization"] = f"Bearer {self.tokens.get(who, who)}"
        if revision is not None:
            headers["If-Match"] = f'"{self.revision() if revision == "now" else revision}"'
        return self.client.post(path, json=body, headers=headers, **more)


def slug(response: TestResponse) -> str:
    """Give the name of a problem."""
    return str(response.get_json()["type"]).rpartition("#")[2]
