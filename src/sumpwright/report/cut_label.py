# SPDX-License-Identifier: Apache-2.0
"""What a cut at rest names: the oil's levels, the gap to the crank, the parts, the car round it."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.cut import Cut, line_of
from sumpwright.report.cut_draw import Level, Sheet, level_spans, longer
from sumpwright.report.label import Label
from sumpwright.report.svg import Drawing
from sumpwright.studies.result import CheckResult, Clearance, PanFill
from sumpwright.studies.scene import Scene, Surface, Which
from sumpwright.units import shown

Floats = NDArray[np.float64]

LEAST = 60.0
"""Square units: a piece of an obstacle smaller than this is not named."""


def rest_levels(result: CheckResult, scene: Scene, which: Which) -> list[Level]:
    """Hot, cold at the full mark, and running, car on level ground; the highest first."""
    fill = _fill(result, which)
    up = np.asarray(scene.pose.direction_to_engine(np.array([0.0, 0.0, 1.0])))

    def level(words: str, volume: float, height: float, **look: float | tuple[float, ...]) -> Level:
        surface = Surface(which, "rest", (up[0], up[1], up[2]), height, 0.0, held=True)
        return Level(surface, f"{words}: {shown(volume, 'volume', result.units)}", **look)  # type: ignore[arg-type]

    levels = [
        level("full, hot", fill.hot_m3, fill.hot_height_m, fill=0.35, dash=(7.0, 4.0), width=1.8),
        level("full mark, cold", fill.full_m3, fill.full_height_m),
    ]
    hold = result.hold if which == "new" or result.hold is None else result.hold.stock
    running = scene.surface(which, "rest")
    if hold is not None and running is not None:
        speed = "" if hold.rpm is None else f", {hold.rpm:.0f} rpm"
        words = f"running{speed}, hot: {shown(hold.oil_m3, 'volume', result.units)}"
        levels.append(Level(running, words, fill=0.0, dash=(2.0, 3.0), width=1.8))
    return levels


def _fill(result: CheckResult, which: Which) -> PanFill:
    stock = result.fill.stock
    return result.fill if which == "new" or stock is None else stock


def rest_labels(
    result: CheckResult, scene: Scene, sheet: Sheet, cut: Cut, levels: list[Level], which: Which
) -> list[Label]:
    """The labels of a cut, most important first; the levels only where it is seen across."""
    labels = _clashes(result, sheet, cut, which)
    if cut.look == "across":
        labels += _gap(result, scene, sheet, cut, levels, which)
        labels += _levels(scene, sheet, cut, levels)
    else:
        labels += _levels(scene, sheet, cut, levels[1:2])
    return [*labels, *_obstacles(sheet, cut), *_parts(sheet, cut)]


def _clashes(result: CheckResult, sheet: Sheet, cut: Cut, which: Which) -> list[Label]:
    room = result.clearance
    room = room if which == "new" or room is None else room.stock
    spots = [(o.name, o.clash) for o in cut.obstacles if o.clash is not None]
    return [
        Label(_pair(sheet.at(spot)), f"{name}{_depth(room, name, result.units)}", True, "Overlap")
        for name, spot in spots
    ]


def _depth(room: Clearance | None, name: str, units: str) -> str:
    """How deep the pan is in a body with the engine at rest."""
    for obstacle in () if room is None else room.obstacles:
        gap = obstacle.cases[0].gap_m
        if obstacle.obstacle == name and gap < 0.0:
            return f", {shown(-gap, 'length', units)} deep"
    return ""


def _gap(
    result: CheckResult, scene: Scene, sheet: Sheet, cut: Cut, levels: list[Level], which: Which
) -> list[Label]:
    """The gap between hot oil and crank, as a label at the middle of its dimension."""
    ends = gap_ends(scene, sheet, cut, levels)
    gap = _fill(result, which).crank_gap_m
    if ends is None or gap is None:
        return []
    size = shown(abs(gap), "length", result.units)
    words = f"{size} from hot oil to crank" if gap >= 0.0 else f"hot oil {size} up in the crank"
    return [Label(_pair(ends.mean(axis=0)), words)]


def gap_ends(scene: Scene, sheet: Sheet, cut: Cut, levels: list[Level]) -> Floats | None:
    """(2, 2) on paper: the crank sweep's lowest point as seen, and the hot oil straight below."""
    if cut.crank is None or not levels:
        return None
    low = cut.crank[int(cut.crank[:, 1].argmin())]
    tilt, height = line_of(scene, cut, levels[0].surface)
    foot = np.array([low[0], (height - tilt[0] * low[0]) / tilt[1]])
    return sheet.at(np.stack([low, foot]))


