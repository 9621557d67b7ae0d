# SPDX-License-Identifier: Apache-2.0
"""The addresses by which pages see the job as forms, change it, and take changes back."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from sumpwright.web.desk import Desk, RefusedError
from sumpwright.web.sent import body_of
from sumpwright.web.watch import own_change

Body = Mapping[str, Any]
_VERBS = ("set", "add", "take", "undo", "redo")
_FILES = ("geometry", "log")
_MOST_CHANGES = 200


async def _form(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    window = request.query_params.get("window", "")[:100]
    return JSONResponse(await desk.live("form", window))


async def _files(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    kind = request.query_params.get("as", "")
    if kind not in _FILES:
        raise RefusedError(400, f"files are asked for as {' or as '.join(_FILES)}")
    return JSONResponse(await desk.live("files", kind))


async def _change(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    verb, body = request.url.path.rpartition("/")[2], dict(await body_of(request))
    refuse_shape(verb, body)
    with own_change(desk):
        said = await desk.live("change", verb, body)
        status = said.pop("status")
        if status == 200 and said["key"]:
            window = body.get("window") or ""
            await desk.refresh(window[:100])
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
        sound = sound and (row.get("within") is None or _is_within(row["within"]))
        needs = () if verb in ("undo", "redo") else ("key",)
        sound = sound and all(isinstance(row.get(name), str) and row[name] for name in needs)
        if not sound or (verb == "set" and "value" not in row):
            raise RefusedError(400, "a change is a key, a value and what stood there before")
    values = body.get("values")
    sound = values is None or isinstance(values, str)
    if not sound and not (isinstance(values, dict) and _all_texts(values)):
        raise RefusedError(400, "values are texts by their keys, one at least")


def _is_within(given: Any) -> bool:
    return isinstance(given, dict) and all(
        isinstance(given.get(name), str) and given[name] for name in ("key", "seen")
    )


def _all_texts(values: dict[str, Any]) -> bool:
    return 0 < len(values) <= _MOST_CHANGES and all(isinstance(v, str) for v in values.values())


def _live_form(folder: Path, window: str) -> dict[str, Any]:
    from sumpwright.web.form import form

    return form(folder, window)


def _live_change(folder: Path, verb: str, body: Body) -> dict[str, Any]:
    from sumpwright.web.edit_verb import changed

    return changed(folder, verb, body)


def _live_files(folder: Path, kind: str) -> list[dict[str, Any]]:
    from sumpwright.web.edit_verb import files

    return files(folder, kind)


LIVE: dict[str, Callable[..., Any]] = {
    "form": _live_form,
    "change": _live_change,
    "files": _live_files,
}
ROUTES = [
    Route("/api/form", _form),
    Route("/api/files", _files),
    *(Route(f"/api/{verb}", _change, methods=["POST"]) for verb in _VERBS),
]
