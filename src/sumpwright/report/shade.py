# SPDX-License-Identifier: Apache-2.0
"""Bodies as a shaded bitmap: camera, light, creases, and the layers put together."""

from dataclasses import dataclass
from io import BytesIO

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.report import raster
from sumpwright.report.palette import rgb

Floats = NDArray[np.float64]
Pixels = NDArray[np.uint8]

FINE = 2
"""Samples across one element of the finished picture."""
CREASE = float(np.cos(np.radians(32.0)))
GHOST = 0.30
STRIPE = 11
"""Width of a hazard stripe, in samples along a row."""


@dataclass(frozen=True, eq=False)
class Camera:
    """A parallel view: unit axes of the picture and what falls in its middle."""

    right: Floats
    up: Floats
    toward: Floats
    middle: Floats
    """(3,) [m]"""
    scale: float
    """Elements a metre."""
    width: int
    height: int

    def seen(self, points: ArrayLike) -> Floats:
        """(..., 3) x right, y down, z toward the viewer, in elements."""
        away = (np.asarray(points, dtype=float) - self.middle) * self.scale
        x = away @ self.right + self.width / 2.0
        y = self.height / 2.0 - away @ self.up
        return np.stack([x, y, away @ self.toward], axis=-1)

    def finer(self, times: int) -> "Camera":
        """The same view with `times` as many elements each way."""
        size = (self.scale * times, self.width * times, self.height * times)
        return Camera(self.right, self.up, self.toward, self.middle, *size)


def camera(points: ArrayLike, *, azimuth: float, elevation: float, size: tuple[int, int]) -> Camera:
    """A view of all `points` (n, 3) from `azimuth` (from +x toward +y) and `elevation` [rad]."""
    shown = np.asarray(points, dtype=float)
    ca, sa, ce, se = np.cos(azimuth), np.sin(azimuth), np.cos(elevation), np.sin(elevation)
    toward = np.array([ce * ca, ce * sa, se])
    right = np.array([-sa, ca, 0.0])
    up = np.cross(toward, right)
    seen = np.stack([shown @ right, shown @ up], axis=1)
    middle = 0.5 * (seen.min(axis=0) + seen.max(axis=0))
    span = np.maximum(np.ptp(seen, axis=0), 1e-9)
    scale = float(min(0.94 * size[0] / span[0], 0.90 * size[1] / span[1]))
    return Camera(right, up, toward, middle[0] * right + middle[1] * up, scale, *size)


@dataclass(frozen=True, eq=False)
class Paint:
    """What colours a body: one colour, or bands of a field with a value for each vertex."""

    colours: Floats
    """(k + 3, 3) the bands' colours, then the two of the stripes; 0 to 255."""
    steps: Floats
    """(k,) edges between the bands."""
    gap: Floats
    """(n,)"""
    short: Floats
    """(n,) stripes where below zero."""


def plain_paint(mesh: Mesh, colour: str) -> Paint:
    """One colour all over."""
    still = np.ones(len(mesh.vertices))
    return Paint(np.array([rgb(colour)] * 3, dtype=float), np.zeros(0), still, still)


class Layer:
    """Painted triangles, how near they are, and the lines on them."""

    def __init__(self, view: Camera) -> None:
        self.view = view
        shape = (view.height, view.width)
        self.depth = np.full(shape, raster.NOTHING, dtype=np.float32)
        self.rgb = np.full((*shape, 3), 255, dtype=np.uint8)
        self.ink = np.zeros(shape, dtype=np.uint8)

    def add(self, mesh: Mesh, paint: Paint) -> None:
        """Paint a body; lines come with `outline`, once all bodies of the layer are painted."""
        seen = self.view.seen(mesh.vertices).astype(np.float32)
        light = corner_light(mesh, self.view)
        raster.fill_triangles(
            seen[mesh.faces],
            light.astype(np.float32),
            paint.gap.astype(np.float32)[mesh.faces],
            paint.short.astype(np.float32)[mesh.faces],
            paint.steps.astype(np.float32),
            paint.colours.astype(np.float32),
            STRIPE,
            self.depth,
            self.rgb,
        )

    def outline(self, mesh: Mesh, before: "Layer | None" = None) -> None:
        """Draw the creases and the outline of a body; those that `before` hides are left out."""
        ends = self.view.seen(mesh.vertices[sharp_edges(mesh, self.view.toward)])
        depth = self.depth if before is None else np.maximum(self.depth, before.depth)
        raster.trace_lines(ends.astype(np.float32), depth, 3.0, FINE, self.ink)


