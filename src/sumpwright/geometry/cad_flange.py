# SPDX-License-Identifier: Apache-2.0
"""The flange of a pan from numbers: its plate, its bolt holes, and what cannot be bolted."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.cad_measure import Solid, volume
from sumpwright.geometry.cad_solid import box, common, prism, rod
from sumpwright.geometry.outline_side import distance_to
from sumpwright.geometry.pan_form import HoleForm, PanError, PanFlaw, PanForm
from sumpwright.geometry.profile_round import rounded_corners

Floats = NDArray[np.float64]

THROUGH = 1e-3
"""m; how far a drill runs out of what it drills."""
FAR = 5.0
"""m; further than any pan reaches."""
IN = (
    "an inside within the flange, with a sealing face round it",
    "draw `rail.outline` further out, or the zones or the relief further in",
)
"""What is needed of an inside at the flange, and what to do."""


def flange_prism(form: PanForm) -> Solid:
    """The flange as a plate, before the inside is taken out.

    Parameters
    ----------
    form : PanForm [m]
        In numbers.

    Returns
    -------
    solid : Solid [mm]
    """
    return prism(form.edge, -form.flange, 0.0)


def hole_rods(form: PanForm) -> list[Solid]:
    """What is drilled out of the flange.

    Parameters
    ----------
    form : PanForm [m]
        In numbers.

    Returns
    -------
    rods : list of Solid [mm]
    """
    return [_drill(h, -form.flange - THROUGH, THROUGH, h.radius) for h in form.holes]


def refuse_edge(form: PanForm) -> None:
    """Raise where the numbers alone say that a hole or an open zone runs off the flange.

    Parameters
    ----------
    form : PanForm [m]
        In numbers.

    Raises
    ------
    PanError
    """
    flaws = _run_out(form, [k for k, zone in enumerate(form.zones) if zone.roof is None])
    flaws += [f for k, h in enumerate(form.holes) if (f := _off_edge(form, k, h))]
    if flaws:
        raise PanError(flaws)


def refuse_flange(form: PanForm, cavity: Solid, walls: Solid, flange: Solid) -> None:
    """Raise where the opening or a hole runs off the flange, or a hole into wall or inside.

    Parameters
    ----------
    form : PanForm [m]
        In numbers.
    cavity : Solid [mm]
        The inside.
    walls : Solid [mm]
        The inside with the walls round it.
    flange : Solid [mm]
        The plate.

    Raises
    ------
    PanError
    """
    slab = box([-FAR, -FAR, -form.flange], [FAR, FAR, 0.0])
    flaws = []
    inside = _volume(cavity, slab)
    if inside - _volume(cavity, flange) > 1e-9:
        part = ("relief",) if form.relief is not None else ("zones",)
        found = "an inside that runs out through the flange's edge"
        flaws += _run_out(form, range(len(form.zones))) or [PanFlaw("SHAP-513", part, found, *IN)]
    drills = [_drill(h, -form.flange, 0.0, h.radius) for h in form.holes]
    unders = [_drill(h, -form.flange - THROUGH, -form.flange, h.radius) for h in form.holes]
    clear = not (_struck(drills, cavity) or _struck(unders, walls))
    for k, hole in enumerate(() if clear else form.holes):
        flaw = _hole(form, k, hole, cavity, walls)
        flaws += [] if flaw is None else [flaw]
    if flaws:
        raise PanError(flaws)


def _run_out(form: PanForm, which: Iterable[int]) -> list[PanFlaw]:
    """Each of these zones that reaches over the flange's edge, and where."""
    flaws = []
    for k in which:
        zone = form.zones[k]
        top = min(zone.span[1], 0.0)
        if top <= -form.flange:
            continue
        try:
            points = rounded_corners(zone.plan(top), zone.radii).polygon()
        except RangeError:  # said where it is drawn
            continue
        out = np.array([-distance_to(form.edge, p) for p in points])
        if out.max() >= 0.0:
            x, y = 1e3 * points[int(out.argmax())]
            found = f"{zone.name}: an inside that runs out through the flange's edge, "
            found += f"{1e3 * abs(out.max()):.1f} mm at x {x:.1f} mm, y {y:.1f} mm"
            flaws.append(PanFlaw("SHAP-513", ("zones", k), found, *IN))
    return flaws


def _off_edge(form: PanForm, k: int, hole: HoleForm) -> PanFlaw | None:
    if distance_to(form.edge, hole.at) > hole.radius:
        return None
    do = "move the hole in, or draw `rail.outline` further out"
    found = f"{_said(hole)}, off the flange"
    return PanFlaw("SHAP-508", ("holes", k), found, "metal all round it", do)


def _said(hole: HoleForm) -> str:
    x, y = 1e3 * hole.at
    return f"hole {hole.name} at x {x:.1f} mm, y {y:.1f} mm, {2e3 * hole.radius:.3g} mm wide"


def _hole(form: PanForm, k: int, hole: HoleForm, cavity: Solid, walls: Solid) -> PanFlaw | None:
    part, here = ("holes", k), _said(hole)
    do = "move the hole out, or the zone's side in"
    if _volume(_drill(hole, -form.flange, 0.0, hole.radius), cavity) > 0.0:
        needed = "a hole outside the inside"
        return PanFlaw("SHAP-508", part, f"{here}, breaks into the inside", needed, do)
    under = _drill(hole, -form.flange - THROUGH, -form.flange, hole.radius)
    if _volume(under, walls) > 0.0:
        needed = "a hole that comes out under the flange, beside the wall"
        return PanFlaw("SHAP-508", part, f"{here}, runs down into the wall", needed, do)
    return None


def room_under(form: PanForm, walls: Solid, reach: float, radius: float) -> tuple[int, ...]:
    """Which holes have the pan's own wall within `reach` below the flange's underside.

    Parameters
    ----------
    form : PanForm [m]
        In numbers.
    walls : Solid [mm]
        The pan's outside or its walls.
    reach : float [m]
        How far down a bolt's head and its tool need room.
    radius : float [m]
        Of that room.

    Returns
    -------
    holes : tuple of int [-]
        Their numbers.
    """
    low, high = -form.flange - reach, -form.flange - 1e-5
    tools = [_drill(h, low, high, radius) for h in form.holes]
    if not _struck(tools, walls):
        return ()
    return tuple(k for k, tool in enumerate(tools) if _volume(tool, walls) > 1e-12)


def _struck(drills: list[Solid], solid: Solid) -> bool:
    """Whether any of them reaches into a solid: all at once, for one by one takes seconds."""
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Compound

    together, builder = TopoDS_Compound(), BRep_Builder()
    builder.MakeCompound(together)
    for drill in drills:
        builder.Add(together, drill)
    return bool(drills) and common(together, solid) is not None


def _drill(hole: HoleForm, low: float, high: float, radius: float) -> Solid:
    return rod([*hole.at, low], [*hole.at, high], radius)


def _volume(one: Solid, other: Solid) -> float:
    shared = common(one, other)
    return 0.0 if shared is None else volume(shared)
