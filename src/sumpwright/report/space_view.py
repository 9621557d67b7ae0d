# SPDX-License-Identifier: Apache-2.0
"""The free space in plan, coloured by depth, and in two upright cuts among its obstacles."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.free_space_grid import Field
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.section import CutPlane, Outlines, section_outlines
from sumpwright.report import palette
from sumpwright.report.axis import Axis, round_step, tick_text, ticks
from sumpwright.report.cut_draw import Sheet
from sumpwright.report.lettering import text_width, wrapped
from sumpwright.report.svg import Drawing
from sumpwright.report.text import plain
from sumpwright.studies.space_result import SpaceResult
from sumpwright.studies.space_scene import SpaceScene
from sumpwright.units import shown, shown_number, unit_name

Floats = NDArray[np.float64]

WIDE, LEFT, SIDE, HEAD, ROW, GUTTER = 960.0, 640.0, 664.0, 62.0, 20.0, 16.0
MARGIN = 0.012
"""Round the space [m]."""
BANDS = palette.GAP_BANDS[::-1]
"""Shallow to deep: pale to dark."""
CHART = 170.0


def space_view(result: SpaceResult, scene: SpaceScene) -> bytes:
    """Plan, cut along and cut across at one scale, the litres over depth, and the sentences."""
    low, high = _frame(scene)
    scale = LEFT / float(high[0] - low[0])
    plan_high, cut_high = scale * float(high[1] - low[1]), scale * float(high[2] - low[2])
    tall = HEAD + plan_high + 2.0 * cut_high + 3.0 * (ROW + GUTTER)
    drawing = Drawing(WIDE, tall, key="space", says=_alt(result))
    drawing.text((0.0, 20.0), f"{result.job}, revision {result.revision}", size=17, bold=True)
    drawing.text((0.0, 42.0), "Free space below the rail", size=15)
    middle = 0.5 * (low + high)
    top = HEAD + ROW
    sheet = Sheet(0.0, top, LEFT, plan_high, scale, float(middle[0]), float(high[1]))
    drawing.text(
        (0.0, top - 7.0), "Plan from above, front of engine to the right", size=14, bold=True
    )
    steps = _plan(drawing, sheet, scene, result.units)
    top += plan_high + ROW + GUTTER
    spot = _deep_spot(scene)
    for words, plane, across in _cuts(spot):
        drawing.text((0.0, top - 7.0), words, size=14, bold=True)
        mid = float(middle[0]) if across is None else across * float(middle[1])
        cut = Sheet(0.0, top, LEFT, cut_high, scale, mid, float(high[2]))
        _cut(drawing, cut, scene, plane)
        top += cut_high + ROW + GUTTER
    _legend(drawing, steps, result.units)
    _chart(drawing, result)
    _say(drawing, result, HEAD + 128.0 + CHART + 62.0, tall)
    return drawing.svg()


def _frame(scene: SpaceScene) -> tuple[Floats, Floats]:
    """The box that the pictures show: space and pan, with a margin, and a little over the rail."""
    bounds = np.stack([scene.space.bounds, scene.pan.bounds])
    low, high = bounds[:, 0].min(axis=0) - MARGIN, bounds[:, 1].max(axis=0) + MARGIN
    low[2] -= MARGIN
    return low, high


def _deep_spot(scene: SpaceScene) -> Floats:
    """(2,) the middle of the deepest tenth of the space: where the cuts go."""
    deep = scene.floor >= 0.9 * scene.floor.max()
    return np.asarray(scene.grid.places(np.append(np.argwhere(deep).mean(axis=0), 0.0))[:2])


def _cuts(spot: Floats) -> tuple[tuple[str, CutPlane, float | None], ...]:
    x, y, _ = np.eye(3)
    origin = np.append(spot, 0.0)
    return (
        ("Cut along the engine, front to the right", CutPlane(origin * y, -y, x), None),
        ("Cut across the engine, seen from behind", CutPlane(origin * x, -x, -y), -1.0),
    )


def _plan(drawing: Drawing, sheet: Sheet, scene: SpaceScene, units: str) -> Floats:
    """The floor's depth in bands; the band edges [m]."""
    steps = _steps(float(scene.floor.max()), units)
    drawing.box(sheet.left, sheet.top, sheet.width, sheet.height, fill=palette.PAPER)
    drawing.clip(sheet.left, sheet.top, sheet.width, sheet.height)
    for colour, step in zip(BANDS, [1e-4, *steps], strict=False):
        loops = _contours(scene.floor, scene.grid.origin[:2], scene.grid.step, float(step))
        drawing.path(sheet.loops(loops), fill=colour, stroke=palette.INK, width=0.5)
    for body in scene.bodies:
        for loop in _shadow(body.mesh):
            ring = [sheet.at(loop)]
            drawing.path(ring, stroke=palette.PAPER, width=3.0)
            drawing.path(ring, stroke=palette.INK, width=1.1, dash=(5.0, 3.0))
    drawing.path(sheet.loops(scene.opening), stroke=palette.PAPER, width=4.0)
    drawing.path(sheet.loops(scene.opening), stroke=palette.INK, width=2.0)
    for loop in _shadow(scene.pan):
        drawing.path([sheet.at(loop)], stroke=palette.PAPER, width=3.4)
        drawing.path([sheet.at(loop)], stroke=palette.OIL_LINE, width=1.6, dash=(9.0, 3.0))
    _names(drawing, sheet, [(body.name, _shadow(body.mesh)) for body in scene.bodies])
    drawing.unclip()
    drawing.box(sheet.left, sheet.top, sheet.width, sheet.height, stroke=palette.RULE)
    return steps


