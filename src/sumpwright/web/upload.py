# SPDX-License-Identifier: Apache-2.0
"""Files dropped on the page: taken in, read as the commands read them, then kept in the job."""

import asyncio
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from sumpwright.web.cage import read_in, usual_cage
from sumpwright.web.desk import Desk, RefusedError
from sumpwright.web.incoming import KINDS, Incoming, Kind, NameTakenError, clean_name
from sumpwright.web.watch import own_change

_READERS = 1
"""Files read at one time: each may take half of the memory."""


async def _upload(request: Request) -> Response:
    """Take a file in; `as` says what it is to be, `key` where in the job it is to be named."""
    desk: Desk = request.app.state.desk
    folder, kind = _opened(desk), _kind(request)
    name = clean_name(request.query_params.get("name", ""), kind)
    incoming = Incoming(folder, name, kind)
    try:
        async for piece in request.stream():
            incoming.take(piece)
        await run_in_threadpool(incoming.whole)
        found = await _read(request, incoming)
        if "problems" in found or "error" in found:
            return JSONResponse({"problems": [], **found}, status_code=422)
        place = await run_in_threadpool(incoming.keep)
    except ClientDisconnect:
        raise RefusedError(400, f"{name} did not come whole; nothing was kept") from None
    except NameTakenError as err:
        said = {"error": str(err), "problems": [], "offer": err.offer}
        return JSONResponse(said, status_code=409)
    finally:
        await run_in_threadpool(incoming.clear)
    return JSONResponse({"name": place, **found, **await _named(request, desk, place)})


async def _read(request: Request, incoming: Incoming) -> dict[str, Any]:
    """What the caged reader says of it."""
    query, state = request.query_params, request.app.state
    geometry = query.get("as") == "geometry"
    asked = {
        "as": query.get("as"),
        "name": incoming.name,
        "job": str(incoming.job),
        "key": query.get("key"),
        "unit": query.get("unit") if geometry else None,
        "columns": {} if geometry else _pairs("channel", query.getlist("channel")),
        "units": {} if geometry else _pairs("unit", query.getlist("unit")),
    }
    if not hasattr(state, "readers"):
        state.readers = asyncio.Semaphore(_READERS)
    async with state.readers:
        return await read_in(usual_cage(), incoming.folder, asked)


async def _named(request: Request, desk: Desk, place: str) -> dict[str, Any]:
    """Name the file in the job, where that is asked; what keeps it from that loses no file."""
    query = request.query_params
    key, window = query.get("key"), query.get("window", "")[:100]
    said: dict[str, Any] = {}
    with own_change(desk, place):
        if key:
            unit = query.get("unit") if query.get("as") == "geometry" else None
            said = await _put(desk, key, place, unit, window)
        await desk.refresh(window or None)
    return said


async def _put(desk: Desk, key: str, place: str, unit: str | None, window: str) -> dict[str, Any]:
    """What the job's editor says of it, as /api/set does; or why it is not named there."""
    try:
        said: dict[str, Any] = await desk.live("put_file", key, place, unit, window)
    except RefusedError as err:
        said = {"status": err.status, "error": str(err), "problems": list(err.problems)}
    if said.pop("status") == 200:
        return {"set": said}
    return {"set": None, "set_problems": said["problems"], "set_error": said.get("error", "")}


def _pairs(option: str, given: Sequence[str]) -> dict[str, str]:
    """``pressure=AN7`` as its two parts."""
    split = [text.partition("=") for text in given]
    if any(not (role and value) for role, _, value in split):
        raise RefusedError(400, f"{option} is written ROLE=NAME, such as pressure=AN7")
    return {role: value for role, _, value in split}


def _opened(desk: Desk) -> Path:
    if desk.folder is None:
        raise RefusedError(409, "no job is open; start or open one first")
    return desk.folder


def _kind(request: Request) -> Kind:
    asked = request.query_params.get("as", "")
    if asked not in KINDS:
        raise RefusedError(400, f"a file comes in as one of {', '.join(KINDS)}")
    return KINDS[asked]


def _put_file(folder: Path, *args: Any) -> dict[str, Any]:
    from sumpwright.web.put_file import put_file

    return put_file(folder, *args)


LIVE = {"put_file": _put_file}
ROUTES = [Route("/api/upload", _upload, methods=["POST"])]
