# SPDX-License-Identifier: Apache-2.0
"""A flat cut through a parted pan: each compartment in its tint, baffles, windows and doors."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.region import inset, outlines_of, region_area, region_of
from sumpwright.geometry.section import (
    CutPlane,
    Outlines,
    outline_area,
    section_outlines,
    surface_spans,
)
from sumpwright.report import palette
from sumpwright.report.cut_draw import Sheet
from sumpwright.report.svg import Drawing
from sumpwright.studies.compartment_scene import CompartmentScene, Way
from sumpwright.studies.compartment_scene import Sheet as Baffle

Floats = NDArray[np.float64]

EDGE_ON = 0.7
"""Cosine to the viewer's line over which a baffle shows its face and not its edge."""
ROOM = 1.5e-4
"""m^2; a piece of a compartment that is smaller than this in a cut gets no letter."""
NARROW = 2e-4
"""m; letters stand where the piece is widest, found to this."""
ARROW = 14.0
"""Units that a door's arrow reaches to either side."""
BADGE = 8.5
"""Radius of a number's ring, and how far it stands from a window or door, in it."""


@dataclass(frozen=True, eq=False)
class PartedCut:
    """One plane through the scene."""

    scene: CompartmentScene
    plane: CutPlane

    @cached_property
    def space(self) -> Outlines:
        """The whole oil space."""
        return section_outlines(self.scene.space, self.plane)

    @cached_property
    def bodies(self) -> list[Outlines]:
        """Each compartment."""
        return [section_outlines(body, self.plane) for body in self.scene.bodies]

    def faces(self, way: NDArray[np.float64]) -> bool:
        """Whether something square to `way` shows its face."""
        return abs(float(way @ self.plane.normal)) > EDGE_ON

    def line_through(self, baffle: Baffle) -> Floats:
        """(n, 2, 2) where the plane cuts a baffle."""
        panel = baffle.panel
        tilt = panel.basis @ self.plane.normal
        if float(np.linalg.norm(tilt)) < 1e-9:
            return np.zeros((0, 2, 2))
        height = float(self.plane.normal @ (self.plane.origin - panel.point))
        return self.plane.flat(panel.space(surface_spans(baffle.outlines, tilt, height)))

    def trace_of(self, way: Way) -> Floats:
        """(2, 2) ends of a window or door as seen, edge on."""
        seen = self.plane.flat(way.polygon)
        normal = self.plane.flat(self.plane.origin + way.normal)
        along = np.array([-normal[1], normal[0]]) / np.linalg.norm(normal)
        reach = (seen @ along)[:, None]
        middle = seen.mean(axis=0) - (seen.mean(axis=0) @ along) * along
        return np.stack([middle + reach.min() * along, middle + reach.max() * along])

    def reaches(self, way: Way) -> bool:
        """Whether the plane cuts a window or door."""
        off = (way.polygon - self.plane.origin) @ self.plane.normal
        return bool(off.min() < 0.0 < off.max())


def draw_parted(
    drawing: Drawing, sheet: Sheet, cut: PartedCut, numbers: Mapping[tuple[str, str], int]
) -> None:
    """Draw a cut, its windows and doors with their numbers by baffle and name.

    In a plan, windows and doors above and below the cut are drawn too, and the whole mouth.
    """
    flat = cut.faces(np.array([0.0, 0.0, 1.0]))
    drawing.clip(sheet.left, sheet.top, sheet.width, sheet.height)
    drawing.path(sheet.loops(cut.space), fill=palette.STEEL, stroke=palette.INK, width=1.2)
    for number, outlines in enumerate(cut.bodies):
        tint = palette.TINTS[number % len(palette.TINTS)]
        drawing.path(sheet.loops(outlines), fill=tint, stroke=palette.MUTED, width=0.5)
    if not flat:
        _lines(drawing, sheet, cut)
    for _, mesh in cut.scene.solids:
        loops = sheet.loops(_within(cut, mesh))
        drawing.path(loops, fill=palette.BODY, stroke=palette.INK, width=0.8)
    for baffle in cut.scene.sheets:
        if not cut.faces(baffle.panel.normal):
            _baffle(drawing, sheet, cut, baffle, dashed=flat)
    for way in cut.scene.ways:
        if not cut.faces(way.normal) and (flat or cut.reaches(way)):
            ends = sheet.at(cut.trace_of(way))
            _way(drawing, ends, cut, way)
            _badge(drawing, ends, cut, way, numbers.get((way.panel, way.name)))
    _mouth(drawing, sheet, cut, whole=flat)
    for number, outlines in enumerate(cut.bodies):
        _letter(drawing, sheet, cut.scene.names[number], outlines)
    drawing.unclip()


def _within(cut: PartedCut, mesh: Mesh) -> Outlines:
    """What of a displacing body's cut lies in the oil space."""
    return outlines_of(region_of(section_outlines(mesh, cut.plane)) ^ region_of(cut.space))


