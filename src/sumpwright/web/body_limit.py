# SPDX-License-Identifier: Apache-2.0
"""A request's body, no larger and no slower than its route takes."""

import asyncio
from dataclasses import dataclass
from http import HTTPStatus
from time import monotonic

from starlette.requests import ClientDisconnect
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from sumpwright.web.asked import Asked, Refusal, answer

PATIENCE = 30.0
"""Seconds between two pieces of a body."""


@dataclass(frozen=True)
class Limit:
    """What a route takes."""

    size: int
    """[B]"""
    time: float
    """[s] for all of it"""

    def __str__(self) -> str:
        if self.size >= 2**20:
            return f"{self.size / 2**20:,.0f} MiB"
        return f"{self.size / 2**10:,.0f} KiB"


UPLOAD = Limit(2**30, 3600.0)
"""As large as the largest file that is read."""
PHOTO = Limit(40 * 2**20, 600.0)
"""A large picture of a telephone is a quarter of that."""
JSON = Limit(2**20, PATIENCE)
"""As large as the largest job file that is read."""
PHOTO = Limit(48 * 2**20, 300.0)
"""Above what the route itself takes, which says so in words of its own."""
NONE = Limit(2**12, PATIENCE)
"""Of what carries no body as a rule."""


def limit_of(asked: Asked) -> Limit:
    """What the route of a request takes."""
    if asked.method != "POST":
        return NONE
    return {"/api/upload": UPLOAD, "/api/photo": PHOTO}.get(asked.path, JSON)


def too_large(asked: Asked) -> Refusal | None:
    """Refuse by what a request says of its length, before any of it is read."""
    limit, said = limit_of(asked), asked.all(b"content-length")
    if any(not text.isdigit() for text in said):
        return HTTPStatus.BAD_REQUEST, "The request's length is not a number."
    if any(int(text[:20]) > limit.size for text in said):
        return over(limit)
    return None


def over(limit: Limit) -> Refusal:
    """The refusal of what is larger."""
    said = f"This is larger than the page takes here: at most {limit}. Nothing was done."
    return HTTPStatus.REQUEST_ENTITY_TOO_LARGE, said


class Body:
    """A body on its way in; the app that reads it sees one cut off as an asker who has left."""

    def __init__(self, receive: Receive, send: Send, asked: Asked, patience: float) -> None:
        self._receive, self._send, self._asked = receive, send, asked
        self._limit, self._patience = limit_of(asked), patience
        self._end, self._had = monotonic() + self._limit.time, 0
        self._whole = self._started = False
        self._refused: Refusal | None = None

    async def passed_to(self, app: ASGIApp, scope: Scope) -> None:
        """Run `app` on it; where it was cut off, say so in the app's place."""
        try:
            await app(scope, self.receive, self.send)
        except ClientDisconnect:  # nobody is left to be told
            pass
        except Exception:
            if self._refused is None:  # else what the app made of its asker's leaving
                raise
        if self._refused is not None and not self._started:
            close = [(b"connection", b"close")]  # or the rest would still be taken in
            await answer(self._send, self._asked, *self._refused, close)

    async def receive(self) -> Message:
        """The next piece."""
        if self._whole:
            return await self._receive()
        message = None if self._refused else await self._in_time()
        if message is None:
            return {"type": "http.disconnect"}
        self._whole = not message.get("more_body", False)
        self._had += len(message.get("body", b""))
        if self._had > self._limit.size:
            self._refused = over(self._limit)
            return {"type": "http.disconnect"}
        return message

    async def send(self, message: Message) -> None:
        """What the app answers, unless it is to a body that was cut off."""
        if self._refused is None or self._started:
            self._started = True
            await self._send(message)

    async def _in_time(self) -> Message | None:
        wait = max(min(self._patience, self._end - monotonic()), 0.0)
        try:
            return await asyncio.wait_for(self._receive(), wait)
        except TimeoutError:
            said = "The rest of the request did not come in time. Nothing was done."
            self._refused = HTTPStatus.REQUEST_TIMEOUT, said
            return None
