# SPDX-License-Identifier: Apache-2.0
"""The parted pan in plan, along and across: what the program understood of the baffles."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.place import counted
from sumpwright.geometry.section import CutPlane
from sumpwright.report import palette
from sumpwright.report.compartment_cut import BADGE, PartedCut, draw_parted
from sumpwright.report.cut_draw import Sheet
from sumpwright.report.lettering import fitted, wrapped
from sumpwright.report.svg import Drawing
from sumpwright.report.text import plain
from sumpwright.studies.compartment_scene import CompartmentScene, Way
from sumpwright.studies.motion_result import CompartmentsResult
from sumpwright.units import shown

Floats = NDArray[np.float64]

WIDE, LEFT, SIDE, HEAD, GUTTER = 960.0, 640.0, 660.0, 58.0, 14.0
MOST_SCALE = 1800.0
"""Units a metre."""
MARGIN = 0.006
"""Round the pan [m]."""
LEAST = 150.0
"""Units of height beside which the words find room."""
HEIGHTS = 60
"""Heights that are looked at for the plan."""
ROW = 19.0
MOST_SAID = 8
"""Warnings that the picture has room for."""


def compartment_view(result: CompartmentsResult, scene: CompartmentScene) -> bytes:
    """Plan with names, two upright cuts, a list of the compartments and the warnings."""
    plan, along, across = _cuts(scene)
    size = np.ptp(scene.space.bounds, axis=0) + 2.0 * MARGIN
    scale = min(LEFT / max(size[0], size[1]), MOST_SCALE)
    cuts = (plan, along, across)
    low = 2.0 * BADGE  # room under the floor for a number
    rows = np.array([max(scale * np.ptp(_span(cut)), LEAST) + low for cut in cuts])
    tall = HEAD + float(rows.sum()) + 3.0 * (ROW + GUTTER)
    drawing = Drawing(WIDE, tall, key="compartments", says=_alt(result))
    drawing.text((0.0, 20.0), f"{result.job}, revision {result.revision}", size=17, bold=True)
    drawing.text((0.0, 40.0), _key(), size=13, fill=palette.MUTED)
    top = HEAD
    z = shown(float(plan.plane.origin[2]), "length", result.units, digits=0)
    says = (
        f"Plan cut at {z} from the rail, seen from above, nose to the right",
        "Along the pan, nose to the right",
        "Across the pan, seen from behind",
    )
    sheets = []
    for cut, words, high in zip(cuts, says, rows, strict=True):
        drawing.text((0.0, top + 13.0), words, size=14, bold=True)
        sheets.append(_sheet(cut, top + ROW, float(high), scale))
        draw_parted(drawing, sheets[-1], cut, _numbers(scene, plan))
        top += ROW + float(high) + GUTTER
    _baffles(drawing, plan, sheets[0])
    _list(drawing, result, sheets[1].top)
    _warnings(drawing, result, sheets[2].top)
    return drawing.svg()


def _cuts(scene: CompartmentScene) -> tuple[PartedCut, PartedCut, PartedCut]:
    """Plan, along and across; the upright ones through the pickup, where there is one."""
    middle = scene.space.bounds.mean(axis=0) if scene.rim is None else scene.rim.mean(axis=0)
    x, y, z = scene.axes
    plans = [PartedCut(scene, CutPlane(h * z, z, x)) for h in _heights(scene)]
    plan = max(plans, key=lambda cut: sum(bool(o) for o in cut.bodies))
    along, across = CutPlane(middle, -y, x), CutPlane(middle, -x, -y)
    return plan, PartedCut(scene, along), PartedCut(scene, across)


def _heights(scene: CompartmentScene) -> Floats:
    """From the middle outward, so that the first of the best is the most telling."""
    low, high = scene.space.bounds[:, 2]
    middle = 0.5 * (low + min(high, 0.0))
    heights = np.linspace(low, high, HEIGHTS + 2)[1:-1]
    return heights[np.argsort(np.abs(heights - middle), kind="stable")]


def _span(cut: PartedCut) -> Floats:
    """(2,) lower and upper end of what a cut shows [m]."""
    heights = np.concatenate([loop[:, 1] for loop in cut.space] or [np.zeros(1)])
    return np.array([heights.min() - MARGIN, heights.max() + MARGIN])


def _sheet(cut: PartedCut, top: float, high: float, scale: float) -> Sheet:
    seen = cut.plane.flat(cut.scene.space.vertices)[:, 0]
    middle = 0.5 * float(seen.min() + seen.max())
    return Sheet(0.0, top, LEFT, high, scale, middle, float(_span(cut)[1]))


def _numbers(scene: CompartmentScene, plan: PartedCut) -> dict[tuple[str, str], int]:
    """Numbers of the windows and doors that the plan shows edge on, by baffle and name."""
    seen = [(w.panel, w.name) for w in scene.ways if not plan.faces(w.normal)]
    return {key: k + 1 for k, key in enumerate(dict.fromkeys(seen))}


def _baffles(drawing: Drawing, plan: PartedCut, sheet: Sheet) -> None:
    """Every baffle with its windows and doors, as many as there is room for."""
    title = "Baffles" if plan.scene.sheets else "No baffles"
    drawing.text((SIDE, sheet.top + 10.0), title, size=14, bold=True)
    rows = list(_told(plan))
    room = int((sheet.height - 30.0) / ROW)
    if len(rows) > room:
        rows = [*rows[: room - 1], (f"and {len(rows) - room + 1} more", False, None)]
    for k, (words, bold, number) in enumerate(rows):
        y = sheet.top + 32.0 + ROW * k
        inset = 0.0 if number is None else 22.0
        words = fitted(words, 14.0, WIDE - SIDE - inset, bold)
        drawing.text((SIDE + inset, y), words, size=14, bold=bold)
        if number is not None:
            drawing.dot((SIDE + BADGE, y - 4.5), BADGE, stroke=palette.INK, width=1.0)
            at = (SIDE + BADGE, y - 0.4)
            drawing.text(at, str(number), size=12, bold=True, anchor="middle")


def _told(plan: PartedCut) -> Iterator[tuple[str, bool, int | None]]:
    """Rows of words, whether they are bold, and a number before them."""
    scene = plan.scene
    numbers = _numbers(scene, plan)
    for baffle in sorted(scene.sheets, key=lambda b: plan.faces(b.panel.normal)):
        ways = [w for w in scene.ways if w.panel == baffle.panel.name]
        if plan.faces(baffle.panel.normal):
            count = len({w.name for w in ways})
            yield f"{baffle.panel.name}, level", True, None
            yield f"{counted(count, 'opening')}, seen in the cuts below", False, None
            continue
        yield baffle.panel.name, True, None
        for way in ways:
            yield _said_of(way), False, numbers[way.panel, way.name]
    if scene.solids:
        yield f"grey: {', '.join(name for name, _ in scene.solids)}", False, None
    if scene.rim is not None:
        yield "dashed ring: the pickup's mouth", False, None


def _said_of(way: Way) -> str:
    a, b = way.ends
    return f"{way.name}: " + (f"from {a} into {b} only" if way.door else f"between {a} and {b}")


def _key() -> str:
    return (
        "Thick line: baffle. Gap between ticks: window. With an arrow: trap door, the way oil "
        "passes. Dashed brown: oil at rest, hot, full."
    )


def _list(drawing: Drawing, result: CompartmentsResult, top: float) -> None:
    """Each compartment with its tint, what it holds and what stands in it at rest."""
    for x, words in ((SIDE + 236.0, "holds"), (WIDE, "at rest")):
        drawing.text((x, top + 10.0), words, size=12, anchor="end", fill=palette.MUTED)
    for k, part in enumerate(result.compartments):
        y = top + 32.0 + (ROW + 3.0) * k
        tint = palette.TINTS[k % len(palette.TINTS)]
        drawing.box(SIDE, y - 13.0, 20.0, 17.0, fill=tint, stroke=palette.MUTED, line=0.5)
        drawing.text((SIDE + 10.0, y), part.name, size=13, bold=True, anchor="middle")
        words = f"{part.where}, pickup".lstrip(", ") if part.has_pickup else part.where
        drawing.text((SIDE + 28.0, y), fitted(words, 14.0, 152.0), size=14)
        held = "" if part.at_rest_m3 is None else shown(part.at_rest_m3, "volume", result.units)
        volume = shown(part.volume_m3, "volume", result.units)
        drawing.text((SIDE + 236.0, y), volume, size=14, anchor="end")
        drawing.text((WIDE, y), held, size=14, anchor="end")


def _warnings(drawing: Drawing, result: CompartmentsResult, top: float) -> None:
    if not result.findings:
        return
    drawing.text((SIDE, top + 10.0), "To look at", size=14, bold=True)
    said = [f"{f.place}: {f.found}" for f in result.findings]
    rows = [row for words in said[:MOST_SAID] for row in wrapped(plain(words), 13.0, WIDE - SIDE)]
    for k, row in enumerate(rows):
        drawing.text((SIDE, top + 30.0 + 17.0 * k), row, size=13)


def _alt(result: CompartmentsResult) -> str:
    parts = ", ".join(
        f"{c.name} {c.where} {shown(c.volume_m3, 'volume', result.units)}".replace("  ", " ")
        for c in result.compartments
    )
    return f"The new pan in plan and in two upright cuts, parted into {parts}."
