# SPDX-License-Identifier: Apache-2.0
"""A worker process, from the server's side: calls go in, words of progress and answers come out.

The process starts with the first call. One that dies takes its own calls with it and no more: each
is told so, and the next call starts a fresh one.
"""

import asyncio
import multiprocessing
import threading
from collections.abc import Callable
from contextlib import suppress
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

from sumpwright.web.hand import Call, Came, Said, Stop, serve

Heard = Callable[[str, float], None]
_GRACE = 2.0
"""Seconds a call has to stop by itself before its process is ended."""
DIED = (
    "the worker that computed this ended by itself, perhaps for lack of memory; "
    "nothing of the job is lost: ask again"
)


class Crew:
    """One worker process and the calls that it has."""

    def __init__(self, *, killable: bool) -> None:
        self._killable = killable
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None
        self._waiting: dict[str, tuple[Call, asyncio.Future[Came], Heard]] = {}

    @property
    def pid(self) -> int | None:
        """Of the process, where there is one."""
        return None if self._process is None else self._process.pid

    @property
    def idle(self) -> bool:
        """Whether it has nothing to do."""
        return not self._waiting

    async def call(self, call: Call, heard: Heard = lambda _text, _share: None) -> Came:
        """What comes of `call`."""
        loop = asyncio.get_running_loop()
        future: asyncio.Future[Came] = loop.create_future()
        self._waiting[call.id] = call, future, heard
        try:
            self._piped(loop).send(call)
            return await future
        except (BrokenPipeError, OSError):
            self._forget()
            return Came(call.id, error=DIED)
        finally:
            self._waiting.pop(call.id, None)

    async def stop(self, id: str) -> None:
        """Have the call of that id end; its process too, where it does not by itself."""
        if id not in self._waiting or self._pipe is None:
            return
        _, future, _ = self._waiting[id]
        with suppress(OSError):
            self._pipe.send(Stop(id))
        if not self._killable:
            return
        await asyncio.wait([future], timeout=_GRACE)
        if not future.done():
            future.set_result(Came(id, stopped=True))
            self._kill()
            for call, other, _ in self._waiting.values():
                if not other.done():  # it only waited behind the one that was stopped
                    self._piped(asyncio.get_running_loop()).send(call)

    def end(self) -> None:
        """End the process; a later call starts another."""
        self._kill()
        self._lose()

    def _kill(self) -> None:
        # its listener closes the pipe: closed here, its number could be the next pipe's already
        process, self._process, self._pipe = self._process, None, None
        if process is not None:
            process.kill()

    def _piped(self, loop: asyncio.AbstractEventLoop) -> Connection:
        if self._pipe is None or self._process is None or not self._process.is_alive():
            context = multiprocessing.get_context("spawn")
            self._pipe, theirs = context.Pipe()
            self._process = context.Process(target=serve, args=(theirs,), daemon=True)
            self._process.start()
            theirs.close()
            args = (self._pipe, loop)
            threading.Thread(target=self._listen, args=args, daemon=True).start()
        return self._pipe

    def _listen(self, pipe: Connection, loop: asyncio.AbstractEventLoop) -> None:
        with suppress(RuntimeError):  # the loop is closed: the server is going
            try:
                while True:
                    loop.call_soon_threadsafe(self._hear, pipe.recv())
            except (EOFError, OSError):
                loop.call_soon_threadsafe(self._ended, pipe)
            finally:
                pipe.close()

    def _hear(self, message: Said | Came) -> None:
        if message.id not in self._waiting:
            return
        _, future, heard = self._waiting[message.id]
        if isinstance(message, Said):
            heard(message.text, message.share)
        elif not future.done():
            future.set_result(message)

    def _ended(self, pipe: Connection) -> None:
        if pipe is self._pipe:
            self._forget()
            self._lose()

    def _forget(self) -> None:
        self._process = self._pipe = None

    def _lose(self) -> None:
        for id, (_, future, _) in self._waiting.items():
            if not future.done():
                future.set_result(Came(id, error=DIED))
