# SPDX-License-Identifier: Apache-2.0
"""What to mind about a pan drawn from numbers, each as one finding."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from sumpwright.errors import Finding, RangeError
from sumpwright.geometry.outline_side import crossing, distance_to
from sumpwright.geometry.pan_form import PanForm
from sumpwright.geometry.profile import Profile
from sumpwright.geometry.profile_round import rounded_corners
from sumpwright.job.load import LoadedJob
from sumpwright.metal.clearance_hole import bolt_diameter
from sumpwright.studies.drawn_outline import rounded_outline
from sumpwright.studies.rail_words import FLAT, few_bolts
from sumpwright.units import shown

if TYPE_CHECKING:
    from sumpwright.geometry.cad_pan import PanSolids

TOOL_DEEP, TOOL_RADIUS = 0.015, 0.8
"""m below the flange, and of the hole's diameter, that the head of a socket-head screw takes;
practice."""
EDGE_LEAST = 0.5
"""Metal from a hole to the flange's edge, of the hole's diameter; [common-practice]."""
WALL_LEAST = 0.002
"""m; of a wall that is milled and welded; [common-practice]."""
FLANGE_LEAST = 0.5
"""Of a flange's thickness over its bolts' diameter; [common-practice]."""
BEYOND = 2e-4
"""m; the chords of two arcs may lie apart by less."""


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
    yield from _flange(loaded, form)
    yield from _opening(loaded, form)


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


def _flange(loaded: LoadedJob, form: PanForm) -> Iterator[Finding]:
    rail = loaded.job.rail
    least = 0.0 if rail is None else FLANGE_LEAST * bolt_diameter(rail.thread)
    if form.flange < least - 1e-9:
        found = f"{_mm(loaded, form.flange)} thick: it gapes between its bolts"
        yield _note("SHAP-525", "flange", found, f"leave {_mm(loaded, least)} or more")
    if len(form.holes) < FLAT:
        said = few_bolts(len(form.holes))
        yield _note("SHAP-526", "bolts", said[:-1], "type in every hole of the block's rail")


def _opening(loaded: LoadedJob, form: PanForm) -> Iterator[Finding]:
    """Zones that are open to the rail where the block is not."""
    opening = _block_opening(loaded)
    if isinstance(opening, Finding):
        yield opening
    if not isinstance(opening, Profile):
        return
    for zone in form.zones:
        if zone.roof is not None:
            continue
        points = rounded_corners(zone.plan(0.0), zone.radii).polygon()
        out = np.array([-distance_to(opening, p) for p in points])
        k = int(out.argmax())
        if out[k] > BEYOND:
            x, y = (_mm(loaded, float(c)) for c in points[k])
            found = f"open to the rail {_mm(loaded, float(out[k]))} beyond the block's opening, "
            found += f"at x {x}, y {y}: so much less of the face seals"
            do = "draw its sides in, or mend `rail.opening`"
            yield _note("SHAP-527", zone.name, found, do)


def _block_opening(loaded: LoadedJob) -> Profile | Finding | None:
    """As the job draws it; a finding where it cannot be drawn."""
    rail = loaded.job.rail
    if rail is None or rail.opening is None:
        return None
    do = "mend `rail.opening`"
    try:
        opening = rounded_outline(rail.opening, rail.opening_radius)
    except RangeError as err:
        return _note("SHAP-527", "the block's opening", f"it cannot be drawn: {err}", do)
    if crossing(opening) is not None:
        return _note("SHAP-527", "the block's opening", "an outline that crosses itself", do)
    return opening


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
