# SPDX-License-Identifier: Apache-2.0
"""The new pan among its obstacles, in clearance colours, with the smallest gap marked."""

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.report import palette
from sumpwright.report.alt import pan_alt
from sumpwright.report.axis import GROUND_SQUARE
from sumpwright.report.gap_legend import draw_legend, gap_steps
from sumpwright.report.label import Column, draw_labels
from sumpwright.report.palette import rgb
from sumpwright.report.pan_label import pan_labels
from sumpwright.report.road import road
from sumpwright.report.room import tightest
from sumpwright.report.shade import (
    FINE,
    Camera,
    Layer,
    Paint,
    blank,
    camera,
    picture,
    plain_paint,
    png_of,
)
from sumpwright.report.svg import Drawing
from sumpwright.studies.result import CheckResult, ObstacleGap
from sumpwright.studies.scene import GapField, Scene

Floats = NDArray[np.float64]

WIDE, IMAGE_WIDE, TALL, LEGEND = 960.0, 730.0, 420.0, 74.0
COLUMN = Column(left=IMAGE_WIDE + 16.0, right=WIDE - 4.0, top=24.0, bottom=TALL - 6.0)
ELEMENTS = 1.6
"""Picture elements a unit of the drawing: 220 dots an inch on A4."""
SIDES = ("front", "front left", "left", "rear left", "rear", "rear right", "right", "front right")


def pan_view(result: CheckResult, scene: Scene, *, below: bool) -> bytes:
    """The pan seen from the side of its smallest gap; with `below`, from under the other side."""
    azimuth = _azimuth(scene, tightest(result))
    azimuth, rise = (azimuth + np.pi, -0.55) if below else (azimuth, 0.27)
    bodies = _Bodies(scene)
    view = camera(
        bodies.shown,
        azimuth=azimuth,
        elevation=rise,
        size=(round(IMAGE_WIDE * ELEMENTS), round(TALL * ELEMENTS)),
    )
    pan, others = bodies.painted(view.finer(FINE))
    ground = blank(view.finer(FINE))
    if scene.has_ground and not below:
        meshes = [*(o.mesh for o in scene.obstacles), bodies.pan]
        square, _ = GROUND_SQUARE[result.units]
        ground = road(bodies.frame, meshes, view.finer(FINE), square)
    place = f"{'below, ' if below else ''}{_side(azimuth)}"
    legend = scene.field if not below else None
    drawing = Drawing(
        WIDE,
        TALL + (LEGEND if legend else 0.0),
        key="below" if below else "pan",
        says=pan_alt(result, place),
    )
    drawing.image(png_of(picture(ground, pan, others)), 0.0, 0.0, IMAGE_WIDE, TALL)
    drawing.text((8.0, 20.0), f"Seen from {place}", size=14, fill=palette.MUTED)
    _nose(drawing, view)
    labels = pan_labels(result, scene, view, pan, others, ELEMENTS)
    draw_labels(drawing, labels, COLUMN, rest=", see Gaps to the car")
    if legend is not None:
        draw_legend(drawing, legend, result.units, TALL)
    return drawing.svg()


class _Bodies:
    """The bodies of the picture in the car frame."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        skin = scene.new.skin
        self.pan = Mesh(scene.pose.to_car(skin.vertices), skin.faces)

    @cached_property
    def frame(self) -> Floats:
        """(2, 3) what to show: the pan, and the obstacles as far as they are near it."""
        low, high = self.pan.bounds
        reach = 0.45 * (high - low).max() * np.array([1.0, 1.0, 0.35])
        shapes = np.array([self.pan.bounds, *(o.mesh.bounds for o in self.scene.obstacles)])
        box = np.stack([shapes[:, 0].min(axis=0), shapes[:, 1].max(axis=0)])
        return np.stack([np.maximum(box[0], low - reach), np.minimum(box[1], high + reach)])

    @property
    def shown(self) -> Floats:
        """(n, 3) points of all bodies, those outside the frame drawn to its edge."""
        meshes = (self.pan, *(o.mesh for o in self.scene.obstacles))
        return np.concatenate([np.clip(m.vertices, *self.frame) for m in meshes])

    def painted(self, view: Camera) -> tuple[Layer, Layer]:
        """The pan's layer and the obstacles' layer."""
        pan, others = Layer(view), Layer(view)
        pan.add(self.pan, _paint(self.pan, self.scene.field))
        pan.outline(self.pan)
        for obstacle in self.scene.obstacles:
            others.add(obstacle.mesh, plain_paint(obstacle.mesh, palette.BODY))
        for obstacle in self.scene.obstacles:
            others.outline(obstacle.mesh, before=pan)
        return pan, others


def _paint(mesh: Mesh, field: GapField | None) -> Paint:
    if field is None:
        return plain_paint(mesh, palette.STEEL)
    bands = [rgb(c) for c in (*palette.GAP_BANDS, *palette.TOO_CLOSE)]
    short = np.where(np.isnan(field.needed), 1.0, field.gap - field.needed)
    return Paint(np.array(bands, dtype=float), gap_steps(field), field.gap, short)


def _steps(field: GapField) -> Floats:
    """Band edges [m]: multiples of the largest gap asked for, or of 10 mm where none is."""
    asked = field.needed[~np.isnan(field.needed)]
    unit = float(asked.max()) if len(asked) and asked.max() > 0.0 else 0.010
    return np.array(palette.GAP_STEPS) * unit


def _azimuth(scene: Scene, worst: ObstacleGap | None) -> float:
    """A corner view: from the front, or from whichever corner the smallest gap is turned to."""
    if worst is None:
        return float(np.radians(38.0))
    low, high = scene.new.skin.bounds
    middle = scene.pose.to_car(0.5 * (low + high))
    away = np.array(worst.worst.on_pan_m) - middle
    toward = np.array(worst.worst.on_obstacle_m) - np.array(worst.worst.on_pan_m)
    size = float(np.linalg.norm(toward))
    away = away / max(float(np.linalg.norm(away)), 1e-9) + (toward / size if size else 0.0)
    corners = np.radians([38.0, 142.0, 218.0, 322.0])
    facing = np.cos(corners) * away[0] + np.sin(corners) * away[1]
    return float(corners[int(np.argmax(np.round(facing, 6)))])


def _side(azimuth: float) -> str:
    return SIDES[round(float(azimuth) / (np.pi / 4.0)) % 8]


def _nose(drawing: Drawing, view: Camera) -> None:
    """Which way the car goes."""
    forward = np.array([view.right[0], -view.up[0]])
    forward = forward / max(float(np.linalg.norm(forward)), 1e-9)
    middle = np.array([62.0, TALL - 46.0])
    tail, tip = middle - 26.0 * forward, middle + 26.0 * forward
    drawing.arrow(tail, tip, stroke=palette.INK, width=2.4)
    drawing.text((14.0, TALL - 8.0), "front of car", size=13, fill=palette.MUTED)
