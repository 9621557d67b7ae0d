# SPDX-License-Identifier: Apache-2.0
"""One at a time, across threads and processes: a file that the system lets one of them hold."""

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

_WAIT, _PAUSE = 20.0, 0.01
"""Seconds at most, and between two tries; a lock ends with its process."""


@contextmanager
def file_lock(path: Path | None) -> Iterator[None]:
    """Hold the lock file `path`; without one, or where none can be made, go on without."""
    handle = None
    if path is not None:
        with suppress(OSError):
            handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        if handle is not None:
            _wait_for(handle)
        yield
    finally:
        if handle is not None:
            os.close(handle)  # which lets go of it


def _wait_for(handle: int) -> None:
    end = time.monotonic() + _WAIT
    while not _taken(handle) and time.monotonic() < end:
        time.sleep(_PAUSE)


def _taken(handle: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError as err:
        return err.errno not in (11, 13, 36)  # held by another; else this drive has no locks
    return True
