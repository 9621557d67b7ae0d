# SPDX-License-Identifier: Apache-2.0
"""Serves the page of a job on this machine until it is told to stop."""

import asyncio
import errno
import multiprocessing
import os
import secrets
import socket
import sys
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sumpwright.errors import InputError, Problem
from sumpwright.web import browser, lock
from sumpwright.web.front import Front
from sumpwright.web.guard import Guard
from sumpwright.web.http_server import Server, server_config

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Receive, Scope, Send

    from sumpwright.web.desk import Desk

Say = Callable[[str], None]

_FIRST_PORT, _PORTS = 20_000, 12_000
"""Below the ports that systems give to outgoing lines."""
_BACKLOG = 64


def open_page(job: Path | None, *, port: int | None, show: bool, say: Say) -> None:
    """Serve the page of `job`, or one to start from, until Ctrl-C; or show the one there is.

    `show` opens the browser. InputError where `job` is none or `port` is taken.
    """
    folder = _folder(job)
    there = None if folder is None else lock.held(folder)
    if folder is not None and there is not None:
        if lock.answers(there):
            say(_shown_again(folder, there, show))
            return
        lock.release(folder, there)
    with _listening(port, folder) as line:
        _served(line, folder, show=show, say=say)


def _folder(job: Path | None) -> Path | None:
    from sumpwright.job.load import job_path

    return None if job is None else job_path(job).resolve().parent


def _shown_again(folder: Path, there: lock.Lock, show: bool) -> str:
    shown = show and lock.show_again(there)
    how = "its page was shown again" if shown else "use the address that was printed then"
    return f"{folder.name} is open already, in process {there.pid}: {how}."


@contextmanager
def _listening(port: int | None, folder: Path | None) -> Iterator[socket.socket]:
    """A socket on the loopback address that takes connections from now on."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as line:
        if sys.platform == "win32":
            line.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        else:  # a port that was left a moment ago; not one that somebody listens on
            line.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            _bind(line, port, folder)
            line.listen(_BACKLOG)
        except (OSError, OverflowError) as err:
            raise InputError([_no_port(port, err)]) from err
        yield line


def _bind(line: socket.socket, port: int | None, folder: Path | None) -> None:
    if port is not None:
        line.bind(("127.0.0.1", port))
        return
    # the same job has the same port where it can: the browser keeps its settings by port
    usual = _FIRST_PORT + zlib.crc32(str(folder).encode("utf-8", "replace")) % _PORTS
    try:
        line.bind(("127.0.0.1", usual))
    except OSError:
        line.bind(("127.0.0.1", 0))


def _no_port(port: int | None, err: OSError | OverflowError) -> Problem:
    taken = isinstance(err, OSError) and err.errno == errno.EADDRINUSE
    why = "which another program uses" if taken else f"which this system does not give ({err})"
    do = "leave --port out, and a free one is taken"
    return Problem("CLI-401", "--port", f"{port or 'any port'}, {why}", "a free port", do)


def _served(line: socket.socket, folder: Path | None, *, show: bool, say: Say) -> None:
    from sumpwright.web.app import page_app
    from sumpwright.web.desk import Desk

    port, check, token = line.getsockname()[1], secrets.token_hex(16), secrets.token_urlsafe(32)
    desk, opened = Desk(Path.cwd()), asyncio.Event()
    guarded = Guard(_held(page_app(desk), opened), token=token, port=port)
    front = Front(guarded, token=token, port=port, check=check)
    address = f"http://127.0.0.1:{port}/open/"
    front.show = lambda: browser.show(address + front.ticket())
    say(_said(folder, address + token))
    if show and not front.show():
        say("No screen was found to open it on: open that address in a browser on this machine.")
    keeper = _Keeper(desk, lock.Lock(os.getpid(), port, check))
    keeper.look(folder)
    try:
        server = Server(server_config(front, port))
        asyncio.run(_run(server, line, desk, folder, keeper, opened))
    finally:
        keeper.look(None)
        _end_children()
    say("Closed. What was finished is kept in out/page.")


def _said(folder: Path | None, address: str) -> str:
    what = "The page to start from" if folder is None else f"The page of {folder.name}"
    return f"{what}, for this machine alone:\n  {address}\nLeave this running; Ctrl-C ends it."


async def _run(
    server: Server,
    line: socket.socket,
    desk: "Desk",
    folder: Path | None,
    keeper: "_Keeper",
    opened: asyncio.Event,
) -> None:
    async def open_job() -> None:
        try:
            await desk.open(folder)
        except Exception:
            if not server.should_exit:  # else it was cut off with the rest
                server.should_exit = True
                raise
        finally:
            opened.set()

    keeping = asyncio.create_task(keeper.follow())
    opening = asyncio.create_task(open_job())
    with server.stopping():
        try:
            await server.serve([line])
            if opening.done():
                opening.result()
        finally:
            opening.cancel()
            keeping.cancel()
            desk.close()


def _held(app: "ASGIApp", opened: asyncio.Event) -> "ASGIApp":
    """`app`, whose answers on the job wait for it; the browser has the page by then."""

    async def waited(scope: "Scope", receive: "Receive", send: "Send") -> None:
        if scope["type"] != "lifespan" and scope["path"].startswith("/api/"):
            await opened.wait()
        await app(scope, receive, send)

    return waited


class _Keeper:
    """Keeps the lock on the job that is on the desk, which may change."""

    def __init__(self, desk: "Desk", ours: lock.Lock) -> None:
        self._desk, self._ours = desk, ours
        self._folder: Path | None = None

    async def follow(self) -> None:
        """Look whenever something is said on the desk."""
        queue: asyncio.Queue[Any] = self._desk.subscribe()
        while True:
            await queue.get()
            self.look(self._desk.folder)

    def look(self, folder: Path | None) -> None:
        """Have the lock of `folder`, and of no other."""
        if folder == self._folder:
            return
        if self._folder is not None:
            lock.release(self._folder, self._ours)
        taken = folder is not None and lock.take(folder, self._ours)
        self._folder = folder if taken else None


def _end_children() -> None:
    """End what is left of the workers, also of those that were cut off in the middle."""
    for child in multiprocessing.active_children():
        child.terminate()
        child.join(1.0)
        if child.is_alive():
            child.kill()
