"""Starts the pages of one project and opens them in the browser."""

from __future__ import annotations

import ipaddress
import secrets
import socket
import sys
import threading
import time
import webbrowser
from contextlib import closing
from pathlib import Path

from coldwright.faces.pages.guard import Allowed
from coldwright.faces.pages.project import Project

LOOPBACK = "127.0.0.1"


def serve(path: str | Path, *, host: str = LOOPBACK, port: int = 0, browser: bool = True) -> None:
    """Serve the pages of a project until they are stopped with Ctrl-C.

    Parameters
    ----------
    path
        The sheet, or the folder that holds it.
    host
        Address to listen on. Any other than the loopback address lets other machines in, and then
        asks for a token that is printed here.
    port
        0: the first free one.
    browser
        Whether to open the pages in the browser.

    Raises
    ------
    SheetError
        When there is no such sheet.
    OSError
        When the address cannot be listened on.
    """
    import uvicorn

    from coldwright.faces.pages.app import create_app

    project = Project(path)
    bound = _bound(host, port)
    number = bound.getsockname()[1]
    token = "" if _is_loopback(host) else secrets.token_urlsafe(24)
    names = {f"{name}:{number}" for name in _names(host)}
    app = create_app(project, Allowed(frozenset(names), token, f"coldwright-{number}"))
    shown = host if host not in ("0.0.0.0", "::") else LOOPBACK
    address = f"http://{f'[{shown}]' if ':' in shown else shown}:{number}/"
    address += f"?token={token}" if token else ""
    if token:
        print(
            "Other machines can reach these pages. Whoever has this address with its token can "
            "read and change the sheet; nothing is encrypted.",
            file=sys.stderr,
        )
    print(f"{project.name}: {address}  (stop with Ctrl-C)", flush=True)
    if browser:
        threading.Thread(target=_open, args=(address, number), daemon=True).start()
    config = uvicorn.Config(
        app, log_level="error", access_log=False, ws_max_size=65_536, timeout_graceful_shutdown=2,
        server_header=False, ws="websockets-sansio",
    )  # fmt: skip
    with closing(bound):
        uvicorn.Server(config).run(sockets=[bound])


def _bound(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    held = socket.socket(family, socket.SOCK_STREAM)
    held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        held.bind((host, port))
    except OSError:
        held.close()
        raise
    return held


def _is_loopback(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _names(host: str) -> set[str]:
    """What the `Host` header may say."""
    names = {LOOPBACK, "localhost", "[::1]"}
    if not _is_loopback(host):
        names |= {socket.gethostname().lower(), f"[{host}]" if ":" in host else host.lower()}
        names |= _addresses()
    return names


def _addresses() -> set[str]:
    """Addresses of this machine, as far as it knows them."""
    try:
        found = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
    except OSError:
        return set()
    return {str(each[4][0]) for each in found}


def _open(address: str, port: int) -> None:
    for _ in range(100):
        with closing(socket.socket()) as probe:
            probe.settimeout(0.2)
            if probe.connect_ex((LOOPBACK, port)) == 0:
                break
        time.sleep(0.05)
    webbrowser.open(address)