def _lines(drawing: Drawing, sheet: Sheet, cut: PartedCut) -> None:
    """The pan rail, and the oil at rest."""
    rail = cut.plane.line_of(np.array([0.0, 0.0, 1.0]), 0.0)
    spans = sheet.loops(list(surface_spans(cut.space, *rail)))
    drawing.path(spans, stroke=palette.MUTED, dash=(9.0, 3.0, 2.0, 3.0), closed=False)
    if cut.scene.level is None:
        return
    spans = sheet.loops(list(surface_spans(cut.space, *cut.plane.line_of(*cut.scene.level))))
    drawing.path(spans, stroke=palette.OIL_LINE, width=1.8, dash=(7.0, 4.0), closed=False)


def _baffle(
    drawing: Drawing, sheet: Sheet, cut: PartedCut, baffle: Baffle, *, dashed: bool
) -> None:
    spans = cut.line_through(baffle)
    if len(spans):
        drawing.path(sheet.loops(list(spans)), stroke=palette.INK, width=2.6, closed=False)
    elif dashed and baffle.outlines:
        seen = cut.plane.flat(baffle.panel.space(np.concatenate(baffle.outlines)))
        ends = seen[[int(np.argmin(seen @ [1.0, 1e-3])), int(np.argmax(seen @ [1.0, 1e-3]))]]
        upright = np.ptp(seen[:, 1]) > np.ptp(seen[:, 0])
        if upright:
            ends = seen[[int(seen[:, 1].argmin()), int(seen[:, 1].argmax())]]
        drawing.line(*sheet.at(ends), stroke=palette.INK, width=1.6, dash=(5.0, 4.0))


def _way(drawing: Drawing, ends: Floats, cut: PartedCut, way: Way) -> None:
    """A gap in the baffle's line between two ticks; a door's has an arrow the way oil passes."""
    side = _passing(ends, cut, way)
    drawing.line(*ends, stroke=palette.PAPER, width=5.0)
    for end in ends:
        drawing.line(end - 5.0 * side, end + 5.0 * side, stroke=palette.INK, width=1.6)
    if way.door:
        middle = ends.mean(axis=0)
        drawing.line(middle - ARROW * side, middle, stroke=palette.PAPER, width=5.0)
        drawing.arrow(middle - ARROW * side, middle + ARROW * side, stroke=palette.NEW, width=2.2)


def _passing(ends: Floats, cut: PartedCut, way: Way) -> Floats:
    """(2,) unit vector on paper, square to what is drawn of a way, to where oil passes it."""
    along = ends[1] - ends[0]
    along = along / max(float(np.linalg.norm(along)), 1e-9)
    side = np.array([-along[1], along[0]])
    passes = cut.plane.flat(cut.plane.origin + way.normal) * [1.0, -1.0]  # y runs down on paper
    return np.asarray(side if side @ passes > 0.0 else -side)


def _badge(drawing: Drawing, ends: Floats, cut: PartedCut, way: Way, number: int | None) -> None:
    """A number in a ring, past the end of a way's gap and behind it."""
    if number is None:
        return
    away = (ends[1] - ends[0]) / max(float(np.linalg.norm(ends[1] - ends[0])), 1e-9)
    spot = ends[1] + (BADGE + 1.0) * away - (BADGE + 3.0) * _passing(ends, cut, way)
    drawing.dot(spot, BADGE, fill=palette.PAPER, stroke=palette.INK, width=1.0)
    drawing.text((spot[0], spot[1] + 4.2), str(number), size=12, bold=True, anchor="middle")


def _mouth(drawing: Drawing, sheet: Sheet, cut: PartedCut, *, whole: bool) -> None:
    """The pickup's mouth: round as in a plan, or a bar from side to side."""
    if cut.scene.rim is None:
        return
    seen = cut.plane.flat(cut.scene.rim)
    if whole:
        drawing.path([sheet.at(seen)], stroke=palette.PAPER, width=4.4)
        drawing.path([sheet.at(seen)], stroke=palette.INK, width=2.4, dash=(5.0, 2.5))
        return
    ends = seen[[int(seen[:, 0].argmin()), int(seen[:, 0].argmax())]]
    drawing.line(*sheet.at(ends), stroke=palette.INK, width=4.6)


def _letter(drawing: Drawing, sheet: Sheet, name: str, outlines: Outlines) -> None:
    """The compartment's name where its largest piece is widest."""
    for piece in region_of(outlines).decompose():
        if region_area(piece) < ROOM:
            continue
        x, y = sheet.at(_widest(piece))
        drawing.text((x, y + 6.0), name, size=17, bold=True, anchor="middle", halo=True)


def _widest(piece: object) -> Floats:
    """(2,) [m] a spot as far from the edge of a region as it goes."""
    low, high, spot = 0.0, 1.0, piece
    while high - low > NARROW:
        middle = 0.5 * (low + high)
        inner = inset(piece, middle)
        empty = region_area(inner) <= 0.0
        low, high = (low, middle) if empty else (middle, high)
        spot = spot if empty else inner
    loops = outlines_of(spot)
    return np.asarray(max(loops, key=lambda loop: outline_area([loop])).mean(axis=0))
