# SPDX-License-Identifier: Apache-2.0
"""The job file's sections of one pan: its bodies, pickup, dipstick and what stands in it."""

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from sumpwright.job.baffle import Baffle, Displacing
from sumpwright.job.body import Body, GeometryFile, GeometryPath
from sumpwright.job.housing import Housing
from sumpwright.job.section import (
    Coordinate,
    Direction,
    Length,
    Place,
    Section,
    Volume,
    file_from_text,
)
from sumpwright.job.shape import Shape
from sumpwright.job.split import Split
from sumpwright.job.suction import Suction
from sumpwright.units import quantity


class Cavity(Body):
    """The inside of a pan that oil can fill: a file, or derived from the pan's outside."""

    file: GeometryPath | None = Field(
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
    cavity: Annotated[Cavity, BeforeValidator(file_from_text)] | None = Field(
        None, description="The inside volume that oil can fill; or `shape` draws it."
    )
    outside: Annotated[GeometryFile, BeforeValidator(file_from_text)] | None = Field(
        None, description="The pan's outer skin: what has to clear the car."
    )
    fill: Volume | None = Field(
        None,
        description="Oil standing in this pan at its full mark, cold, drained back. "
        "Default: `oil.fill`.",
    )
    pickup: Pickup | None = Field(
        None, description="Where the pump draws. Default: the inlet of `housing`."
    )
    dipstick: Dipstick | None = Field(None, description="Where the level is read.")
    displacing: tuple[Displacing, ...] = Field(
        (), description="Closed bodies in the cavity that take up room for oil."
    )
    baffles: tuple[Baffle, ...] = Field((), description="Flat sheets that part the oil.")
    suction: Suction | None = Field(None, description="From the pickup to the pump.")
    shape: Shape | None = Field(
        None, description="Instead of `cavity` and `outside`: the pan from numbers."
    )
    split: Split | None = Field(None, description="How it is made in two halves.")
    housing: Housing | None = Field(
        None, description="The pickup's housing, its screen and the flange that retains it."
    )

    @model_validator(mode="after")
    def _pickup_of_housing(self) -> Self:
        """A housing is the pickup; where its inlet is, the cavity may have to say."""
        if self.housing is None or self.pickup is not None:
            return self
        inlet = Pickup.model_construct(place=self.housing.place)
        return self.model_copy(update={"pickup": inlet})
