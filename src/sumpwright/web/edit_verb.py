# SPDX-License-Identifier: Apache-2.0
"""What pages ask for in changing the job, done in the worker, and what is answered to each."""

import hashlib
from collections.abc import Mapping
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sumpwright.errors import InputError
from sumpwright.job.body import GEOMETRY
from sumpwright.job.load import job_path, read_bytes
from sumpwright.job.named_file import files_in
from sumpwright.job.section import FileKind
from sumpwright.web import edit_job, edit_undo
from sumpwright.web.inside import OutsideError, inside
from sumpwright.web.seen import within_of
from sumpwright.web.undo import ahead, can

Body = Mapping[str, Any]
LOGS = FileKind(
    ".csv", ".txt", ".tsv", ".dat", ".log", ".mf4", ".mdf", needed="a log", do="export it as CSV"
)
_KINDS = {"geometry": GEOMETRY, "log": LOGS}


def changed(folder: Path, verb: str, body: Body) -> dict[str, Any]:
    """What came of a change that a page asked for."""
    try:
        said = _VERBS[verb](folder, body)
    except edit_job.ConflictError as err:
        said = {"error": str(err), "problems": [], "id": err.id}
        about = {} if err.within is None else {"within": err.within}
        conflict = {"key": err.key, "theirs": err.theirs, **about}
        return {"status": 409, **said, "conflict": conflict}
    except OutsideError as err:
        return {"status": 422, "error": str(err), "problems": []}
    return {"status": 200, **said, **_now(folder, _window(body))}


def files(folder: Path, kind: str) -> list[dict[str, Any]]:
    """The files of the job folder that could be a body, or a log."""
    found = []
    for name in files_in(folder, _KINDS[kind]):
        with suppress(OSError, OutsideError):
            about = inside(folder, name).stat()
            when = datetime.fromtimestamp(about.st_mtime, UTC).isoformat(timespec="seconds")
            found.append({"name": name, "bytes": about.st_size, "modified": when})
    return found


def _now(folder: Path, window: str) -> dict[str, Any]:
    undo, redo = can(folder)
    digest = None
    with suppress(InputError):
        digest = hashlib.sha256(read_bytes(job_path(folder))).hexdigest()
    said = {"text_hash": digest, "can_undo": undo, "can_redo": redo}
    return {**said, **ahead(folder, window)}


def _window(body: Body) -> str:
    window = body.get("window", "")
    return window[:100] if isinstance(window, str) else ""


def _set(folder: Path, body: Body) -> dict[str, Any]:
    rows = body.get("changes", [body])
    asked = [
        edit_job.Asked(r["key"], r["value"], r.get("before"), within_of(r.get("within")))
        for r in rows
    ]
    return edit_job.set_values(folder, asked, _window(body))


def _add(folder: Path, body: Body) -> dict[str, Any]:
    values = body.get("values", body.get("value"))
    return edit_job.add_part(folder, body["key"], values, _window(body))


def _take(folder: Path, body: Body) -> dict[str, Any]:
    within = within_of(body.get("within"))
    return edit_job.take_part(folder, body["key"], body.get("seen"), _window(body), within)


def _undo(folder: Path, body: Body) -> dict[str, Any]:
    return edit_undo.step_back(folder, "undo", _window(body), body.get("past"))


def _redo(folder: Path, body: Body) -> dict[str, Any]:
    return edit_undo.step_back(folder, "redo", _window(body), body.get("past"))


_VERBS = {"set": _set, "add": _add, "take": _take, "undo": _undo, "redo": _redo}
