# SPDX-License-Identifier: Apache-2.0
"""Levels in a 100k-triangle pan beside bisection on libraries that cut the body.

The peers' bodies are made ready beforehand, as ours is, and their volumes must be ours. Bisection
stops at 1e-9 of the volume, ours at rounding.
"""

from collections.abc import Callable
from itertools import cycle

import numpy as np

from bench.table import Row, seconds
from sumpwright.geometry.frame import effective_gravity, turning_accel, up_of
from sumpwright.geometry.level import LevelBody, extent_along, level_body, levels_of, volume_below
from sumpwright.geometry.mesh import Mesh
from tests.geometry.bodies import rippled_pan

FILL = 0.4
CLOSE = 1e-9  # of the volume asked for


def rows() -> list[Row]:
    """One question, a question among many, an evaluation, and making the body ready."""
    mesh = rippled_pan(158)
    body = level_body(mesh)
    volume = FILL * body.volume
    around = up_of(effective_gravity(turning_accel(np.deg2rad(np.arange(720) / 2.0), 1.0)))
    up = around[60]  # forward and left, 1 g
    several = cycle(around[::37])  # so that no answer lies in the processor's memory
    one = seconds(lambda: levels_of(body, next(several), volume), times=101)
    many = seconds(lambda: levels_of(body, around, volume), times=9) / len(around)
    height = float(levels_of(body, up, volume).height[0])
    look = seconds(lambda: volume_below(body, next(several), height), times=101)
    trim = _manifold(mesh, up)
    steps = _bisected(lambda h: float(volume_below(body, up, h)[0]), body, up, volume)
    whole = seconds(lambda: _bisected(trim, body, up, volume), times=1)
    capped = _sliced(mesh, up)
    for peer in (trim, capped):
        assert abs(peer(height) - volume) < CLOSE * volume
    cut = seconds(lambda: _bisected(capped, body, up, volume), times=1)
    size = f"{len(mesh.faces):,} triangles"
    return [
        Row(f"level of a volume, {size}; peer: {steps} bisections, manifold3d trim",
            one, whole, must=200, aim=500),
        Row(f"  the same; peer: {steps} bisections, trimesh slice and cap",
            one, cut, must=200, aim=500),
        Row(f"  among {len(around)} directions, each", many, must=1e-3, aim=0.3e-3),
        Row("  volume below one plane; peer: one manifold3d trim",
            look, seconds(lambda: trim(height), times=5)),
        Row("  making the body ready, once", seconds(lambda: level_body(rippled_pan(158)), times=5)
            - seconds(lambda: rippled_pan(158), times=5)),
    ]  # fmt: skip


def _manifold(mesh: Mesh, up: np.ndarray) -> Callable[[float], float]:
    """Volume below a height by manifold3d, its body made beforehand."""
    import manifold3d as m3

    solid = m3.Manifold(m3.Mesh64(mesh.vertices.copy(), mesh.faces.astype(np.uint64)))
    down = (-up).tolist()
    return lambda height: float(solid.trim_by_plane(down, -height).volume())


def _sliced(mesh: Mesh, up: np.ndarray) -> Callable[[float], float]:
    """Volume below a height by trimesh's slice with its own cap."""
    import trimesh

    body = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    return lambda height: float(body.slice_plane(up * height, -up, cap=True).volume)


def _bisected(
    below: Callable[[float], float], body: LevelBody, up: np.ndarray, volume: float
) -> int:
    """Evaluations until a bisection has the volume."""
    low, high = extent_along(body, up)[0]
    for step in range(1, 100):
        middle = 0.5 * (low + high)
        found = below(middle)
        if abs(found - volume) <= CLOSE * volume:
            return step
        low, high = (middle, high) if found < volume else (low, middle)
    raise AssertionError("bisection did not close in")
