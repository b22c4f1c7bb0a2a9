"""The application over an invented planting in memory."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from api.app import create_app
from kb.repository import MemoryRepository
from tests.api.benching import Store
from tests.api.invented import PLANTS, SOURCE


@pytest.fixture
def repository() -> MemoryRepository:
    return MemoryRepository(PLANTS, (SOURCE,))


@pytest.fixture
def app(repository: MemoryRepository) -> Flask:
    return create_app(repository, testing=True)


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


@pytest.fixture
def ask(client: FlaskClient) -> Callable[[str], Any]:
    """Ask for JSON and give the answer; fails where the status is not 200."""

    def get(address: str) -> Any:
        response = client.get(address)
        assert 200 == response.status_code, response.text
        return response.get_json()

    return get


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path)
