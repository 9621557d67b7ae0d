# SPDX-License-Identifier: Apache-2.0
"""The open job in short: its name, the hashes that tell a change, what is wrong with its file."""

import hashlib
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from sumpwright.errors import InputError
from sumpwright.job.load import job_path, plain_text, read_bytes, read_job
from sumpwright.job.revision import input_hash
from sumpwright.job.tree import read_tree
from sumpwright.web.undo import can


@dataclass(frozen=True)
class JobHead:
    """What every sheet shows of the job."""

    name: str
    revision: str
    units: str
    text_hash: str
    """Of the job file's bytes"""
    input_hash: str | None
    """Of what the answers depend on; None while the file has problems"""
    problems: tuple[dict[str, str], ...]
    can_undo: bool
    can_redo: bool


def job_head(folder: Path) -> JobHead:
    """The head of the job in `folder`, whatever its file is like."""
    from sumpwright.studies.grade import grade_problems

    digest, name, revision, units = "", folder.name, "", "metric"
    found: str | None = None
    problems: tuple[dict[str, str], ...] = ()
    try:
        path = job_path(folder)
        data = read_bytes(path)
        digest = hashlib.sha256(data).hexdigest()
        text = plain_text(data.decode("utf-8"))
        name, revision, units = _called(text, name)
        loaded = read_job(text, path, (grade_problems,))
        found = input_hash(loaded)
    except InputError as err:
        problems = tuple(asdict(p) for p in err.problems)
    undo, redo = can(folder)
    return JobHead(name, revision, units, digest, found, problems, undo, redo)


def _called(text: str, name: str) -> tuple[str, str, str]:
    """Name, revision and units as they stand there, though the rest may be wrong."""
    try:
        data: Any = read_tree(text, "job.yaml").data
    except InputError:
        return name, "", "metric"
    said = {key: data.get(key) for key in ("job", "revision", "units")}
    texts = {key: value for key, value in said.items() if isinstance(value, str)}
    units = "us" if texts.get("units") == "us" else "metric"
    return texts.get("job", name), texts.get("revision", ""), units
