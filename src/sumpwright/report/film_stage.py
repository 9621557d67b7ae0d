# SPDX-License-Identifier: Apache-2.0
"""The stage of the film: pan, baffles, doors and pickup from one side, and the oil in them."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.report import film_kernel, palette, raster
from sumpwright.report.film import Film
from sumpwright.report.flat import sheet_triangles
from sumpwright.report.palette import rgb
from sumpwright.report.shade import (
    FINE,
    Camera,
    Layer,
    Pixels,
    camera,
    corner_light,
    plain_paint,
)
from sumpwright.studies.motion_scene import MotionScene

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

AZIMUTH, ELEVATION = float(np.radians(208.0)), float(np.radians(36.0))
"""From behind, the right and above: left is on the left, the nose points up and away."""
FROM = "from behind, the right and above"
CLEAR = (0.34, 0.62, 0.74)
"""How strong a baffle, oil behind a wall and an oil surface cover what is behind them."""
COLOURS = np.array([rgb(c) for c in ("#d79a35", "#efc068", palette.OIL_LINE)], dtype=np.float32)
FAR = -3.0e38


@dataclass(frozen=True, eq=False)
class Skin:
    """A compartment's walls as the viewer sees them."""

    vertices: Floats
    corners: Singles
    faces: NDArray[np.int64]
    light: Singles
    side: NDArray[np.int8]
    box: NDArray[np.int64]
    """First and past-last rows, then columns."""


class Stage:
    """Paints frames of one scene; all that stands still is painted once.

    The picture shows the whole pan, and `reach` (n, 3) besides.
    """

    def __init__(self, scene: MotionScene, reach: Floats, size: tuple[int, int]) -> None:
        self.scene = scene
        turned = scene.pose.rotation
        self.turned = turned
        pan = np.concatenate([scene.cavity.vertices, reach]) @ turned.T
        view = camera(pan, azimuth=AZIMUTH, elevation=ELEVATION, size=size)
        self.view: Camera = view.finer(FINE)
        self.skins = [self._skin(mesh) for mesh in scene.compartments]

    def _car(self, points: Floats) -> Floats:
        return np.asarray(points @ self.turned.T)

    def _skin(self, mesh: Mesh) -> Skin:
        body = Mesh(self._car(mesh.vertices), mesh.faces)
        seen = self.view.seen(body.vertices)
        facing = body.area_vectors @ self.view.toward > 0.0
        size = np.array([self.view.height, self.view.width])
        low = np.clip(np.floor(seen[:, 1::-1].min(axis=0)) - 1, 0, size)
        high = np.clip(np.ceil(seen[:, 1::-1].max(axis=0)) + 1, 0, size)
        return Skin(
            vertices=mesh.vertices,
            corners=seen.astype(np.float32)[mesh.faces],
            faces=mesh.faces,
            light=corner_light(body, self.view).astype(np.float32),
            side=np.where(facing, 1, -1).astype(np.int8),
            box=np.stack([low, high], axis=1).astype(np.int64).ravel(),
        )

    @cached_property
    def back(self) -> Pixels:
        """(h, w, 3) the pan's inside as seen through its near walls, and all its edges."""
        pan = Mesh(self._car(self.scene.cavity.vertices), self.scene.cavity.faces)
        far = Mesh(pan.vertices, pan.faces[pan.area_vectors @ self.view.toward < 0.0])
        layer = Layer(self.view)
        layer.add(far, plain_paint(far, "#dfe4ea"))
        layer.outline(pan)
        out = layer.rgb.astype(np.float32)
        out[layer.ink > 0] *= 0.55
        return out.astype(np.uint8)

    @cached_property
    def sheets(self) -> tuple[Singles, Pixels, Singles]:
        """Depth and colour of the baffles, and the ends (n, 2, 3) of their outlines."""
        depth = self._far()
        colour = np.full((*depth.shape, 3), 255, dtype=np.uint8)
        ends = [np.zeros((0, 2, 3))]
        for panel in self.scene.panels:
            loops = [self._car(loop) for loop in panel.outlines]
            triangles, bright = _sheet(loops, self.view)
            tone = np.clip(bright * np.array(rgb(palette.STEEL)), 0, 255)
            tones = np.broadcast_to(tone, (len(triangles), 3)).astype(np.float32)
            film_kernel.fill_sheet(
                self._seen(triangles), np.ascontiguousarray(tones), depth, colour
            )
            ends += [np.stack([loop, np.roll(loop, -1, axis=0)], axis=1) for loop in loops]
        return depth, colour, self._seen(np.concatenate(ends))

    def _far(self) -> Singles:
        return np.full((self.view.height, self.view.width), FAR, dtype=np.float32)

    def _seen(self, points: Floats) -> Singles:
        return self.view.seen(points).astype(np.float32)

    @cached_property
    def still(self) -> Pixels:
        """(h, w, 3) the pan with its sheets, without oil, doors and pickup."""
        paper = Paper(self)
        self._mix(paper, palette.INK, np.zeros((0, 0, 3), dtype=np.uint8))
        return paper.out

    def frame(self, film: Film, number: int, paper: "Paper") -> Pixels:
        """(h, w, 3) one frame; `paper` is the caller's own to paint on."""
        paper.clear()
        self._oil(film, number, paper)
        self._solids(film, number, paper)
        raster.trace_lines(self.sheets[2], paper.depth, 4.0, FINE, paper.ink)
        air = bool(film.air[number] > 0.0)
        self._rim(paper, thick=5 if air else 3)
        self._mix(paper, palette.AIR if air else palette.INK, self.still)
        return paper.out

    def _mix(self, paper: "Paper", ring: str, still: Pixels) -> None:
        sheet_depth, sheet, _ = self.sheets
        film_kernel.mix(
            self.back, sheet_depth, sheet, paper.solid_depth, paper.solid, paper.depth,
            paper.shade, paper.kind, COLOURS, np.array(CLEAR), paper.ink, paper.mark,
            np.array(rgb(ring), dtype=np.float32), FINE, still, paper.out,
        )  # fmt: skip

    def _oil(self, film: Film, number: int, paper: "Paper") -> None:
        view = self.view
        for k, skin in enumerate(self.skins):
            up, height = film.up[number, k], film.height[number, k]
            rise = (skin.vertices @ up - height).astype(np.float32)[skin.faces]
            film_kernel.fill_oil(
                skin.corners, skin.light, rise, skin.side, paper.own, paper.lit, paper.left
            )
            tilt = self.turned @ up
            across, high, near = tilt @ view.right, tilt @ view.up, tilt @ view.toward
            near = near if near > 1e-6 else np.inf  # seen from below, a surface hides behind oil
            level = view.scale * (height - tilt @ view.middle)
            start = level + across * view.width / 2.0 - high * view.height / 2.0
            plane = np.array([start, -across, high]) / near
            if not np.isfinite(near):
                plane = np.array([FAR, 0.0, 0.0])
            bright = 0.80 + 0.26 * max(float(tilt[2]), 0.0)
            film_kernel.lay_surface(
                plane, k, bright, skin.box, paper.own, paper.lit, paper.left, paper.depth,
                paper.shade, paper.kind,
            )  # fmt: skip

    def _solids(self, film: Film, number: int, paper: "Paper") -> None:
        """Doors as they stand open, and the pickup's mouth where it takes air."""
        for k, door in enumerate(self.scene.doors):
            leaf = self._car(door.leaf(float(film.angle[number, k])))
            self._plate(leaf[[[0, 1, 2], [0, 2, 3]]], palette.LINES[2], paper)
            edges = self._seen(np.stack([leaf, np.roll(leaf, -1, axis=0)], axis=1))
            raster.trace_lines(edges, paper.depth, 6.0, FINE, paper.ink)
        if self.scene.rim is not None and film.air[number] > 0.0:
            ring = self._car(self.scene.rim)
            middle = np.broadcast_to(ring.mean(axis=0), ring.shape)
            fan = np.stack([middle, ring, np.roll(ring, -1, axis=0)], axis=1)
            self._plate(fan, palette.AIR, paper)

    def _plate(self, triangles: Floats, colour: str, paper: "Paper") -> None:
        bright = _plate_light(triangles, self.view)
        tone = np.clip(bright * np.array(rgb(colour)), 0, 255).astype(np.float32)
        tones = np.ascontiguousarray(np.broadcast_to(tone, (len(triangles), 3)))
        film_kernel.fill_sheet(self._seen(triangles), tones, paper.solid_depth, paper.solid)

    def _rim(self, paper: "Paper", thick: int) -> None:
        if self.scene.rim is None:
            return
        ring = self._car(self.scene.rim)
        ends = self._seen(np.stack([ring, np.roll(ring, -1, axis=0)], axis=1))
        raster.trace_lines(ends, self._nothing, 0.0, thick, paper.mark)

    @cached_property
    def _nothing(self) -> Singles:
        return self._far()


