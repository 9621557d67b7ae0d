# SPDX-License-Identifier: Apache-2.0
"""One cut through a pan on paper: the pan, its oil, the pickup, the crank and the car round it."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.section import (
    CutPlane,
    Outlines,
    cut_plane,
    outlines_below,
    section_outlines,
    surface_spans,
)
from sumpwright.report import palette
from sumpwright.report.lettering import text_width
from sumpwright.report.svg import Drawing
from sumpwright.studies.scene import PanShape, Scene, Surface, Which

Floats = NDArray[np.float64]
Look = Literal["across", "along"]

SEEN = {"across": "seen from behind", "along": "seen from the right, nose to the right"}
_AXES = {
    "across": ((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
    "along": ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0)),
}


@dataclass(frozen=True, eq=False)
class Cut:
    """What a vertical plane of the car through the pickup shows, in metres on the plane."""

    look: Look
    plane: CutPlane
    pan: PanShape
    inside: Outlines
    skin: Outlines
    crank: Outlines
    obstacles: tuple[tuple[str, Outlines], ...]
    rim: Floats | None
    """(2, 2) ends of the pickup's inlet as seen."""
    dipstick: Floats | None
    rail: Floats
    """(2, 2) where the pan rail's plane is cut, as wide as the pan."""

    @property
    def bounds(self) -> Floats:
        """(2, 2) of the pan below the rail, and the rail."""
        points = np.concatenate([*(self.skin or self.inside), self.rail])
        low, high = points.min(axis=0), points.max(axis=0)
        high[1] = self.rail[:, 1].max()
        return np.stack([low, high])


def cut_of(scene: Scene, which: Which, look: Look) -> Cut | None:
    """The cut through one pan's pickup, or through its middle where it has none."""
    pan = scene.pan(which)
    if pan is None:
        return None
    middle = pan.cavity.bounds.mean(axis=0) if pan.rim is None else pan.rim.mean(axis=0)
    origin = scene.pose.to_car(middle) * ([1.0, 0.0, 0.0] if look == "across" else [0.0, 1.0, 0.0])
    normal, across = _AXES[look]
    plane = cut_plane(origin=origin, normal=normal, across=across)

    def engine(mesh: Mesh | None) -> Outlines:
        return [] if mesh is None else _outlines(_in_car(scene, mesh), plane)

    def flat(points: Floats | None) -> Floats | None:
        return None if points is None else plane.flat(scene.pose.to_car(points))

    rim = flat(pan.rim)
    return Cut(
        look=look,
        plane=plane,
        pan=pan,
        inside=engine(pan.cavity),
        skin=engine(pan.outside),
        crank=engine(scene.crank),
        obstacles=tuple((o.name, _outlines(o.mesh, plane)) for o in scene.obstacles),
        rim=None if rim is None else rim[[int(rim[:, 0].argmin()), int(rim[:, 0].argmax())]],
        dipstick=flat(pan.dipstick),
        rail=_rail(scene, pan, plane),
    )


def _in_car(scene: Scene, mesh: Mesh) -> Mesh:
    return Mesh(scene.pose.to_car(mesh.vertices), mesh.faces)


def _outlines(mesh: Mesh, plane: CutPlane) -> Outlines:
    """The cut of a body; nothing of one that is open, which the findings speak of."""
    try:
        return section_outlines(mesh, plane)
    except RangeError:
        return []


def _rail(scene: Scene, pan: PanShape, plane: CutPlane) -> Floats:
    """Where the plane z = 0 of the engine is cut, from one side of the pan to the other."""
    tilt, height = plane.line_of(
        scene.pose.rotation[:, 2], float(scene.pose.rotation[:, 2] @ scene.pose.origin)
    )
    reach = plane.flat(scene.pose.to_car(pan.skin.vertices))[:, 0]
    u = np.array([reach.min(), reach.max()])
    return np.stack([u, (height - tilt[0] * u) / tilt[1]], axis=1)


def line_of(scene: Scene, cut: Cut, surface: Surface) -> tuple[Floats, float]:
    """Direction and height of the oil's surface on the cut."""
    up = scene.pose.rotation @ np.asarray(surface.up)
    return cut.plane.line_of(up, surface.height + float(up @ scene.pose.origin))


@dataclass(frozen=True)
class Sheet:
    """Where a cut goes on paper: metres (u, v) to units, clipped to a box."""

    left: float
    top: float
    width: float
    height: float
    scale: float
    """Units a metre."""
    middle: float
    """u at the middle of the box."""
    ceiling: float
    """v at the top of the box."""

    def at(self, points: Floats) -> Floats:
        """(..., 2) on paper."""
        x = self.left + 0.5 * self.width + (points[..., 0] - self.middle) * self.scale
        return np.stack([x, self.top + (self.ceiling - points[..., 1]) * self.scale], axis=-1)

    def loops(self, outlines: Outlines) -> list[Floats]:
        """Outlines on paper."""
        return [self.at(loop) for loop in outlines]


