"""For every test: no network beyond this machine, and property tests that do not measure speed."""

from __future__ import annotations

import ipaddress
import os
import socket

import pytest
from hypothesis import HealthCheck, settings

# The first call of a compiled law takes a second, so a deadline would only measure the compiler.
settings.register_profile("here", deadline=None, suppress_health_check=[HealthCheck.too_slow])
# The same examples in every run: a red build must mean a change, not an unlucky draw.
settings.register_profile("ci", settings.get_profile("here"), derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")


@pytest.fixture(autouse=True, scope="session")
def _no_network():
    """All data stand in the repository; a test that reaches out is wrong."""
    connect, connect_ex = socket.socket.connect, socket.socket.connect_ex
    patch = pytest.MonkeyPatch()
    patch.setattr(socket.socket, "connect", lambda own, to: connect(own, _near(own, to)))
    patch.setattr(socket.socket, "connect_ex", lambda own, to: connect_ex(own, _near(own, to)))
    yield
    patch.undo()


def _near(own, address):
    if own.family in (socket.AF_INET, socket.AF_INET6):
        host = str(address[0])
        if host != "localhost" and not _is_loopback(host):
            raise AssertionError(f"a test may not open a connection to {host}")
    return address


def _is_loopback(host):
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
