# SPDX-License-Identifier: Apache-2.0
"""The job file's schema. Quantities are text with a unit in the file, SI floats once loaded.

docs/job-file.md is generated from it: a field's description is its documentation.
"""

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from sumpwright.job.body import Body, GeometryFile
from sumpwright.job.logging import Logs
from sumpwright.job.manoeuvre import Manoeuvre
from sumpwright.job.pan import Cavity, Dipstick, Pan, Pickup
from sumpwright.job.rail import Rail
from sumpwright.job.requirement import Requirements
from sumpwright.job.running import Air, Driveline, Pump, Return
from sumpwright.job.section import (
    Angle,
    Coordinate,
    Density,
    Length,
    Place,
    Section,
    Speed,
    Temperature,
    Viscosity,
    Volume,
    file_from_text,
    number_from_text,
)
from sumpwright.job.shop import Shop
from sumpwright.units import quantity

__all__ = [
    "Air",
    "Body",
    "Cavity",
    "CrankSweep",
    "Dipstick",
    "Driveline",
    "Engine",
    "GeometryFile",
    "Job",
    "Manoeuvre",
    "Movement",
    "Obstacle",
    "Oil",
    "Pan",
    "Pickup",
    "Pose",
    "Pump",
    "Requirements",
    "Return",
    "Ride",
]


class ViscosityPoint(Section):
    """One measured or data-sheet viscosity."""

    at: Temperature = Field(description="Temperature.")
    value: Viscosity = Field(description="Kinematic viscosity.")


class Oil(Section):
    """The oil and how much of it. Volumes are those at `cold`."""

    fill: Volume | None = Field(
        None,
        description="Oil standing in the pan at the full mark, cold, drained back. "
        "Leave out where a dipstick's `full` gives it.",
    )
    low: Volume | None = Field(
        None, description="Oil standing in the pan at the low mark, cold, drained back."
    )
    beyond_pan: Annotated[float, quantity("m^3", "0 L", "50 L")] = Field(
        0.0,
        description="Oil that never stands in the pan: filter, cooler, galleries. "
        "Only added to the service fill.",
    )
    grade: str | None = Field(None, description="SAE J300 grade, such as 10W-40.")
    viscosity: tuple[ViscosityPoint, ViscosityPoint] | None = Field(
        None, description="Two data-sheet points, usually 40 and 100 degC."
    )
    density_15: Density | None = Field(
        None,
        description="Density at 15 degC, from the data sheet. Default: typical of the grade, "
        "or 870 kg/m^3.",
    )
    cold: Temperature = Field(293.15, description="Temperature at which the level is read.")
    hot: Temperature = Field(373.15, description="Temperature at which the pan must hold.")
    parked_slope: Annotated[float, quantity("rad", "0 deg", "30 deg")] = Field(
        0.08726646259971647,
        description="Steepest ground on which the level may be read; the report says how far off "
        "it then reads.",
    )


class RetainedPoint(Section):
    """Oil up in the engine at one speed."""

    rpm: Speed = Field(description="Engine speed.")
    oil: Annotated[float, quantity("m^3", "0 L", "50 L")] = Field(
        description="Oil held up in the engine at that speed, hot."
    )


class FlowPoint(Section):
    """Pump flow at one speed."""

    rpm: Speed = Field(description="Engine speed.")
    flow: Annotated[float, quantity("m^3/s", "0 L/min", "500 L/min")] = Field(
        description="Oil drawn through the pickup at that speed."
    )


class CrankSweep(Section):
    """The space the crank and rods sweep: a cylinder by numbers, or a file."""

    height: Coordinate | None = Field(
        None, description="Crank centreline over the pan rail (negative: below it)."
    )
    side: Coordinate = Field(0.0, description="Crank centreline to the left of y = 0.")
    radius: Length | None = Field(None, description="Swing radius of rods and counterweights.")
    front: Coordinate | None = Field(None, description="x of the sweep's front end.")
    rear: Coordinate | None = Field(None, description="x of the sweep's rear end.")
    body: Annotated[GeometryFile, BeforeValidator(file_from_text)] | None = Field(
        None, description="Instead of numbers: the sweep as a closed body."
    )

    @model_validator(mode="after")
    def _numbers_or_body(self) -> Self:
        numbers = [self.height, self.radius, self.front, self.rear]
        given = [n is not None for n in numbers]
        if any(given) == (self.body is not None) or any(given) != all(given):
            raise PydanticCustomError(
                "choice",
                "{needed}",
                {
                    "needed": "`height`, `radius`, `front` and `rear`, or `body`",
                    "do": "give all four numbers, or a file",
                },
            )
        return self


