"""Invented answers for the page tests, and a strict reader of the pages they make."""

from typing import Any

import pytest

from tests.pages.every_page import everything

LABELS = tuple(everything())


@pytest.fixture
def answers() -> dict[str, tuple[str, dict[str, Any]]]:
    """A fresh invented answer for every kind of page: label -> (kind, answer)."""
    return everything()


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """A test that asks for ``label`` runs once for each kind of page."""
    if "label" in metafunc.fixturenames:
        metafunc.parametrize("label", LABELS)
