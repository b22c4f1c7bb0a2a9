"""A tree asked about in a bed is answered, and it is said how to ask what stands beneath it."""

import pytest
from flask.testing import FlaskClient

from api.app import create_app
from kb.repository import open_repository

TREE_FIRST, OTHER_FIRST, TREES = "a=apple&b=chives", "a=chives&b=apple", "a=apple&b=pear"


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    return create_app(open_repository(None), testing=True).test_client()


def notes_of(client: FlaskClient, address: str) -> list[str]:
    """The notes that speak of a tree in a bed."""
    return [note for note in client.get(address).get_json()["notes"] if "is a tree" in note]


@pytest.mark.parametrize("asked", [TREE_FIRST, OTHER_FIRST])
def test_a_tree_beside_a_herb_in_a_bed(client: FlaskClient, asked: str) -> None:
    """With the verdict itself, not among the notes: most who name a tree mean the ground beneath it."""
    said = client.get(f"/pairs.json?{asked}").get_json()["saying"]

    assert "Apple is a tree" in said
    assert "setting under" in said
    assert notes_of(client, f"/pairs.json?{asked}") == []


@pytest.mark.parametrize("asked", [TREES, "a=carrot&b=onion", f"{TREE_FIRST}&setting=under&height_m=5"])
def test_no_word_where_it_is_no_question(client: FlaskClient, asked: str) -> None:
    """Of two trees, of none, and where the tree already stands over the other."""
    assert notes_of(client, f"/pairs.json?{asked}") == []
    assert "is a tree" not in client.get(f"/pairs.json?{asked}").get_json()["saying"]


def test_the_list_of_a_tree_says_so_once(client: FlaskClient) -> None:
    assert len(notes_of(client, "/plants/malus-domestica/candidates.json?limit=2")) == 1
    assert notes_of(client, "/plants/daucus-carota/candidates.json?limit=2") == []


def test_a_planting_names_its_tree(client: FlaskClient) -> None:
    bed = {"plants": [{"plant": "apple"}, {"plant": "chives"}]}
    found = [note for note in client.post("/judgements", json=bed).get_json()["notes"] if "is a tree" in note]
    assert [note.startswith("Apple is a tree") for note in found] == [True]
    assert "named as the tree" in found[0]
