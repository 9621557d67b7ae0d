# SPDX-License-Identifier: Apache-2.0
"""A pan in numbers as the CAD kernel's solids: inside, outside and the metal between.

The outside is built from the same zones grown by the wall, never by shelling in the kernel. Every
solid is measured a second way, and the three are held against each other.
"""

from collections.abc import Callable
from dataclasses import dataclass

from sumpwright.errors import RangeError, SolveError
from sumpwright.geometry.cad_boss import bores_in, boss_rod, refuse_bosses
from sumpwright.geometry.cad_flange import flange_prism, hole_rods, refuse_edge, refuse_flange
from sumpwright.geometry.cad_many import fused_many, less_many
from sumpwright.geometry.cad_measure import Solid, mesh_of, sound, volume
from sumpwright.geometry.cad_rounding import CHORD
from sumpwright.geometry.cad_solid import box, common, rod
from sumpwright.geometry.cad_zone import measured_zone
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.pan_form import PanError, PanFlaw, PanForm, ReliefForm
from sumpwright.geometry.solid import solid_of
from sumpwright.geometry.zone import ZoneForm

Progress = Callable[[str, float], None]

FAR = 5.0
"""m; further than any pan reaches."""
AGREE = 1e-5
"""Of the outside: the kernel's own sums differ by its edges' tolerances, 3.5e-6 where leaning sides
run into rounded floors (edges within 0.013 mm); a hole for an M5 not drilled is 2e-5 of 7 L."""


@dataclass(frozen=True, eq=False)
class PanSolids:
    """A pan as solids [mm] and as triangles [m]."""

    cavity: Solid
    outside: Solid
    """Bolt holes drilled, bosses' holes not: a plug, a tube or a sensor is in each"""
    body: Solid
    """The metal, everything drilled"""
    walls: Solid
    """The inside with its walls round it, without flange and bosses"""
    relieved: float
    """m^3 that the room for crank and rods adds to the inside"""
    cavity_mesh: Mesh
    outside_mesh: Mesh
    body_mesh: Mesh
    volumes: tuple[float, float, float]
    """Of inside, outside and metal [m^3], each confirmed by its triangles"""


def pan_solids(form: PanForm, progress: Progress | None = None) -> PanSolids:
    """The pan's solids.

    Parameters
    ----------
    form : PanForm [m]
        In numbers.
    progress : callable or None [-]
        Told what is being done, and which share of it.

    Returns
    -------
    solids : PanSolids [mm]

    Raises
    ------
    PanError
        With everything that keeps it from being made.
    SolveError
        Where the kernel's solids do not add up.
    """
    say = progress or (lambda _text, _share: None)
    refuse_edge(form)
    say("drawing the inside", 0.0)
    inner = _zones(form.zones, "")
    cavity = _joined([solid for solid, _ in inner], form)
    bare, held = cavity, volume(cavity)
    _refuse_wrong_sum([mesh for _, mesh in inner], held)
    say("drawing the outside", 0.3)
    walls = _joined([solid for solid, _ in _zones(form.grown, " with the wall round it")], form)
    relieved = 0.0
    if form.relief is not None:
        cavity, walls = _relieved(form, form.relief, cavity, walls)
        relieved = 0.0 if cavity is bare else volume(cavity) - held
    flange = flange_prism(form)
    refuse_flange(form, cavity, walls, flange)
    shell = fused_many([walls, flange])
    say("setting the bosses", 0.6)
    refuse_bosses(form, cavity, shell)
    whole = fused_many([shell, *(boss_rod(b) for b in form.bosses)]) if form.bosses else shell
    cavity = less_many(cavity, [boss_rod(b) for b in form.bosses])
    outside = less_many(whole, hole_rods(form))
    say("taking the inside out", 0.8)
    bores = bores_in(form)
    body = less_many(outside, [cavity, *bores])
    volumes = held if cavity is bare else volume(cavity), volume(outside), volume(body)
    held_mesh, whole_mesh, metal_mesh = (
        _measured(solid, what, found)
        for solid, what, found in zip(
            (cavity, outside, body), ("inside", "outside", "metal"), volumes, strict=True
        )
    )
    _refuse_wrong_rest(cavity, outside, bores, volumes)
    return PanSolids(
        cavity, outside, body, walls, relieved, held_mesh, whole_mesh, metal_mesh, volumes
    )


