"""The command that runs the service."""

import errno
import os
import socket
import sys
import threading
from typing import TYPE_CHECKING, Any

import click

from api.cli.asking import STORE_OPTION
from kb.errors import BadParameter, ParameterFault, StoreFault
from kb.mixture.counting import so_many

if TYPE_CHECKING:
    from kb.repository import Repository

THREADS = 10
"""What takes seconds holds at most eight: four reckonings (``api.turns``), two exports, one SPARQL query and
one worklist; the rest are for what costs nothing."""
BACKLOG = 128
MAX_HEADER_BYTES = 32768
MAX_BODY_BYTES = 65536


def _serve(*, host: str, port: str, store: str | None) -> None:
    from api.values import Whole  # noqa: PLC0415

    try:
        number = Whole(0, 65535)(port)
    except ValueError as fault:
        raise BadParameter((ParameterFault("port", f"{fault}."),)) from None

    from kb.repository import open_repository  # noqa: PLC0415

    repository = open_repository(store)
    with _listen(host, number) as listening:
        _run(repository, listening, host)


def _run(repository: "Repository", listening: socket.socket, host: str) -> None:
    """Load the data set, say where it is served, and serve until stopped."""
    snapshot = repository.snapshot()

    from waitress.server import create_server  # noqa: PLC0415

    from api.app import create_app  # noqa: PLC0415
    from api.unread import Channel  # noqa: PLC0415

    server = create_server(
        create_app(repository),
        sockets=[listening],
        **server_options(),
    )
    server.channel_class = Channel
    click.echo(
        f"{so_many(len(snapshot.plants), 'plant')}, data set {snapshot.version}. Stop with Ctrl-C.", err=True
    )
    if snapshot.faults:
        click.echo(f"{len(snapshot.faults)} broken files left out; 'traitbed check' says which.", err=True)
    click.echo(f"Serving on http://{_shown(host)}:{listening.getsockname()[1]}/")
    sys.stdout.flush()
    _warm_up()
    try:
        server.run()
    finally:
        server.close()


def _warm_up() -> None:
    """Make the compiled loops ready beside the serving; until they are, the plain ones answer."""
    from kb.mixture.kernels import SERVED, warm  # noqa: PLC0415

    threading.Thread(target=warm, args=SERVED, name="warm-up", daemon=True).start()


def server_options() -> dict[str, Any]:
    """How the server is set up, beside its application and its address."""
    return {
        "threads": THREADS,
        "ident": "traitbed",
        "max_request_header_size": MAX_HEADER_BYTES,
        "max_request_body_size": MAX_BODY_BYTES,
        # A proxy on this machine may say who its client is and that it came over https; nothing else is
        # believed. Without the client's address everybody would be taken for somebody on this machine.
        "trusted_proxy": "127.0.0.1",
        "trusted_proxy_headers": {"x-forwarded-proto", "x-forwarded-for"},
        "clear_untrusted_proxy_headers": True,
    }


def _listen(host: str, port: int) -> socket.socket:
    """A socket that listens there. Raises StoreFault, with what to do, where that cannot be."""
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
        family, _, _, _, address = found[0]
        return socket.create_server(address, family=family, backlog=BACKLOG)
    except (OSError, UnicodeError) as fault:
        number = getattr(fault, "errno", None) or 0
        reason = os.strerror(number) if number > 0 else getattr(fault, "strerror", None) or str(fault)
        mend = f"--port, e.g. --port {_other(port)}"
        if isinstance(fault, socket.gaierror | UnicodeError) or number == errno.EADDRNOTAVAIL:
            mend = "--host, e.g. --host 127.0.0.1"
        raise StoreFault(
            f"{host} port {port}", f"cannot listen there ({reason}); choose another with {mend}"
        ) from None


def _other(port: int) -> int:
    return port + 1 if 0 < port < 65535 else 8081


def _shown(host: str) -> str:
    """The host as an address to click on."""
    if host in {"0.0.0.0", "::"}:  # noqa: S104 - only shown, and only where the user chose it
        return "localhost"
    return f"[{host}]" if ":" in host else host


COMMANDS: dict[str, click.Command] = {
    "serve": click.Command(
        "serve",
        callback=_serve,
        params=[
            click.Option(["--host"], default="127.0.0.1", show_default=True, help="Address to listen on."),
            click.Option(
                ["--port"],
                default="8080",
                show_default=True,
                metavar="N",
                help="Port to listen on; 0 takes a free one.",
            ),
            STORE_OPTION,
        ],
        help="Run the service: pages for browsers, JSON for scripts, at the same addresses.",
    )
}