def _steps(deepest: float, units: str) -> Floats:
    """Depths at which the next colour begins."""
    unit = 0.005 if units == "metric" else 0.00635
    step = unit * max(np.ceil(deepest / len(BANDS) / unit), 1.0)
    return np.asarray(step * np.arange(1, len(BANDS)))


def _contours(values: Floats, origin: Floats, step: float, level: float) -> list[Floats]:
    from skimage.measure import find_contours

    padded = np.pad(values, 1, constant_values=min(float(values.min()), level) - step)
    return [origin + step * (loop - 1.0) for loop in find_contours(padded, level)]


def _shadow(mesh: Mesh) -> list[Floats]:
    """Outlines of a body seen from above."""
    from sumpwright.geometry.region import outlines_of
    from sumpwright.geometry.solid import solid_of

    try:
        return outlines_of(solid_of(mesh, what="a body").scale((1e3,) * 3).project())
    except RangeError:
        return []


def _names(drawing: Drawing, sheet: Sheet, named: list[tuple[str, list[Floats]]]) -> None:
    """Names of the obstacles that show, in turn at the lower and upper end of what shows."""
    low, high = sheet.box
    for k, (name, loops) in enumerate(named):
        shown_ones = [sheet.at(loop) for loop in loops]
        seen = [p for p in shown_ones if (p.min(0) < high - 8).all() and (p.max(0) > low + 8).all()]
        if not seen:
            continue
        points = np.clip(seen[0], low, high)
        x, y = 0.5 * (points.min(axis=0) + points.max(axis=0))
        if np.ptp(points[:, 1]) > 60.0:
            y = points[:, 1].max() - 14.0 if k % 2 == 0 else points[:, 1].min() + 22.0
        half = 0.5 * text_width(name, 13.0, False) + 4.0
        spot = (float(np.clip(x, low[0] + half, high[0] - half)), float(y) + 4.0)
        drawing.text(spot, name, size=13, anchor="middle", halo=True)


def _cut(drawing: Drawing, sheet: Sheet, scene: SpaceScene, plane: CutPlane) -> None:
    drawing.box(sheet.left, sheet.top, sheet.width, sheet.height, fill=palette.PAPER)
    drawing.clip(sheet.left, sheet.top, sheet.width, sheet.height)
    loops = sheet.loops(_outlines(scene.space, plane))
    drawing.path(loops, fill=BANDS[1], stroke=palette.INK, width=1.4)
    for body in scene.bodies:
        outlines = _outlines(body.mesh, plane)
        drawing.path(sheet.loops(outlines), fill=palette.BODY, stroke=palette.INK, width=0.8)
        keep = _field_lines(body.keep, scene, plane)
        drawing.path(sheet.loops(keep), stroke=palette.AIR, width=1.4, dash=(4, 3), closed=False)
    floor = _field_lines(scene.low, scene, plane)
    drawing.path(sheet.loops(floor), stroke=palette.INK, width=1.4, dash=(10, 4), closed=False)
    pan = sheet.loops(_outlines(scene.pan, plane))
    drawing.path(pan, stroke=palette.PAPER, width=3.4)
    drawing.path(pan, stroke=palette.OIL_LINE, width=1.6, dash=(9.0, 3.0))
    ends = np.array([[sheet.middle - 1.0, 0.0], [sheet.middle + 1.0, 0.0]])
    drawing.path([sheet.at(ends)], stroke=palette.MUTED, dash=(9, 3, 2, 3), closed=False)
    _names(drawing, sheet, [(body.name, _outlines(body.mesh, plane)) for body in scene.bodies])
    drawing.unclip()
    drawing.box(sheet.left, sheet.top, sheet.width, sheet.height, stroke=palette.RULE)


def _outlines(mesh: Mesh, plane: CutPlane) -> Outlines:
    try:
        return section_outlines(mesh, plane)
    except RangeError:
        return []


