# SPDX-License-Identifier: Apache-2.0
"""The pan in 3D for the page: one file of arrays, built in the worker, sent when it has changed.

``SPS1``, the header's length (uint32, little-endian), the header as JSON padded to four bytes, then
the arrays it points to by bytes from the end of the header: float32 metres and uint32 numbers.
"""

import hashlib
import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sumpwright.web.desk import RefusedError

MAGIC = b"SPS1"
KINDS = ("pan", "motion")
_last: dict[str, tuple[str, bytes]] = {}


def scene(folder: Path, of: str, known: str) -> tuple[str, bytes | None]:
    """Key and bytes of the scene of the job in `folder`; no bytes where the page has that key."""
    from sumpwright.studies.cache import CODE
    from sumpwright.web.kept_job import kept_job

    kept = kept_job(folder)
    names = (kept.loaded.job.new.name, kept.loaded.job.job)
    key = hashlib.sha256(repr((kept.input_hash, names, of, CODE)).encode()).hexdigest()[:32]
    if key == known:
        return key, None
    if _last.get(of, ("",))[0] != key:
        _last[of] = key, _packed(kept, of)
    return key, _last[of][1]


def _packed(kept: Any, of: str) -> bytes:
    from sumpwright.report.gap_legend import gap_steps
    from sumpwright.studies.motion_scene import motion_scene
    from sumpwright.studies.staging import shapes
    from sumpwright.web.scene_part import motion_parts, pan_parts

    motion = motion_scene(kept.bodies, kept.parted)
    head: dict[str, Any] = {"of": of, "gap": None, "ground": False}
    if of == "pan":
        still = shapes(kept.loaded, kept.bodies)
        parts = list(pan_parts(kept, still, motion))
        head["ground"] = still.has_ground
        if still.field is not None:
            asked = bool(np.any(~np.isnan(still.field.needed)))
            steps = gap_steps(still.field).tolist()
            head["gap"] = {"steps": steps, "says": still.field.says, "asked": asked}
    else:
        parts = list(motion_parts(kept, motion))
    pose = np.eye(4)
    pose[:3, :3], pose[:3, 3] = kept.bodies.pose.rotation, kept.bodies.pose.origin
    head["pose"] = pose.tolist()
    return packed(head, parts)


def packed(head: dict[str, Any], parts: Sequence[Any]) -> bytes:
    """A scene's file of what its header says besides `parts`, and these."""
    store = _Store()
    return _file({**head, "parts": [store.part(part) for part in parts]}, store.bytes)


class _Store:
    """The arrays, one after the other."""

    def __init__(self) -> None:
        self.bytes = bytearray()

    def put(self, values: NDArray[Any], kind: str) -> dict[str, int]:
        """Where `values` went: first byte and how many numbers."""
        at = len(self.bytes)
        self.bytes += np.ascontiguousarray(values, dtype=kind).tobytes()
        return {"at": at, "count": int(values.size)}

    def part(self, part: Any) -> dict[str, Any]:
        """A part of the header."""
        said = {"name": part.name, "kind": part.kind, "frame": part.frame, **part.said}
        said["points"] = self.put(part.points, "<f4")
        said["triangles"] = self.put(part.triangles, "<u4")
        said["edges"] = self.put(part.edges, "<u4")
        said["loops"] = [self.put(loop, "<u4") for loop in part.loops]
        if part.fine is not None:
            said["fine"] = {
                "points": self.put(part.fine.points, "<f4"),
                "triangles": self.put(part.fine.triangles, "<u4"),
                "gap": self.put(part.fine.gap, "<f4"),
                "needed": self.put(part.fine.needed, "<f4"),
            }
        return said


def _file(head: dict[str, Any], arrays: bytearray) -> bytes:
    text = json.dumps(head, ensure_ascii=False, allow_nan=False).encode()
    text += b" " * (-len(text) % 4)
    return MAGIC + len(text).to_bytes(4, "little") + text + bytes(arrays)


async def _scene(request: Request) -> Response:
    of = request.query_params.get("of", "pan")
    if of not in KINDS:
        raise RefusedError(400, f"no scene {of[:40]!r}; there are {' and '.join(KINDS)}")
    known = request.headers.get("if-none-match", "").strip('"')
    key, data = await request.app.state.desk.live("scene", of, known)
    headers = {"ETag": f'"{key}"', "Cache-Control": "no-cache"}
    if data is None:
        return Response(status_code=304, headers=headers)
    return Response(data, media_type="application/octet-stream", headers=headers)


def _tilt(folder: Path, ax: float, ay: float, mode: Any) -> dict[str, Any]:
    from sumpwright.web.kept_job import tilted

    return tilted(folder, ax, ay, mode)


LIVE: dict[str, Callable[..., Any]] = {"scene": scene, "tilt": _tilt}
ROUTES = [Route("/api/scene", _scene)]
