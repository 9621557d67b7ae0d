# SPDX-License-Identifier: Apache-2.0
"""A box pan with sheet parts fixed in every way, for parts list and weld list; and its answers."""

from dataclasses import dataclass
from pathlib import Path

from sumpwright.job.load import LoadedJob, load_job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.make_join import SheetJoint, sheet_joints
from sumpwright.studies.make_seat import SeatedOn, seated_on
from sumpwright.studies.sheet_part import sheets_with
from sumpwright.studies.sheet_part_result import SheetsResult
from tests.studies.baffled_job import baffled

WALL = """\
    - name: wall
      at: [100 mm, 0 mm, 0 mm]
      normal: [1, 0, 0]
      thickness: 1 mm
      gap: 0.5 mm
      openings:
        - name: flap
          centre: [30 mm, -60 mm]
          width: 40 mm
          height: 20 mm
          door: { hinge: top, opens: ahead, butt_hinge: { pin: 2 mm, knuckles: 3, leaf: 16 mm, \
holes: { diameter: 3.3 mm, count: 2 } } }
      tabs:
        - { name: riveted, edge: bottom, at: -70 mm, width: 30 mm, flange: 12 mm, bends: ahead, \
holes: { diameter: 3.3 mm, count: 2 } }
        - { name: screwed, edge: bottom, at: -30 mm, width: 30 mm, flange: 12 mm, bends: ahead, \
holes: { diameter: 4.5 mm, count: 1, use: screws } }
        - { name: plugged, edge: bottom, at: 10 mm, width: 30 mm, flange: 12 mm, bends: ahead, \
holes: { diameter: 5 mm, count: 3, use: plug welds } }
        - { name: bare, edge: bottom, at: 50 mm, width: 30 mm, flange: 12 mm, bends: ahead }
"""
RIB = """\
    - name: rib
      at: [160 mm, 0 mm, 0 mm]
      normal: [0, 1, 0]
      outline: [[-60 mm, -80 mm], [60 mm, -80 mm], [60 mm, -20 mm], [-60 mm, -20 mm]]
      thickness: 1 mm
      gap: 0.5 mm
      joins: [{ to: wall, kind: tab-and-slot, count: 2, width: 10 mm%s }]
"""


@dataclass(frozen=True, eq=False)
class Making:
    """What the lists are made from."""

    loaded: LoadedJob
    bodies: Bodies
    sheets: SheetsResult
    seats: tuple[SeatedOn, ...]
    joints: tuple[SheetJoint, ...]


def making_of(folder: Path, baffles: str = WALL, more: str = "", shop: str = "") -> Making:
    """The box job with `baffles`, `more` keys of the new pan, and a shop."""
    path = baffled(folder, baffles, more) / "job.yaml"
    path.write_text(path.read_text("utf-8") + shop, "utf-8")
    loaded = load_job(folder)
    bodies = read_bodies(loaded)
    sheets = sheets_with(loaded, bodies)
    seats = seated_on(loaded, bodies, sheets)
    return Making(loaded, bodies, sheets, seats, sheet_joints(loaded, bodies))