class Engine(Section):
    """What the engine does to the oil. Every part is optional and switches on what it makes
    possible."""

    rpm: Speed | None = Field(
        None,
        description="Speed at which the pan must hold. Default: the highest of the curves.",
    )
    retained: tuple[RetainedPoint, ...] | None = Field(
        None, min_length=1, description="Oil up in the engine over speed, rising speed."
    )
    flow: tuple[FlowPoint, ...] | None = Field(
        None, min_length=1, description="Oil drawn through the pickup over speed, rising speed."
    )
    pump: Pump | None = Field(None, description="The oil pump.")
    retained_cold: tuple[RetainedPoint, ...] | None = Field(
        None, min_length=1, description="As `retained`, with the oil at `oil.cold`."
    )
    cold_rpm: Speed = Field(
        157.07963267948966, description="Speed at which the pump's inlet is judged, cold."
    )
    return_lag: Annotated[float, quantity("s", "0.05 s", "120 s")] | None = Field(
        None,
        description="How long oil is on its way home. Default: `retained` over the pump's flow at "
        "each speed.",
    )
    returns: tuple[Return, ...] | None = Field(
        None,
        min_length=1,
        description="Where oil comes home. Default: evenly over the opening at the rail.",
    )
    crank_sweep: CrankSweep | None = Field(None, description="What the oil must stay clear of.")
    crankcase_height: Annotated[float, quantity("m", "0 mm", "1 m")] = Field(
        0.0,
        description="How far the crankcase walls go on straight up above the cavity's top. At 0 mm "
        "the rail is a lid that holds the oil down, which flatters the hold.",
    )


class Pose(Section):
    """Where the engine sits in the car at ride height; ISO 8855 signs."""

    height: Annotated[float, quantity("m", "0 mm", "3 m")] | None = Field(
        None, description="Pan rail at the engine frame's origin over the ground, at ride height."
    )
    x: Coordinate = Field(0.0, description="Engine frame's origin, forward in the car.")
    y: Coordinate = Field(0.0, description="Engine frame's origin, to the left in the car.")
    roll: Angle = Field(
        0.0, description="About the engine's own x; positive lowers its right side."
    )
    pitch: Angle = Field(0.0, description="About the engine's own y; positive lowers its front.")
    yaw: Angle = Field(0.0, description="Positive turns left; 90 deg for a transverse engine.")


class Ride(Section):
    """How the car moves over the ground."""

    bump_travel: Annotated[float, quantity("m", "0 mm", "500 mm")] = Field(
        description="From ride height to full bump."
    )


class Obstacle(GeometryFile):
    """A body of the car that the pan has to clear."""

    name: str = Field(min_length=1, description="What to call it on pages.")
    frame: Literal["engine", "car"] = Field(
        "car",
        description="Frame of the coordinates. In either, the body stays with the car when the "
        "engine moves.",
    )
    clearance: Annotated[float, quantity("m", "0 mm", "1 m")] | None = Field(
        None, description="Smallest gap to keep. Default: `requirements.clearance`."
    )
    guard: bool = Field(
        False, description="This is the crossmember that must hang lower than the pan."
    )


class Movement(Section):
    """One case of engine movement: a roll about the crank line, a shift, or both."""

    name: str = Field(min_length=1, description="What to call it on pages.")
    roll: Angle = Field(0.0, description="About the crank centreline; positive lowers the right.")
    shift: Place = Field(
        (0.0, 0.0, 0.0), description="Of the engine in the car: forward, left, up."
    )


class Fitting(Section):
    """What the release's fitting sheet says, as it was given: no answer turns on it."""

    torque: Annotated[str, Field(min_length=1, max_length=200)] | None = Field(
        None, description="Of the pan's bolts, in the words of whoever gives it."
    )


class Job(Section):
    """A job: the pans, the oil, the engine and the car, as far as they are known."""

    sumpwright: Annotated[Literal[1], BeforeValidator(number_from_text)] = Field(
        1, description="Version of the job file's schema."
    )
    job: str = Field(min_length=1, description="Name of the job.")
    revision: str = Field(
        "A",
        pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$",
        description="Revision of the new pan: letters, digits, '.', '-' and '_'.",
    )
    units: Literal["metric", "us"] = Field("metric", description="Units on screen and in reports.")
    note: str | None = Field(None, description="Anything worth saying on the report's first page.")
    new: Pan = Field(description="The pan being made.")
    stock: Pan | None = Field(None, description="The pan it replaces, to compare with.")
    rail: Rail | None = Field(None, description="The engine's pan rail: what the pan bolts to.")
    oil: Oil = Field(default_factory=Oil, description="The oil and how much of it.")
    engine: Engine = Field(default_factory=Engine, description="What the engine does to the oil.")
    pose: Pose = Field(default_factory=Pose, description="Where the engine sits in the car.")
    ride: Ride | None = Field(None, description="How the car moves over the ground.")
    obstacles: tuple[Obstacle, ...] = Field((), description="What the pan has to clear.")
    movement: tuple[Movement, ...] = Field((), description="Cases of engine movement.")
    driveline: Driveline | None = Field(None, description="From road speed to engine speed.")
    air: Air | None = Field(
        None, description="The air over the oil. Default: the standard atmosphere at the sea."
    )
    manoeuvres: tuple[Manoeuvre, ...] = Field((), description="What the car does, by name.")
    logs: Logs = Field(default_factory=Logs, description="How the shop's logger writes.")
    fitting: Fitting = Field(
        default_factory=Fitting, description="What goes with the part to whoever fits it."
    )
    shop: Shop | None = Field(
        None, description="What the shop has to make the part with, and what it costs."
    )
    requirements: Requirements = Field(
        default_factory=Requirements, description="Limits of the requirements ledger."
    )
