# SPDX-License-Identifier: Apache-2.0
"""Files on their way into the job: in out/incoming until they are whole and were read."""

import hashlib
import os
import re
import secrets
import shutil
import time
import unicodedata
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import BinaryIO

from sumpwright.atomic import write_problem
from sumpwright.errors import InputError, SumpwrightError
from sumpwright.geometry.file_limit import MAX_BYTES, MAX_STEP_BYTES
from sumpwright.web.desk import RefusedError
from sumpwright.web.inside import OutsideError, inside

_WHERE = "out/incoming"
_LEFT = 86_400.0
"""Seconds after which a file that a killed server left is taken away."""
_LONGEST = 80
"""Letters of a name without its ending."""
_MOST_NAMES = 1000


@dataclass(frozen=True)
class Kind:
    """What may come in as one thing, and where it goes."""

    folder: str
    most: dict[str, int]
    """Bytes, by ending"""
    needed: str


KINDS = {
    "geometry": Kind(
        "geometry",
        {".step": MAX_STEP_BYTES, ".stp": MAX_STEP_BYTES}
        | dict.fromkeys((".stl", ".3mf", ".ply"), MAX_BYTES),
        "geometry is a STEP, STL, 3MF or PLY file",
    ),
    "log": Kind(
        "tests",
        dict.fromkeys((".csv", ".txt", ".tsv", ".dat", ".log", ".mf4", ".mdf"), MAX_BYTES),
        "a log is a CSV or MDF4 file",
    ),
}


class NameTakenError(SumpwrightError):
    """Another file has that name; `offer` is one that is free."""

    def __init__(self, name: str, offer: str) -> None:
        super().__init__(f"{name} is there already, with other content; it was left as it is")
        self.offer = offer


def clean_name(text: str, kind: Kind) -> str:
    """A name that is one on every system, of what the file was called; its ending tells its kind.

    Letters of any script stay; what a shell, a path or a screen takes for something else goes.
    """
    last = re.split(r"[/\\]", unicodedata.normalize("NFC", text))[-1]
    path = PurePosixPath(last.strip(" ."))
    suffix = path.suffix.lower()
    if suffix not in kind.most:
        raise RefusedError(415, f"{kind.needed}; {last[:80]!a} is named like something else")
    stem = re.sub(r"[^\w.()+-]+", "-", path.stem).strip("-._ ")[:_LONGEST]
    stem = stem.encode("utf-8", "ignore").decode("utf-8") or kind.folder
    try:
        inside(Path("."), stem + suffix)
    except OutsideError:  # a device's name, or too many bytes
        stem = f"file-{stem[: _LONGEST // 4]}"
    return stem + suffix


class Incoming:
    """A file that comes in piece by piece, in a folder of its own."""

    def __init__(self, job: Path, name: str, kind: Kind) -> None:
        where = inside(job, _WHERE)
        if os.path.normcase(where) != os.path.normcase(Path(os.path.realpath(job)) / _WHERE):
            raise OutsideError(f"{_WHERE} is a link; take it away, and the file can come in")
        self.job, self.kind, self.name = job, kind, name
        self._most = kind.most[PurePosixPath(name).suffix]
        self._size, self._digest = 0, hashlib.sha256()
        self.folder = where / secrets.token_hex(8)
        self.path = self.folder / name
        try:
            self.folder.mkdir(parents=True)
            _clear(where)
            self._stream: BinaryIO = self.path.open("xb")
        except OSError as err:
            raise InputError([write_problem(self.path, err)]) from err

    def take(self, piece: bytes) -> None:
        """The next bytes."""
        self._size += len(piece)
        if self._size > self._most:
            most = f"at most {self._most / 2**20:,.0f} MiB"
            raise RefusedError(413, f"{self.name} is too large to read: {most}. Nothing was kept.")
        self._digest.update(piece)
        try:
            self._stream.write(piece)
        except OSError as err:
            raise InputError([write_problem(self.path, err)]) from err

    def whole(self) -> None:
        """All of it is there; it is forced to the disk."""
        try:
            self._stream.flush()
            os.fsync(self._stream.fileno())
            self._stream.close()
        except OSError as err:
            raise InputError([write_problem(self.path, err)]) from err

    def keep(self) -> str:
        """Put it in its place in the job, whole, over nothing; its path from the job folder."""
        place = f"{self.kind.folder}/{self.name}"
        target = inside(self.job, self.kind.folder) / self.name
        try:
            target.parent.mkdir(exist_ok=True)
            if not _moved(self.path, target) and not self._same(target):
                raise NameTakenError(place, self._free())
        except OSError as err:
            raise InputError([write_problem(target, err)]) from err
        return place

    def clear(self) -> None:
        """Take away what is left of it."""
        with suppress(OSError):
            self._stream.close()
        shutil.rmtree(self.folder, ignore_errors=True)

    def _same(self, target: Path) -> bool:
        if target.is_symlink():  # not followed, wherever it leads
            return False
        with target.open("rb") as stream:
            there = hashlib.file_digest(stream, "sha256")
        return there.digest() == self._digest.digest()

    def _free(self) -> str:
        stem, suffix = os.path.splitext(self.name)
        names = (f"{stem}-{k}{suffix}" for k in range(2, _MOST_NAMES))
        folder = self.job / self.kind.folder
        return next((n for n in names if not os.path.lexists(folder / n)), self.name)


def _moved(part: Path, target: Path) -> bool:
    """Move `part` to `target` in one step; False where something is there."""
    if os.path.lexists(target):
        return False
    try:
        os.link(part, target)
    except FileExistsError:
        return False
    except OSError:  # a drive without links: hold the name, then take its place
        try:
            target.open("xb").close()
        except FileExistsError:
            return False
        os.replace(part, target)
    return True


def _clear(where: Path) -> None:
    """Take away what killed servers left."""
    for folder in where.iterdir():
        with suppress(OSError):
            if time.time() - folder.lstat().st_mtime > _LEFT and not folder.is_symlink():
                shutil.rmtree(folder, ignore_errors=True)
