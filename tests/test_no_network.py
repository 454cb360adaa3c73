"""The net that keeps tests on this machine holds."""

import socket

import pytest


def test_a_connection_to_elsewhere_is_refused():
    # 192.0.2.1 is reserved for documentation (RFC 5737): nobody answers there.
    with socket.socket() as own, pytest.raises(AssertionError, match="may not open"):
        own.connect(("192.0.2.1", 9))
    with socket.socket() as own, pytest.raises(AssertionError, match="may not open"):
        own.connect(("somewhere.invalid", 9))


def test_this_machine_can_be_reached():
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        listener.listen(1)
        with socket.create_connection(listener.getsockname(), timeout=5):
            pass
