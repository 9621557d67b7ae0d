# SPDX-License-Identifier: Apache-2.0
"""The pans cut through their pickups: oil at rest, and where the pickup uncovers."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.alt import limit_alt, rest_alt
from sumpwright.report.cut import SEEN, Cut, Look, cut_of, line_of
from sumpwright.report.cut_draw import Level, Sheet, draw_cut
from sumpwright.report.cut_label import draw_gap, gap_ends, rest_labels, rest_levels
from sumpwright.report.label import Column, draw_labels
from sumpwright.report.lettering import fitted, text_width
from sumpwright.report.svg import Drawing
from sumpwright.report.text import plain
from sumpwright.studies.result import CheckResult
from sumpwright.studies.scene import Scene, Way, Which

Floats = NDArray[np.float64]

WIDE, GUTTER, HEAD, EDGE = 960.0, 20.0, 46.0, 0.6
REST_WIDE, REST_TALL, REST_HEAD, REST_LEAST = 700.0, 1130.0, 30.0, 150.0
"""With a column of words beside it; all panels at rest go on one page."""
MOST_SCALE = 1250.0
"""Units a metre."""
LOOKS: tuple[Look, Look] = ("across", "along")
MARGIN = 0.055
"""Round the pan, to show what is next to it [m]."""
ABOVE, UNDER = 0.045, 0.016
"""Over the rail and under the pan [m]."""

TITLE: dict[Way, str] = {
    "rest": "At rest",
    "left": "Left turn",
    "right": "Right turn",
    "brake": "Braking",
    "accelerate": "Accelerating",
}
GOES: dict[Way, tuple[str, str]] = {
    "left": ("left", "right"),
    "right": ("right", "left"),
    "brake": ("back", "forward"),
    "accelerate": ("forward", "back"),
}
"""Where the car is pushed, and where the oil runs."""
LOOK: dict[Way, Look] = {
    "left": "across",
    "right": "across",
    "brake": "along",
    "accelerate": "along",
}
POINTS: dict[Way, float] = {"left": -1.0, "right": 1.0, "brake": -1.0, "accelerate": 1.0}
"""Which way across the picture the car is accelerated."""


@dataclass(frozen=True)
class _Panel:
    which: Which
    way: Way
    cut: Cut
    levels: list[Level]


def rest_view(result: CheckResult, scene: Scene) -> bytes:
    """The pans one below the other, across and along, with the levels, the gap and the names."""
    panels = [
        _Panel(which, "rest", _with_stick(_cut(scene, which, look), result, which), levels)
        for look in LOOKS
        for which in _pans(scene)
        for levels in (rest_levels(result, scene, which),)
    ]
    deep = [_depth(scene, p) for p in panels]
    wide = max(float(np.ptp(_reach(panels, look))) for look in LOOKS) + 2.0 * MARGIN
    room = REST_TALL - len(panels) * (REST_HEAD + GUTTER)
    scale = min(REST_WIDE / wide, room / sum(deep), MOST_SCALE)
    high = [max(d * scale, REST_LEAST) for d in deep]
    tall = sum(high) + len(panels) * (REST_HEAD + GUTTER) - GUTTER
    drawing = Drawing(WIDE, tall + EDGE, key="rest", says=rest_alt(result))
    top = 0.0
    for panel, each in zip(panels, high, strict=True):
        middle = float(_reach(panels, panel.cut.look).mean())
        ceiling = float(panel.cut.bounds[1, 1]) + ABOVE
        size = (REST_WIDE - EDGE, each)
        sheet = Sheet(EDGE, top + REST_HEAD, *size, scale, middle, ceiling)
        _rest_panel(drawing, result, scene, panel, sheet)
        top += each + REST_HEAD + GUTTER
    return drawing.svg()


def _rest_panel(
    drawing: Drawing, result: CheckResult, scene: Scene, panel: _Panel, sheet: Sheet
) -> None:
    cut, levels = panel.cut, panel.levels
    name = plain(cut.pan.name)
    words = fitted(f"{panel.which.capitalize()}: {name}", 15.0, 0.6 * WIDE, bold=True)
    drawing.text((0.0, sheet.top - 9.0), words, size=15, bold=True)
    after = text_width(words, 15.0, bold=True) + 12.0
    drawing.text((after, sheet.top - 9.0), SEEN[cut.look], size=14, fill=palette.MUTED)
    draw_cut(drawing, sheet, scene, cut, levels, rest=True)
    ends = gap_ends(scene, sheet, cut, levels)
    if ends is not None and sheet.top < ends[:, 1].min() and cut.look == "across":
        draw_gap(drawing, ends)
    column = Column(REST_WIDE + 20.0, WIDE - 4.0, sheet.top, sheet.top + sheet.height)
    labels = rest_labels(result, scene, sheet, cut, levels, panel.which)
    draw_labels(drawing, labels, column)


def _reach(panels: list[_Panel], look: Look) -> Floats:
    """(2,) left and right end of the pans in all panels that look the same way."""
    bounds = np.stack([p.cut.bounds for p in panels if p.cut.look == look])
    return np.array([bounds[:, 0, 0].min(), bounds[:, 1, 0].max()])


def limit_view(result: CheckResult, scene: Scene, ways: tuple[Way, Way], key: str) -> bytes:
    """Both pans at the g where the pickup uncovers, in two opposite ways."""
    rows = [[_limit_panel(scene, which, way) for way in ways] for which in _pans(scene)]
    wide = 0.5 * (WIDE - GUTTER)
    reach = max(float(np.ptp(p.cut.bounds[:, 0])) for row in rows for p in row)
    scale = min(wide / (reach + 2.0 * MARGIN), MOST_SCALE)
    deep = [max(_depth(scene, p) for p in row) * scale for row in rows]
    tall = sum(deep) + len(rows) * (HEAD + GUTTER) - GUTTER
    drawing = Drawing(WIDE, tall + EDGE, key=key, says=limit_alt(result, ways))
    top = 0.0
    for row, high in zip(rows, deep, strict=True):
        for k, panel in enumerate(row):
            left = k * (wide + GUTTER)
            _header(drawing, left, top, wide, panel)
            middle, ceiling = float(panel.cut.bounds[:, 0].mean()), panel.cut.bounds[1, 1] + ABOVE
            size = (wide - 2.0 * EDGE, high)
            sheet = Sheet(left + EDGE, top + HEAD, *size, scale, middle, float(ceiling))
            draw_cut(drawing, sheet, scene, panel.cut, panel.levels, rest=False)
            _uncovered(drawing, sheet, scene, panel)
        top += high + HEAD + GUTTER
    return drawing.svg()


def _limit_panel(scene: Scene, which: Which, way: Way) -> _Panel:
    surface = scene.surface(which, way)
    levels = [] if surface is None else [Level(surface)]
    return _Panel(which, way, _cut(scene, which, LOOK[way]), levels)


def _uncovered(drawing: Drawing, sheet: Sheet, scene: Scene, panel: _Panel) -> None:
    """A ring round the end of the pickup that loses the oil."""
    rim, levels = panel.cut.rim, panel.levels
    if rim is None or not levels or levels[0].surface.held:
        return
    tilt, _ = line_of(scene, panel.cut, levels[0].surface)
    spot = sheet.at(rim[int((rim @ tilt).argmax())]).tolist()
    drawing.dot(spot, 9.0, stroke=palette.PAPER, width=5.0)
    drawing.dot(spot, 9.0, stroke=palette.INK, width=2.4)


def _pans(scene: Scene) -> list[Which]:
    return ["new"] if scene.stock is None else ["new", "stock"]


def _cut(scene: Scene, which: Which, look: Look) -> Cut:
    cut = cut_of(scene, which, look)
    if cut is None:
        raise ValueError(f"the scene has no {which} pan")
    return cut


def _with_stick(cut: Cut, result: CheckResult, which: Which) -> Cut:
    """The stick no longer than it reads, where the job does not say how long it is."""
    fill = result.fill if which == "new" or result.fill.stock is None else result.fill.stock
    scale, stick = fill.dipstick, cut.pan.dipstick
    if cut.dipstick is None or stick is None or scale is None:
        return cut
    share = min(scale.low_end_along_m / float(np.linalg.norm(stick[1] - stick[0])), 1.0)
    start, tip = cut.dipstick
    return replace(cut, dipstick=np.stack([start, start + share * (tip - start)]))


def _depth(scene: Scene, panel: _Panel) -> float:
    """How much height a panel shows [m]; across and at rest down to the ground, where near."""
    low, high = panel.cut.bounds
    floor = low[1] - UNDER
    if panel.way == "rest":
        near = [loop[:, 1].min() for o in panel.cut.obstacles for loop in o.outlines]
        floor = min([floor, *(v - 0.5 * UNDER for v in near if v > low[1] - ABOVE)])
    if panel.way == "rest" and panel.cut.look == "across" and scene.has_ground and low[1] < 0.35:
        floor = min(floor, -0.012)
    return float(high[1] + ABOVE - floor)


def _header(drawing: Drawing, left: float, top: float, wide: float, panel: _Panel) -> None:
    row, under = top + 16.0, top + 35.0
    drawing.text((left, row), f"{TITLE[panel.way]}, {panel.which} pan", size=15, bold=True)
    drawing.text((left, under), _verdict(panel), size=14, bold=True)
    pushed, runs = GOES[panel.way]
    side = POINTS[panel.way]
    _pointer(drawing, left + wide, row, f"car is pushed {pushed}", palette.NEW, side)
    _pointer(drawing, left + wide, under, f"oil runs {runs}", palette.OIL_LINE, -side)


def _pointer(drawing: Drawing, right: float, y: float, words: str, ink: str, side: float) -> None:
    """Words with an arrow after them, ending at `right`; `side` +1 points right."""
    ends = (right - 42.0, right - 2.0)
    tail, tip = ends if side > 0 else ends[::-1]
    drawing.arrow((tail, y - 4.5), (tip, y - 4.5), stroke=ink, width=2.6)
    drawing.text((right - 50.0, y), words, size=13, fill=ink, anchor="end")


def _verdict(panel: _Panel) -> str:
    if not panel.levels:
        return "not computed"
    surface = panel.levels[0].surface
    words = "still covered at" if surface.held else "uncovers at"
    return f"{words} {surface.magnitude:.2f} g"
