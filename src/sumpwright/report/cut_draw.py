# SPDX-License-Identifier: Apache-2.0
"""A cut on paper: outlines, oil, pickup, and stripes where the pan is in the way of the car."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.section import Outlines, outlines_below, surface_spans
from sumpwright.report import palette
from sumpwright.report.cut import Cut, line_of
from sumpwright.report.hazard import draw_stripes
from sumpwright.report.svg import Drawing
from sumpwright.studies.scene import Scene, Surface

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Level:
    """A surface of the oil, and how it is drawn."""

    surface: Surface
    words: str = ""
    fill: float = 0.9
    """How opaque the oil below it is."""
    dash: tuple[float, ...] = ()
    width: float = 2.4


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

    def loops(self, outlines: Sequence[Floats]) -> list[Floats]:
        """Outlines on paper."""
        return [self.at(loop) for loop in outlines]

    @property
    def box(self) -> Floats:
        """(2, 2) its top left and bottom right corner."""
        low = np.array([self.left, self.top])
        return np.stack([low, low + np.array([self.width, self.height])])


def draw_cut(
    drawing: Drawing, sheet: Sheet, scene: Scene, cut: Cut, levels: Sequence[Level], *, rest: bool
) -> None:
    """Draw a cut with its oil, the highest level first; at `rest` with the ground and the stick."""
    drawing.box(sheet.left, sheet.top, sheet.width, sheet.height, fill=palette.PAPER)
    drawing.clip(sheet.left, sheet.top, sheet.width, sheet.height)
    for obstacle in cut.obstacles:
        loops = sheet.loops(obstacle.outlines)
        drawing.path(loops, fill=palette.BODY, stroke=palette.INK, width=0.8)
    if rest and scene.has_ground:
        _ground(drawing, sheet)
    drawing.path(sheet.loops(cut.skin), fill=palette.STEEL, stroke=palette.INK, width=0.8)
    drawing.path(sheet.loops(cut.inside), fill=palette.PAPER, stroke=palette.INK, width=0.8)
    _oil(drawing, sheet, scene, cut, levels)
    if cut.crank is not None:
        drawing.path([sheet.at(cut.crank)], fill=palette.CRANK, opacity=0.55)
        drawing.path([sheet.at(cut.crank)], stroke=palette.INK, width=1.0, dash=(5.0, 3.0))
    for obstacle in cut.obstacles:
        if obstacle.clash is not None:
            _clash(drawing, sheet, cut.skin, obstacle.outlines)
    rail = [sheet.at(longer(cut.rail, 0.02))]
    drawing.path(rail, stroke=palette.MUTED, dash=(9, 3, 2, 3), closed=False)
    if cut.dipstick is not None and rest:
        stick = [sheet.at(cut.dipstick)]
        drawing.path(stick, stroke=palette.PAPER, width=4.0, closed=False)
        drawing.path(stick, stroke=palette.INK, width=2.0, closed=False)
    if cut.rim is not None:
        _pickup(drawing, sheet.at(cut.rim))
    drawing.unclip()
    drawing.box(sheet.left, sheet.top, sheet.width, sheet.height, stroke=palette.RULE)


def _oil(drawing: Drawing, sheet: Sheet, scene: Scene, cut: Cut, levels: Sequence[Level]) -> None:
    for level in levels:
        if level.fill > 0.0:
            tilt, height = line_of(scene, cut, level.surface)
            below = sheet.loops(outlines_below(cut.inside, tilt, height))
            drawing.path(below, fill=palette.OIL, opacity=level.fill)
    for level in levels:
        spans = sheet.loops(list(level_spans(scene, cut, level.surface)))
        ink, width, dash = palette.OIL_LINE, level.width, level.dash
        drawing.path(spans, stroke=ink, width=width, dash=dash, closed=False)


def level_spans(scene: Scene, cut: Cut, surface: Surface) -> Floats:
    """(n, 2, 2) [m] both ends of each piece of an oil surface in the cut."""
    return surface_spans(cut.inside, *line_of(scene, cut, surface))


def _clash(drawing: Drawing, sheet: Sheet, skin: Outlines, body: Outlines) -> None:
    """Stripes where the pan and a body of the car are both."""
    loops = sheet.loops(body)
    low = np.min([loop.min(axis=0) for loop in loops], axis=0)
    wide, high = np.max([loop.max(axis=0) for loop in loops], axis=0) - low
    drawing.clip_to(sheet.loops(skin))
    drawing.clip_to(loops)
    draw_stripes(drawing, low[0], low[1], wide, high)
    drawing.unclip()
    drawing.path(loops, stroke=palette.INK, width=1.6)
    drawing.unclip()


def longer(line: Floats, by: float) -> Floats:
    """(2, 2) a line with `by` added at both ends."""
    along = line[1] - line[0]
    along = along / np.linalg.norm(along)
    return np.stack([line[0] - by * along, line[1] + by * along])


def _pickup(drawing: Drawing, rim: Floats) -> None:
    """The inlet as a heavy bar with the housing's outline on top."""
    a, b = rim
    lift = np.array([0.0, -8.0])
    inset = 0.22 * (b - a)
    housing = [[a, a + inset + lift, b - inset + lift, b]]
    drawing.path(housing, fill=palette.PAPER, opacity=0.85, stroke=palette.INK, width=1.0)
    drawing.line(a, b, stroke=palette.INK, width=4.6)


def _ground(drawing: Drawing, sheet: Sheet) -> None:
    y = float(sheet.at(np.zeros(2))[1])
    if y > sheet.top + sheet.height:
        return
    left, right = sheet.left, sheet.left + sheet.width
    drawing.line((left, y), (right, y), stroke=palette.INK, width=1.4)
    marks = [[(x, y), (x - 7.0, y + 7.0)] for x in np.arange(left + 7.0, right, 12.0)]
    drawing.path(marks, stroke=palette.MUTED, width=0.8, closed=False)
    drawing.text((left + 8.0, y - 6.0), "ground", size=13, fill=palette.MUTED)
