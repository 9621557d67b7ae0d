# SPDX-License-Identifier: Apache-2.0
"""The free space that an answer found, for the page's 3D view: its skin, and level lines on it."""

import json
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sumpwright.errors import SumpwrightError
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.mesh_file import read_mesh
from sumpwright.geometry.section import cut_plane, section_outlines
from sumpwright.web.desk import RefusedError
from sumpwright.web.file_out import out_path
from sumpwright.web.scene import packed
from sumpwright.web.scene_part import Part

ROWS = 0.010
"""m of depth between two lines, as between the rows of the answer's table"""
_SAME = 1e-4
"""Of the volume: the file has single precision, another asking moves litres"""
_ANEW = "out/space/free-space.stl has been written anew since; find the free space once more"
Floats = NDArray[np.float64]


def space_scene(folder: Path, triangles: int, volume: float) -> bytes:
    """The scene of out/space/free-space.stl; runs in the worker.

    `triangles` and `volume` [m^3] are what the answer says of the file that it wrote: another one,
    asked for in another way, must not stand beside its litres.
    """
    path = out_path(folder, "space/free-space.stl")
    if not path.is_file():
        raise SumpwrightError(_ANEW.replace("been written anew", "gone"))
    mesh = read_mesh(path, 1e-3).mesh
    if len(mesh.faces) != triangles or abs(mesh.volume - volume) > _SAME * volume:
        raise SumpwrightError(_ANEW)
    head = {"of": "space", "gap": None, "ground": False, "pose": np.eye(4).tolist()}
    return packed(head, [space_part(mesh)])


def space_part(mesh: Mesh) -> Part:
    """The skin with its level lines, engine frame."""
    rings = [ring for depth in _depths(mesh) for ring in _level(mesh, depth)]
    ends = np.cumsum([len(mesh.vertices), *(len(ring) for ring in rings)])
    numbers = [np.arange(a, b) for a, b in pairwise(ends)]
    edges = [np.stack([ring, np.roll(ring, -1)], axis=1) for ring in numbers]
    points = np.concatenate([mesh.vertices, *rings])
    lines = np.concatenate([np.zeros((0, 2), dtype=np.int64), *edges])
    return Part("free space", "space", "engine", points, mesh.faces, lines, said={"lines": ROWS})


def _depths(mesh: Mesh) -> Floats:
    """Depths below the rail that have a line [m]: whole rows within the body."""
    deepest, top = -mesh.bounds[:, 2]
    return ROWS * np.arange(np.floor(max(top, 0.0) / ROWS) + 1.0, np.ceil(deepest / ROWS - 1e-6))


def _level(mesh: Mesh, depth: float) -> list[Floats]:
    plane = cut_plane(origin=(0.0, 0.0, -depth), normal=(0.0, 0.0, 1.0), across=(1.0, 0.0, 0.0))
    return [np.c_[ring, np.full(len(ring), -depth)] for ring in section_outlines(mesh, plane)]


async def _space(request: Request) -> Response:
    desk = request.app.state.desk
    text = desk.answer(request.path_params["key"])
    files = None if text is None else json.loads(text).get("files")
    if not isinstance(files, dict) or "stl_m3" not in files:
        raise RefusedError(404, "that answer is not kept any more; find the free space once more")
    data = await desk.live("space_scene", files["triangles"], files["stl_m3"])
    return Response(data, media_type="application/octet-stream")


LIVE: dict[str, Callable[..., Any]] = {"space_scene": space_scene}
ROUTES = [Route("/api/space/{key}", _space)]
