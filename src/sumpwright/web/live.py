# SPDX-License-Identifier: Apache-2.0
"""The open line to a page: it is told of work and changes, and has its tilts answered."""

import asyncio
import json
from contextlib import suppress
from dataclasses import asdict
from typing import Any

from starlette.routing import WebSocketRoute
from starlette.websockets import WebSocket, WebSocketDisconnect

from sumpwright.web.desk import Desk, RefusedError

_MOST_LETTERS = 2_000
_MOST_G = 5.0


async def live(socket: WebSocket) -> None:
    """Talk until either side goes."""
    desk: Desk = socket.app.state.desk
    await socket.accept()
    queue = desk.subscribe()
    telling = asyncio.create_task(_tell(socket, queue))
    try:
        while True:
            asked = _asked(await socket.receive_text())
            if asked is not None:
                queue.put_nowait(await _tilted(desk, asked))
    except (WebSocketDisconnect, RuntimeError):
        pass
    finally:
        desk.unsubscribe(queue)
        telling.cancel()
        with suppress(asyncio.CancelledError):
            await telling


async def _tell(socket: WebSocket, queue: "asyncio.Queue[dict[str, Any]]") -> None:
    while True:
        message = await queue.get()
        with suppress(WebSocketDisconnect, RuntimeError):
            await socket.send_text(json.dumps(message, ensure_ascii=False, allow_nan=False))


def _asked(text: str) -> dict[str, Any] | None:
    """A tilt that was asked for; None for anything else, which is not from our page."""
    if len(text) > _MOST_LETTERS:
        return None
    try:
        asked = json.loads(text)
        ax, ay = float(asked["ax"]), float(asked["ay"])
        seq, mode = int(asked["seq"]), asked["mode"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    if not (abs(ax) <= _MOST_G and abs(ay) <= _MOST_G) or mode not in ("settled", "sudden"):
        return None
    return {"seq": seq, "ax": ax, "ay": ay, "mode": mode}


async def _tilted(desk: Desk, asked: dict[str, Any]) -> dict[str, Any]:
    said = {"type": "tilt", "seq": asked["seq"]}
    try:
        found = await desk.live("tilt", asked["ax"], asked["ay"], asked["mode"])
    except RefusedError as err:
        first = err.problems[0] if err.problems else {}
        why = "{where}: {found}; needed {needed}".format(**first) if first else str(err)
        return {**said, "problem": why}
    return {**said, **(found if isinstance(found, dict) else asdict(found))}


ROUTES = [WebSocketRoute("/api/live", live)]
