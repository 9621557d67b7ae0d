# SPDX-License-Identifier: Apache-2.0
"""What does this one file hold? Any mesh or STEP file, no job needed."""

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem, RangeError
from sumpwright.geometry.frame import effective_gravity, up_of
from sumpwright.geometry.level import level_body, levels_of, liquid_below
from sumpwright.geometry.mesh import Mesh
from sumpwright.studies.result import LevelReading, MeasureResult, Triple
from sumpwright.units import shown

_UNITS = {1e-3: "mm", 1e-2: "cm", 1.0: "m", 0.0254: "in", 0.3048: "ft"}


def measure(
    path: Path,
    *,
    unit: float | None = None,
    volume: float | None = None,
    height: float | None = None,
    accel_g: Triple = (0.0, 0.0, 0.0),
) -> MeasureResult:
    """Volume, area, bounds and soundness of a file; with a volume or a height, the level too.

    `unit` is metres per unit of the file, where the file does not say. `volume` [m^3] asks for the
    surface's height, `height` [m] for the volume below it. `accel_g` is the body's acceleration in
    g, ISO 8855 axes.
    """
    from sumpwright.geometry.mesh_file import read_mesh
    from sumpwright.geometry.soundness import soundness

    read = read_mesh(path, unit)
    sound = soundness(read.mesh)
    asked = volume is not None or height is not None
    if asked and not sound.watertight:
        raise InputError([_open(path, sound.findings[0].place if sound.findings else "")])
    if asked and read.mesh.volume <= 0.0:
        raise InputError([_inside_out(path)])
    if volume is not None and volume > read.mesh.volume:
        raise InputError([_too_much(path, volume, read.mesh.volume)])
    low, high = read.mesh.bounds
    return MeasureResult(
        file=path.name,
        unit=f"{_UNITS.get(read.unit, f'{read.unit:g} m')}, {read.unit_source}",
        volume_m3=read.mesh.volume,
        area_m2=read.mesh.area,
        bounds_m=(_triple(low), _triple(high)),
        watertight=sound.watertight,
        triangles=len(read.mesh.faces),
        bodies=sound.bodies,
        findings=sound.findings,
        level=_level(read.mesh, volume, height, accel_g) if asked else None,
    )


def _level(mesh: Mesh, volume: float | None, height: float | None, accel_g: Triple) -> LevelReading:
    gravity = effective_gravity(accel_g)
    if not np.linalg.norm(gravity) > 0.0:
        raise RangeError("a level needs gravity, got an acceleration of exactly (0, 0, -1) g")
    up = up_of(gravity)
    body = level_body(mesh)
    if volume is not None:
        height = float(levels_of(body, up, volume).height[0])
    liquid = liquid_below(body, up, np.array([height]))
    return LevelReading(
        volume_m3=float(liquid.volume[0]) if volume is None else volume,
        height_m=float(height or 0.0),
        surface_area_m2=float(liquid.surface_area[0]),
        centroid_m=_triple(liquid.centroid[0]) if np.isfinite(liquid.centroid).all() else None,
    )


def _open(path: Path, place: str) -> Problem:
    return Problem(
        code="GEO-240",
        where=path.name,
        found=f"a body that is not closed: {place}" if place else "a body that is not closed",
        needed="a closed body to find a level in",
        do="close it in the CAD program, or measure it without a volume or a height",
    )


def _inside_out(path: Path) -> Problem:
    return Problem(
        code="GEO-306",
        where=path.name,
        found="a body that is inside out: its volume is negative",
        needed="a body whose faces look outward, to find a level in",
        do="flip it (unify normals) in the CAD program, or measure it without a volume or a height",
    )


def _too_much(path: Path, volume: float, holds: float) -> Problem:
    asked, most = (f"{shown(v, 'volume')} ({shown(v, 'volume', 'us')})" for v in (volume, holds))
    return Problem(
        code="JOB-150",
        where=path.name,
        found=f"a level asked for at {asked}",
        needed=f"no more than the body holds: {most}",
        do="ask for less, or check the file's unit",
    )


def _triple(point: NDArray[np.float64]) -> Triple:
    x, y, z = (float(c) for c in point)
    return x, y, z
