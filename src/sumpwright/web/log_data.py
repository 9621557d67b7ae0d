# SPDX-License-Identifier: Apache-2.0
"""Logs for the page: which column is what, and every row of the channels that were understood."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from sumpwright.errors import InputError, Problem
from sumpwright.web.inside import OutsideError, inside

_WHERE = "tests/"


def log_path(folder: Path, name: str) -> Path:
    """The path of a log that was named by its path from the job: a file under its tests/."""
    path = inside(folder, name)
    if not name.startswith(_WHERE) or not path.is_relative_to(inside(folder, _WHERE[:-1])):
        raise OutsideError(f"{name[:80]!a} is not a log of this job: logs lie in {_WHERE}")
    if not path.is_file():
        found, do = "no file of that name", f"choose one of {_WHERE}, or drop it on the page"
        raise InputError([Problem("LOG-205", name, found, "a log, CSV or MDF4", do)])
    return path


def log_bytes(folder: Path, name: str) -> bytes:
    """Every row of the channels that have a role, as log_pack.py says; runs in the worker."""
    from sumpwright.studies.log_view import opened_log
    from sumpwright.web.log_pack import packed

    return packed(opened_log(folder, log_path(folder, name)))


def columns_json(folder: Path, name: str) -> dict[str, Any]:
    """A log's columns and what each would be taken for; runs in the worker."""
    from sumpwright.studies.log_view import log_columns

    return log_columns(folder, log_path(folder, name)).as_json()


async def _log(request: Request) -> Response:
    name = request.query_params.get("name", "")
    data: bytes = await request.app.state.desk.live("log", name)
    return Response(data, media_type="application/octet-stream")


async def _columns(request: Request) -> Response:
    name = request.query_params.get("name", "")
    return JSONResponse(await request.app.state.desk.live("log_columns", name))


ROUTES = [Route("/api/log", _log), Route("/api/log/columns", _columns)]
LIVE: dict[str, Callable[..., Any]] = {"log": log_bytes, "log_columns": columns_json}
"""For live_function.py"""