def blank(view: Camera) -> Pixels:
    """(h, w, 3) white paper."""
    return np.full((view.height, view.width, 3), 255, dtype=np.uint8)


def lay_flat(paper: Pixels, view: Camera, corners: Floats, colour: str) -> None:
    """Paint triangles (m, 3, 3) [m] on `paper` without regard to what is before or behind."""
    seen = view.seen(corners)[..., :2]
    raster.fill_flat(seen.astype(np.float32), np.array(rgb(colour), np.float32), paper)


def picture(ground: Pixels, pan: Layer, bodies: Layer) -> Pixels:
    """(h, w, 3) the layers put together, smoothed."""
    view = pan.view
    out = np.zeros((view.height // FINE, view.width // FINE, 3), dtype=np.uint8)
    raster.develop(
        ground,
        pan.depth,
        pan.rgb,
        pan.ink,
        bodies.depth,
        bodies.rgb,
        bodies.ink,
        GHOST,
        FINE,
        out,
    )
    return out


def png_of(pixels: Pixels) -> bytes:
    """A bitmap as PNG."""
    from PIL import Image

    file = BytesIO()
    Image.fromarray(pixels).save(file, "PNG", compress_level=4)
    return file.getvalue()


def corner_light(mesh: Mesh, view: Camera) -> Floats:
    """(m, 3) brightness at each corner, whichever side of a triangle is seen."""
    flip = np.where(mesh.area_vectors @ view.toward < 0.0, -1.0, 1.0)
    return _light(_corner_normals(mesh) * flip[:, None, None], view)


def _light(normals: Floats, view: Camera) -> Floats:
    """Brightness of faces toward `normals`: sky, a key light from the left, a weak fill."""
    key = 0.55 * view.toward + 0.55 * view.up - 0.6 * view.right
    fill = 0.8 * view.toward - 0.1 * view.up + 0.6 * view.right
    key, fill = key / np.linalg.norm(key), fill / np.linalg.norm(fill)
    sky = 0.5 + 0.5 * (normals @ view.up)
    lit = 0.50 + 0.10 * sky + 0.38 * np.clip(normals @ key, 0.0, None)
    return np.asarray(lit + 0.22 * np.clip(normals @ fill, 0.0, None))


def _corner_normals(mesh: Mesh) -> Floats:
    flat = mesh.faces.ravel()
    order = np.argsort(flat, kind="stable")
    counts = np.bincount(flat, minlength=len(mesh.vertices))
    starts = np.concatenate([[0], np.cumsum(counts)])
    normals = np.ascontiguousarray(mesh.area_vectors)
    faces = np.ascontiguousarray(mesh.faces)
    return np.asarray(raster.corner_normals(faces, normals, starts, order // 3, CREASE))


def sharp_edges(mesh: Mesh, toward: Floats) -> NDArray[np.int64]:
    """(n, 2) vertices of the edges that are creases, or part a side that faces the viewer."""
    edges = mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    key = edges.min(axis=1) * len(mesh.vertices) + edges.max(axis=1)
    order = np.argsort(key, kind="stable")
    twin = np.flatnonzero(key[order[1:]] == key[order[:-1]])
    one, two = order[twin], order[twin + 1]
    size = np.linalg.norm(mesh.area_vectors, axis=1, keepdims=True)
    normals = mesh.area_vectors / np.maximum(size, 1e-300)
    n, m = normals[one // 3], normals[two // 3]
    sharp = np.einsum("ij,ij->i", n, m) < CREASE
    rim = (n @ toward > 1e-9) != (m @ toward > 1e-9)
    return np.asarray(edges[one[sharp | rim]])
