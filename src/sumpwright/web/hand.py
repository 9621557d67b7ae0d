# SPDX-License-Identifier: Apache-2.0
"""The inside of a worker process: takes calls from a pipe, computes, sends what came of them.

Every lane has a thread of its own, so that a tilt is answered while a verdict is being computed.
A call that is told to stop ends at its next word of progress.
"""

import json
import os
import signal
import threading
import traceback
from collections.abc import Callable
from dataclasses import asdict, dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from queue import SimpleQueue
from typing import Any

from sumpwright.errors import InputError, SumpwrightError


@dataclass(frozen=True)
class Call:
    """Something to compute."""

    id: str
    lane: str
    name: str
    """Of a question, or with `live` of a function of `live_function.py`"""
    folder: str
    args: Any
    live: bool = False


@dataclass(frozen=True)
class Stop:
    """The call of that id is not wanted any more."""

    id: str


@dataclass(frozen=True)
class Said:
    """Where a call is."""

    id: str
    text: str
    share: float


@dataclass(frozen=True)
class Came:
    """What came of a call; of a question, `answer` is JSON text."""

    id: str
    answer: Any = None
    files: tuple[str, ...] = ()
    input_hash: str | None = None
    """Of the job that was answered for, where the answer says so"""
    problems: tuple[dict[str, str], ...] = ()
    error: str | None = None
    stopped: bool = False


class Stopped(BaseException):
    """The call was told to stop."""


def serve(pipe: Connection) -> None:
    """Work until the pipe ends; the whole life of a worker process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the server's, which then ends us
    hand = _Hand(pipe)
    while True:
        try:
            message = pipe.recv()
        except (EOFError, OSError):
            os._exit(0)  # the server is gone; a thread in a long computation would keep us
        hand.take(message)


class _Hand:
    def __init__(self, pipe: Connection) -> None:
        self._pipe = pipe
        self._sending = threading.Lock()
        self._queues: dict[str, SimpleQueue[Call]] = {}
        self._stopped: set[str] = set()

    def take(self, message: Call | Stop) -> None:
        if isinstance(message, Stop):
            self._stopped.add(message.id)
            return
        if message.lane not in self._queues:
            queue: SimpleQueue[Call] = SimpleQueue()
            self._queues[message.lane] = queue
            threading.Thread(target=self._lane, args=(queue,), daemon=True).start()
        self._queues[message.lane].put(message)

    def _lane(self, queue: "SimpleQueue[Call]") -> None:
        while True:
            call = queue.get()
            came = self._done(call)
            self._stopped.discard(call.id)
            self._send(came)

    def _done(self, call: Call) -> Came:
        def progress(text: str, share: float) -> None:
            if call.id in self._stopped:
                raise Stopped
            self._send(Said(call.id, text, share))

        try:
            progress("", 0.0)
            return _came(call, progress)
        except Stopped:
            return Came(call.id, stopped=True)
        except Exception as err:  # whatever it is, the page must not wait for ever
            return refusal(call.id, err)

    def _send(self, message: Said | Came) -> None:
        with self._sending:
            self._pipe.send(message)


def _came(call: Call, progress: Callable[[str, float], None]) -> Came:
    folder = Path(call.folder)
    if call.live:
        from sumpwright.web.live_function import live_function

        return Came(call.id, live_function(call.name)(folder, *call.args))
    from sumpwright.web.question import QUESTIONS

    answer = QUESTIONS[call.name].run(folder, call.args, progress)
    text = json.dumps(answer.json, allow_nan=False, ensure_ascii=False)
    said = answer.json.get("input_hash") if isinstance(answer.json, dict) else None
    return Came(call.id, text, answer.files, said)


def refusal(id: str, err: Exception) -> Came:
    """What a person is told of `err`."""
    if isinstance(err, InputError):
        return Came(id, problems=tuple(asdict(p) for p in err.problems))
    if isinstance(err, SumpwrightError):
        return Came(id, error=str(err))
    if isinstance(err, OSError):
        what = err.filename or "reading or writing"
        do = "see whether the disk is full or the drive is gone, then ask again"
        return Came(id, error=f"the system refused {what} ({err.strerror or err}); {do}")
    if isinstance(err, MemoryError):
        return Came(id, error="there was not enough memory for this; close something and ask again")
    traceback.print_exception(err)  # for whoever started the server, and mends it
    return Came(id, error=f"a fault of this program, not of your input ({type(err).__name__})")
