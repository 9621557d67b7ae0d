# SPDX-License-Identifier: Apache-2.0
"""The metal of a pan, as the CAD kernel's solid where there is one and as triangles always."""

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, InputError, SolveError
from sumpwright.geometry.cad_measure import mesh_of, volume
from sumpwright.geometry.cad_solid import less, moved
from sumpwright.geometry.cad_step import step_solid
from sumpwright.geometry.frame import Pose
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.pan_form import PanForm
from sumpwright.geometry.solid import less as mesh_less
from sumpwright.geometry.solid import mesh_of as mesh_of_manifold
from sumpwright.geometry.solid import solid_of
from sumpwright.geometry.wall import flange_thickness
from sumpwright.job.body import Body
from sumpwright.job.load import LoadedJob
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.shape_body import drawn_solids
from sumpwright.studies.shape_form import pan_form

Floats = NDArray[np.float64]

STEP = (".step", ".stp")
SLACK = 2e-4
"""m; of a point on the wall of a hole: chords lie inside it."""


@dataclass(frozen=True, eq=False)
class Drilled:
    """A hole that a drill makes, not an end mill."""

    start: Floats
    """(3,) [m] on its axis"""
    end: Floats
    radius: float

    def holds(self, points: Floats) -> NDArray[np.bool_]:
        """(n,) which of the points (n, 3) [m] lie on its wall or within it."""
        way = self.end - self.start
        share = np.clip((points - self.start) @ way / (way @ way), 0.0, 1.0)
        away = np.linalg.norm(points - self.start - share[:, None] * way, axis=1)
        return np.asarray(away <= self.radius + SLACK)


@dataclass(frozen=True, eq=False)
class PanMetal:
    """What a pan is made of, engine frame."""

    solid: Any | None
    """The kernel's [mm]; None of a pan that came as triangles"""
    mesh: Mesh
    flange: float
    """Height of the flange's underside [m]; the rail's where there is no flange"""
    floor: float
    """Height of the inside's lowest point [m]"""
    findings: tuple[Finding, ...]
    drilled: tuple[Drilled, ...] = ()
    """Known of a pan that was drawn from numbers only"""
    whole: tuple[Any, Any] | None = None
    """Its outside and its inside as the kernel's solids [mm]; None of triangles"""

    @cached_property
    def volume(self) -> float:
        """Of the metal [m^3]."""
        return self.mesh.volume if self.solid is None else volume(self.solid)


def pan_metal(loaded: LoadedJob, bodies: Bodies) -> PanMetal:
    """The new pan's metal: as it was drawn, or its outside less its cavity."""
    outside, cavity = bodies.new.outside, bodies.new.cavity
    assert outside is not None, "refuse_lacking asked for it"
    rail = float(outside.bounds[1, 2])
    if loaded.job.new.shape is not None:
        form = pan_form(loaded, "new")
        drawn = drawn_solids(loaded, "new", form)
        solid: Any | None = drawn.body
        whole: tuple[Any, Any] | None = (drawn.outside, drawn.cavity)
        findings: tuple[Finding, ...] = ()
        flange, drilled = form.flange, _drilled(form)
    else:
        solid, whole, findings = _solid(loaded, bodies.pose)
        flange, drilled = flange_thickness(outside, rail), ()
    if solid is None:
        body = mesh_less(solid_of(outside, what="the outside"), [solid_of(cavity, what="cavity")])
        mesh = mesh_of_manifold(body)
    else:
        mesh = mesh_of(solid)
    floor = float(cavity.bounds[0, 2])
    return PanMetal(solid, mesh, rail - flange, floor, findings, drilled, whole)


def _drilled(form: PanForm) -> tuple[Drilled, ...]:
    """Bolt holes and the bosses' holes."""
    holes = [
        Drilled(np.array([*h.at, 0.0]), np.array([*h.at, -form.flange]), h.radius)
        for h in form.holes
    ]
    bores = [Drilled(b.at, b.inner - form.wall * b.out, b.bore) for b in form.bosses]
    return (*holes, *bores)


def _solid(
    loaded: LoadedJob, pose: Pose
) -> tuple[Any | None, tuple[Any, Any] | None, tuple[Finding, ...]]:
    """Metal, outside and inside as files have them; nothing of them, and why, of triangles."""
    new = loaded.job.new
    cavity, outside = new.cavity, new.outside
    assert outside is not None
    assert cavity is not None
    names = (outside.file, cavity.file)
    if any(name is None or Path(name).suffix.lower() not in STEP for name in names):
        return None, None, (_as_mesh("its outside and its cavity are not both STEP files"),)
    try:
        hull, inside = (
            _placed(step_solid(loaded.file(str(name))), how, pose)
            for name, how in zip(names, (outside, cavity), strict=True)
        )
        return less(hull, [inside]), (hull, inside), ()
    except SolveError as err:
        return None, None, (_as_mesh(str(err)),)
    except InputError as err:
        return None, None, (_as_mesh("; ".join(p.found for p in err.problems)),)


def _placed(solid: Any, how: Body, pose: Pose) -> Any:
    if how.frame == "engine":
        return solid
    turn = pose.rotation.T
    return moved(solid, turn, np.asarray(pose.to_engine(np.zeros(3))))


def _as_mesh(why: str) -> Finding:
    return Finding(
        code="HALF-509",
        place="the pan",
        found=f"{why}; its halves are made of triangles, without lip and groove",
        repair="",
        severity="note",
    )
