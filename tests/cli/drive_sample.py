# SPDX-License-Identifier: Apache-2.0
"""A drive's result made by hand: two compartments, two doors, a second without oil."""

from dataclasses import replace

from sumpwright.errors import Finding
from sumpwright.studies.motion_result import (
    Chance,
    CompartmentCourse,
    DoorCourse,
    DriveResult,
    DriveSummary,
    ErrorReport,
    PickupCourse,
    PumpCourse,
)
from sumpwright.studies.result import Requirement

UP = ((0.0, 0.0, 1.0),) * 5


def drive_result(*, dry: bool = True) -> DriveResult:
    """A left turn of 1 g that takes the oil from the pickup, or, where not `dry`, all but."""
    result = DriveResult(
        job="Bench engine", revision="B", input_hash="0" * 64, code_version="0.1.0", units="metric",
        manoeuvre="left, accel 1.0 g", kind="circle", temperature_k=373.15, doors_are="working",
        time_s=(0.0, 1.0, 2.0, 3.0, 4.0),
        accel_g=((0.0, 0.0, 0.0), (-0.2, 0.3, 0.0), (0.0, 1.0, 0.0), (0.3, -0.4, 0.0), (0.0,) * 3),
        rpm=(4500.0,) * 5, speed_m_s=(15.0,) * 5,
        compartments=(
            CompartmentCourse("A", "right", 3.2e-3, (2e-3, 1.5e-3, 0.4e-3, 1e-3, 1.9e-3),
                              (-0.04,) * 5, UP),
            CompartmentCourse("B", "", 2.5e-3, (1e-3, 1.5e-3, 2.45e-3, 2e-3, 1.1e-3),
                              (-0.05,) * 5, UP),
        ),
        doors=(
            DoorCourse("left door", 70.0, (0.0, 12.0, 61.4, 0.2, 0.0)),
            DoorCourse("right door", 70.0, (0.0, 0.0, 0.3, 0.0, 0.0)),
        ),
        pickup=PickupCourse("A", (0.02, 0.01, -0.004, 0.005, 0.02), (0.0, 0.0, 0.3, 0.0, 0.0)),
        pump=PumpCourse((6e-4,) * 5, (9e4, 8.8e4, 7.12e4, 8.9e4, 9e4), (None,) * 5),
        retained_m3=(5e-4,) * 5,
        summary=DriveSummary(
            duration_s=4.0, first_air_s=1.6, aerated_s=1.1, longest_dry_s=1.1, air_drawn_m3=2.1e-4,
            least_cover_m=-0.004, least_cover_s=2.0, least_inlet_pa=7.12e4, least_inlet_s=2.0,
            least_pressure_pa=None, most_retained_m3=5e-4, largest_g=1.0, mass_error=3e-12,
        ),
        error=ErrorReport(3e-12, 2e-5, 1.1e-4, 1.9e-5, 5210, 44),
        requirements=(
            Requirement("dry_spell", "Longest time with air at the pickup", 0.0, 1.1, -1.1, "s",
                        "time", "common practice, no source", "not met", "", "from 1.60 s on"),
            Requirement("inlet_hot", "Pressure at the pump's inlet, hot", 8e4, None, None, "Pa",
                        "inlet_pressure", "", "not judged", "", "needs `new.suction`"),
        ),
        assumptions=("Engine speed is held at 4500 rpm.",),
        findings=(Finding("LOG-120", "log.csv", "gravity is in it", "1 g was taken off", "note"),),
        spans=(("steady", 1.5, 2.5),),
        chances=(
            Chance("Longest time with air at the pickup", 0.34, 0.252, 0.441, 96, 7,
                   ("fill ±0.2 L", "door gap ±50 %")),
        ),
    )  # fmt: skip
    return result if dry else _held(result)


def _held(result: DriveResult) -> DriveResult:
    never = {"first_air_s": None, "aerated_s": 0.0, "longest_dry_s": 0.0, "air_drawn_m3": 0.0}
    met = replace(result.requirements[0], value=0.0, margin=0.0, state="met")
    return replace(
        result,
        summary=replace(result.summary, least_cover_m=0.0012, **never),  # type: ignore[arg-type]
        pickup=replace(result.pickup, air_fraction=(0.0,) * 5),
        requirements=(met, *result.requirements[1:]),
        findings=(),
        spans=(),
        chances=(),
    )
