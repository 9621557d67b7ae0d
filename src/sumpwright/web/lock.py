# SPDX-License-Identifier: Apache-2.0
"""One server a job: a file in out/page says where it is, so that a second `open` finds it.

The file holds nothing that opens the page: a job folder may lie on a shared drive. Whoever knows
its `check` can ask the server whether it is there, and to show the page on its owner's screen.
"""

import http.client
import json
import os
import platform
import re
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from pathlib import Path

_MOST_BYTES = 4096
_WAIT = 10.0
"""Seconds that a server which is just starting has for its answer."""


@dataclass(frozen=True)
class Lock:
    """Where the page of a job is served."""

    pid: int
    port: int
    check: str
    """What the server answers to, under /here/"""
    folder: str = ""
    """The job's own: a copy of the folder has the file too"""
    machine: str = platform.node()


def lock_path(folder: Path) -> Path:
    """The lock of the job in `folder`."""
    return folder / "out" / "page" / "open.lock"


def held(folder: Path) -> Lock | None:
    """The lock as it stands there; None without one, or where it is of no such server."""
    try:
        with lock_path(folder).open("rb") as stream:
            said = json.loads(stream.read(_MOST_BYTES))
        lock = Lock(**said)
    except (OSError, ValueError, TypeError, RecursionError):
        return None
    whole = isinstance(lock.pid, int) and isinstance(lock.port, int) and 0 < lock.port < 65536
    whole = whole and re.fullmatch(r"[0-9a-f]{8,64}", str(lock.check)) is not None
    return lock if whole and lock.folder == _named(folder) else None


def of(folder: Path, lock: Lock) -> Lock:
    """The same server's lock of the job in `folder`."""
    return replace(lock, folder=_named(folder))


def _named(folder: Path) -> str:
    return os.path.realpath(folder).encode("utf-8", "replace").decode("utf-8")


def take(folder: Path, lock: Lock) -> bool:
    """Put the lock down; False where another is there, or where the folder takes no file."""
    path = lock_path(folder)
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.exists() and held(folder) is None:
            path.unlink()  # nobody could read it
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="utf-8") as stream:
            json.dump(asdict(of(folder, lock)), stream)
        return True
    return False


def release(folder: Path, lock: Lock) -> None:
    """Take the lock away where it still is `lock`."""
    if held(folder) == of(folder, lock):
        with suppress(OSError):
            lock_path(folder).unlink()


def answers(lock: Lock) -> bool:
    """Whether that server is there: a port alone may be another program's by now."""
    return _asked(lock, "GET") is not None


def show_again(lock: Lock) -> bool:
    """Have that server open its page in the browser; False where it has no screen."""
    return _asked(lock, "POST") == 200


def _asked(lock: Lock, method: str) -> int | None:
    """The status of the answer; None where no server of ours with that check answers."""
    if lock.machine != platform.node():
        return None  # a job on a shared drive, open on another machine as well
    line = http.client.HTTPConnection("127.0.0.1", lock.port, timeout=_WAIT)
    try:
        line.request(method, f"/here/{lock.check}")
        answer = line.getresponse()
        ours = answer.getheader("x-sumpwright") == "here"
        return answer.status if ours and answer.status in (200, 204) else None
    except (OSError, http.client.HTTPException):
        return None
    finally:
        line.close()
