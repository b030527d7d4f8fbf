"""Requests to the desk over raw connections: with the headers of its own page, or with whatever a test puts in their place."""

from __future__ import annotations

import asyncio
import http.client
import socket
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

from tests.desk.conftest import Desk

T = TypeVar("T")
FORM = "application/x-www-form-urlencoded"


def run(coroutine: Coroutine[Any, Any, T]) -> T:
    """What it returns. In a thread of its own: in the tests' own one the browser's loop may run."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, coroutine).result()


def place(desk: Desk) -> tuple[str, int]:
    host, _, port = desk.url.removeprefix("http://").partition(":")
    return host, int(port)


def ask(
    desk: Desk, method: str, path: str, body: bytes | str = b"", headers: dict[str, str | None] | None = None
) -> tuple[int, dict[str, str], bytes]:
    """One request with the headers of the desk's own page, but for those that are given; None leaves one out."""
    host, port = place(desk)
    said: dict[str, str | None] = {"Host": f"{host}:{port}"}
    if method == "POST":
        said |= {"Origin": desk.url, "Content-Type": FORM}
    said |= headers or {}
    connection = http.client.HTTPConnection(host, port, timeout=20)
    try:
        connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
        for name, value in said.items():
            if value is not None:
                connection.putheader(name, value)
        data = body.encode() if isinstance(body, str) else body
        if data:
            connection.putheader("Content-Length", str(len(data)))
        connection.endheaders(data or None)
        answer = connection.getresponse()
        return answer.status, {k.lower(): v for k, v in answer.getheaders()}, answer.read()
    finally:
        connection.close()


def speak(desk: Desk, raw: bytes, wait: float = 5.0) -> bytes:
    """Raw bytes in, what comes back until the connection is closed or nothing more comes."""
    with socket.create_connection(place(desk), timeout=wait) as line:
        line.sendall(raw)
        found = b""
        try:
            while part := line.recv(65536):
                found += part
        except TimeoutError:
            pass
        return found
