# SPDX-License-Identifier: Apache-2.0
"""The gate before every route: who asks, from where, with how much.

The page listens on this machine alone, but every program and every web site open in a browser here
can reach that address. So a request must name this server as its host (a site that turns its own
name to this address does not), must come from the page itself where it changes anything, and must
carry the token that `sumpwright open` printed. Sources: RFC 9110 (Host; 413, 421, 431), RFC 6455
section 10.2 (Origin of a WebSocket), RFC 6265bis (SameSite), W3C Fetch Metadata.
"""

import re
import secrets
from http import HTTPStatus

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from sumpwright.web.asked import READS, Asked, Refusal, answer
from sumpwright.web.body_limit import PATIENCE, Body, too_large
from sumpwright.web.security_header import with_security

MOST_HEADERS, MOST_HEADER_BYTES = 100, 2**15
"""Cookies of every program on this machine come along: ports share them."""
MOST_TARGET = 2**13
"""Letters of path and query."""
NO_TOKEN = (
    "This page belongs to whoever started it: open it from the line that sumpwright open printed."
)
ELSEWHERE = "This was asked from another page; nothing was done."
_METHODS = (*READS, "POST", "DELETE")
_OPEN = "/open/"
_ASSETS = "/assets/"
"""Parts of the page, whose names have a hash of what is in them"""
_ODD = re.compile(r"[\x00-\x1f\x7f\\]|(^|/)\.\.?(/|$)")
"""In no address of ours: control characters, backslashes, dots alone."""


def cookie_name(port: int) -> str:
    """The name carries the port: all ports of a machine share their cookies."""
    return f"sumpwright-{port}"


class Guard:
    """ASGI middleware; what it lets through has been checked."""

    def __init__(
        self,
        app: ASGIApp,
        *,
        token: str,
        port: int,
        ipv6: bool = False,
        patience: float = PATIENCE,
    ) -> None:
        self._app, self._token, self._port, self._patience = app, token, port, patience
        names = ("127.0.0.1", "localhost", *(("[::1]",) if ipv6 else ()))
        self._hosts = frozenset(f"{name}:{port}".encode("ascii") for name in names)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
        elif scope["type"] == "websocket":
            await self._socket(scope, receive, send)
        elif scope["type"] == "http":
            await self._request(scope, receive, send)

    async def _socket(self, scope: Scope, receive: Receive, send: Send) -> None:
        asked = Asked(scope)
        if self._refused(asked) or not self._has_token(asked):
            await send({"type": "websocket.close", "code": 1008})  # the server makes it a 403
            return
        await self._app(scope, receive, send)

    async def _request(self, scope: Scope, receive: Receive, send: Send) -> None:
        asked = Asked(scope)
        host = asked.one(b"host")
        named = host if host in self._hosts else f"127.0.0.1:{self._port}".encode("ascii")

        async def secured(message: Message) -> None:
            if message["type"] == "http.response.start":
                keeps = asked.path.startswith(_ASSETS) and message["status"] == HTTPStatus.OK
                headers = with_security(message.get("headers", ()), named, keeps=keeps)
                message = {**message, "headers": headers}
            await send(message)

        refused = self._refused(asked)
        if refused:
            await answer(secured, asked, *refused)
        elif asked.path.startswith(_OPEN):
            await self._opened(asked, secured)
        elif not self._has_token(asked):
            await answer(secured, asked, HTTPStatus.FORBIDDEN, NO_TOKEN)
        else:
            body = Body(receive, secured, asked, self._patience)
            await body.passed_to(self._app, scope)

    def _refused(self, asked: Asked) -> Refusal | None:
        return (
            _wrong_form(asked)
            or self._wrong_host(asked)
            or _wrong_method(asked)
            or _wrong_origin(asked)
            or too_large(asked)
        )

    def _wrong_host(self, asked: Asked) -> Refusal | None:
        if asked.one(b"host") in self._hosts:
            return None
        # the name is not said back: it is whatever the asker liked
        said = f"This page is at 127.0.0.1:{self._port} and answers to no other name."
        return HTTPStatus.MISDIRECTED_REQUEST, said

    def _has_token(self, asked: Asked) -> bool:
        # each cookie of that name: another program on this machine may have set one beside ours
        held = [self._same(cookie) for cookie in asked.cookies(cookie_name(self._port))]
        return any(held)

    def _same(self, given: bytes) -> bool:
        """Compared in a time that does not tell how much of it is right."""
        return secrets.compare_digest(given, self._token.encode("ascii"))

    async def _opened(self, asked: Asked, send: Send) -> None:
        """Set the cookie where the address has the token, and lead to the page."""
        given = asked.path.removeprefix(_OPEN).encode("utf-8", "replace")
        if not asked.reads or not self._same(given):
            await answer(send, asked, HTTPStatus.FORBIDDEN, NO_TOKEN)
            return
        cookie = f"{cookie_name(self._port)}={self._token}; Path=/; HttpOnly; SameSite=Strict"
        more = [(b"set-cookie", cookie.encode("ascii"))]
        if set(asked.all(b"sec-fetch-site")) <= {b"none", b"same-origin"}:
            await answer(send, asked, HTTPStatus.SEE_OTHER, "", [*more, (b"location", b"/")])
            return
        # a link in another page, as of a mail: a redirection would go without the strict cookie
        lead = '<meta http-equiv="refresh" content="0;url=/">'
        await answer(send, asked, HTTPStatus.OK, "Opening the page.", more, lead)


def _wrong_form(asked: Asked) -> Refusal | None:
    if len(asked.headers) > MOST_HEADERS or asked.header_bytes > MOST_HEADER_BYTES:
        said = (
            "The browser sent more headers than this page takes, perhaps cookies of other programs"
            " on this machine: clear the cookies of 127.0.0.1 and localhost."
        )
        return HTTPStatus.REQUEST_HEADER_FIELDS_TOO_LARGE, said
    if len(asked.target) > MOST_TARGET:
        return HTTPStatus.REQUEST_URI_TOO_LONG, "The address is longer than any of this page."
    if not asked.path.startswith("/") or _ODD.search(asked.path):
        return HTTPStatus.BAD_REQUEST, "The address is none of this page."
    return None


def _wrong_method(asked: Asked) -> Refusal | None:
    if asked.method in (*_METHODS, "WEBSOCKET"):
        return None
    return HTTPStatus.METHOD_NOT_ALLOWED, f"This page takes {', '.join(_METHODS)} and no other."


def _wrong_origin(asked: Asked) -> Refusal | None:
    """Refuse what another site's page asks, by its origin and by what the browser says of it.

    To a browser every port of this machine is the same site, so a strict cookie comes along from
    all of them: only the page's own origin is taken.
    """
    if asked.reads and asked.path.startswith(_OPEN):
        return None  # followed from anywhere; the address itself has the token
    site, origin = set(asked.all(b"sec-fetch-site")), asked.all(b"origin")
    if asked.reads:
        if not site <= {b"same-origin", b"none"}:
            return HTTPStatus.FORBIDDEN, NO_TOKEN
        return None if set(origin) <= {asked.origin} else (HTTPStatus.FORBIDDEN, ELSEWHERE)
    if origin != [asked.origin] or not site <= {b"same-origin"}:
        return HTTPStatus.FORBIDDEN, ELSEWHERE
    return None
