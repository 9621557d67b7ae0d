# SPDX-License-Identifier: Apache-2.0
"""Notices what others change in the open job's folder, and has the desk look at it again.

Sizes and times are looked at twice a second; a file that differs is hashed once it keeps still, so
that neither a half-written file nor one that was only saved again is taken for a change.
"""

import asyncio
import hashlib
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from weakref import WeakKeyDictionary

from sumpwright.job.name import JOB_FILE
from sumpwright.web.desk import Desk, RefusedError

_PAUSE = 0.5
"""Seconds between two looks."""
_MOST_HASHED = 256 << 20
"""Bytes; a larger file counts as changed when its time is."""
_MOST_FILES = 5_000
_LATEST = 5.0
"""Seconds after our own change in which it is noticed."""
_FOLDERS = ("geometry", "tests", "records")

Stamp = tuple[int, int]
"""Size, and time of the last change in ns"""

_own: "WeakKeyDictionary[Desk, Own]" = WeakKeyDictionary()


@dataclass
class Own:
    """What this server itself is changing."""

    going: int = 0
    until: dict[str, float] = field(default_factory=dict)
    """Files, and when what becomes of them is somebody else's doing again"""

    def is_own(self, name: str) -> bool:
        """Whether a change of that file that was just noticed is ours."""
        return self.until.pop(name, 0.0) > time.monotonic()


@dataclass
class Folder:
    """A job folder as it was last seen."""

    path: Path
    stamps: dict[str, Stamp] = field(default_factory=dict)
    digests: dict[str, tuple[Stamp, str]] = field(default_factory=dict)

    def look(self) -> set[str]:
        """Names of files that came, went or have other bytes since the last look."""
        now = _stamps(self.path)
        still = {name for name, stamp in now.items() if self.stamps.get(name) == stamp}
        gone = {name for name in self.digests if name not in now and name not in self.stamps}
        self.stamps = now
        changed = set(gone)
        for name in gone:
            del self.digests[name]
        for name in still:
            old = self.digests.get(name)
            if old is not None and old[0] == now[name]:
                continue
            digest = _digest(self.path / name, now[name])
            if digest is None:
                continue  # looked at again next time
            if old is None or old[1] != digest:
                changed.add(name)
            self.digests[name] = now[name], digest
        return changed


@contextmanager
def own_change(desk: Desk, *names: str) -> Iterator[None]:
    """What is changed meanwhile is this server's own doing: the files `names`, and job.yaml."""
    own = _own.setdefault(desk, Own())
    own.going += 1
    try:
        yield
    finally:
        own.going -= 1
        own.until |= dict.fromkeys(names, time.monotonic() + _LATEST)


async def watch(desk: Desk, pause: float = _PAUSE) -> None:
    """Look at the open job's folder for ever; cancel it to stop."""
    seen: Folder | None = None
    while True:
        own = _own.setdefault(desk, Own())
        if desk.folder is None:
            seen = None
        elif seen is None or seen.path != desk.folder:
            seen = await asyncio.to_thread(_first_look, desk.folder)
            if desk.head is not None and not _is_head(desk, seen):
                await _refresh(desk)
        elif not own.going:
            await _look(desk, seen, own)
        await asyncio.sleep(pause)


def _first_look(path: Path) -> Folder:
    folder = Folder(path, _stamps(path))
    folder.look()
    return folder


async def _look(desk: Desk, seen: Folder, own: Own) -> None:
    changed = await asyncio.to_thread(seen.look)
    if own.going or desk.folder != seen.path:
        seen.digests |= dict.fromkeys(changed, ((-1, -1), ""))  # looked at again
        return
    changed = {name for name in changed if not own.is_own(name)}
    if _is_head(desk, seen):
        changed.discard(JOB_FILE)
    if changed:
        await _refresh(desk)


async def _refresh(desk: Desk) -> None:
    with suppress(RefusedError):  # its worker ended; the next question starts another
        await desk.refresh()


def _is_head(desk: Desk, seen: Folder) -> bool:
    """Whether the desk has seen the job file as it is."""
    digest = seen.digests.get(JOB_FILE)
    head = "" if desk.head is None else desk.head.text_hash
    return bool(head == (digest[1] if digest else ""))


def _stamps(path: Path) -> dict[str, Stamp]:
    """Every file of the job that answers or lists turn on."""
    found: dict[str, Stamp] = {}
    with suppress(OSError):
        about = os.stat(path / JOB_FILE)
        found[JOB_FILE] = about.st_size, about.st_mtime_ns
    for name in _FOLDERS:
        for base, folders, names in os.walk(path / name):
            folders[:] = sorted(f for f in folders if not f.startswith("."))
            for file in names:
                if file.startswith(".") or len(found) >= _MOST_FILES:
                    continue
                full = Path(base, file)
                with suppress(OSError):
                    about = full.stat()
                    found[full.relative_to(path).as_posix()] = about.st_size, about.st_mtime_ns
    return found


def _digest(path: Path, stamp: Stamp) -> str | None:
    """Of the file's bytes; None where it changed while it was read."""
    if stamp[0] > _MOST_HASHED:
        return f"{stamp}"
    try:
        with path.open("rb") as stream:
            digest = hashlib.file_digest(stream, "sha256").hexdigest()
        about = path.stat()
    except OSError:
        return None
    return digest if (about.st_size, about.st_mtime_ns) == stamp else None
