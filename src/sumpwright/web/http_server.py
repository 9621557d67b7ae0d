# SPDX-License-Identifier: Apache-2.0
"""The HTTP server, set for one person on one machine: quiet, small, and easy to stop."""

import logging
import signal
import socket
import threading
from asyncio import TimerHandle
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import uvicorn
from starlette.types import ASGIApp
from uvicorn.protocols.http.h11_impl import H11Protocol

MOST_MESSAGE = 2**14
"""Bytes of one message on the WebSocket."""
MOST_HEAD = 2**16
"""Bytes of a request's line and headers before they are whole."""
MOST_AT_ONCE = 200
"""Connections."""
HEAD_TIME = 20.0
"""Seconds until a request's line and headers are whole."""
_LOGGER = logging.getLogger("uvicorn.error")
_GRACE = 2
"""Seconds that answers have when the server stops."""
_STOPS = tuple(
    getattr(signal, name)
    for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
    if hasattr(signal, name)
)


class PatientProtocol(H11Protocol):
    """HTTP/1.1, where a connection that begins no whole request in time is closed."""

    head_time = HEAD_TIME
    _timer: TimerHandle | None = None

    def connection_made(self, transport: Any) -> None:
        """Wait for a first request."""
        super().connection_made(transport)
        line = transport.get_extra_info("socket")
        if line is not None:  # else the end of an answer waits 40 ms for the browser to say more
            line.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._timer = self.loop.call_later(self.head_time, self._late, self.scope)

    def data_received(self, data: bytes) -> None:
        """Wait anew with each request that has come whole."""
        before = self.scope
        super().data_received(data)
        if self.scope is not before:
            self._stop_waiting()
        elif self._timer is None and self._between():
            self._timer = self.loop.call_later(self.head_time, self._late, self.scope)

    def connection_lost(self, exc: Exception | None) -> None:
        """Nothing to wait for."""
        self._stop_waiting()
        super().connection_lost(exc)

    def _between(self) -> bool:
        return self.cycle is not None and self.cycle.response_complete

    def _stop_waiting(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
        self._timer = None

    def _late(self, seen: Any) -> None:
        self._timer = None
        if self.scope is seen and not self.transport.is_closing():
            self.transport.close()


def server_config(app: ASGIApp, port: int) -> uvicorn.Config:
    """How `app` is served."""
    _LOGGER.setLevel(logging.ERROR)  # bugs, and nothing else
    return uvicorn.Config(
        app,
        host="127.0.0.1",
        port=port,
        http=PatientProtocol,
        ws="websockets-sansio",
        ws_max_size=MOST_MESSAGE,
        ws_per_message_deflate=False,
        h11_max_incomplete_event_size=MOST_HEAD,
        limit_concurrency=MOST_AT_ONCE,
        lifespan="on",
        log_config=None,
        access_log=False,
        proxy_headers=False,  # nobody may say for another where a request comes from
        server_header=False,
        timeout_graceful_shutdown=_GRACE,
    )


class Server(uvicorn.Server):
    """Stops on Ctrl-C as on any other end, and is done then: no signal is raised again."""

    @contextmanager
    def stopping(self) -> Iterator[None]:
        """While it is entered, signals to stop end the server and nothing else."""
        if threading.current_thread() is not threading.main_thread():
            yield
            return
        before = {number: signal.signal(number, self.handle_exit) for number in _STOPS}
        try:
            yield
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End; after a second Ctrl-C without waiting for answers, but with all workers."""
        _LOGGER.setLevel(logging.CRITICAL)  # what is cut off from now on is no bug
        await super().shutdown(sockets)
        if self.force_exit:
            await self.lifespan.shutdown()

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Done by `stopping`, which begins earlier."""
        yield
