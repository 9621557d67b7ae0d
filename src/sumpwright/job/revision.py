# SPDX-License-Identifier: Apache-2.0
"""Which inputs a result came from, and the revisions of a job that were left behind."""

import hashlib
import json
import re
from datetime import datetime
from pathlib import Path
from typing import Any

from sumpwright.atomic import refuse_protected, write_atomic, write_problem
from sumpwright.errors import InputError, Problem
from sumpwright.job.edit import with_value
from sumpwright.job.load import LoadedJob, load_job, plain_text, read_bytes, read_job
from sumpwright.job.model import Job
from sumpwright.job.named_file import named_files
from sumpwright.job.requirement import PROOF

_NOT_ANSWERS = {"sumpwright", "job", "revision", "units", "note", "logs", "fitting", "shop"}
"""Keys that only name or show: changing them changes no answer."""
_DIGITS = 12
"""Of a quantity: 4.6 L and 4600 mL differ in the 16th."""
_SHAPE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,39}")


def input_hash(loaded: LoadedJob) -> str:
    """SHA-256 of what the answers depend on: the job's values and its geometry files' bytes.

    Comments, spacing, key order, the unit a value was typed in and the names of files change
    nothing; a default written out is the same as one left out.
    """
    unasked: dict[str, Any] = dict.fromkeys(_NOT_ANSWERS, True)  # what is to be proved is no answer
    values = loaded.job.model_dump(mode="json", exclude={**unasked, "requirements": set(PROOF)})
    digests = {text: _file_digest(loaded, text) for _, text in named_files(loaded.tree.data)}
    return _hash_of(_canonical(values, digests))


def part_hash(loaded: LoadedJob) -> str:
    """SHA-256 of the part itself: what `new` says, its files' bytes, and the oil.

    Evidence seen on a part holds as long as this stays; a limit, an obstacle or the car may change.
    """
    digests = {
        text: _file_digest(loaded, text)
        for keys, text in named_files(loaded.tree.data)
        if keys[0] == "new"
    }
    values: dict[str, Any] = {
        "new": loaded.job.new.model_dump(mode="json", exclude={"name"}),
        "oil": loaded.job.oil.model_dump(mode="json"),
    }
    if loaded.job.new.shape is not None:  # its flange and its holes are the rail's
        values["rail"] = _rail_of_part(loaded.job)
    return _hash_of(_canonical(values, digests))


def _rail_of_part(job: Job) -> dict[str, Any] | None:
    """What of the rail the drawn pan is made from, and the sweep that it may be hollowed by."""
    made = {"thread", "fit", "holes", "outline", "radius", "margin"}
    rail = None if job.rail is None else job.rail.model_dump(mode="json", include=made)
    shape, sweep = job.new.shape, job.engine.crank_sweep
    if shape is None or shape.relief is None or sweep is None:
        return rail
    return {**(rail or {}), "sweep": sweep.model_dump(mode="json", exclude={"body"})}


def _hash_of(canonical: Any) -> str:
    text = json.dumps(canonical, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def revise(folder: Path, next_name: str | None = None, note: str = "") -> tuple[Path, str]:
    """Keep the job as it stands under records/ and start its next revision: record and name.

    The record is written once and never again. A stop between the record and the new revision
    loses nothing: the same command goes on from there.
    """
    loaded = load_job(folder)
    name = next_name or next_revision(loaded.job.revision)
    if not _SHAPE.fullmatch(name) or name == loaded.job.revision:
        raise InputError([_bad_name(name, loaded.job.revision)])
    if record_path(loaded.folder, name).exists():
        raise InputError([_name_in_use(record_path(loaded.folder, name), name)])
    refuse_protected(loaded.path)  # before the record is written
    before = read_bytes(loaded.path)
    _keep(loaded, before, note)
    text = with_value(before.decode("utf-8"), ("revision",), name)
    read_job(plain_text(text), loaded.path)
    write_atomic(loaded.path, text.encode("utf-8"), expected=before)
    return record_path(loaded.folder, loaded.job.revision), name


def next_revision(name: str) -> str:
    """B after A, AA after Z, 2 after 1, A2 after A1."""
    number = re.fullmatch(r"(.*?)(\d+)", name)
    if number:
        return f"{number[1]}{int(number[2]) + 1:0{len(number[2])}d}"
    letters = re.fullmatch(r"(.*?)([A-Z]+|[a-z]+)", name)
    if not letters:
        raise InputError([_bad_name(name, name)])
    first = "A" if letters[2].isupper() else "a"
    count = 0
    for letter in letters[2]:
        count = count * 26 + ord(letter) - ord(first) + 1
    following, count = "", count + 1
    while count:
        count, digit = divmod(count - 1, 26)
        following = chr(ord(first) + digit) + following
    return letters[1] + following


def record_path(folder: Path, revision: str) -> Path:
    """Where a revision that was left behind is kept."""
    return folder / "records" / f"revision-{revision}.yaml"


def _keep(loaded: LoadedJob, job_bytes: bytes, note: str) -> None:
    path = record_path(loaded.folder, loaded.job.revision)
    job_bytes = job_bytes.removeprefix(b"\xef\xbb\xbf")
    if path.exists():
        if path.read_bytes().endswith(job_bytes):
            return  # stopped here last time, or revised back and forth without a change
        raise InputError([_name_in_use(path, loaded.job.revision)])
    try:
        path.parent.mkdir(exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(path, err)]) from err
    write_atomic(path, _head(loaded, note).encode("utf-8") + job_bytes)


def _head(loaded: LoadedJob, note: str) -> str:
    today = datetime.now().astimezone().isoformat(timespec="minutes")
    lines = [
        f"Revision {loaded.job.revision} of {loaded.job.job}, kept {today}.",
        f"Inputs {input_hash(loaded)}",
        *(f"Note: {line}" for line in note.splitlines()),
        "A record: do not edit. To go back to it, copy it over job.yaml.",
    ]
    return "".join(f"# {' '.join(line.split())}\n" for line in lines) + "\n"


def _file_digest(loaded: LoadedJob, text: str) -> str:
    path = loaded.file(text)
    try:
        with path.open("rb") as stream:
            digest = hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError as err:
        found = f"{text}: {err.strerror}"
        raise InputError(
            [Problem("JOB-121", str(path), found, "a readable file", "see whether it is there")]
        ) from err
    return f"{digest}{path.suffix.lower()}"


def _canonical(value: Any, digests: dict[str, str]) -> Any:
    if isinstance(value, dict):
        inner = (
            (k, digests[v] if k == "file" and v in digests else _canonical(v, digests))
            for k, v in value.items()
        )
        # what is not there leaves no trace: a key that a later schema brings changes no old hash
        return {k: v for k, v in inner if v is not None and v != [] and v != {}}
    if isinstance(value, list):
        return [_canonical(v, digests) for v in value]
    if isinstance(value, float):
        return f"{value + 0.0:.{_DIGITS}g}"  # + 0.0: minus zero is zero
    return value


def _bad_name(name: str, present: str) -> Problem:
    return Problem(
        "SAVE-307",
        "the next revision's name",
        name,
        f"letters, digits, '.', '-' or '_', at most 40, and not {present}",
        "name it with --to, such as --to B",
    )


def _name_in_use(path: Path, name: str) -> Problem:
    return Problem(
        "SAVE-307",
        str(path),
        f"a record of another revision {name}",
        "a revision name that no record has; records are never rewritten",
        "name the revision otherwise: sumpwright set JOB revision NAME, or --to NAME",
    )
