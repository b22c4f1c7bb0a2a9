"""Who a request comes from, as the server in use sees it: a proxy on this machine, its client, the clear."""

import contextlib
import json
import socket
import threading
from collections.abc import Callable, Iterator
from http.client import HTTPConnection
from pathlib import Path

import pytest
from waitress.server import create_server

from api.app import create_app
from api.cli.serving import server_options
from kb.repository import FilesRepository, shipped_base
from tests.api.benching import OBSERVATION, Store

Send = Callable[[dict[str, str]], int]


@pytest.fixture
def send(tmp_path: Path) -> Iterator[Send]:
    """Send an observation with a token from this machine, with more headers, and give the status."""
    store = Store(tmp_path)
    with socket.create_server(("127.0.0.1", 0)) as listening:
        port = listening.getsockname()[1]
        server = create_server(store.app, sockets=[listening], **server_options())

        def serve() -> None:
            with contextlib.suppress(OSError, ValueError):  # it is closed while it waits
                server.run()

        thread = threading.Thread(target=serve, daemon=True)
        thread.start()

        def post(headers: dict[str, str]) -> int:
            own = {
                "Authorization": f"Bearer {store.tokens['curator-b']}",
                "Content-Type": "application/json",
                "If-Match": f'"{store.revision()}"',
            }
            connection = HTTPConnection("127.0.0.1", port, timeout=60)
            connection.request("POST", "/observations", json.dumps(OBSERVATION), {**own, **headers})
            status = connection.getresponse().status
            connection.close()
            return status

        yield post
        server.close()
        thread.join(10)


def test_a_token_that_crossed_a_network_in_the_clear_is_refused(send: Send) -> None:
    """Behind a proxy on this machine its client counts, not the proxy (RFC 7239 tells of both)."""
    far = {"X-Forwarded-For": "203.0.113.9"}

    assert 403 == send({**far, "X-Forwarded-Proto": "http"})
    assert 403 == send(far)
    assert 403 == send({"X-Forwarded-For": "127.0.0.1, 203.0.113.9"})
    assert 201 == send({**far, "X-Forwarded-Proto": "https"})


def test_on_this_machine_it_is_taken(send: Send) -> None:
    """Without a proxy; other headers of the kind are not heard."""
    assert 201 == send({"Forwarded": "for=203.0.113.9;proto=http", "X-Forwarded-Host": "elsewhere.example"})


def test_the_shipped_base_is_served_for_reading_alone() -> None:
    """Named as the store itself, it gets no accounts and no key: nobody signs in, nothing is left in it."""
    base = shipped_base()
    client = create_app(FilesRepository(None, base), testing=True).test_client()

    assert 401 == client.get("/sign-in").status_code
    assert 401 == client.post("/observations", json={}, headers={"Authorization": "Bearer x.y"}).status_code
    assert not (base / ".curation").exists()
