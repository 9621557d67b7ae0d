# SPDX-License-Identifier: Apache-2.0
"""The pan drawn from numbers: from above, and cut along and across through its deepest place."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.section import CutPlane, cut_plane, section_outlines
from sumpwright.report import palette
from sumpwright.report.svg import Drawing
from sumpwright.studies.shape_result import ShapeResult
from sumpwright.units import shown

Floats = NDArray[np.float64]

WIDE, HEAD, GAP, TITLE, EDGE = 960.0, 56.0, 30.0, 24.0, 90.0
SHY = 1e-4
"""m; a cut this far off a level face does not run in it."""
LEVELS = 6
"""Cuts one below the other that show the inside from above."""


@dataclass(frozen=True, eq=False)
class _Panel:
    title: str
    loops: Sequence[tuple[Sequence[Floats], str, str]]
    """Outlines with fill and stroke [m]"""
    low: Floats
    high: Floats


def shape_view(result: ShapeResult) -> bytes:
    """Plan, and both cuts below it, to one scale."""
    deepest = _deepest(result.solids.cavity_mesh)
    panels = [_plan(result), _cut(result, deepest, along=True), _cut(result, deepest, along=False)]
    widest = max(float(p.high[0] - p.low[0]) for p in panels)
    scale = (WIDE - EDGE) / widest
    tall = HEAD + sum(scale * float(p.high[1] - p.low[1]) + TITLE + GAP for p in panels)
    says = f"{result.job}, revision {result.revision}: the pan from above, cut along and across"
    drawing = Drawing(WIDE, tall, key="shape", says=says)
    holds, mass = shown(result.holds_m3, "volume", result.units), shown(result.mass_kg, "mass")
    drawing.text((0.0, 20.0), f"{result.job}, revision {result.revision}", size=17, bold=True)
    words = f"{holds} inside, {mass} of {result.material}"
    drawing.text((0.0, 42.0), words, size=13, fill=palette.MUTED)
    top = HEAD
    for panel in panels:
        drawing.text((0.0, top + 14.0), panel.title, size=14, bold=True)
        _drawn(drawing, panel, top + TITLE, scale, result.units)
        top += scale * float(panel.high[1] - panel.low[1]) + TITLE + GAP
    return drawing.svg()


def _drawn(drawing: Drawing, panel: _Panel, top: float, scale: float, units: str) -> None:
    def spot(points: Floats) -> Floats:
        flat = (points - panel.low) * scale + [1.0, 0.0]
        return np.column_stack(
            [flat[:, 0], top + scale * (panel.high[1] - panel.low[1]) - flat[:, 1]]
        )

    for loops, fill, stroke in panel.loops:
        drawing.path([spot(np.asarray(loop)) for loop in loops], fill=fill, stroke=stroke)
    size = panel.high - panel.low
    x, bottom = scale * float(size[0]) + 12.0, top + scale * float(size[1])
    drawing.line((x, top), (x, bottom), stroke=palette.MUTED)
    for y in (top, bottom):
        drawing.line((x - 4.0, y), (x + 4.0, y), stroke=palette.MUTED)
    words = shown(float(size[1]), "length", units, digits=0)
    drawing.text((x + 8.0, 0.5 * (top + bottom) + 5.0), words, size=13)
    under = bottom + 15.0
    wide = shown(float(size[0]), "length", units, digits=0)
    drawing.text((0.5 * scale * float(size[0]), under), wide, size=13, anchor="middle")


def _plan(result: ShapeResult) -> _Panel:
    """From above, nose to the right: each level of the inside a little darker."""
    solids = result.solids
    cavity, outside = solids.cavity_mesh, solids.outside_mesh
    low, high = float(cavity.bounds[0, 2]), float(cavity.bounds[1, 2])
    heights = high - SHY - (high - low - 2.0 * SHY) * np.arange(LEVELS) / LEVELS
    flange = section_outlines(outside, _level(-0.5 * result.flange_m))
    walls = [section_outlines(outside, _level(float(h))) for h in heights[1:]]
    loops: list[tuple[Sequence[Floats], str, str]] = [
        ([loop], palette.STEEL, palette.MUTED) for wall in walls for loop in wall
    ]
    loops += [(flange, palette.STEEL, palette.INK)]
    for h in heights:
        loops.append((section_outlines(cavity, _level(float(h))), "none", palette.NEW))
    bounds = outside.bounds[:, :2]
    return _Panel("From above, nose to the right", loops, bounds[0], bounds[1])


def _level(height: float) -> CutPlane:
    return cut_plane(origin=[0.0, 0.0, height], normal=[0.0, 0.0, 1.0], across=[1.0, 0.0, 0.0])


def _cut(result: ShapeResult, at: Floats, *, along: bool) -> _Panel:
    """The metal cut through a place."""
    normal, across = ([0.0, -1.0, 0.0], [1.0, 0.0, 0.0])
    title, where = "Cut along", f"y {shown(float(at[1]), 'length', result.units, digits=0)}"
    if not along:
        normal, across = ([-1.0, 0.0, 0.0], [0.0, -1.0, 0.0])
        title, where = (
            "Cut across, from behind",
            f"x {shown(float(at[0]), 'length', result.units, digits=0)}",
        )
    origin = [0.0 if along else at[0] + SHY, at[1] + SHY if along else 0.0, 0.0]
    plane = cut_plane(origin=origin, normal=normal, across=across)
    loops = section_outlines(result.metal, plane)
    points = np.concatenate(loops) if loops else np.zeros((1, 2))
    drawn = [(loops, palette.STEEL, palette.INK)]
    return _Panel(f"{title} at {where}", drawn, points.min(axis=0), points.max(axis=0))


def _deepest(cavity: Mesh) -> Floats:
    """The middle of the lowest floor."""
    points = cavity.vertices
    low = points[points[:, 2] < points[:, 2].min() + SHY]
    return np.asarray(0.5 * (low.min(axis=0) + low.max(axis=0)))
