# SPDX-License-Identifier: Apache-2.0
"""Where a person begins: a new job, a look at the demo, or a job folder that is there already."""

import asyncio
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from sumpwright.errors import InputError, Problem
from sumpwright.job.answer import UNITS, USUAL_FILL, fill_problem, name_problem, word_problem
from sumpwright.web.demo import DEMOS, THE_DEMO, copied_demo, demo_says
from sumpwright.web.desk import Desk, RefusedError
from sumpwright.web.inside import OutsideError, inside
from sumpwright.web.sent import body_of
from sumpwright.web.state import state_of

Body = Mapping[str, Any]


def made_job(start: Path, body: Body) -> Path:
    """A new job as a page asked for it, in a folder beside others under `start` or `parent`."""
    from sumpwright.job.template import TEMPLATES, Answers, new_job

    units = _text(body, "units", "metric").lower()
    usual = USUAL_FILL.get(units, USUAL_FILL["metric"])
    fill, template = _text(body, "fill", usual), _text(body, "template", "minimal").lower()
    folder, named = _text(body, "folder", ""), _text(body, "name", "")
    found = (
        _folder_problem(start, folder),
        word_problem("units", units, UNITS),
        fill_problem("fill", fill),
        word_problem("template", template, TEMPLATES),
        name_problem("name", named or folder),
    )
    problems = [p for p in found if p is not None]
    if problems:
        raise InputError(problems)
    path = _parent(start, body) / folder
    return new_job(path, Answers(named or folder, template, units, fill)).parent


def job_folder(start: Path, typed: str) -> Path:
    """The job folder that a person typed; from `start` where it is not a whole path."""
    from sumpwright.job.load import job_path

    path = _path(start, typed)
    return Path(os.path.realpath(job_path(path).parent))


def _parent(start: Path, body: Body) -> Path:
    typed = _text(body, "parent", "")
    path = _path(start, typed) if typed else start
    if not path.is_dir():
        found, do = "no folder of that name", "name one that is there"
        raise InputError([Problem("JOB-110", str(path), found, "a folder to put the job in", do)])
    return path


def _path(start: Path, typed: str) -> Path:
    try:
        return start / Path(typed.strip().strip('"')).expanduser()
    except (ValueError, RuntimeError):  # a user that the system does not know
        found, do = ascii(typed[:80]), "name it as the file manager does"
        raise InputError([Problem("JOB-110", "folder", found, "a job folder", do)]) from None


def _folder_problem(start: Path, folder: str) -> Problem | None:
    """What is wrong with a name for a new folder; it may not lead anywhere else."""
    try:
        if folder and "/" not in folder and inside(start, folder):
            return None
    except OutsideError:
        pass
    needed = "a name for the new folder: letters, digits, spaces, '-' and '_'"
    return Problem(
        "CLI-401", "folder", folder[:80] or "nothing", needed, "name the folder otherwise"
    )


def _text(body: Body, key: str, usual: str) -> str:
    text = body.get(key)
    if text is not None and not isinstance(text, str):
        raise RefusedError(400, f"{key} is a text")
    if text is not None and "\0" in text:
        raise InputError([Problem("CLI-401", key, ascii(text[:80]), "a text", "type it anew")])
    return (text or "").strip() or usual


async def _asked(request: Request) -> Response:
    """What a page needs to know before it asks."""
    desk: Desk = request.app.state.desk
    demos = await asyncio.to_thread(lambda: [(name, demo_says(name)) for name in DEMOS])
    said = {"parent": str(desk.start), "new": {"units": UNITS, "fill": dict(USUAL_FILL)}}
    return JSONResponse({**said, "demos": [{"name": n, "says": says} for n, says in demos]})


async def _new(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    body = await body_of(request)
    return await _opened(desk, await asyncio.to_thread(made_job, desk.start, body))


async def _demo(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    name = _text(await body_of(request), "demo", THE_DEMO)
    return await _opened(desk, await asyncio.to_thread(copied_demo, desk.start, name))


async def _open(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    typed = _text(await body_of(request), "folder", "")
    if not typed:
        problem = Problem("JOB-110", "folder", "nothing", "a job folder", "name the folder")
        raise InputError([problem])
    return await _opened(desk, await asyncio.to_thread(job_folder, desk.start, typed))


async def _opened(desk: Desk, folder: Path) -> Response:
    await desk.open(folder)
    state = state_of(desk)
    desk.say({"type": "state", "state": state})
    return JSONResponse(state)


ROUTES = [
    Route("/api/start", _asked),
    Route("/api/start/new", _new, methods=["POST"]),
    Route("/api/start/demo", _demo, methods=["POST"]),
    Route("/api/start/open", _open, methods=["POST"]),
]
