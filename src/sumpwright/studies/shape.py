# SPDX-License-Identifier: Apache-2.0
"""What does the pan drawn from the job's numbers come to? Solids, litres, mass, warnings."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from sumpwright import __version__
from sumpwright.errors import InputError, Problem
from sumpwright.geometry.pan_form import PanForm
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.revision import input_hash
from sumpwright.job.shape import Shape
from sumpwright.metal.material import material
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.shape_body import drawn_solids
from sumpwright.studies.shape_form import pan_form
from sumpwright.studies.shape_result import DrawnBoss, DrawnZone, ShapeResult
from sumpwright.studies.shape_words import findings_of

if TYPE_CHECKING:
    from sumpwright.geometry.cad_pan import PanSolids

Progress = Callable[[str, float], None]
Spot = tuple[float, float, float]


def shape_of(folder: Path, progress: Progress | None = None) -> ShapeResult:
    """The drawn pan of the job in `folder`; InputError where it has none. Writes but the cache."""
    loaded = load_job(folder)
    if loaded.job.new.shape is None:
        raise InputError([no_shape(loaded)])
    solids = drawn_solids(loaded, "new", progress=progress)
    return shape_with(loaded, read_bodies(loaded), solids)


def no_shape(loaded: LoadedJob) -> Problem:
    """What a job without a drawn pan lacks."""
    found = "a pan that is not drawn from numbers"
    needed = "`new.shape`, its zones, wall and flange by numbers"
    do = "add it instead of `cavity` and `outside`; docs/job-file.md has its keys"
    return Problem("SHAP-515", loaded.where("new", "shape"), found, needed, do)


def shape_with(loaded: LoadedJob, bodies: Bodies, solids: "PanSolids") -> ShapeResult:
    """The drawn pan of a job whose bodies are read and whose pan is drawn."""
    from sumpwright.geometry.cad_measure import area

    shape = loaded.job.new.shape
    assert shape is not None
    form = pan_form(loaded, "new")
    metal = pan_material(loaded, shape)
    low, high = _bounds(solids)
    ground, guard, over = _guarded(loaded, bodies)
    held, whole, body = solids.volumes
    return ShapeResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        verdict="met",
        holds_m3=held,
        outside_m3=whole,
        metal_m3=body,
        skin_m2=area(solids.body),
        material=metal,
        mass_kg=body * material(metal).density,
        low_m=low,
        high_m=high,
        wall_m=form.wall,
        floor_m=form.floor,
        flange_m=form.flange,
        edge_m=form.edge.length,
        holes=len(form.holes),
        zones=_zones(form),
        bosses=_bosses(shape, form),
        relieved_m3=solids.relieved,
        ground_m=ground,
        guard=guard,
        guard_over_m=over,
        findings=tuple(findings_of(loaded, form, solids, guard, over)),
        solids=solids,
        metal=solids.body_mesh,
    )


def _bounds(solids: "PanSolids") -> tuple[Spot, Spot]:
    """Smallest and largest x, y, z of the outside."""
    from sumpwright.geometry.cad_measure import bounds

    low, high = bounds(solids.outside).tolist()
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def _zones(form: PanForm) -> tuple[DrawnZone, ...]:
    return tuple(
        DrawnZone(z.name, -z.span[0], -z.span[1], float(z.radii.min()), z.floor_radius)
        for z in form.zones
    )


def _bosses(shape: Shape, form: PanForm) -> tuple[DrawnBoss, ...]:
    return tuple(
        DrawnBoss(b.name, b.kind, b.thread or "", 2.0 * f.bore, b.at)
        for b, f in zip(shape.bosses, form.bosses, strict=True)
    )


def pan_material(loaded: LoadedJob, shape: Shape) -> str:
    """What the pan is made of: the shape's material, else the split's."""
    if shape.material is not None:
        return shape.material
    split = loaded.job.new.split
    return "aluminium 6061-T6" if split is None else split.material


def _guarded(loaded: LoadedJob, bodies: Bodies) -> tuple[float | None, str, float | None]:
    """Height of the lowest point, the obstacle that guards it, and how far that lies above."""
    outside = bodies.new.outside
    if loaded.job.pose.height is None or outside is None:
        return None, "", None
    low = float(bodies.pose.to_car(outside.vertices[np.unique(outside.faces)])[:, 2].min())
    guards = [(float(o.mesh.bounds[0, 2]), o.name) for o in bodies.obstacles if o.guard]
    if not guards:
        return low, "", None
    height, name = min(guards)
    return low, name, height - low
