# SPDX-License-Identifier: Apache-2.0
"""The job file's schema. Quantities are text with a unit in the file, SI floats once loaded.

docs/job-file.md is generated from this module: a field's description is its documentation.
"""

from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, FiniteFloat, model_validator
from pydantic_core import PydanticCustomError

from sumpwright.job.requirement import Requirements
from sumpwright.units import quantity

Coordinate = Annotated[float, quantity("m", "-10 m", "10 m")]
Place = tuple[Coordinate, Coordinate, Coordinate]
Direction = tuple[FiniteFloat, FiniteFloat, FiniteFloat]
Length = Annotated[float, quantity("m", "0.1 mm", "5 m")]
Volume = Annotated[float, quantity("m^3", "0.001 L", "100 L")]
Angle = Annotated[float, quantity("rad", "-180 deg", "180 deg")]
Speed = Annotated[float, quantity("rad/s", "0 rpm", "25000 rpm")]
Temperature = Annotated[float, quantity("K", "-60 degC", "250 degC")]
Density = Annotated[float, quantity("kg/m^3", "801 kg/m^3", "1163 kg/m^3")]
Viscosity = Annotated[float, quantity("m^2/s", "2 mm^2/s", "20000 mm^2/s")]


def _file_from_text(value: Any) -> Any:
    return {"file": value} if isinstance(value, str) else value


def _number_from_text(value: Any) -> Any:
    return 1 if value == "1" else value


class Section(BaseModel):
    """What all sections share: unknown keys are refused, values do not change once loaded."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Body(Section):
    """How the coordinates of a geometry file are to be read."""

    unit: Literal["mm", "cm", "m", "in", "ft"] | None = Field(
        None,
        description="Unit of the numbers in the file. STL and PLY need it; STEP and 3MF carry it.",
    )
    frame: Literal["engine", "car"] = Field(
        "engine",
        description="Frame of the coordinates: the engine's (pan rail at z = 0) or the car's.",
    )
    repair: bool = Field(
        False,
        description="Accept the repair that `check` offers for an unsound mesh; "
        "what was done is written in the report.",
    )


class GeometryFile(Body):
    """A closed body in a file; `file: pan.step` may be written as just `pan.step`."""

    file: str = Field(
        min_length=1, description="STEP, STL, 3MF or PLY, relative to the job folder."
    )


class Cavity(Body):
    """The inside of a pan that oil can fill: a file, or derived from the pan's outside."""

    file: str | None = Field(
        None, min_length=1, description="Closed body of the inside, relative to the job folder."
    )
    cap_at: Coordinate | None = Field(
        None,
        description="The file is an open shell: close it with a flat cap at this height over the "
        "pan rail (0 mm is the rail itself).",
    )
    wall: Length | None = Field(
        None,
        description="Without a file: the cavity is this pan's `outside` less a wall this thick.",
    )

    @model_validator(mode="after")
    def _one_origin(self) -> Self:
        if (self.file is None) == (self.wall is None):
            raise PydanticCustomError(
                "choice",
                "{needed}",
                {
                    "needed": "either `file` or `wall`, not both",
                    "do": "give a cavity file, or the wall that leaves it inside `outside`",
                },
            )
        return self


class Pickup(Section):
    """The pickup's inlet: a round rim by centre and diameter, or any rim by its points."""

    centre: Place | None = Field(None, description="Middle of a round inlet rim, engine frame.")
    diameter: Annotated[float, quantity("m", "5 mm", "300 mm")] | None = Field(
        None, description="Inside diameter of a round inlet rim."
    )
    facing: Direction = Field(
        (0.0, 0.0, -1.0), description="Direction the inlet faces; plain numbers, no unit."
    )
    rim: tuple[Place, ...] | None = Field(
        None, min_length=3, description="Instead of centre and diameter: points round the rim."
    )
    place: Literal["floor", "free", "corner"] = Field(
        "floor",
        description="What bounds the flow to the inlet, for the draw-down height: near a `floor` "
        "or in a wall (half space, the usual, careful choice), `free` in the oil, in a `corner`.",
    )

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        round_rim = self.centre is not None and self.diameter is not None
        if round_rim == (self.rim is not None) or (self.centre is None) != (self.diameter is None):
            raise PydanticCustomError(
                "choice",
                "{needed}",
                {
                    "needed": "`centre` with `diameter`, or `rim`",
                    "do": "describe the inlet one way",
                },
            )
        if sum(c * c for c in self.facing) == 0.0:
            raise PydanticCustomError(
                "choice",
                "{needed}",
                {"needed": "a `facing` direction that is not zero", "do": "write [0, 0, -1]"},
            )
        return self


