"""Who may ask, and how much: the desk answers its own page on this machine and nobody else.

Refused: another Host (a name that was bent to this address), another Origin (a foreign page that posts), requests that a
foreign page makes its reader's browser send, bodies over the limit, anything that runs too long. Where the desk is heard on
other machines, also whatever does not show its key: in the address once, from then on in a cookie.
"""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from contextlib import suppress
from hmac import compare_digest
from typing import Any
from urllib.parse import parse_qs

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
_COOKIE = "sixface-key"
_METHODS = ("GET", "HEAD", "POST")
_TOO_LARGE = f"refused: a request has at most {MOST_BYTES} bytes"
#: So many bytes of a refused body are read and dropped before the refusal is said.
_LEFT = 8 * MOST_BYTES


class TooLarge(Exception):
    """A body over the limit."""


class Guard:
    """Stands before the application; ``hosts``: what the Host header may say; ``key``: what is to be shown, if any."""

    def __init__(self, app: App, hosts: Iterable[str], key: str | None = None) -> None:
        self.app = app
        self.hosts = frozenset(hosts)
        self.key = key
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
                if self.key and not _has(_cookies(scope), self.key):
                    await _leave(receive)
                    await self._unlock(scope, answer, self.key)
                    return
                await self.app(scope, await _read(receive), answer)
        except TooLarge:
            await answer.say(413, _TOO_LARGE)
        except TimeoutError:
            await answer.say(503, f"refused: a request runs {LIMIT:.0f} seconds at most")

    async def _unlock(self, scope: Scope, answer: _Answer, key: str) -> None:
        """The key in the address becomes a cookie, and the address is left without it, in the bar and in the history."""
        if scope["method"] == "GET" and _has(parse_qs(scope["query_string"].decode("latin-1")).get("key", []), key):
            cookie = f"{_COOKIE}={key}; Path=/; HttpOnly; SameSite=Lax"
            await answer.say(303, "", (b"location", b"/"), (b"set-cookie", cookie.encode()))
        else:
            await answer.say(403, "refused: open the address that the desk printed when it began, with its key")

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


def _cookies(scope: Scope) -> list[str]:
    """What the request's cookies of the desk's name say."""
    said = (value.decode("latin-1") for name, value in scope["headers"] if name.lower() == b"cookie")
    pairs = (pair.strip().partition("=") for line in said for pair in line.split(";"))
    return [value for name, _, value in pairs if name == _COOKIE]


def _has(said: Iterable[str], key: str) -> bool:
    """Whether one of them is the key; how long that takes does not tell how much of it is right."""
    return any([compare_digest(one.encode(), key.encode()) for one in said])


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

    async def say(self, status: int, reason: str, *more: tuple[bytes, bytes]) -> None:
        if self._begun:
            return
        body = f"{reason}\n".encode()
        headers = [
            (b"content-type", b"text/plain; charset=utf-8"),
            (b"content-length", str(len(body)).encode()),
            (b"connection", b"close"),
            *more,
        ]
        await self({"type": "http.response.start", "status": status, "headers": headers})
        await self._send({"type": "http.response.body", "body": body})
