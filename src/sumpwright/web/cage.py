# SPDX-License-Identifier: Apache-2.0
"""Has a file from a stranger read by a process of its own, and ends that when it goes wrong.

A file made to harm its reader can take all memory, never end, or crash a library. Here that costs
the process that was given it, and a sentence to the person.
"""

import asyncio
import json
import os
import signal
import sys
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

_GIB = 2**30
_MOST_SAID = 4 * 2**20
"""Bytes of an answer."""
_PARTING = 5.0
"""Seconds until a process that was ended is gone."""
_MODULE = "sumpwright.web.upload_child"


@dataclass(frozen=True)
class Cage:
    """What reading one file may cost."""

    memory: int
    """[B]; not held on systems without such limits, where the time alone is"""
    seconds: int
    """[s] of the clock, and of the processor"""
    program: tuple[str, ...] = (sys.executable, "-P", "-m", _MODULE)
    """-P: nothing is imported from the folder the file is in"""


def usual_cage() -> Cage:
    """Half of this machine's memory, 2 to 8 GiB, and five minutes."""
    try:
        half = os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE") // 2
    except (AttributeError, ValueError, OSError):
        half = 4 * _GIB
    return Cage(min(max(half, 2 * _GIB), 8 * _GIB), 300)


async def read_in(cage: Cage, folder: Path, asked: dict[str, Any]) -> dict[str, Any]:
    """What the reader says of a file in `folder`; an ``error`` where it came to harm."""
    bound = {**asked, "memory": cage.memory, "seconds": cage.seconds}
    own_group: dict[str, Any] = {"start_new_session": True}
    if sys.platform == "win32":
        own_group = {"creationflags": 0x08000000}  # no window of its own
    child = await asyncio.create_subprocess_exec(
        *cage.program,
        json.dumps(bound),
        cwd=folder,
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"},
        stdin=asyncio.subprocess.DEVNULL,
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.DEVNULL,
        **own_group,
    )
    try:
        said = await asyncio.wait_for(_said(child), cage.seconds)
    except TimeoutError:
        return {"error": _too_long(str(asked["name"]), cage)}
    finally:
        await _ended(child)
    return _understood(said, child.returncode, str(asked["name"]), cage)


async def _said(child: asyncio.subprocess.Process) -> bytes:
    """All it says, until it has ended or said too much."""
    assert child.stdout is not None
    said = b""
    while len(said) <= _MOST_SAID and (piece := await child.stdout.read(2**16)):
        said += piece
    if len(said) <= _MOST_SAID:
        await child.wait()
    return said


async def _ended(child: asyncio.subprocess.Process) -> None:
    """End it with all that it started, and take in what is left of its talk.

    A pipe that nobody reads keeps a process from being counted as ended, and one that it handed to
    somebody out of reach is not waited for.
    """
    with suppress(ProcessLookupError, PermissionError):
        if hasattr(os, "killpg"):
            os.killpg(child.pid, signal.SIGKILL)
        else:
            child.kill()
    with suppress(TimeoutError):
        async with asyncio.timeout(_PARTING):
            while child.stdout is not None and await child.stdout.read(2**16):
                pass
            await child.wait()


def _understood(said: bytes, status: int | None, name: str, cage: Cage) -> dict[str, Any]:
    with suppress(ValueError, RecursionError):
        answer = json.loads(said) if status == 0 and len(said) <= _MOST_SAID else None
        if isinstance(answer, dict):
            return answer
    if status is not None and -status in (signal.SIGALRM, signal.SIGXCPU):
        return {"error": _too_long(name, cage)}
    return {
        "error": f"{name} made its reader fail: it is damaged, or needs more memory than "
        f"{cage.memory / _GIB:.1f} GiB; export it again, with less detail. Nothing was kept."
    }


def _too_long(name: str, cage: Cage) -> str:
    return (
        f"{name} took longer than {cage.seconds} s to read; export it again, with less detail or "
        "in parts. Nothing was kept."
    )
