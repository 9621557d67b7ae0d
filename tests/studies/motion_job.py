# SPDX-License-Identifier: Apache-2.0
"""Box jobs with their oil in motion: the box of box_job, half full, a pickup where it is put.

The box is 300 x 200 x 100 mm with its rail at 0 and 3 L of oil in it: at any tilt the surface of a
box that is half full goes through its middle, (150, 0, -50) mm.
"""

from dataclasses import dataclass
from pathlib import Path

from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.studies.asked import Asked, driven
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.drive import Run, driven_run
from sumpwright.studies.motion_result import Doors
from sumpwright.studies.network import Ready, ready
from tests.studies.box_job import box_job

PICKUP = "  pickup: {centre: [150 mm, 0 mm, -80 mm], diameter: 40 mm}\n"
"""Under the middle of the box, 30 mm under oil at rest."""
THICK = "[{at: 20 degC, value: 20000 mm^2/s}, {at: 100 degC, value: 10000 mm^2/s}]"
"""Oil that never swings: it creeps to where it comes to rest, in seconds."""
ENGINE = """\
engine:
  rpm: 6000 rpm
  flow: [{rpm: 1000 rpm, flow: 6 L/min}, {rpm: 6000 rpm, flow: 36 L/min}]
  retained: [{rpm: 1000 rpm, oil: 0.1 L}, {rpm: 6000 rpm, oil: 0.6 L}]
"""


@dataclass(frozen=True)
class MotionJob:
    """Parts of a job.yaml."""

    pickup: str = PICKUP
    pan: str = ""
    """More keys of the new pan, such as baffles"""
    fill: str = "3 L"
    viscosity: str = ""
    oil: str = "cold: 20 degC, hot: 20 degC, density_15: 850 kg/m^3"
    more: str = ""
    """More sections"""

    @property
    def text(self) -> str:
        """The job.yaml."""
        cavity = "  cavity: {file: geometry/cavity.stl, unit: mm}\n"
        thick = f", viscosity: {self.viscosity}" if self.viscosity else ""
        return (
            f"job: box\nnew:\n{cavity}{self.pickup}{self.pan}"
            f"oil: {{fill: {self.fill}, {self.oil}{thick}}}\n{self.more}"
        )


def motion_folder(folder: Path, job: MotionJob, **bodies: Mesh) -> Path:
    """The job in a folder."""
    return box_job(folder, job.text, **bodies)


def motion_parts(
    folder: Path, job: MotionJob, doors: Doors = "working", **bodies: Mesh
) -> tuple[LoadedJob, Bodies, Ready]:
    """The job loaded, its bodies, and its pan ready with hot oil."""
    loaded = load_job(motion_folder(folder, job, **bodies))
    read = read_bodies(loaded)
    found = parted(loaded.job, read, baffles=doors != "no baffles", folder=loaded.folder)
    return loaded, read, ready(loaded, read, found, loaded.job.oil.hot, doors)


def motion_run(
    parts: tuple[LoadedJob, Bodies, Ready],
    asked: Asked,
    doors: Doors = "working",
) -> Run:
    """A manoeuvre of it."""
    loaded, bodies, made = parts
    return driven_run(loaded, bodies, made, driven(loaded, asked), doors, asked.start)
