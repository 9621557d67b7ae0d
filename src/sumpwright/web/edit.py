# SPDX-License-Identifier: Apache-2.0
"""The job through forms: what stands there, what a page changes, and taking it back."""

import hashlib
from collections.abc import Callable, Mapping
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from sumpwright.errors import InputError
from sumpwright.job.body import GEOMETRY
from sumpwright.job.load import job_path, read_bytes
from sumpwright.job.named_file import files_in
from sumpwright.job.section import FileKind
from sumpwright.web import edit_job, edit_undo
from sumpwright.web.desk import Desk, RefusedError
from sumpwright.web.form import form
from sumpwright.web.inside import OutsideError, inside
from sumpwright.web.sent import body_of
from sumpwright.web.undo import ahead, can
from sumpwright.web.watch import own_change

Body = Mapping[str, Any]
LOGS = FileKind(
    ".csv", ".txt", ".tsv", ".dat", ".log", ".mf4", ".mdf", needed="a log", do="export it as CSV"
)
_KINDS = {"geometry": GEOMETRY, "log": LOGS}
_MOST_CHANGES = 200


def changed(folder: Path, verb: str, body: Body) -> dict[str, Any]:
    """What came of a change that a page asked for; runs in the worker."""
    try:
        said = _VERBS[verb](folder, body)
    except edit_job.ConflictError as err:
        conflict = {"key": err.key, "theirs": err.theirs}
        return {
            "status": 409,
            "error": str(err),
            "conflict": conflict,
            "id": err.id,
            "problems": [],
        }
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


LIVE: dict[str, Callable[..., Any]] = {"form": form, "change": changed, "files": files}


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
    asked = [edit_job.Asked(r["key"], r["value"], r.get("before")) for r in rows]
    return edit_job.set_values(folder, asked, _window(body))


def _add(folder: Path, body: Body) -> dict[str, Any]:
    values = body.get("values", body.get("value"))
    return edit_job.add_part(folder, body["key"], values, _window(body))


def _take(folder: Path, body: Body) -> dict[str, Any]:
    return edit_job.take_part(folder, body["key"], body.get("seen"), _window(body))


def _undo(folder: Path, body: Body) -> dict[str, Any]:
    return edit_undo.step_back(folder, "undo", _window(body), body.get("past"))


def _redo(folder: Path, body: Body) -> dict[str, Any]:
    return edit_undo.step_back(folder, "redo", _window(body), body.get("past"))


_VERBS = {"set": _set, "add": _add, "take": _take, "undo": _undo, "redo": _redo}


async def _form(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    window = request.query_params.get("window", "")[:100]
    return JSONResponse(await desk.live("form", window))


async def _files(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    kind = request.query_params.get("as", "")
    if kind not in _KINDS:
        raise RefusedError(400, f"files are asked for as {' or as '.join(_KINDS)}")
    return JSONResponse(await desk.live("files", kind))


async def _change(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    verb, body = request.url.path.rpartition("/")[2], dict(await body_of(request))
    refuse_shape(verb, body)
    with own_change(desk):
        said = await desk.live("change", verb, body)
        status = said.pop("status")
        if status == 200 and said["key"]:
            await desk.refresh(_window(body))
            if desk.head is not None and desk.head.text_hash != said["text_hash"]:
                await desk.refresh()  # somebody else saved a moment later
    return JSONResponse(said, status_code=status)


def refuse_shape(verb: str, body: Body) -> None:
    """RefusedError where a change is not asked for as it must be."""
    rows = body.get("changes", [body]) if verb == "set" else [body]
    if not isinstance(rows, list) or not 0 < len(rows) <= _MOST_CHANGES:
        raise RefusedError(400, f"changes are a list of 1 to {_MOST_CHANGES}")
    for row in rows:
        texts = {"set": ("value", "before"), "add": ("value",), "take": ("seen",)}.get(verb, ())
        texts = (*texts, "past", "window")
        sound = isinstance(row, dict) and all(
            row.get(name) is None or isinstance(row[name], str) for name in texts
        )
        needs = () if verb in ("undo", "redo") else ("key",)
        sound = sound and all(isinstance(row.get(name), str) and row[name] for name in needs)
        if not sound or (verb == "set" and "value" not in row):
            raise RefusedError(400, "a change is a key, a value and what stood there before")
    values = body.get("values")
    sound = values is None or isinstance(values, str)
    if not sound and not (isinstance(values, dict) and _all_texts(values)):
        raise RefusedError(400, "values are texts by their keys")


def _all_texts(values: dict[str, Any]) -> bool:
    return len(values) <= _MOST_CHANGES and all(isinstance(v, str) for v in values.values())


ROUTES = [
    Route("/api/form", _form),
    Route("/api/files", _files),
    *(Route(f"/api/{verb}", _change, methods=["POST"]) for verb in _VERBS),
]
