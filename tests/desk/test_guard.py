"""The guard as an ASGI application: what the server never sends it, and an answer that has begun."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable
from typing import Any

import pytest

from layouts.front.desk import guard
from layouts.front.desk.guard import Guard, Message, Receive, Scope, Send
from tests.desk import wire

HOST = "127.0.0.1:8266"
BEGIN: Message = {"type": "http.response.start", "status": 200, "headers": [(b"X-Frame-Options", b"ALLOWALL")]}


def scope(kind: str = "http", **headers: str) -> Scope:
    said = {"host": HOST, **headers}
    pairs = [(name.replace("_", "-").encode(), value.encode()) for name, value in said.items()]
    return {"type": kind, "method": "GET", "path": "/", "query_string": b"", "headers": pairs}


def run(app: Any, asked: Scope, incoming: Iterable[Message] = ({"type": "http.request"},)) -> list[Message]:
    sent: list[Message] = []
    messages = iter(incoming)

    async def receive() -> Message:
        return next(messages, {"type": "http.disconnect"})

    async def send(message: Message) -> None:
        sent.append(message)

    wire.run(Guard(app, [HOST])(asked, receive, send))
    return sent


async def hello(asked: Scope, receive: Receive, send: Send) -> None:
    await send(BEGIN)
    await send({"type": "http.response.body", "body": b"hello"})


async def never(asked: Scope, receive: Receive, send: Send) -> None:
    raise AssertionError("it was asked")


def test_an_application_s_own_headers_do_not_weaken_the_guard_s() -> None:
    start, body = run(hello, scope())
    said = [value for name, value in start["headers"] if name.lower() == b"x-frame-options"]
    assert said == [b"DENY"] and body["body"] == b"hello"


def test_the_server_s_start_goes_through_and_nothing_but_http_is_answered() -> None:
    async def starting(asked: Scope, receive: Receive, send: Send) -> None:
        await send({"type": "lifespan.startup.complete"})

    assert run(starting, {"type": "lifespan"}) == [{"type": "lifespan.startup.complete"}]
    assert run(never, scope("websocket")) == [{"type": "websocket.close", "code": 1008}]


def test_who_goes_away_before_the_body_is_there_is_not_waited_for() -> None:
    async def read(asked: Scope, receive: Receive, send: Send) -> None:
        assert (await receive())["body"] == b"ab" and (await receive())["type"] == "http.disconnect"
        await hello(asked, receive, send)

    parts = [{"type": "http.request", "body": b"a", "more_body": True}, {"type": "http.request", "body": b"b", "more_body": True}]
    assert [one["type"] for one in run(read, scope(), parts)] == ["http.response.start", "http.response.body"]


@pytest.mark.parametrize("begun", [False, True])
def test_what_runs_too_long_is_told_unless_its_answer_has_begun(begun: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "LIMIT", 0.05)

    async def slow(asked: Scope, receive: Receive, send: Send) -> None:
        if begun:
            await send(BEGIN)
        await asyncio.sleep(5)

    sent = run(slow, scope())
    assert [one.get("status") for one in sent] == ([200] if begun else [503, None])


def test_a_length_that_is_no_number_is_refused() -> None:
    for length in ("-1", "1e3", "x", str(10**30)):
        assert run(never, scope(content_length=length))[0]["status"] == 413, length
