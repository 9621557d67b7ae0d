# SPDX-License-Identifier: Apache-2.0
"""From a job to its network: compartments tabulated, passages and doors in place, the oil in it."""

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.level import LevelBody, level_body
from sumpwright.geometry.level_table import LevelTable, level_table
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import LoadedJob
from sumpwright.job.model import Job
from sumpwright.oil.density import density
from sumpwright.oil.door import Door, open_area
from sumpwright.oil.network_array import Fluid, Mouth, Net, Pools
from sumpwright.oil.network_part import hatches_of, mouth_of, pools_of, ways_of
from sumpwright.oil.passage import Passage
from sumpwright.oil.swing import SwingTable, swing_table
from sumpwright.oil.viscosity import kinematic_viscosity
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.cache import Entry, kept, mesh_key
from sumpwright.studies.compartment import Parted
from sumpwright.studies.home import landing
from sumpwright.studies.motion_result import Doors
from sumpwright.studies.oil_state import SOLID_ANGLE, density_15
from sumpwright.studies.suction_line import oil_line

Floats = NDArray[np.float64]

USUAL_VISCOSITY = 12e-6
"""m^2/s of hot oil that nothing is known of; [common-practice], 8 to 15."""
NARROW = ("gap", "leak")


@dataclass(frozen=True)
class Spread:
    """What is uncertain, as factors on what the job says."""

    fill: float = 1.0
    retained: float = 1.0
    discharge: float = 1.0
    gap: float = 1.0


@dataclass(frozen=True, eq=False)
class Ready:
    """A pan ready to be driven at one temperature."""

    parted: Parted
    bodies: tuple[LevelBody, ...]
    reached: NDArray[np.bool_]
    """(n,) compartments that have a way in or out"""
    net: Net
    level_error: float
    """m; largest sampled error of the tabulated levels"""


def ready(
    loaded: LoadedJob, bodies: Bodies, found: Parted, temperature: float, doors: Doors = "working"
) -> Ready:
    """The network of a parted pan with the oil at a temperature [K]."""
    levels = tuple(level_body(mesh) for mesh in found.parts.bodies)
    pools, worst = _pools(loaded.folder, found, levels)
    passages, shares, moving = _doors(found, doors)
    net = Net(
        pools=pools,
        ways=ways_of(passages, shares),
        hatches=hatches_of(moving, passages),
        mouth=_mouth(loaded.job, bodies, found),
        fluid=fluid(loaded, temperature),
        landing=landing(loaded.folder, loaded.job, found.parts, bodies.new.cavity),
    )
    return Ready(found, levels, _reached(found), net, worst)


def at_temperature(made: Ready, loaded: LoadedJob, temperature: float) -> Ready:
    """The same pan with its oil at another temperature [K]."""
    return replace(made, net=made.net._replace(fluid=fluid(loaded, temperature)))


def fluid(loaded: LoadedJob, temperature: float) -> Fluid:
    """The oil at a temperature [K]; InputError where its viscosity there is not known."""
    job = loaded.job
    rho = float(density(density_15(job), temperature))
    line = oil_line(job)
    if line is not None:
        return Fluid(rho, float(kinematic_viscosity(line, temperature)))
    if abs(temperature - job.oil.hot) < 0.5:
        return Fluid(rho, USUAL_VISCOSITY)
    problem = Problem(
        code="JOB-161",
        where=loaded.where("oil"),
        found=f"a drive with the oil at {temperature - 273.15:.0f} degC, and an oil of no known "
        "viscosity",
        needed="`grade` or `viscosity`; without them only hot oil can be taken as the usual",
        do="add the oil's grade, such as 10W-40, or two points of its data sheet",
    )
    raise InputError([problem])


def spread_out(net: Net, spread: Spread) -> Net:
    """The network with its discharge coefficients and gaps changed."""
    narrow = net.ways.traits[:, 3] == 0.0
    wide = np.where(narrow, spread.gap, 1.0)
    traits = net.ways.traits.copy()
    traits[:, 0] *= wide
    areas = net.ways.areas * np.repeat(wide, np.diff(net.ways.first))
    most = np.minimum(net.ways.discharge * spread.discharge, 1.0)
    whole = net.ways.whole * wide
    ways = net.ways._replace(traits=traits, areas=areas, whole=whole, discharge=most)
    return net._replace(ways=ways)


def _doors(found: Parted, doors: Doors) -> tuple[list[Passage], Floats, tuple[Door, ...]]:
    """Passages, their open shares, and the doors that move."""
    passages = list(found.passages)
    shares = np.ones(len(passages))
    if doors == "working":
        return passages, shares, found.doors
    for k, passage in enumerate(passages):
        if passage.door >= 0:
            door = found.doors[passage.door]
            whole = door.width * door.length
            most = float(open_area(door, door.stop)) / whole
            shares[k] = most if doors == "stuck open" else 0.0
            passages[k] = replace(passage, door=-1)
    return passages, shares, ()


def _pools(folder: Path, found: Parted, levels: tuple[LevelBody, ...]) -> tuple[Pools, float]:
    """The compartments as arrays, and the largest error of their tables [m]."""
    meshes = found.parts.bodies
    tables = [_table(folder, mesh, body) for mesh, body in zip(meshes, levels, strict=True)]
    swings = [_swing(folder, mesh, body) for mesh, body in zip(meshes, levels, strict=True)]
    pools = pools_of(meshes, tables, swings)
    return pools, max(table.worst for table in tables)


def _table(folder: Path, mesh: Mesh, body: LevelBody) -> LevelTable:
    """Levels of a compartment, kept in the cache."""

    def made() -> Entry:
        table = level_table(body)
        arrays = {"heights": table.heights, "slopes": table.slopes, "knots": table.knots}
        return Entry(arrays, [table.volume, table.side, table.worst])

    entry = kept(folder, mesh_key(mesh, how=("levels",)), made)
    heights, slopes, knots = (entry.arrays[name] for name in ("heights", "slopes", "knots"))
    return LevelTable(heights, slopes, knots, *entry.data)


def _swing(folder: Path, mesh: Mesh, body: LevelBody) -> SwingTable:
    """How the oil of a compartment swings, kept in the cache."""

    def made() -> Entry:
        table = swing_table(body)
        return Entry({"values": table.values}, [table.volume, table.side])

    entry = kept(folder, mesh_key(mesh, how=("swings",)), made)
    return SwingTable(entry.arrays["values"], *entry.data)


def _mouth(job: Job, bodies: Bodies, found: Parted) -> Mouth:
    pickup = job.new.pickup
    angle = SOLID_ANGLE["floor" if pickup is None else pickup.place]
    return mouth_of(bodies.new.rim, found.pickup, angle)


def _reached(found: Parted) -> NDArray[np.bool_]:
    """Compartments with a way in or out; a lone one counts, for there is no other."""
    n = len(found.parts.bodies)
    reached = np.zeros(n, dtype=bool)
    for passage in found.passages:
        reached[[passage.behind, passage.ahead]] = True
    return np.ones(n, dtype=bool) if n == 1 else reached
