# SPDX-License-Identifier: Apache-2.0
"""A small application behind the guard, on a port of its own, and ways to ask it badly."""

import asyncio
import json
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

import httpx
from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse
from starlette.routing import Route, WebSocketRoute
from starlette.types import ASGIApp
from starlette.websockets import WebSocket

from sumpwright.errors import InputError, SumpwrightError
from sumpwright.web.desk import Desk, RefusedError
from sumpwright.web.guard import Guard, cookie_name
from sumpwright.web.http_server import PatientProtocol, Server, server_config

TOKEN = "t" * 43


@dataclass
class Site:
    """A running server, and what has reached the application behind its guard."""

    port: int
    reached: list[str] = field(default_factory=list)

    @property
    def host(self) -> str:
        return f"127.0.0.1:{self.port}"

    @property
    def origin(self) -> str:
        return f"http://{self.host}"

    @property
    def cookie(self) -> str:
        return f"{cookie_name(self.port)}={TOKEN}"

    def ask(self, path: str, method: str = "GET", **headers: str | None) -> httpx.Response:
        """As the page asks, but for the headers given; None leaves one out."""
        usual: dict[str, str | None] = {"cookie": self.cookie}
        if method in ("POST", "DELETE"):
            usual["origin"] = self.origin
        usual |= {name.replace("_", "-"): value for name, value in headers.items()}
        sent = {name: value for name, value in usual.items() if value is not None}
        with httpx.Client(trust_env=False, timeout=20.0) as client:
            return client.request(method, f"{self.origin}{path}", headers=sent)

    def raw(self, text: bytes, wait: float = 10.0) -> bytes:
        """Whatever comes back for bytes sent as they are, until the other side closes."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=wait) as line:
            line.sendall(text)
            return read_all(line)


def read_all(line: socket.socket) -> bytes:
    """Until the other side closes, or says nothing more."""
    had = b""
    try:
        while piece := line.recv(65536):
            had += piece
    except (TimeoutError, ConnectionError):
        pass
    return had


@contextmanager
def running(app: ASGIApp, line: socket.socket) -> Iterator[Server]:
    """`app` served on the socket `line` by a thread."""
    server = Server(server_config(app, line.getsockname()[1]))
    thread = threading.Thread(target=lambda: asyncio.run(server.serve([line])), daemon=True)
    thread.start()
    end = time.monotonic() + 20.0
    while not server.started and time.monotonic() < end:
        time.sleep(0.01)
    try:
        yield server
    finally:
        server.should_exit = True
        thread.join(10.0)
        assert not thread.is_alive()


@contextmanager
def guarded_site(
    patience: float = 30.0, head_time: float = 20.0, app: Starlette | None = None
) -> Iterator[Site]:
    """`app` behind the guard, or a site whose routes say what reached them."""
    with socket.socket() as line:
        line.bind(("127.0.0.1", 0))
        site = Site(line.getsockname()[1])
        inner = app or _app(site.reached)
        guarded = Guard(inner, token=TOKEN, port=site.port, patience=patience)
        usual, PatientProtocol.head_time = PatientProtocol.head_time, head_time
        try:
            with running(guarded, line):
                yield site
        finally:
            PatientProtocol.head_time = usual


def job_app(routes: list[Any], folder: Path | None) -> Starlette:
    """Some routes of the page with a job on the desk, errors said as the page says them."""

    async def refused(_request: Request, err: Exception) -> JSONResponse:
        assert isinstance(err, RefusedError)
        body = {"error": str(err), "problems": list(err.problems)}
        return JSONResponse(body, status_code=err.status)

    async def said(_request: Request, err: Exception) -> JSONResponse:
        return JSONResponse({"error": str(err)}, status_code=422)

    async def input_(_request: Request, err: Exception) -> JSONResponse:
        assert isinstance(err, InputError)
        return JSONResponse({"problems": [asdict(p) for p in err.problems]}, status_code=422)

    handlers: Any = {RefusedError: refused, InputError: input_, SumpwrightError: said}
    app = Starlette(routes=routes, exception_handlers=handlers)
    app.state.desk = Desk(Path.cwd(), folder)
    return app


def _app(reached: list[str]) -> Starlette:
    async def told(request: Request) -> JSONResponse:
        try:
            body = await request.body()
        except ClientDisconnect:
            reached.append("left")
            raise
        reached.append(f"{request.method} {request.url.path} {len(body)}")
        return JSONResponse({"had": len(body)})

    async def live(socket: WebSocket) -> None:
        reached.append("socket")
        await socket.accept()
        async for text in socket.iter_text():
            await socket.send_text(json.dumps({"said": text}))

    async def hidden(request: Request) -> JSONResponse:
        policy = {"content-security-policy": "sandbox", "X-Frame-Options": "ALLOWALL"}
        return JSONResponse({}, headers=policy)

    methods = ["GET", "POST", "DELETE"]
    routes: list[Any] = [
        Route("/narrow", hidden),
        WebSocketRoute("/api/live", live),
        Route("/{rest:path}", told, methods=methods),
    ]
    return Starlette(routes=routes)