class Dipstick(Section):
    """A straight stick; it may lean. Distances along it count from `start`."""

    start: Place = Field(description="Where the stick's stop seats, engine frame.")
    direction: Direction = Field(
        (0.0, 0.0, -1.0), description="Direction the stick points; plain numbers, no unit."
    )
    length: Length | None = Field(None, description="From `start` to the tip.")
    full: Length | None = Field(
        None, description="From `start` to the full mark: the fill is then computed from it."
    )
    low: Length | None = Field(None, description="From `start` to the low mark.")

    @model_validator(mode="after")
    def _points_somewhere(self) -> Self:
        if sum(c * c for c in self.direction) == 0.0:
            raise PydanticCustomError(
                "choice",
                "{needed}",
                {"needed": "a `direction` that is not zero", "do": "write [0, 0, -1]"},
            )
        return self


class Pan(Section):
    """One pan: the stock one or the new one."""

    name: str | None = Field(None, description="What to call it on pages.")
    cavity: Annotated[Cavity, BeforeValidator(_file_from_text)] = Field(
        description="The inside volume that oil can fill."
    )
    outside: Annotated[GeometryFile, BeforeValidator(_file_from_text)] | None = Field(
        None, description="The pan's outer skin: what has to clear the car."
    )
    fill: Volume | None = Field(
        None,
        description="Oil standing in this pan at its full mark, cold, drained back. "
        "Default: `oil.fill`.",
    )
    pickup: Pickup | None = Field(None, description="Where the pump draws.")
    dipstick: Dipstick | None = Field(None, description="Where the level is read.")


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
    body: Annotated[GeometryFile, BeforeValidator(_file_from_text)] | None = Field(
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
    crank_sweep: CrankSweep | None = Field(None, description="What the oil must stay clear of.")
    crankcase_height: Annotated[float, quantity("m", "0 mm", "1 m")] = Field(
        0.0,
        description="How far the crankcase walls go on straight up above the pan rail. At 0 mm "
        "the rail is a lid that holds the oil down, which flatters the hold.",
    )


class Pose(Section):
    """Where the engine sits in the car at ride height; ISO 8855 signs."""

    height: Annotated[float, quantity("m", "0 mm", "3 m")] | None = Field(
        None, description="Pan rail at the engine frame's origin over the ground, at ride height."
    )
    x: Coordinate = Field(0.0, description="Engine frame's origin, forward in the car.")
    y: Coordinate = Field(0.0, description="Engine frame's origin, to the left in the car.")
    roll: Angle = Field(0.0, description="Positive lowers the right side.")
    pitch: Angle = Field(0.0, description="Positive lowers the nose.")
    yaw: Angle = Field(0.0, description="Positive turns left; 90 deg for a transverse engine.")


class Ride(Section):
    """How the car moves over the ground."""

    bump_travel: Annotated[float, quantity("m", "0 mm", "500 mm")] = Field(
        description="From ride height to full bump."
    )


class Obstacle(GeometryFile):
    """A body of the car that the pan has to clear."""

    name: str = Field(min_length=1, description="What to call it on pages.")
    frame: Literal["engine", "car"] = Field("car", description="Frame of the coordinates.")
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


class Job(Section):
    """A job: the pans, the oil, the engine and the car, as far as they are known."""

    sumpwright: Annotated[Literal[1], BeforeValidator(_number_from_text)] = Field(
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
    oil: Oil = Field(default_factory=Oil, description="The oil and how much of it.")
    engine: Engine = Field(default_factory=Engine, description="What the engine does to the oil.")
    pose: Pose = Field(default_factory=Pose, description="Where the engine sits in the car.")
    ride: Ride | None = Field(None, description="How the car moves over the ground.")
    obstacles: tuple[Obstacle, ...] = Field((), description="What the pan has to clear.")
    movement: tuple[Movement, ...] = Field((), description="Cases of engine movement.")
    requirements: Requirements = Field(
        default_factory=Requirements, description="Limits of the requirements ledger."
    )