def _field_lines(field: Field, scene: SpaceScene, plane: CutPlane) -> list[Floats]:
    """Where a field is nought in an upright cut square to x or y, open at the grid's edge."""
    from skimage.measure import find_contours

    along = int(np.abs(plane.normal).argmax())
    where = (float(plane.origin[along]) - scene.grid.origin[along]) / scene.grid.step
    k = int(np.clip(np.floor(where), 0, field.shape[along] - 2))
    t = where - k
    flat = (1.0 - t) * field.take(k, axis=along) + t * field.take(k + 1, axis=along)
    found = []
    for loop in find_contours(flat.astype(float), 0.0):
        index = np.insert(loop, along, where, axis=1)
        found.append(plane.flat(scene.grid.places(index)))
    return found


def _legend(drawing: Drawing, steps: Floats, units: str) -> None:
    digits = 0 if units == "metric" else 2
    edges = [0.0, *steps.tolist()]
    drawing.text((SIDE, HEAD + 10.0), "Floor below the rail", size=14, bold=True)
    for k, colour in enumerate(BANDS):
        y = HEAD + 20.0 + 19.0 * k
        drawing.box(SIDE, y, 26.0, 15.0, fill=colour, stroke=palette.MUTED, line=0.5)
        low = shown_number(edges[k], "length", units)
        high = (
            f" to {shown(edges[k + 1], 'length', units, digits=digits)}" if k < len(steps) else ""
        )
        words = (
            f"{low:.{digits}f}{high}"
            if high
            else f"over {low:.{digits}f} {unit_name('length', units)}"
        )
        drawing.text((SIDE + 34.0, y + 12.0), words, size=13)
    keys = (
        ("opening", palette.INK, 2.0, ()),
        ("present pan", palette.OIL_LINE, 1.6, (9.0, 3.0)),
        ("gap kept", palette.AIR, 1.4, (4.0, 3.0)),
        ("lowest", palette.INK, 1.4, (10.0, 4.0)),
        ("obstacle", palette.INK, 1.1, (5.0, 3.0)),
    )
    for k, (words, ink, width, dash) in enumerate(keys):
        y = HEAD + 27.0 + 19.0 * k
        drawing.line((SIDE + 170.0, y), (SIDE + 204.0, y), stroke=ink, width=width, dash=dash)
        drawing.text((SIDE + 212.0, y + 4.5), words, size=13)


def _chart(drawing: Drawing, result: SpaceResult) -> None:
    """Litres over depth: this space, and without kick-outs."""
    units, table = result.units, result.table
    volume, length = unit_name("volume", units), unit_name("length", units)
    top = HEAD + 156.0
    title = (
        f"Litres down to a depth [{volume}, {length}]"
        if units == "metric"
        else (f"Room down to a depth [{volume}, {length}]")
    )
    drawing.text((SIDE, top - 8.0), title, size=14, bold=True)
    most = shown_number(max(result.curve_m3[-1], 1e-6), "volume", units)
    deepest = shown_number(result.deepest_m, "length", units)
    x = Axis(0.0, 1.05 * deepest, SIDE + 30.0, WIDE - 6.0)
    y = Axis(0.0, 1.08 * most, top + CHART, top + 6.0)
    for at in ticks(0.0, most, 4):
        drawing.line((x.start, y.at(at)), (x.end, y.at(at)), stroke=palette.RULE)
        words = tick_text(at, round_step(most, 4))
        drawing.text((x.start - 5.0, y.at(at) + 4.5), words, size=12, anchor="end")
    for at in ticks(0.0, deepest, 5):
        words = tick_text(at, round_step(deepest, 5))
        drawing.text((x.at(at), y.start + 16.0), words, size=12, anchor="middle")
    bare = [row[0] for row in table.volumes_m3["both"]]
    lines = (
        ("this space", result.curve_depth_m, result.curve_m3, palette.NEW, ()),
        ("no kick-outs", table.depths_m, tuple(bare), palette.INK, palette.STOCK_DASH),
    )
    for words, depths, volumes, ink, dash in lines:
        pairs = zip(depths, volumes, strict=True)
        points = [
            (x.at(shown_number(d, "length", units)), y.at(shown_number(v, "volume", units)))
            for d, v in pairs
        ]
        drawing.path([points], stroke=ink, width=2.0, dash=dash, closed=False)
        end = points[-1]
        drawing.text((end[0] - 8.0, end[1] - 8.0), words, size=12, anchor="end", halo=True)


def _say(drawing: Drawing, result: SpaceResult, top: float, bottom: float) -> None:
    y = top
    for words in (result.summary, *result.sentences):
        rows = wrapped(plain(words), 13.0, WIDE - SIDE)
        if y + 17.0 * len(rows) > bottom:
            return
        for row in rows:
            drawing.text((SIDE, y), row, size=13)
            y += 17.0
        y += 6.0


def _alt(result: SpaceResult) -> str:
    return f"The free space below the rail in plan and in two upright cuts. {result.summary}"
