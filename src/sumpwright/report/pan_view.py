# SPDX-License-Identifier: Apache-2.0
"""The new pan among its obstacles, in clearance colours, with the smallest gap marked."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.report import palette
from sumpwright.report.axis import GROUND_SQUARE
from sumpwright.report.lettering import spread, text_width, wrapped
from sumpwright.report.palette import rgb
from sumpwright.report.shade import (
    FINE,
    Camera,
    Layer,
    Paint,
    camera,
    picture,
    plain_paint,
    png_of,
)
from sumpwright.report.svg import Drawing
from sumpwright.studies.result import CheckResult, ObstacleGap
from sumpwright.studies.scene import GapField, Scene
from sumpwright.units import shown, unit_name

Floats = NDArray[np.float64]

WIDE, IMAGE_WIDE, TALL, LEGEND = 960.0, 730.0, 420.0, 74.0
ELEMENTS = 1.9
"""Picture elements a unit of the drawing: 220 dots an inch on A4."""
SIDES = ("front", "front left", "left", "rear left", "rear", "rear right", "right", "front right")


@dataclass(frozen=True)
class _Label:
    at: tuple[float, float]
    words: str
    bold: bool = False


def pan_view(result: CheckResult, scene: Scene, *, below: bool) -> bytes:
    """The pan seen from the side of its smallest gap; with `below`, from under the other side."""
    worst = _worst(result)
    azimuth = _azimuth(scene, worst)
    azimuth, rise = (azimuth + np.pi, -0.55) if below else (azimuth, 0.27)
    bodies = _Bodies(scene)
    view = camera(
        bodies.shown,
        azimuth=azimuth,
        elevation=rise,
        size=(round(IMAGE_WIDE * ELEMENTS), round(TALL * ELEMENTS)),
    )
    pan, others = bodies.painted(view.finer(FINE))
    ground = Layer(view.finer(FINE))
    if scene.has_ground and not below:
        square, _ = GROUND_SQUARE[result.units]
        ground = _ground(scene, bodies, view.finer(FINE), square)
    place = f"{'below, ' if below else ''}{_side(azimuth)}"
    key = "below" if below else "pan"
    legend = scene.field is not None and not below
    drawing = Drawing(
        WIDE, TALL + (LEGEND if legend else 0.0), key=key, says=f"New pan, seen from {place}"
    )
    drawing.image(png_of(picture(ground, pan, others)), 0.0, 0.0, IMAGE_WIDE, TALL)
    drawing.text((8.0, 20.0), f"Seen from {place}", size=14, fill=palette.MUTED)
    _nose(drawing, view)
    _labels(drawing, _found(result, bodies, view, pan, others, worst))
    if legend and scene.field is not None:
        _legend(drawing, scene.field, result.units)
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
    return Paint(np.array(bands, dtype=float), _steps(field), field.gap, short)


def _steps(field: GapField) -> Floats:
    """Band edges [m]: multiples of the largest gap asked for, or of 10 mm where none is."""
    asked = field.needed[~np.isnan(field.needed)]
    unit = float(asked.max()) if len(asked) and asked.max() > 0.0 else 0.010
    return np.array(palette.GAP_STEPS) * unit


def _ground(scene: Scene, bodies: _Bodies, view: Camera, square: float) -> Layer:
    """The road at z = 0, in squares, with the bodies' shadows straight below them."""
    layer = Layer(view)
    low, high = bodies.frame
    low, high = (np.floor(low / square) - 1.0) * square, (np.ceil(high / square) + 1.0) * square
    x, y = np.array([low[0], high[0]]), np.array([low[1], high[1]])
    quad = np.array([[x[0], y[0], 0], [x[1], y[0], 0], [x[1], y[1], 0], [x[0], y[1], 0]])
    layer.lay_flat(quad[np.array([[0, 1, 2], [0, 2, 3]])], "#f3f5f7")
    for mesh in (*(o.mesh for o in scene.obstacles), bodies.pan):
        inside = np.clip(mesh.corners, [x[0], y[0], 0.0], [x[1], y[1], 0.0])
        layer.lay_flat(inside, "#d9dee4")
    _squares(layer, x, y, square)
    return layer


def _squares(layer: Layer, x: Floats, y: Floats, square: float) -> None:
    """Strips 2 mm wide."""
    strips = []
    for at in np.arange(x[0], x[1] + 0.5 * square, square):
        strips.append([[at, y[0]], [at + 0.002, y[0]], [at + 0.002, y[1]], [at, y[1]]])
    for at in np.arange(y[0], y[1] + 0.5 * square, square):
        strips.append([[x[0], at], [x[1], at], [x[1], at + 0.002], [x[0], at + 0.002]])
    corners = np.concatenate([np.array(strips), np.zeros((len(strips), 4, 1))], axis=2)
    layer.lay_flat(corners[:, [0, 1, 2, 0, 2, 3]].reshape(-1, 3, 3), "#cdd4db")


def _worst(result: CheckResult) -> ObstacleGap | None:
    """The obstacle whose smallest gap falls furthest short of what is asked for."""
    if result.clearance is None or not result.clearance.obstacles:
        return None
    return min(result.clearance.obstacles, key=lambda o: o.worst.gap_m - (o.needed_m or 0.0))


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
    drawing.text((14.0, TALL - 8.0), "front of car", size=12, fill=palette.MUTED)


