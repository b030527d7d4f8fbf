"""A connection that does not come to the point is closed: the head of a request has so long, and no longer."""

from __future__ import annotations

import asyncio

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from layouts.front.desk.reply import LIMIT


class Patient(H11Protocol):
    """The server's protocol; the time runs from the connection, or from the first byte of a further request."""

    _timer: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        self._wait()

    def data_received(self, data: bytes) -> None:
        super().data_received(data)
        if self.conn.their_state is h11.IDLE and self.conn.trailing_data[0]:
            self._wait()
        else:
            self._rest()

    def connection_lost(self, exc: Exception | None) -> None:
        self._rest()
        super().connection_lost(exc)

    def _wait(self) -> None:
        if self._timer is None:
            self._timer = self.loop.call_later(LIMIT, self.transport.abort)

    def _rest(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None
