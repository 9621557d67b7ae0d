# SPDX-License-Identifier: Apache-2.0
"""The page's server: every address it knows, and how a refusal is said."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import BaseRoute, Mount, Route
from starlette.staticfiles import StaticFiles

from sumpwright.errors import InputError, SumpwrightError
from sumpwright.web import (
    edit,
    file_out,
    live,
    log_data,
    record_form,
    scene,
    scene_space,
    start,
    upload,
)
from sumpwright.web.desk import Desk, RefusedError
from sumpwright.web.sent import body_of
from sumpwright.web.state import state_of
from sumpwright.web.watch import watch

_PARTS = (edit, file_out, live, log_data, record_form, scene, scene_space, start, upload)
STATIC = Path(__file__).with_name("static")


def page_app(desk: Desk) -> Starlette:
    """The application, without its guard."""
    routes: list[BaseRoute] = [
        Route("/", _index),
        Route("/mark.svg", _mark),
        Mount("/assets", StaticFiles(directory=STATIC / "assets", check_dir=False)),
        Route("/api/state", _state),
        Route("/api/ask", _ask, methods=["POST"]),
        Route("/api/answer/{key}", _answer),
        Route("/api/work/{id}", _stop, methods=["DELETE"]),
    ]
    for part in _PARTS:
        routes += part.ROUTES

    @asynccontextmanager
    async def lifespan(_app: Starlette) -> AsyncIterator[None]:
        watching = asyncio.create_task(watch(desk))
        yield
        watching.cancel()
        with suppress(asyncio.CancelledError):
            await watching
        desk.close()

    app = Starlette(
        routes=routes,
        lifespan=lifespan,
        exception_handlers={
            RefusedError: _refused,
            InputError: _input,
            SumpwrightError: _said,
            HTTPException: _http,
        },
    )
    app.state.desk = desk
    return app


async def _index(_request: Request) -> Response:
    return FileResponse(STATIC / "index.html")


async def _mark(_request: Request) -> Response:
    return FileResponse(STATIC / "mark.svg")


async def _state(request: Request) -> Response:
    return JSONResponse(state_of(request.app.state.desk))


async def _ask(request: Request) -> Response:
    body = await body_of(request)
    question, args = body.get("question"), body.get("args") or {}
    if not isinstance(question, str) or not isinstance(args, dict):
        raise RefusedError(400, "a question is a name and its arguments")
    desk: Desk = request.app.state.desk
    return JSONResponse(asdict(await desk.ask(question, args)))


async def _answer(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    text = desk.answer(request.path_params["key"])
    if text is None:
        raise RefusedError(404, "that answer is not kept any more; ask again")
    return Response(text, media_type="application/json")


async def _stop(request: Request) -> Response:
    desk: Desk = request.app.state.desk
    await desk.stop(request.path_params["id"])
    return JSONResponse({})


async def _refused(_request: Request, err: Exception) -> Response:
    assert isinstance(err, RefusedError)
    body: dict[str, Any] = {"problems": err.problems}
    if str(err):
        body["error"] = str(err)
    return JSONResponse(body, status_code=err.status)


async def _input(_request: Request, err: Exception) -> Response:
    assert isinstance(err, InputError)
    return JSONResponse({"problems": [asdict(p) for p in err.problems]}, status_code=422)


async def _said(_request: Request, err: Exception) -> Response:
    return JSONResponse({"problems": [], "error": str(err)}, status_code=422)


async def _http(_request: Request, err: Exception) -> Response:
    assert isinstance(err, HTTPException)
    return JSONResponse({"problems": [], "error": err.detail}, status_code=err.status_code)
