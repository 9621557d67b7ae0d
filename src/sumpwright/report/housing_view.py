# SPDX-License-Identifier: Apache-2.0
"""The pickup housing where it stands: cut along the engine through its inlet, and from above."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.edge import welded
from sumpwright.geometry.section import CutPlane, section_outlines
from sumpwright.report import palette
from sumpwright.report.cut_draw import Sheet
from sumpwright.report.svg import Drawing
from sumpwright.studies.housing_result import HousingResult, HousingScene
from sumpwright.units import shown

Floats = NDArray[np.float64]

WIDE, HEAD, LINE = 760.0, 60.0, 22.0
MARGIN = 0.012
"""m; of the pan round the housing that is shown."""
COLOURS = {
    "pickup-housing": palette.NEW,
    "retaining-flange": palette.LINES[2],
    "screen-blank": palette.LINES[1],
}
NAMES = {
    "pickup-housing": "housing",
    "retaining-flange": "retaining flange",
    "screen-blank": "screen",
}


def housing_view(result: HousingResult, scene: HousingScene) -> bytes:
    """Cut and plan at one scale, with the sizes that matter."""
    low, high = _bounds(scene)
    wide, deep, tall = (high - low + 2.0 * MARGIN).tolist()
    scale = min((WIDE - 40.0) / (2.0 * wide), 6000.0)
    rows = scale * max(tall, deep)
    drawing = Drawing(WIDE, HEAD + rows + 6.0 * LINE, key="housing", says=_alt(result))
    drawing.text((0.0, 20.0), f"{result.job}, revision {result.revision}: pickup housing",
                 size=17, bold=True)  # fmt: skip
    drawing.text((0.0, 46.0), "Cut through the inlet, nose to the right", size=14, bold=True)
    left = Sheet(0.0, HEAD, scale * wide, scale * tall, scale, 0.0, float(high[2]) + MARGIN)
    _cut(drawing, left, scene, low, high)
    at = WIDE - scale * wide
    drawing.text((at, 46.0), "From above, nose to the right", size=14, bold=True)
    right = Sheet(at, HEAD, scale * wide, scale * deep, scale, 0.0, 0.5 * deep)
    _plan(drawing, right, scene, 0.5 * (low + high))
    for k, words in enumerate(_sizes(result)):
        drawing.text((0.0, HEAD + rows + LINE * (k + 1.2)), words, size=14)
    _key(drawing, scene, HEAD + rows + LINE * 1.2)
    return drawing.svg()


def _bounds(scene: HousingScene) -> tuple[Floats, Floats]:
    """Of the housing with its flange, down to the floor."""
    boxes = np.stack([mesh.bounds for _, mesh in scene.bodies])
    low, high = boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)
    low[2] = min(low[2], float(scene.cavity.bounds[0, 2]))
    return low, high


def _cut(drawing: Drawing, sheet: Sheet, scene: HousingScene, low: Floats, high: Floats) -> None:
    middle = 0.5 * float(low[0] + high[0])
    plane = CutPlane(
        np.array([middle, scene.centre[1], 0.0]), np.array([0.0, -1.0, 0.0]), np.array([1.0, 0, 0])
    )
    drawing.box(sheet.left, sheet.top, sheet.width, sheet.height, fill=palette.STEEL)
    drawing.clip(sheet.left, sheet.top, sheet.width, sheet.height)
    inside = sheet.loops(section_outlines(welded(scene.cavity), plane))
    drawing.path(inside, fill=palette.PAPER, stroke=palette.INK, width=1.2)
    for key, mesh in scene.bodies:
        loops = sheet.loops(section_outlines(mesh, plane))
        drawing.path(loops, fill=COLOURS[key], stroke=palette.INK, width=0.8)
    drawing.unclip()


def _plan(drawing: Drawing, sheet: Sheet, scene: HousingScene, middle: Floats) -> None:
    dashes = {"inside": (6.0, 3.0), "screen": (2.0, 2.0)}
    flange = dict(scene.bodies).get("retaining-flange")
    if flange is not None:  # with its lugs and holes
        up = np.array([0.0, 0.0, 1.0])
        plane = CutPlane(flange.bounds.mean(axis=0), up, np.array([1.0, 0.0, 0.0]))
        drawing.path(
            [sheet.at(o + plane.origin[:2] - middle[:2]) for o in section_outlines(flange, plane)],
            fill=palette.FAINT,
            stroke=palette.INK,
            width=1.2,
        )
    for name, outline in scene.outlines:
        colour = palette.LINES[1] if name == "screen" else palette.INK
        loop = sheet.at(outline - middle[:2])
        drawing.path([loop], stroke=colour, width=1.4, dash=dashes.get(name, ()))
    for bolt in scene.bolts:
        spot = sheet.at(np.asarray(bolt) - middle[:2])
        drawing.dot(spot, 0.5 * scene.clearance * sheet.scale, stroke=palette.INK, width=1.2)


def _sizes(result: HousingResult) -> Iterator[str]:
    units = result.units
    gap = result.over_floor_m
    if gap is not None:
        yield f"Inlet {shown(gap, 'length', units)} over the floor"
    high = shown(result.height_m, "length", units)
    yield f"{high} high, {result.low_profile:.2f} of its inlet's width"
    yield f"Open for {result.open_m2 / result.tube_m2:.1f} times the tube's bore"
    if result.bolting is not None:
        yield f"{result.bolting.count} screws {result.bolting.thread}"


def _key(drawing: Drawing, scene: HousingScene, top: float) -> None:
    entries = [(COLOURS[key], NAMES[key]) for key, _ in scene.bodies]
    for k, (colour, name) in enumerate([*entries, (palette.STEEL, "pan")]):
        y = top + LINE * k
        drawing.box(WIDE - 180.0, y - 11.0, 14.0, 14.0, fill=colour, stroke=palette.INK)
        drawing.text((WIDE - 160.0, y), name, size=14)


def _alt(result: HousingResult) -> str:
    return (
        f"Pickup housing of {result.job}, cut through its inlet and seen from above: "
        + "; ".join(_sizes(result))
    )
