"""Who may ask, and how much: the desk answers its own page on this machine and nobody else.

Refused: another Host (a name that was bent to this address), another Origin (a foreign page that posts), requests that a
foreign page makes its reader's browser send, bodies over the limit, anything that runs too long.
"""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from contextlib import suppress
from typing import Any

from layouts.front.desk.reply import LIMIT, MOST_BYTES

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

#: With every answer: nothing from elsewhere, no script or style within the page, no frame around it, no copy kept.
HEADERS = {
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
    "cache-control": "no-store",
}
_METHODS = ("GET", "HEAD", "POST")
_TOO_LARGE = f"refused: a request has at most {MOST_BYTES} bytes"
#: So many bytes of a refused body are read and dropped before the refusal is said.
_LEFT = 8 * MOST_BYTES


class TooLarge(Exception):
    """A body over the limit."""


def hosts_of(port: int) -> frozenset[str]:
    """What the Host header may say on that port."""
    names = ("127.0.0.1", "localhost")
    return frozenset((*(f"{name}:{port}" for name in names), *(names if port == 80 else ())))


class Guard:
    """Stands before the application; ``hosts``: what the Host header may say."""

    def __init__(self, app: App, hosts: Iterable[str]) -> None:
        self.app = app
        self.hosts = frozenset(hosts)
        self.origins = frozenset(f"http://{host}" for host in self.hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        answer = _Answer(send)
        try:
            async with asyncio.timeout(LIMIT):
                if refusal := self._refusal(scope):
                    await _leave(receive)
                    await answer.say(*refusal)
                    return
                await self.app(scope, await _read(receive), answer)
        except TooLarge:
            await answer.say(413, _TOO_LARGE)
        except TimeoutError:
            await answer.say(503, f"refused: a request runs {LIMIT:.0f} seconds at most")

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        """Status and reason where a request is not to be answered at all."""
        said: dict[str, list[str]] = {}
        for name, value in scope["headers"]:
            said.setdefault(name.decode("latin-1").lower(), []).append(value.decode("latin-1"))
        host, origin = said.get("host", []), said.get("origin", [])
        if len(host) != 1 or host[0].lower() not in self.hosts:
            return 421, "refused: this Host is not the desk's"
        if any(one not in self.origins for one in origin):
            return 403, "refused: another Origin may not ask"
        method = scope["method"]
        if method not in _METHODS:
            return 405, "refused: GET, HEAD and POST are answered"
        if method == "POST" and len(origin) != 1:
            return 403, "refused: a form that is sent says its Origin"
        site, how = said.get("sec-fetch-site", [""])[-1], said.get("sec-fetch-mode", [""])[-1]
        if site in ("cross-site", "same-site") and how != "navigate":
            return 403, "refused: another page may not read the desk's"
        length = said.get("content-length", ["0"])[-1]
        if not length.isdigit() or int(length[:20]) > MOST_BYTES:
            return 413, _TOO_LARGE
        return None


async def _read(receive: Receive) -> Receive:
    """The whole body, read up to the limit before the application begins; then whatever else comes. Raises TooLarge."""
    parts: list[bytes] = []
    size, more = 0, True
    while more:
        message = await receive()
        more = message["type"] == "http.request" and message.get("more_body", False)
        parts.append(message.get("body", b""))
        size += len(parts[-1])
        if size > MOST_BYTES:
            await _leave(receive, _LEFT - size)
            raise TooLarge
    whole: list[Message] = [{"type": "http.request", "body": b"".join(parts), "more_body": False}]

    async def again() -> Message:
        return whole.pop() if whole else await receive()

    return again


async def _leave(receive: Receive, most: int = _LEFT) -> None:
    """Let what is still sent pass by, up to so much and for two seconds: who sends and is cut off does not read why."""
    more = True
    with suppress(TimeoutError):
        async with asyncio.timeout(2):
            while more and most > 0:
                message = await receive()
                more = message["type"] == "http.request" and message.get("more_body", False)
                most -= len(message.get("body", b""))


class _Answer:
    """Sends on, every answer with the headers; knows whether one has begun."""

    def __init__(self, send: Send) -> None:
        self._send, self._begun = send, False

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self._begun = True
            kept = [(n, v) for n, v in message.get("headers", ()) if n.decode("latin-1").lower() not in HEADERS]
            message = {**message, "headers": [*kept, *((n.encode(), v.encode()) for n, v in HEADERS.items())]}
        await self._send(message)

    async def say(self, status: int, reason: str) -> None:
        if self._begun:
            return
        body = f"{reason}\n".encode()
        headers = [
            (b"content-type", b"text/plain; charset=utf-8"),
            (b"content-length", str(len(body)).encode()),
            (b"connection", b"close"),
        ]
        await self({"type": "http.response.start", "status": status, "headers": headers})
        await self._send({"type": "http.response.body", "body": body})