def _found(
    result: CheckResult,
    bodies: _Bodies,
    view: Camera,
    pan: Layer,
    others: Layer,
    worst: ObstacleGap | None,
) -> list[_Label]:
    """What to label: the smallest gap, and each obstacle where it is seen."""
    labels = []
    if worst is not None:
        x, y, z = view.seen(worst.worst.on_pan_m)
        row, column = round(float(y) * FINE), round(float(x) * FINE)
        high, wide = pan.depth.shape
        if 0 <= row < high and 0 <= column < wide and z * FINE > pan.depth[row, column] - 25.0:
            spot = (float(x) / ELEMENTS, float(y) / ELEMENTS)
            labels.append(_Label(spot, _gap_words(worst, result.units), bold=True))
    depth = np.maximum(pan.depth, others.depth)
    for obstacle in bodies.scene.obstacles:
        seen = _visible_spot(obstacle.mesh.vertices, view, depth)
        if seen is not None:
            labels.append(_Label(seen, obstacle.name))
    return labels


def _gap_words(worst: ObstacleGap, units: str) -> str:
    gap = worst.worst.gap_m
    size = shown(abs(gap), "length", units)
    what = f"{size} overlap with" if gap < 0.0 else f"{size} to"
    asked = worst.needed_m
    need = "" if asked is None else f" ({shown(asked, 'length', units)} asked for)"
    return f"{what} {worst.obstacle}, {worst.worst.case}{need}"


def _visible_spot(points: Floats, view: Camera, depth: Floats) -> tuple[float, float] | None:
    """The seen vertex furthest to the right, where the labels are."""
    seen = view.seen(points)
    inside = (np.abs(seen[:, :2] / [view.width, view.height] - 0.5) < 0.485).all(axis=1)
    seen = seen[inside]
    column, row = (seen[:, :2] * FINE).astype(int).T
    seen = seen[seen[:, 2] * FINE > depth[row, column] - 6.0]
    if not len(seen):
        return None
    best = seen[int(np.argmax(seen[:, 0]))]
    return float(best[0]) / ELEMENTS, float(best[1]) / ELEMENTS


def _labels(drawing: Drawing, labels: list[_Label]) -> None:
    """Words in a column at the right, each with a thin line to its spot."""
    left, size = IMAGE_WIDE + 18.0, 14.0
    rows = spread([a.at[1] for a in labels], 66.0, 60.0, TALL - 50.0)
    for label, y in zip(labels, rows, strict=True):
        knee = np.array([left - 26.0, y])
        spot = np.array(label.at)
        away = knee - spot
        if label.bold:  # the line starts at the ring, not in it
            spot = spot + away * (9.0 / max(float(np.linalg.norm(away)), 9.0))
        leader = np.array([spot, knee, (left - 5.0, y)])
        drawing.path([leader], stroke=palette.PAPER, width=3.4, closed=False)
        drawing.path([leader], stroke=palette.INK, width=1.1, closed=False)
        _mark(drawing, label)
        if label.bold:
            drawing.text((left, y - 9.0), "Tightest gap", size=12, fill=palette.MUTED)
        for k, line in enumerate(wrapped(label.words, size, WIDE - left - 4.0, label.bold)):
            row = y + 5.0 + 17.0 * k + (4.0 if label.bold else 0.0)
            drawing.text((left, row), line, size=size, bold=label.bold)


def _mark(drawing: Drawing, label: _Label) -> None:
    if label.bold:
        drawing.dot(label.at, 9.0, stroke=palette.PAPER, width=5.0)
        drawing.dot(label.at, 9.0, stroke=palette.INK, width=2.4)
    else:
        drawing.dot(label.at, 2.6, fill=palette.INK, stroke=palette.PAPER, width=1.0)


def _legend(drawing: Drawing, field: GapField, units: str) -> None:
    """The stripes and the bands, with the gaps between them in the person's unit."""
    steps = _steps(field)
    y, high = TALL + 30.0, 18.0
    wide = 112.0
    texts = [
        shown(s, "length", units).removesuffix(f" {unit_name('length', units)}") for s in steps
    ]
    words = f"Gap from the pan's skin to the nearest obstacle [{unit_name('length', units)}]"
    drawing.text((8.0, TALL + 18.0), f"{words}, {field.says}", size=13, fill=palette.MUTED)
    if not np.isnan(field.needed).all():
        _hazard(drawing, 8.0, y, 150.0, high)
        drawing.text((8.0, y + high + 17.0), "closer than asked for", size=13, bold=True)
    left = 190.0
    for k, colour in enumerate(palette.GAP_BANDS):
        drawing.box(left + k * wide, y, wide, high, fill=colour, stroke=palette.MUTED, line=0.6)
    for k, text in enumerate(texts):
        x = left + (k + 1) * wide
        drawing.line((x, y), (x, y + high + 5.0), stroke=palette.INK)
        drawing.text((x - text_width(text, 13) / 2.0, y + high + 18.0), text, size=13)
    drawing.text((left, y + high + 18.0), "enough", size=13)
    drawing.text((left + 5 * wide, y + high + 18.0), "plenty", size=13, anchor="end")


def _hazard(drawing: Drawing, x: float, y: float, wide: float, high: float) -> None:
    light, dark = palette.TOO_CLOSE
    drawing.box(x, y, wide, high, fill=light)
    drawing.clip(x, y, wide, high)
    for at in np.arange(x - high, x + wide, 12.0):
        band = [[at, y + high], [at + 6.0, y + high], [at + 6.0 + high, y], [at + high, y]]
        drawing.path([band], fill=dark)
    drawing.unclip()
    drawing.box(x, y, wide, high, stroke=palette.INK, line=0.8)
