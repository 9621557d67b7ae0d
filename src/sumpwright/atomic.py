# SPDX-License-Identifier: Apache-2.0
"""The one way a file is written: whole or not at all.

The new bytes go to a temporary file in the same folder, are forced to the disk, and take the old
file's place in one step. A process killed at any moment leaves the old file or the new one; a
temporary file it left behind is recognised by its name and cleared by the next save.
"""

import errno
import os
import platform
import re
import secrets
import time
from contextlib import suppress
from pathlib import Path

from sumpwright.errors import InputError, Problem

_SUFFIX = ".sumpwright-part"
_LEFTOVER_AGE = 3600.0
"""Seconds after which a part of a process that cannot be asked about is given up."""
_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)


def write_atomic(path: Path, data: bytes, *, expected: bytes | None = None) -> None:
    """Put `data` in `path`; the old file stays whole until the new one is, and its mode is kept.

    With `expected`, refuses where the file no longer holds those bytes: somebody else saved.
    """
    target = Path(os.path.realpath(path))  # a link stays a link; what it points to is replaced
    refuse_protected(path)
    clear_leftovers(target)
    part = target.with_name(_part_name(target.name))
    try:
        _write_part(part, data, target)
        if expected is not None and target.read_bytes() != expected:
            raise InputError([_changed_meanwhile(path)])
        os.replace(part, target)
        _sync_folder(target.parent)
    except OSError as err:
        raise InputError([_write_problem(path, err)]) from err
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def clear_leftovers(path: Path) -> None:
    """Remove the parts that killed saves of `path` left beside it."""
    pattern = re.compile(
        re.escape(f".{path.name}.") + r"(.*)\.(\d+)\.[0-9a-f]{8}" + re.escape(_SUFFIX)
    )
    with suppress(OSError):
        for other in path.parent.iterdir():
            match = pattern.fullmatch(other.name)
            if match and _given_up(other, match[1], int(match[2])):
                other.unlink(missing_ok=True)


def write_problem(path: Path, err: OSError) -> Problem:
    """The system's refusal to write at `path`, as a problem a person can mend."""
    return _write_problem(path, err)


def _part_name(name: str) -> str:
    host = re.sub(r"[^A-Za-z0-9-]", "-", platform.node())
    return f".{name}.{host}.{os.getpid()}.{secrets.token_hex(4)}{_SUFFIX}"


def _given_up(part: Path, host: str, pid: int) -> bool:
    here = re.sub(r"[^A-Za-z0-9-]", "-", platform.node())
    if os.name == "posix" and host == here:
        try:
            os.kill(pid, 0)  # asks whether it runs; only on POSIX does it not harm
        except ProcessLookupError:
            return True
        except PermissionError:
            return False
    return time.time() - part.stat().st_mtime > _LEFTOVER_AGE


def _write_part(part: Path, data: bytes, target: Path) -> None:
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    with os.fdopen(handle, "wb") as stream:
        with suppress(FileNotFoundError):
            os.chmod(part, target.stat().st_mode & 0o7777)
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


def _sync_folder(folder: Path) -> None:
    if os.name != "posix":
        return  # a folder cannot be opened for this elsewhere
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as err:
        if err.errno not in (errno.EINVAL, errno.ENOTSUP):  # some network drives cannot
            raise
    finally:
        os.close(handle)


def refuse_protected(path: Path) -> None:
    """InputError where `path` is there and must not be replaced: a folder, a protected file."""
    target = Path(os.path.realpath(path))
    if target.is_dir():
        raise InputError(
            [
                Problem(
                    "SAVE-304",
                    str(path),
                    "a folder of that name",
                    "a file, or nothing yet",
                    "move the folder away, or choose another name",
                )
            ]
        )
    if target.exists() and not os.access(target, os.W_OK):
        raise InputError([_read_only_file(path)])


def _read_only_file(path: Path) -> Problem:
    return Problem(
        "SAVE-301",
        str(path),
        "a file that is write-protected",
        "a file that may be changed",
        "lift the write protection, or work on a copy; nothing was changed",
    )


def _changed_meanwhile(path: Path) -> Problem:
    return Problem(
        "SAVE-308",
        str(path),
        "a file that somebody else saved a moment ago",
        "the file as it was read",
        "look at what changed, then do this again; nothing was overwritten",
    )


def _nearest_folder(path: Path) -> Path:
    """The folder that is there and in which `path`, or a folder on the way to it, is to be."""
    return next((p for p in path.parents if os.path.isdir(p)), path.parent)


def _write_problem(path: Path, err: OSError) -> Problem:
    where = str(path)
    if err.errno in _FULL:
        return Problem(
            "SAVE-303",
            where,
            f"no room for it ({err.strerror})",
            "free space on the disk, or a larger quota",
            "free some space and do this again; the file is as it was before",
        )
    if err.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return Problem(
            "SAVE-302",
            where,
            f"a folder that is write-protected ({err.strerror})",
            "a folder that may be written to",
            f"allow writing in {_nearest_folder(path)}, or work on a copy; nothing was changed",
        )
    if err.errno in (errno.EEXIST, errno.ENOTDIR):
        return Problem(
            "SAVE-306",
            where,
            f"a file where a folder should be ({err.strerror})",
            "a folder, or nothing at that place",
            "move the file away or rename it, then do this again",
        )
    return Problem(
        "SAVE-306",
        where,
        f"a file that the system would not write ({err.strerror})",
        "a place that can be written to",
        "see whether the folder exists and the drive is connected, then do this again",
    )
