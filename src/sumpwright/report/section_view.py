# SPDX-License-Identifier: Apache-2.0
"""The pans cut through their pickups: oil at rest, and where the pickup uncovers."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.cut import Cut, Look, Sheet, cut_of, draw_cut
from sumpwright.report.lettering import fitted
from sumpwright.report.svg import Drawing
from sumpwright.report.text import plain
from sumpwright.studies.result import CheckResult
from sumpwright.studies.scene import Scene, Surface, Way, Which
from sumpwright.units import shown

Floats = NDArray[np.float64]

WIDE, GUTTER, HEAD = 960.0, 20.0, 46.0
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
    surface: Surface | None


def rest_view(result: CheckResult, scene: Scene) -> bytes:
    """Both pans across and along, oil at rest, with the ground and what is near."""
    rows = [
        [_panel(scene, which, "rest", look) for which in _pans(scene)]
        for look in ("across", "along")
    ]
    return _grid(result, scene, rows, key="rest", says="Oil at rest, cut through the pickup")


def limit_view(scene: Scene, ways: tuple[Way, Way], key: str) -> bytes:
    """Both pans at the g where the pickup uncovers, in two opposite ways."""
    rows = [[_panel(scene, which, way, LOOK[way]) for way in ways] for which in _pans(scene)]
    names = " and ".join(TITLE[w].lower() for w in ways)
    return _grid(None, scene, rows, key=key, says=f"Where the pickup uncovers: {names}")


def _pans(scene: Scene) -> list[Which]:
    return ["new"] if scene.stock is None else ["new", "stock"]


def _panel(scene: Scene, which: Which, way: Way, look: Look) -> _Panel:
    cut = cut_of(scene, which, look)
    if cut is None:
        raise ValueError(f"the scene has no {which} pan")
    return _Panel(which, way, cut, scene.surface(which, way))


def _grid(
    result: CheckResult | None, scene: Scene, rows: list[list[_Panel]], *, key: str, says: str
) -> bytes:
    columns = max(len(row) for row in rows)
    wide = (WIDE - GUTTER * (columns - 1)) / columns
    reach = max(float(np.ptp(p.cut.bounds[:, 0])) for row in rows for p in row)
    scale = min(wide / (reach + 2.0 * MARGIN), 1250.0)
    deep = [max(_depth(scene, p) for p in row) * scale for row in rows]
    drawing = Drawing(
        WIDE, sum(deep) + len(rows) * HEAD + GUTTER * (len(rows) - 1), key=key, says=says
    )
    top = 0.0
    for row, high in zip(rows, deep, strict=True):
        for k, panel in enumerate(row):
            left = k * (wide + GUTTER)
            _header(drawing, left, top, wide, result, panel)
            low, far = panel.cut.bounds
            sheet = Sheet(
                left, top + HEAD, wide, high, scale, 0.5 * (low[0] + far[0]), far[1] + ABOVE
            )
            drawing.box(left, top + HEAD, wide, high, fill=palette.PAPER, stroke=palette.RULE)
            draw_cut(drawing, sheet, scene, panel.cut, panel.surface, words=panel.way == "rest")
        top += high + HEAD + GUTTER
    return drawing.svg()


def _depth(scene: Scene, panel: _Panel) -> float:
    """How much height a panel shows [m]: at rest down to the ground, where it is near."""
    low, high = panel.cut.bounds
    floor = low[1] - UNDER
    if panel.way == "rest" and scene.has_ground and low[1] < 0.35:
        floor = min(floor, -0.012)
    return float(high[1] + ABOVE - floor)


def _header(
    drawing: Drawing,
    left: float,
    top: float,
    wide: float,
    result: CheckResult | None,
    panel: _Panel,
) -> None:
    name = f"{'new' if panel.which == 'new' else 'stock'}: {plain(panel.cut.pan.name)}"
    row, under = top + 16.0, top + 35.0
    if panel.way == "rest":
        seen = {
            "across": "Across the car, seen from behind",
            "along": "Along the car, nose to the right",
        }
        words = fitted(name[0].upper() + name[1:], 15, wide, bold=True)
        drawing.text((left, row), words, size=15, bold=True)
        words = f"{seen[panel.cut.look]}. {_oil(result, panel)}"
        drawing.text((left, under), words, size=13, fill=palette.MUTED)
        return
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


def _oil(result: CheckResult | None, panel: _Panel) -> str:
    if panel.surface is None or result is None:
        return ""
    hold = result.hold
    found = hold if panel.which == "new" or hold is None else hold.stock
    if found is None:
        return ""
    running = "" if found.rpm is None else f" at {found.rpm:.0f} rpm"
    return f"{shown(found.oil_m3, 'volume', result.units)} in the pan{running}"


def _verdict(panel: _Panel) -> str:
    if panel.surface is None:
        return "not computed"
    words = "still covered at" if panel.surface.held else "uncovers at"
    return f"{words} {panel.surface.magnitude:.2f} g"