def draw_cut(
    drawing: Drawing, sheet: Sheet, scene: Scene, cut: Cut, surface: Surface | None, *, words: bool
) -> None:
    """Draw a cut; with `words`, what its lines are."""
    drawing.clip(sheet.left, sheet.top, sheet.width, sheet.height)
    for _, outlines in cut.obstacles:
        drawing.path(sheet.loops(outlines), fill=palette.BODY, stroke=palette.INK, width=0.8)
    if words and scene.has_ground:
        _ground(drawing, sheet)
    drawing.path(sheet.loops(cut.skin), fill=palette.STEEL, stroke=palette.INK, width=0.8)
    drawing.path(sheet.loops(cut.inside), fill=palette.PAPER, stroke=palette.INK, width=0.8)
    drawing.path(sheet.loops(cut.crank), fill=palette.CRANK, stroke=palette.MUTED, dash=(4.0, 3.0))
    if surface is not None:
        tilt, height = line_of(scene, cut, surface)
        below = outlines_below(cut.inside, tilt, height)
        drawing.path(sheet.loops(below), fill=palette.OIL, opacity=0.9)
        spans = surface_spans(cut.inside, tilt, height)
        drawing.path(sheet.loops(list(spans)), stroke=palette.OIL_LINE, width=2.4, closed=False)
    drawing.path(
        [sheet.at(_longer(cut.rail, 0.02))], stroke=palette.MUTED, dash=(9, 3, 2, 3), closed=False
    )
    if cut.dipstick is not None and words:
        drawing.path([sheet.at(cut.dipstick)], stroke=palette.INK, width=1.6, closed=False)
    if cut.rim is not None:
        _pickup(drawing, sheet.at(cut.rim))
    drawing.unclip()
    if words:
        _words(drawing, sheet, cut, surface)


def _longer(line: Floats, by: float) -> Floats:
    along = line[1] - line[0]
    along = along / np.linalg.norm(along)
    return np.stack([line[0] - by * along, line[1] + by * along])


def _pickup(drawing: Drawing, rim: Floats) -> None:
    """The inlet as a heavy bar with the housing's outline on top."""
    a, b = rim
    lift = np.array([0.0, -7.0])
    inset = 0.22 * (b - a)
    drawing.path(
        [[a, a + inset + lift, b - inset + lift, b]],
        fill="#ffffff",
        opacity=0.85,
        stroke=palette.INK,
        width=1.0,
    )
    drawing.line(a, b, stroke=palette.INK, width=4.2)


def _ground(drawing: Drawing, sheet: Sheet) -> None:
    y = float(sheet.at(np.zeros(2))[1])
    left, right = sheet.left, sheet.left + sheet.width
    drawing.line((left, y), (right, y), stroke=palette.INK, width=1.4)
    marks = [[(x, y), (x - 7.0, y + 7.0)] for x in np.arange(left + 7.0, right, 12.0)]
    drawing.path(marks, stroke=palette.MUTED, width=0.8, closed=False)


def _words(drawing: Drawing, sheet: Sheet, cut: Cut, surface: Surface | None) -> None:
    def say(at: Floats, text: str, anchor: str = "start") -> None:
        x, y = sheet.at(at)
        wide = text_width(text, 12.0)
        before = {"start": 0.0, "middle": wide / 2.0, "end": wide}[anchor]
        x = min(max(x, sheet.left + 3.0 + before), sheet.left + sheet.width - 3.0 - wide + before)
        y = min(max(y, sheet.top + 12.0), sheet.top + sheet.height - 4.0)
        drawing.text((x, y), text, size=12.0, anchor=anchor, halo=True)

    def lift(units: float) -> Floats:
        return np.array([0.0, units / sheet.scale])

    say(cut.rail[1] + lift(5.0), "pan rail", "end")
    if cut.rim is not None:
        say(cut.rim.mean(axis=0) + lift(13.0), "pickup", "middle")
    if cut.crank:
        body = np.concatenate(cut.crank)
        low = np.array([body[:, 0].mean(), body[:, 1].min()])
        say(low + lift(12.0), "crank sweep", "middle")
    if cut.dipstick is not None:
        say(cut.dipstick[0] * 0.35 + cut.dipstick[1] * 0.65, " dipstick")
    _obstacle_words(drawing, sheet, cut)


def _obstacle_words(drawing: Drawing, sheet: Sheet, cut: Cut) -> None:
    """Each obstacle's name on the largest piece of it that the box shows."""
    low = np.array([sheet.left, sheet.top])
    high = low + np.array([sheet.width, sheet.height])
    for name, outlines in cut.obstacles:
        pieces = [np.clip(loop, low, high) for loop in sheet.loops(outlines)]
        sizes = [float(np.prod(np.ptp(p, axis=0))) for p in pieces]
        if not pieces or max(sizes) < 60.0:
            continue
        box = pieces[int(np.argmax(sizes))]
        middle = 0.5 * (box.min(axis=0) + box.max(axis=0))
        half = 0.5 * text_width(name, 12.0) + 3.0
        x = min(max(float(middle[0]), low[0] + half), high[0] - half)
        drawing.text((x, float(middle[1]) + 4.0), name, size=12.0, anchor="middle", halo=True)
