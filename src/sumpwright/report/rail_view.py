# SPDX-License-Identifier: Apache-2.0
"""The bolt pattern from above, and how far each measured hole is off, drawn large enough to see."""

from collections.abc import Sequence

import numpy as np

from sumpwright.report import palette
from sumpwright.report.svg import Drawing
from sumpwright.studies.rail_result import MeasuredFit, RailResult, SetHole, Spot
from sumpwright.units import shown

WIDE, EDGE, HEAD, FOOT, LEAST = 960.0, 74.0, 84.0, 84.0, 120.0
ROOM = 25.0
"""Drawing units that half the clearance round a bolt is drawn as."""
LONGEST = 64.0
"""Of an arrow; a longer one is cut and its figure stands beside it."""
INK = {"fits": "#0b5f54", "tight": palette.OIL_LINE, "strikes": "#a02313"}
SAID = {"fits": "fits", "tight": "only if the pan's hole is true", "strikes": "bolt strikes"}


class _Plan:
    """From the engine's axes to the drawing's: ahead to the right, left up."""

    def __init__(self, spots: Sequence[Spot], top: float) -> None:
        p = np.array(spots, dtype=float)
        self.low, self.high = p.min(axis=0), p.max(axis=0)
        size = np.maximum(self.high - self.low, 1e-3)
        self.scale = min((WIDE - 2.0 * EDGE) / size[0], 620.0 / size[1])
        self.tall = max(self.scale * size[1], LEAST)
        self.top = top

    def at(self, spot: Spot) -> tuple[float, float]:
        """Where a place is drawn."""
        x = 0.5 * WIDE + self.scale * (spot[0] - 0.5 * (self.low[0] + self.high[0]))
        y = self.top + 0.5 * self.tall
        return x, y - self.scale * (spot[1] - 0.5 * (self.low[1] + self.high[1]))


def rail_view(result: RailResult) -> bytes:
    """One plan for each measured set, under one another; a plain one where nothing was measured."""
    spots = [*result.edge, *result.opening, *(h.at_m for h in result.holes)]
    panel = _Plan(spots, 0.0).tall + HEAD + FOOT
    count = max(len(result.sets), 1)
    drawing = Drawing(WIDE, count * panel + 30.0, key="rail", says=rail_alt(result))
    if not result.sets:
        plan = _Plan(spots, HEAD)
        _ground(drawing, plan, result, ())
        _names(drawing, plan, result, {})
        drawing.text((EDGE, 26.0), "Bolt pattern, seen from above", size=17, bold=True)
    for k, measured in enumerate(result.sets):
        plan = _Plan(spots, k * panel + HEAD)
        _ground(drawing, plan, result, [hole.name for hole in measured.holes])
        _set(drawing, plan, measured, result)
    below = count * panel + 12.0
    drawing.text(
        (EDGE, below), "Seen from above: ahead to the right, left up.", size=13, fill=palette.MUTED
    )
    return drawing.svg()


def rail_alt(result: RailResult) -> str:
    """The picture in words."""
    sets = "; ".join(
        f"{s.name}: worst hole {s.worst}, {shown(s.worst_m, 'length', result.units, digits=2)} off"
        for s in result.sets
    )
    return f"Bolt pattern of {len(result.holes)} holes from above. {sets}".strip()


def _ground(drawing: Drawing, plan: _Plan, result: RailResult, left: Sequence[str]) -> None:
    """Flange, opening and holes at their true size, but those that get an arrow."""
    edge = [plan.at(p) for p in result.edge]
    drawing.path([edge], fill=palette.FAINT, stroke=palette.INK, width=1.4)
    if result.opening:
        inner = [plan.at(p) for p in result.opening]
        drawing.path([inner], fill=palette.PAPER, stroke=palette.MUTED, width=1.2, dash=(6.0, 4.0))
    for hole in (h for h in result.holes if h.name not in left):
        drawing.dot(
            plan.at(hole.at_m),
            0.5 * plan.scale * hole.diameter_m,
            fill=palette.PAPER,
            stroke=palette.INK,
            width=1.2,
        )


