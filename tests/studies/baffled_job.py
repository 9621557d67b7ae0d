# SPDX-License-Identifier: Apache-2.0
"""Box jobs with baffles: everything that the studies make of them can be worked by hand."""

from pathlib import Path

from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import load_job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import Parted, parted
from tests.studies.box_job import JOB, box_job

T = 0.002
"""Thickness of the walls in these jobs [m]."""

WALL = """\
    - name: wall
      at: [100 mm, 0 mm, 0 mm]
      normal: [1, 0, 0]
      thickness: 2 mm
"""
DOOR = """\
      openings:
        - name: flap
          centre: [30 mm, -80 mm]
          width: 40 mm
          height: 20 mm
          door: { hinge: top, opens: ahead }
"""
PICKUP = "  pickup: { centre: [200 mm, 0 mm, -80 mm], diameter: 40 mm }\n"


def baffled(folder: Path, baffles: str, more: str = "", **bodies: Mesh) -> Path:
    """A box job with `baffles`, and `more` keys of the new pan."""
    text = JOB.replace("oil:\n", f"{more}  baffles:\n{baffles}oil:\n", 1)
    return box_job(folder, text, **bodies)


def parted_job(folder: Path) -> tuple[Parted, Bodies]:
    """The job's new pan parted, and its bodies."""
    loaded = load_job(folder)
    bodies = read_bodies(loaded)
    return parted(loaded.job, bodies), bodies
