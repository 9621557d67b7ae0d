# SPDX-License-Identifier: Apache-2.0
"""What is asked of the free space: how far it may go, and what it is made with. SI."""

from dataclasses import dataclass

from sumpwright.geometry.free_space_plan import Growth
from sumpwright.job.model import Job

REACH = 0.100
"""m; how far beside the opening is looked unless more is asked for"""
FLANGE = 0.030
"""m below the rail, where a kick-out may begin: room for bolt head, socket and wall. Common
practice, no source."""
WALL = 0.003
"""m; common practice, no source"""
CORNER = 0.006
"""m; of a 12 mm cutter. Common practice, no source"""


@dataclass(frozen=True)
class SpaceAsked:
    """Options of one question; None takes the job's own value or the default."""

    left: float | None = None
    right: float | None = None
    front: float = 0.0
    rear: float = 0.0
    flange: float = FLANGE
    wall: float | None = None
    radius: float | None = None
    depth: float | None = None
    """Of the inside, below the rail"""
    step: float | None = None

    @property
    def growth(self) -> Growth:
        """How far the space that is drawn and written goes beyond the opening."""
        left, right = (REACH if side is None else side for side in (self.left, self.right))
        return Growth(left, right, self.front, self.rear)

    @property
    def reach(self) -> float:
        """How far is looked to all sides [m]."""
        return max(REACH, self.growth.most)

    def wall_of(self, job: Job) -> tuple[float, str]:
        """The pan's wall [m], and where it is from."""
        if self.wall is not None:
            return self.wall, "as asked"
        shape = job.new.shape
        if shape is not None and (shape.floor or 0.0) > shape.wall:
            return shape.floor or 0.0, "new.shape.floor, thicker than its wall"
        if shape is not None:
            return shape.wall, "new.shape.wall"
        return WALL, "usual; `--wall` takes another"

    def radius_of(self, job: Job) -> tuple[float, str]:
        """Radius of inside corners [m], and where it is from."""
        if self.radius is not None:
            return self.radius, "as asked"
        if job.shop is not None and job.shop.cutters:
            least = min(job.shop.cutters, key=lambda cutter: cutter.diameter)
            return 0.5 * least.diameter, f"the smallest cutter, {least.name}"
        return CORNER, "usual; shop.cutters has none"
