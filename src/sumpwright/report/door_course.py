# SPDX-License-Identifier: Apache-2.0
"""Which course over time belongs to which door of the scene."""

from sumpwright.studies.motion_result import DoorCourse, DriveResult
from sumpwright.studies.motion_scene import DoorShape, MotionScene


def moving_doors(result: DriveResult, scene: MotionScene) -> list[tuple[DoorShape, DoorCourse]]:
    """Each door with its course, by order: two parts of one door share a name.

    None where the doors are stuck, for then the result has no courses.
    """
    if len(result.doors) != len(scene.doors):
        return []
    return list(zip(scene.doors, result.doors, strict=True))
