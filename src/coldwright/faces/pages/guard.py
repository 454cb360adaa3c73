"""Who may speak with the server: this machine's own pages, and nobody's else.

A page of another site can make a browser send requests here (by a form, a socket, a name that
suddenly means this machine). So every request must name this server as its host, and whatever
changes something, or opens a socket, must come from one of its own pages.
"""

from __future__ import annotations

import hmac
from collections.abc import Awaitable, Callable, MutableMapping
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import parse_qs, urlsplit

Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]

# Largest body of a request: twice a sheet.
MOST_BYTES = 4_000_000
_SAFE = {"GET", "HEAD"}
_HEADERS = [
    (
        b"content-security-policy",
        b"default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; "
        b"img-src 'self' data:; connect-src 'self'; font-src 'self'; base-uri 'none'; "
        b"form-action 'self'; frame-ancestors 'none'",
    ),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
]


@dataclass(frozen=True)
class Allowed:
    """Who is let in.

    Parameters
    ----------
    hosts
        What the `Host` header may say, with the port.
    token
        What a visitor from elsewhere must show; empty on the loopback address.
    """

    hosts: frozenset[str]
    token: str = ""
    cookie: str = field(default="coldwright")

    def refuses(self, scope: Scope) -> str:
        """Why a request is not answered; empty where it is."""
        headers = {name.lower(): value for name, value in scope.get("headers", ())}
        host = headers.get(b"host", b"").decode("latin-1").lower()
        if host not in self.hosts:
            return "This address is not known here."
        changes = scope["type"] == "websocket" or scope.get("method") not in _SAFE
        origin = headers.get(b"origin")
        if origin is not None and not self._own(origin.decode("latin-1")):
            return "Another site asks; it gets no answer."
        if changes and origin is None and headers.get(b"sec-fetch-site", b"none") not in (
            b"none", b"same-origin",
        ):  # fmt: skip
            return "Another site asks; it gets no answer."
        if scope["type"] == "websocket" and origin is None:
            return "A socket must say which page it belongs to."
        if self.token and not self._shown(scope, headers):
            return "Open the address that the command printed, with its token."
        return ""

    def _own(self, origin: str) -> bool:
        try:
            parts = urlsplit(origin.lower())
        except ValueError:
            return False
        return parts.scheme in ("http", "https") and parts.netloc in self.hosts

    def _shown(self, scope: Scope, headers: dict[bytes, bytes]) -> bool:
        query = parse_qs(scope.get("query_string", b"").decode("latin-1"))
        shown = [*query.get("token", [])]
        for part in headers.get(b"cookie", b"").decode("latin-1").split(";"):
            name, _, value = part.strip().partition("=")
            if name == self.cookie:
                shown.append(value)
        return any(hmac.compare_digest(each.encode(), self.token.encode()) for each in shown)


class Guard:
    """Wraps an ASGI application: refuses strangers, bounds bodies, adds the headers of safety."""

    def __init__(self, app: Any, allowed: Allowed) -> None:
        self.app = app
        self.allowed = allowed

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or let the application do it."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        why = self.allowed.refuses(scope)
        if scope["type"] == "websocket":
            if why:
                await receive()
                await send({"type": "websocket.close", "code": 1008, "reason": why})
            else:
                await self.app(scope, receive, send)
            return
        if why:
            await _say(send, 403, why)
            return
        length = dict(scope["headers"]).get(b"content-length", b"0")
        if not length.isdigit() or int(length) > MOST_BYTES:
            await _say(send, 413, "That is more than a sheet can be.")
            return
        body = _Bounded(receive)
        try:
            await self.app(scope, body.receive, self._with_headers(scope, send))
        except _TooMuch:
            await _say(send, 413, "That is more than a sheet can be.")

    def _with_headers(self, scope: Scope, send: Send) -> Send:
        shown = parse_qs(scope.get("query_string", b"").decode("latin-1")).get("token")

        async def sent(message: MutableMapping[str, Any]) -> None:
            if message["type"] == "http.response.start":
                headers = [*message.get("headers", ()), *_HEADERS]
                if not any(name.lower() == b"cache-control" for name, _ in headers):
                    headers.append((b"cache-control", b"no-store"))
                if self.allowed.token and shown:
                    held = f"{self.allowed.cookie}={self.allowed.token}; HttpOnly; SameSite=Strict"
                    headers.append((b"set-cookie", f"{held}; Path=/".encode()))
                message = {**message, "headers": headers}
            await send(message)

        return sent


class _TooMuch(Exception):  # noqa: N818 - never leaves this file
    pass


class _Bounded:
    """Counts a body that does not say its length."""

    def __init__(self, receive: Receive) -> None:
        self._receive = receive
        self._read = 0

    async def receive(self) -> MutableMapping[str, Any]:
        message = await self._receive()
        self._read += len(message.get("body", b""))
        if self._read > MOST_BYTES:
            raise _TooMuch
        return message


async def _say(send: Send, status: int, text: str) -> None:
    headers = [(b"content-type", b"text/plain; charset=utf-8"), *_HEADERS]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": text.encode("utf-8")})
