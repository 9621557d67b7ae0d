# SPDX-License-Identifier: Apache-2.0
"""Job folder in, job out; or every problem at once, with file, line and key."""

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from pydantic import ValidationError

from sumpwright.errors import InputError, Problem
from sumpwright.job.cross_check import cross_problems
from sumpwright.job.line_end import plain_text as plain_text
from sumpwright.job.model import Job
from sumpwright.job.name import JOB_FILE as JOB_FILE
from sumpwright.job.named_file import KINDS, file_problems
from sumpwright.job.problem import by_line, schema_problems
from sumpwright.job.tree import Tree, read_tree

Check = Callable[[Job, Tree], list[Problem]]
Checks = Sequence[Check]
MOST_BYTES = 1 << 20
"""Of a job file."""


@dataclass(frozen=True)
class LoadedJob:
    """A job and where each part of it stands in its file."""

    job: Job
    folder: Path
    path: Path
    """The job file."""
    tree: Tree

    def line_of(self, *keys: str | int) -> int:
        """1-based line of the deepest part of `keys` that the file has."""
        return self.tree.line_of(keys)

    def where(self, *keys: str | int) -> str:
        """``job.yaml:12  new.cavity``"""
        return self.tree.where(keys)

    def typed(self, *keys: str | int) -> str:
        """The value as typed; ``nothing`` where the file leaves it to its default."""
        return self.tree.typed(keys)

    def file(self, name: str) -> Path:
        """The path of a geometry file that the job names."""
        return self.folder / name


def load_job(folder_or_file: Path, checks: Checks = ()) -> LoadedJob:
    """The job in a folder, or in a job file; InputError with every problem there is.

    `checks` are for what the job alone cannot judge, such as whether an oil's grade exists.
    """
    path = job_path(folder_or_file)
    return read_job(read_text(path), path, checks)


def read_job(text: str, path: Path, checks: Checks = ()) -> LoadedJob:
    """The job that `text` describes, as if it stood in the job file `path`."""
    tree = read_tree(text, path.name)
    problems = file_problems(tree, path.parent)
    try:
        job = Job.model_validate(tree.data)
        for check in (cross_problems, *checks):
            problems += check(job, tree)
    except ValidationError as err:
        problems += schema_problems(err, tree)
    if problems:
        raise InputError(by_line(problems, tree))
    return LoadedJob(job, path.parent, path, tree)


def job_path(folder_or_file: Path) -> Path:
    """The job file of a job folder, or the job file itself."""
    try:
        if folder_or_file.is_dir():
            path = folder_or_file / JOB_FILE
            if not path.exists():
                raise InputError([_no_job_file(folder_or_file)])
            return path
        if not folder_or_file.exists():
            raise InputError([_no_folder(folder_or_file)])
    except OSError as err:
        raise InputError([_unreadable(folder_or_file, str(err.strerror))]) from err
    if folder_or_file.suffix.lower() not in (".yaml", ".yml"):
        raise InputError([_not_a_job_file(folder_or_file)])
    return folder_or_file


def read_text(path: Path) -> str:
    """The text of the job file `path`."""
    return plain_text(read_bytes(path).decode("utf-8"))


def read_bytes(path: Path) -> bytes:
    """The bytes of the job file `path`: UTF-8 of at most 1 MiB."""
    try:
        if not path.is_file():
            raise InputError([_unreadable(path, "not a file")])
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as err:
        raise InputError([_unreadable(path, str(err.strerror))]) from err
    if len(data) > MOST_BYTES:
        raise InputError([too_large(path, path.stat().st_size)])
    try:
        data.decode("utf-8-sig")
    except UnicodeDecodeError as err:
        raise InputError([_not_utf8(path, data, err)]) from err
    return data


def _no_folder(path: Path) -> Problem:
    try:
        near = get_close_matches(path.name, os.listdir(path.parent), n=1)
    except OSError:
        near = []
    do = f"did you mean {path.parent / near[0]}?" if near else "check the path"
    new = f"; sumpwright new {path} starts a job there" if not path.suffix else ""
    return Problem("JOB-110", str(path), "no folder or file of that name", "a job folder", do + new)


def _no_job_file(folder: Path) -> Problem:
    others = sorted(p.name for p in folder.iterdir() if p.suffix.lower() in (".yaml", ".yml"))
    do = f"start one: sumpwright new {folder} (the folder must be empty), or check the path"
    if others:
        do = f"rename {others[0]} to {JOB_FILE}, if that is the job"
    found = "a folder without a job file" if any(folder.iterdir()) else "an empty folder"
    return Problem("JOB-111", str(folder), found, f"{JOB_FILE} in the job folder", do)


def _not_a_job_file(path: Path) -> Problem:
    do = "give the job folder"
    if path.suffix.lower() in KINDS:
        do = f"give the job folder; for one body: sumpwright measure {path}"
    found = f"a {path.suffix or 'nameless'} file"
    return Problem("JOB-111", str(path), found, f"a job folder, or its {JOB_FILE}", do)


def _unreadable(path: Path, reason: str) -> Problem:
    found = f"a file that cannot be read ({reason})"
    return Problem("JOB-112", str(path), found, "a readable text file", "allow reading it")


def too_large(path: Path, size: int) -> Problem:
    """A job file of `size` bytes is none."""
    return Problem(
        "JOB-114",
        str(path),
        f"{size / 1e6:.1f} MB",
        "a job file of at most 1 MiB; geometry and logs stay in files of their own",
        "look whether this is the right file",
    )


def _not_utf8(path: Path, data: bytes, err: UnicodeDecodeError) -> Problem:
    line = data.count(b"\n", 0, err.start) + 1
    found = f"a byte that is not UTF-8 text (0x{data[err.start]:02x})"
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        found = "UTF-16 text"
    do = "save the file again with the encoding UTF-8"
    return Problem("JOB-113", f"{path.name}:{line}", found, "UTF-8 text", do)