def _zones(zones: tuple[ZoneForm, ...], which: str) -> list[tuple[Solid, Mesh]]:
    """Each zone's solid, and the triangles that it was measured by."""
    made, flaws = [], []
    for k, zone in enumerate(zones):
        try:
            made.append(measured_zone(zone))
        except (SolveError, RangeError) as err:
            do = "make `floor_radius` and `radius` smaller by that, or give the zone more room"
            found = f"{zone.name}{which}: {err}"
            needed = "radii that can be made"
            flaws.append(PanFlaw("SHAP-504", ("zones", k), found, needed, do))
    if flaws:
        raise PanError(flaws)
    return made


def _joined(zones: list[Solid], form: PanForm) -> Solid:
    """Zones as one; a zone that touches no other is named."""
    try:
        return fused_many(zones)
    except SolveError:
        apart = [k for k in range(1, len(zones)) if k not in _reached(zones)]
        if not apart:
            raise
    needed = "zones that overlap, so that oil gets from one to the next"
    do = "move it until it overlaps another, or make it deeper or wider"
    raise PanError(
        PanFlaw("SHAP-506", ("zones", k), _apart(form.zones[k]), needed, do) for k in apart
    )


def _apart(zone: ZoneForm) -> str:
    points = 1e3 * zone.outline.polygon()
    (x, y), (far, wide) = points.min(axis=0), points.max(axis=0)
    here = f"from x {x:.1f} to {far:.1f} mm and y {y:.1f} to {wide:.1f} mm"
    return f"{zone.name}, {here}, meets none of those before it"


def _reached(zones: list[Solid]) -> set[int]:
    """The zones that the first one reaches, from one to the next."""
    found, new = {0}, [0]
    while new:
        k = new.pop()
        for n in range(len(zones)):
            if n not in found and common(zones[k], zones[n]) is not None:
                found.add(n)
                new.append(n)
    return found


def _relieved(
    form: PanForm, relief: ReliefForm, cavity: Solid, walls: Solid
) -> tuple[Solid, Solid]:
    """Inside and outside with the sweep's room, where the inside does not have it already."""
    room = _below_rail(relief)
    if room is None:
        return cavity, walls
    within = common(room, cavity)
    if within is not None and abs(volume(within) - volume(room)) < 1e-9 * volume(room):
        return cavity, walls
    outer = _below_rail(relief.grown(form.wall, form.floor))
    try:
        return fused_many([cavity, room]), fused_many([walls, outer])
    except SolveError as err:
        found = "a sweep that does not reach the inside"
        needed = "crank and rods over the pan"
        do = "see `engine.crank_sweep`, or delete `relief`"
        raise PanError([PanFlaw("SHAP-512", ("relief",), found, needed, do)]) from err


def _below_rail(relief: ReliefForm) -> Solid | None:
    """The part of a cylinder below the rail."""
    return common(rod(relief.start, relief.end, relief.radius), box([-FAR] * 3, [FAR, FAR, 0.0]))


def _measured(solid: Solid, what: str, found: float) -> Mesh:
    """Its triangles, whose volume must be the kernel's as far as chords explain."""
    sound(solid, what)
    # most faces of the metal are those of inside and outside, measured before it
    mesh = mesh_of(solid, tolerance=CHORD, afresh=what != "metal")
    # of triangles, whose area is the skin's but for what their chords cut short
    if abs(mesh.volume - found) > CHORD * mesh.area:
        raise _unequal(what, found, mesh.volume)
    return mesh


def _refuse_wrong_sum(zones: list[Mesh], found: float) -> None:
    """The zones together, by booleans of their triangles."""
    from manifold3d import Manifold, OpType

    made = [solid_of(mesh, what="a zone") for mesh in zones]
    other = float(Manifold.batch_boolean(made, OpType.Add).volume())
    if abs(other - found) > CHORD * sum(mesh.area for mesh in zones):
        raise _unequal("inside", found, other)


def _refuse_wrong_rest(
    cavity: Solid, outside: Solid, bores: list[Solid], volumes: tuple[float, float, float]
) -> None:
    """Outside = inside + metal + what is drilled out of the metal."""
    drilled = sum(_shared(b, outside) - _shared(b, cavity) for b in bores)
    held, whole, metal = volumes
    if abs(whole - (metal + held + drilled)) > AGREE * whole:
        raise _unequal("metal", metal, whole - held - drilled)


def _shared(one: Solid, other: Solid) -> float:
    shared = common(one, other)
    return 0.0 if shared is None else volume(shared)


def _unequal(what: str, found: float, other: float) -> SolveError:
    return SolveError(
        f"the CAD kernel's {what} is {1e6 * found:.6g} cm^3, and a second measure of it gives "
        f"{1e6 * other:.6g} cm^3"
    )
