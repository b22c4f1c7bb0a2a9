"""Guards for every test: no network beyond this machine; in CI no test may be skipped."""

import ipaddress
import os
import socket
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

os.environ["TRAITBED_CACHE"] = "off"  # a test sees what the files say; those of the cache name a folder

# Speed belongs in the benchmarks: a busy machine must not turn a property red.
settings.register_profile("traitbed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("traitbed")


def _is_loopback(address: Any) -> bool:
    if not isinstance(address, tuple):
        return True  # a socket file
    host = address[0]
    if host in {"localhost", ""}:
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


@pytest.fixture(autouse=True)
def _no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """Refuse every connection that would leave this machine."""
    connect = socket.socket.connect

    def guarded(self: socket.socket, address: Any) -> None:
        if not _is_loopback(address):
            message = f"a test tried to reach {address}"
            raise AssertionError(message)
        connect(self, address)

    monkeypatch.setattr(socket.socket, "connect", guarded)


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """In CI everything is installed, so a skipped test is a failure."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    skipped = reporter.stats.get("skipped", []) if reporter is not None else []
    if os.environ.get("CI") == "true" and skipped and exitstatus == 0:
        session.exitstatus = 1
        reporter.write_line(f"CI allows no skips, but {len(skipped)} were skipped", red=True)
