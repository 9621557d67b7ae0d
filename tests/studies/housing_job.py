# SPDX-License-Identifier: Apache-2.0
"""Jobs with a pickup housing in the box of box_job, its sizes worked by hand. All invented."""

from dataclasses import dataclass
from pathlib import Path

from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from tests.studies.box_job import box_job

SOCKET = "{tube: 21 mm, bore: 18 mm, depth: 8 mm, edge_radius: 2 mm}"
SCREEN = "{pitch: 1.6 mm, wire: 0.4 mm}"
RETAINER = "{thickness: 3 mm, thread: M4, count: 4, circle: 58 mm, start: 45 deg}"
SUCTION = "  suction: {tubes: [{bore: 18 mm, length: 300 mm}], pump_inlet: [200 mm, 0 mm, 70 mm]}\n"
ENGINE = "engine: {rpm: 3000 rpm, pump: {displacement: 10 cm^3, efficiency: 100 %}}\n"
OIL = """\
oil: {fill: 3 L, low: 2 L, cold: 20 degC, hot: 100 degC, density_15: 868 kg/m^3, viscosity: [
  {at: 40 degC, value: 96 mm^2/s}, {at: 100 degC, value: 14.4 mm^2/s}]}
"""


@dataclass(frozen=True)
class HousingJob:
    """Parts of a job.yaml; the floor is at -100 mm."""

    centre: str = "[150 mm, 0 mm]"
    inlet: str = "over_floor: 10 mm"
    plan: str = "diameter: 54 mm"
    height: str = "22 mm"
    wall: str = "4 mm"
    roof: str = "2 mm"
    socket: str = SOCKET
    screen: str = SCREEN
    retainer: str = RETAINER
    more: str = ""
    """Further keys of the housing"""
    pan: str = SUCTION
    """Further keys of the new pan"""
    end: str = ENGINE
    """Further sections"""

    @property
    def text(self) -> str:
        """The job.yaml."""
        screen = f"    screen: {self.screen}\n" if self.screen else ""
        retainer = f"    retainer: {self.retainer}\n" if self.retainer else ""
        return (
            "job: box\nnew:\n  cavity: {file: geometry/cavity.stl, unit: mm}\n"
            f"  housing:\n    centre: {self.centre}\n    {self.inlet}\n    {self.plan}\n"
            f"    height: {self.height}\n    wall: {self.wall}\n    roof: {self.roof}\n"
            f"    socket: {self.socket}\n{screen}{retainer}{self.more}{self.pan}{OIL}{self.end}"
        )


def housing_folder(folder: Path, job: HousingJob, **bodies: Mesh) -> Path:
    """The job in a folder."""
    return box_job(folder, job.text, **bodies)


def housing_bodies(folder: Path, job: HousingJob, **bodies: Mesh) -> tuple[LoadedJob, Bodies]:
    """The job, loaded, and its bodies."""
    loaded = load_job(housing_folder(folder, job, **bodies))
    return loaded, read_bodies(loaded)
