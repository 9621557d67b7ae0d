# SPDX-License-Identifier: Apache-2.0
"""Jobs with a suction line whose feed can be worked out by hand: the pan is the box of box_job.

3 L of the box's 6 L leave the surface 50 mm under the rail; 60 L a metre of depth. The pump's
inlet is 70 mm over the rail, 120 mm over the oil. All of it is invented.
"""

from dataclasses import dataclass, field
from pathlib import Path

from sumpwright.studies.feed import feed_of
from sumpwright.studies.feed_result import Feed, FeedResult
from tests.studies.box_job import box_job, box_mesh

PICKUP = "  pickup: {centre: [150 mm, 0 mm, -90 mm], diameter: 30 mm}\n"
TUBE = "[{bore: 19 mm, length: 350 mm}]"


@dataclass(frozen=True)
class FeedJob:
    """Parts of a job.yaml; at 15 degC density is the data sheet's own."""

    tubes: str = TUBE
    screen: str = ""
    edge: str = ""
    inlet: str = "[200 mm, 0 mm, 70 mm]"
    pickup: str = PICKUP
    oil: str = "cold: 15 degC, hot: 15 degC, density_15: 850 kg/m^3"
    viscosity: str = "{at: 15 degC, value: 60 mm^2/s}, {at: 100 degC, value: 8 mm^2/s}"
    engine: str = "rpm: 3000 rpm, pump: {displacement: 10 cm^3, efficiency: 100 %}"
    more: str = ""
    stock: bool = False
    units: str = "metric"
    bodies: dict[str, object] = field(default_factory=dict)

    @property
    def text(self) -> str:
        """The job.yaml."""
        screen = f"    screen: {self.screen}\n" if self.screen else ""
        line = (
            f"{self.pickup}  suction:\n{self.edge}{screen}    tubes: {self.tubes}\n"
            f"    pump_inlet: {self.inlet}\n"
        )
        cavity = "  cavity: {file: geometry/cavity.stl, unit: mm}\n"
        stock = f"stock:\n{cavity}{line}" if self.stock else ""
        return (
            f"job: box\nunits: {self.units}\nnew:\n{cavity}{line}{stock}"
            f"oil: {{fill: 3 L, {self.oil}, viscosity: [{self.viscosity}]}}\n"
            f"engine: {{{self.engine}}}\n{self.more}"
        )


def feed_folder(folder: Path, job: FeedJob) -> Path:
    """The job in a folder."""
    return box_job(folder, job.text, **job.bodies)  # type: ignore[arg-type]


def result_of(folder: Path, job: FeedJob) -> FeedResult:
    """The job's feed, judged."""
    return feed_of(feed_folder(folder, job))


def feed_in(folder: Path, job: FeedJob) -> Feed:
    """The job's feed."""
    return result_of(folder, job).feed


REAL = FeedJob(
    tubes="[{bore: 18 mm, length: 200 mm, roughness: 0.002 mm, bends: [{angle: 90 deg, "
    "radius: 28 mm}]}, {bore: 16 mm, length: 60 mm}]",
    screen="{pitch: 1.6 mm, wire: 0.4 mm, area: 16 cm^2}",
    edge="    edge_radius: 2 mm\n",
    oil="cold: 20 degC, hot: 100 degC, density_15: 868 kg/m^3, grade: 10W-40",
    viscosity="{at: 40 degC, value: 96 mm^2/s}, {at: 100 degC, value: 14.4 mm^2/s}",
    engine="rpm: 6500 rpm, retained: [{rpm: 700 rpm, oil: 0.3 L}, {rpm: 6500 rpm, oil: 0.9 L}], "
    "pump: {displacement: 7 cm^3, relief: 420 kPa, relief_to: inlet, "
    "reading: {pressure: 240 kPa, rpm: 3000 rpm, at: 100 degC}}",
    more="air: {altitude: 300 m}\n",
    bodies={"cavity": box_mesh((0.0, -0.1, -0.1), (0.3, 0.1, 0.0))},
)
"""Everything at once, as in a car."""