def draw_gap(drawing: Drawing, ends: Floats) -> None:
    """A dimension between crank and oil, its arrows outside where there is no room inside."""
    top, bottom = ends[np.argsort(ends[:, 1])]
    reach = np.array([0.0, 22.0])
    if bottom[1] - top[1] > 30.0:
        middle = 0.5 * (top + bottom)
        tails = (middle, middle)
    else:
        tails = (top - reach, bottom + reach)
    for tail, tip in zip(tails, (top, bottom), strict=True):
        drawing.line(tail, tip, stroke=palette.PAPER, width=3.0)
        drawing.arrow(tail, tip, width=1.0)


def _levels(scene: Scene, sheet: Sheet, cut: Cut, levels: list[Level]) -> list[Label]:
    """Each level at the right end of its line."""
    labels = []
    for level in levels:
        spans = sheet.at(level_spans(scene, cut, level.surface)).reshape(-1, 2)
        if len(spans):
            labels.append(Label(_pair(spans[int(spans[:, 0].argmax())]), level.words))
    return labels


def _parts(sheet: Sheet, cut: Cut) -> list[Label]:
    """Pickup, rail, crank sweep and dipstick, where the box shows them."""
    spots: list[tuple[str, Floats | None]] = [
        ("pickup", None if cut.rim is None else sheet.at(cut.rim[1])),
        ("pan rail", sheet.at(longer(cut.rail, 0.02)[1])),
        ("crank sweep, outline", None if cut.crank is None else _rightmost(sheet, cut.crank)),
        ("dipstick", None if cut.dipstick is None else _upper(sheet, cut.dipstick)),
    ]
    return [Label(_pair(spot), words) for words, spot in spots if spot is not None]


def _rightmost(sheet: Sheet, loop: Floats) -> Floats | None:
    """The point of an outline nearest to the labels that the box shows."""
    points = sheet.at(loop)
    low, high = sheet.box
    seen = points[((points >= low) & (points <= high)).all(axis=1)]
    return seen[int(seen[:, 0].argmax())] if len(seen) else None


def _upper(sheet: Sheet, line: Floats) -> Floats | None:
    """A place in the upper part of what the box shows of a straight line."""
    points = sheet.at(line[0] + np.linspace(0.0, 1.0, 101)[:, None] * (line[1] - line[0]))
    low, high = sheet.box
    seen = points[((points >= low) & (points <= high)).all(axis=1)]
    return seen[len(seen) // 4] if len(seen) else None


def _obstacles(sheet: Sheet, cut: Cut) -> list[Label]:
    """Each obstacle's name at the middle of the piece that is nearest to the labels."""
    low, high = sheet.box
    labels = []
    for obstacle in cut.obstacles:
        if obstacle.clash is not None:
            continue
        pieces = [np.clip(loop, low, high) for loop in sheet.loops(obstacle.outlines)]
        pieces = [p for p in pieces if float(np.prod(np.ptp(p, axis=0))) >= LEAST]
        if pieces:
            near = max(pieces, key=lambda p: float(p[:, 0].max()))
            middle = 0.5 * (near.min(axis=0) + near.max(axis=0))
            labels.append(Label(_pair(middle), obstacle.name))
    return labels


def _pair(point: Floats) -> tuple[float, float]:
    return float(point[0]), float(point[1])
