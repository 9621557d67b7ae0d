# SPDX-License-Identifier: Apache-2.0
"""What a request says of itself, and the plain answer to one that is refused."""

import html
import json
from http import HTTPStatus

from starlette.types import Scope, Send

Headers = list[tuple[bytes, bytes]]
Refusal = tuple[int, str]
"""Status and one sentence."""

READS = ("GET", "HEAD")


class Asked:
    """A request's line and headers, before anything of it is believed."""

    def __init__(self, scope: Scope) -> None:
        self.headers: Headers = [(name.lower(), value) for name, value in scope["headers"]]
        self.path: str = scope["path"]
        self.target: bytes = (scope.get("raw_path") or b"") + b"?" + scope.get("query_string", b"")
        self.method: str = scope.get("method", "WEBSOCKET")

    @property
    def reads(self) -> bool:
        """It asks to be shown something, and changes nothing."""
        return self.method in READS

    @property
    def origin(self) -> bytes:
        """What a page of the host that was asked would give as its origin."""
        return b"http://" + self.one(b"host")

    @property
    def header_bytes(self) -> int:
        """Of all names and values."""
        return sum(len(name) + len(value) for name, value in self.headers)

    def all(self, name: bytes) -> list[bytes]:
        """Every value of a header."""
        return [value for n, value in self.headers if n == name]

    def one(self, name: bytes) -> bytes:
        """A header's value; nothing where it is not there exactly once."""
        values = self.all(name)
        return values[0] if len(values) == 1 else b""

    def cookies(self, name: str) -> list[bytes]:
        """Every cookie of that name."""
        start = name.encode("ascii") + b"="
        pairs = (pair.strip() for line in self.all(b"cookie") for pair in line.split(b";"))
        return [pair[len(start) :] for pair in pairs if pair.startswith(start)]


_PAGE = """\
<!doctype html>
<html lang="en"><head><meta charset="utf-8">{head}<title>Sumpwright</title></head>
<body><p>{said}</p></body></html>
"""


async def answer(
    send: Send, asked: Asked, status: int, said: str, more: Headers | None = None, head: str = ""
) -> None:
    """One sentence: as JSON where the page asked, as a page to read where a person did."""
    if asked.path.startswith("/api/"):
        kind, body = b"application/json", json.dumps({"error": said}).encode()
    else:
        kind = b"text/html; charset=utf-8"
        body = _PAGE.format(head=head, said=html.escape(said)).encode()
    if status == HTTPStatus.SEE_OTHER:
        body = b""
    length = (b"content-length", str(len(body)).encode())
    headers = [(b"content-type", kind), length, *(more or [])]
    await send({"type": "http.response.start", "status": int(status), "headers": headers})
    shown = b"" if asked.method == "HEAD" else body
    await send({"type": "http.response.body", "body": shown})
