# SPDX-License-Identifier: Apache-2.0
"""Before the guard: tickets that open the page once, and the answer to a second `open`.

The address that a browser is started with can be read in the list of this machine's processes. So
it carries a ticket, good for one use and a short while, and not the token.
"""

import secrets
from collections.abc import Callable
from time import monotonic

from starlette.types import ASGIApp, Receive, Scope, Send

from sumpwright.web.asked import Asked

_GOOD_FOR = 120.0
"""Seconds, for a browser that starts slowly."""
_PAUSE = 2.0
"""Seconds between two showings that are asked for."""
_HERE, _OPEN = "/here/", "/open/"


class Front:
    """ASGI middleware around the guarded page."""

    def __init__(self, app: ASGIApp, *, token: str, port: int, check: str) -> None:
        self._app, self._token, self._check = app, token, check
        self._host = f"127.0.0.1:{port}".encode("ascii")
        self._tickets: dict[str, float] = {}
        self._shown = -_PAUSE
        self.show: Callable[[], bool] = lambda: False
        """Opens the page on the screen; False where there is none"""

    def ticket(self) -> str:
        """What opens the page once, in place of the token."""
        now = monotonic()
        self._tickets = {t: end for t, end in self._tickets.items() if end > now}
        made = secrets.token_urlsafe(32)
        self._tickets[made] = now + _GOOD_FOR
        return made

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            path = scope["path"]
            if path.startswith(_HERE) and self._knows(Asked(scope)):
                await _told(send, self._answer(scope["method"]))
                return
            given = path.removeprefix(_OPEN) if path.startswith(_OPEN) else ""
            if scope["method"] == "GET" and self._tickets.pop(given, 0.0) > monotonic():
                way = f"{_OPEN}{self._token}"
                scope = {**scope, "path": way, "raw_path": way.encode("ascii")}
        await self._app(scope, receive, send)

    def _knows(self, asked: Asked) -> bool:
        """It is a second `open`: no browser, at our own address, with the check of the lock."""
        if asked.one(b"host") != self._host or asked.method not in ("GET", "POST"):
            return False
        if asked.all(b"origin") or any(n.startswith(b"sec-fetch-") for n, _ in asked.headers):
            return False
        given = asked.path.removeprefix(_HERE).encode("utf-8", "replace")
        return secrets.compare_digest(given, self._check.encode("ascii"))

    def _answer(self, method: str) -> int:
        if method == "GET":
            return 204
        now = monotonic()
        if now - self._shown < _PAUSE:
            return 200  # it was shown a moment ago
        self._shown = now
        return 200 if self.show() else 204


async def _told(send: Send, status: int) -> None:
    headers = [(b"x-sumpwright", b"here"), (b"content-length", b"0"), (b"connection", b"close")]
    headers = headers if status == 200 else [headers[0], headers[2]]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": b""})
