# SPDX-License-Identifier: Apache-2.0
"""What to mind about a pan drawn from numbers, each as one finding."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from sumpwright.errors import Finding
from sumpwright.geometry.outline_side import distance_to
from sumpwright.geometry.pan_form import PanForm
from sumpwright.job.load import LoadedJob
from sumpwright.units import shown

if TYPE_CHECKING:
    from sumpwright.geometry.cad_pan import PanSolids

TOOL_DEEP, TOOL_RADIUS = 0.015, 0.8
"""m below the flange, and of the hole's diameter, that the head of a socket-head screw takes;
practice."""
EDGE_LEAST = 0.5
"""Metal from a hole to the flange's edge, of the hole's diameter; practice."""
WALL_LEAST = 0.002
"""m; of a wall that is milled and welded; practice."""


def findings_of(
    loaded: LoadedJob, form: PanForm, solids: "PanSolids", guard: str, over: float | None
) -> Iterator[Finding]:
    """Everything worth a person's look, in the order of the codes."""
    yield from _bolts(loaded, form, solids)
    yield from _cutters(loaded, form)
    if over is not None and over > 0.0:
        found = f"the pan's lowest point lies {_mm(loaded, over)} below the {guard}"
        yield _note("SHAP-523", guard, found, "raise the deepest floor by that")
    yield from _sealing(loaded, form)
    yield from _walls(loaded, form)


def _bolts(loaded: LoadedJob, form: PanForm, solids: "PanSolids") -> Iterator[Finding]:
    from sumpwright.geometry.cad_flange import room_under

    if not form.holes:
        return
    radius = TOOL_RADIUS * 2.0 * max(h.radius for h in form.holes)
    tight = room_under(form, solids.walls, TOOL_DEEP, radius)
    if not tight:
        return
    names = ", ".join(form.holes[k].name for k in tight)
    found = f"less than {_mm(loaded, TOOL_DEEP)} under the flange at bolt holes {names}"
    yield _note("SHAP-521", "bolts", found, "lower the roof there, or move the wall or the holes")


def _cutters(loaded: LoadedJob, form: PanForm) -> Iterator[Finding]:
    shop = loaded.job.shop
    cutters = () if shop is None else shop.cutters
    for zone in form.zones:
        corner, floor = float(zone.radii.min()), zone.floor_radius
        least = min((0.5 * c.diameter for c in cutters), default=0.0)
        if corner < least - 1e-9:
            found = f"corners of {_mm(loaded, corner)}, and no cutter smaller than "
            found += f"{_mm(loaded, 2.0 * least)} across"
            yield _note("SHAP-522", zone.name, found, f"make `radius` {_mm(loaded, least)}")
        sharpest = min((c.corner for c in cutters), default=0.0)
        if floor < sharpest - 1e-9:
            found = f"a floor radius of {_mm(loaded, floor)}, and no cutter's corner under "
            found += _mm(loaded, sharpest)
            yield _note("SHAP-522", zone.name, found, "make `floor_radius` as large as that")
        if floor > corner + 1e-9:
            found = f"a floor radius of {_mm(loaded, floor)} over corners of {_mm(loaded, corner)}"
            found += ": no one cutter makes both"
            yield _note("SHAP-522", zone.name, found, "make `radius` at least `floor_radius`")


def _sealing(loaded: LoadedJob, form: PanForm) -> Iterator[Finding]:
    for hole in form.holes:
        left = distance_to(form.edge, np.asarray(hole.at)) - hole.radius
        least = EDGE_LEAST * 2.0 * hole.radius
        if left < least:
            found = f"{_mm(loaded, left)} of metal outside hole {hole.name}"
            do = f"leave {_mm(loaded, least)}: move the hole in, or the edge out"
            yield _note("SHAP-524", "flange", found, do)


def _walls(loaded: LoadedJob, form: PanForm) -> Iterator[Finding]:
    for place, thick in (("wall", form.wall), ("floor", form.floor)):
        if thick < WALL_LEAST - 1e-9:
            found = (
                f"{_mm(loaded, thick)}: it gives way to the cutter and burns through in the weld"
            )
            do = f"leave {_mm(loaded, WALL_LEAST)}, where it is milled or welded"
            yield _note("SHAP-525", place, found, do)


def _note(code: str, place: str, found: str, repair: str) -> Finding:
    return Finding(code=code, place=place, found=found, repair=repair, severity="note")


def _mm(loaded: LoadedJob, value: float) -> str:
    return shown(value, "length", loaded.job.units)