class Paper:
    """The buffers that one painter of frames uses again and again."""

    def __init__(self, stage: Stage) -> None:
        shape = (stage.view.height, stage.view.width)
        self.depth, self.own, self.solid_depth = (np.full(shape, FAR, np.float32) for _ in range(3))
        self.shade, self.lit = (np.zeros(shape, dtype=np.float32) for _ in range(2))
        self.kind, self.ink, self.mark = (np.zeros(shape, dtype=np.uint8) for _ in range(3))
        self.left = np.zeros(shape, dtype=np.int16)
        self.solid = np.zeros((*shape, 3), dtype=np.uint8)
        self.out = np.zeros((shape[0] // FINE, shape[1] // FINE, 3), dtype=np.uint8)

    def clear(self) -> None:
        """Nothing painted."""
        self.depth[:] = FAR
        self.solid_depth[:] = FAR
        for buffer in (self.kind, self.ink, self.mark):
            buffer[:] = 0


def _sheet(loops: list[Floats], view: Camera) -> tuple[Floats, float]:
    """Triangles (m, 3, 3) of a flat sheet with holes, and how bright it is."""
    points, triples = sheet_triangles(loops)
    triangles = points[triples]
    return triangles, _plate_light(triangles, view)


def _plate_light(triangles: Floats, view: Camera) -> float:
    """Brightness of a flat plate, whichever side is seen."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    normal = np.abs(np.cross(b - a, c - a)).sum(axis=0)
    return 0.78 + 0.30 * float(normal @ np.abs(view.toward) / max(np.linalg.norm(normal), 1e-300))