def _set(drawing: Drawing, plan: _Plan, measured: MeasuredFit, result: RailResult) -> None:
    most = max(hole.most_m for hole in measured.holes)
    large = ROOM / most
    for hole in measured.holes:
        at = plan.at(next(h.at_m for h in result.holes if h.name == hole.name))
        drawing.dot(at, large * hole.most_m, fill=palette.PAPER, stroke=palette.INK, width=1.2)
        if hole.allowed_m > 0.0:
            rest = large * hole.allowed_m
            drawing.dot(at, rest, stroke=palette.MUTED, width=1.0, dash=(2.5, 2.5))
        _arrow(drawing, at, hole, large, result.units)
    _names(drawing, plan, result, {h.name: h for h in measured.holes})
    _title(drawing, plan, measured, large / plan.scale, result.units)


def _arrow(
    drawing: Drawing, at: tuple[float, float], hole: SetHole, large: float, units: str
) -> None:
    off = large * np.array([hole.off_m[0], -hole.off_m[1]])
    long = float(np.hypot(*off))
    ink = INK[hole.state]
    if long < 13.0:  # a head alone would hide which way it points
        drawing.line(at, np.array(at) + off, stroke=ink, width=2.4)
        drawing.dot(np.array(at) + off, 2.0, fill=ink)
        return
    end = np.array(at) + off * min(1.0, LONGEST / long)
    drawing.arrow(at, end, stroke=ink, width=1.8)
    if long > LONGEST or hole.state == "strikes":
        words = shown(hole.distance_m, "length", units, digits=2)
        anchor = "start" if off[0] >= 0.0 else "end"
        drawing.text(end + np.sign(off) * 4.0, words, size=12, anchor=anchor, fill=ink, halo=True)


def _names(drawing: Drawing, plan: _Plan, result: RailResult, seen: dict[str, SetHole]) -> None:
    """Each hole's name outside of it, away from the pattern's middle."""
    middle = np.array(plan.at(_middle(result)))
    for hole in result.holes:
        at = np.array(plan.at(hole.at_m))
        away = at - middle
        flat = abs(away[0]) * plan.tall > abs(away[1]) * (WIDE - 2.0 * EDGE)
        side = np.array([np.sign(away[0]), 0.0]) if flat else np.array([0.0, np.sign(away[1])])
        spot = at + 40.0 * side + [0.0, 5.0]
        anchor = "middle" if not flat else "start" if away[0] > 0 else "end"
        spot = spot - (8.0 * side if flat else 0.0)
        ink = palette.INK if not seen or hole.name in seen else palette.MUTED
        drawing.text(spot, hole.name, size=13, anchor=anchor, fill=ink, halo=True)


def _middle(result: RailResult) -> Spot:
    p = np.array([h.at_m for h in result.holes])
    x, y = 0.5 * (p.min(axis=0) + p.max(axis=0))
    return float(x), float(y)


def _title(drawing: Drawing, plan: _Plan, measured: MeasuredFit, times: float, units: str) -> None:
    digits = 4 if units == "us" else 2
    rms, worst = (
        shown(v, "length", units, digits=digits) for v in (measured.rms_m, measured.worst_m)
    )
    y = plan.top - HEAD + 22.0
    drawing.text((EDGE, y), f"{measured.name}", size=17, bold=True)
    verdict = SAID[measured.state] if measured.how != "printer" else "the print, not the pan"
    ink = INK[measured.state] if measured.how != "printer" else palette.INK
    said = f"rms {rms}, hole {measured.worst} {worst} off: {verdict}"
    drawing.text((WIDE - EDGE, y), said, size=14, anchor="end", fill=ink)
    most = shown(max(h.most_m for h in measured.holes), "length", units, digits=digits)
    low = plan.top + plan.tall + FOOT - 34.0
    for k, words in enumerate(
        (
            f"Arrows: from where a hole should be to where it was found, {times:.0f} times as "
            "large as the plan.",
            f"Solid ring: {most} off, the bolt touches its hole. Dashed ring: what is left with "
            "the pan's own tolerance.",
        )
    ):
        drawing.text((EDGE, low + 17.0 * k), words, size=12.5, fill=palette.MUTED)
