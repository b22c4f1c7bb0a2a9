"""Forms that name a plant end at the address of that plant, on this service."""

from urllib.parse import urlsplit

from flask.testing import FlaskClient


def test_a_form_that_names_its_tree_is_sent_on(client: FlaskClient) -> None:
    """The front page's form ends at the tree's own address."""
    response = client.get("/under?tree=trial%20tree&height_m=6&years=0,10")

    assert 303 == response.status_code
    where = urlsplit(response.headers["Location"])
    assert ("/plants/trial%20tree/under", "height_m=6&years=0%2C10") == (where.path, where.query)


def test_a_redirect_never_leaves_the_service(client: FlaskClient) -> None:
    """A name that looks like an address of elsewhere stays a name."""
    location = client.get("/under?tree=//example.org/x").headers["Location"]

    assert location.startswith("/plants/%2F%2Fexample.org%2Fx/under")


def test_a_form_that_names_its_plant_is_sent_on(client: FlaskClient) -> None:
    """The front page's form on what goes well ends at the plant's own address."""
    response = client.get("/candidates?plant=trial%20tree&limit=5")

    where = urlsplit(response.headers["Location"])
    assert (303, "/plants/trial%20tree/candidates", "limit=5") == (
        response.status_code,
        where.path,
        where.query,
    )
