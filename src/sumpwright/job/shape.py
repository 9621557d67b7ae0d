# SPDX-License-Identifier: Apache-2.0
"""The job file's section of a pan drawn from numbers."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from sumpwright.job.profile import Corner
from sumpwright.job.section import (
    Clearance,
    Coordinate,
    Direction,
    Length,
    Place,
    Section,
    choice_error,
)
from sumpwright.job.shop import Metal
from sumpwright.units import quantity

Name = Annotated[str, Field(min_length=1, max_length=120)]
Draft = Annotated[float, quantity("rad", "0 deg", "60 deg")]
Rise = Annotated[float, quantity("dimensionless", "-100 %", "100 %")]
Depth = Annotated[float, quantity("m", "0 mm", "5 m")]
Thread = Literal[
    "M8x1",
    "M10x1",
    "M10x1.25",
    "M12x1.25",
    "M12x1.5",
    "M14x1.25",
    "M14x1.5",
    "M16x1.5",
    "M18x1.5",
    "M20x1.5",
    "M22x1.5",
    "M24x1.5",
    "M26x1.5",
]
"""Fine threads of plugs and bungs."""


class ZoneCorner(Corner):
    """One corner of a zone, in order round its edge."""

    draft: Draft | None = Field(
        None, description="Of the side from the corner before to this one. Default: the zone's."
    )


class Zone(Section):
    """A part of the inside: an outline carried down to a floor. Zones join where they overlap."""

    name: Name = Field(description="What to call it: sump well, shallow front, right kick-out.")
    outline: Annotated[tuple[ZoneCorner, ...], Field(min_length=3)] | None = Field(
        None, description="Of the inside, at `drawn_at`; inside the wall."
    )
    box: tuple[Coordinate, Coordinate, Coordinate, Coordinate] | None = Field(
        None, description="Instead of an outline: x of rear and front, y of right and left side."
    )
    depth: Length = Field(
        description="From the rail down to the floor, where it is lowest under the outline."
    )
    slope: tuple[Rise, Rise] = Field(
        (0.0, 0.0), description="Rise of the floor for each length ahead, and to the left."
    )
    top: Length | None = Field(
        None,
        description="From the rail down to a roof, where it is highest under the outline: for a "
        "kick-out. Default: open to the rail.",
    )
    top_slope: tuple[Rise, Rise] = Field(
        (0.0, 0.0), description="Rise of the roof for each length ahead, and to the left."
    )
    draft: Draft | None = Field(
        None, description="By which its sides lean in towards the floor. Default: the shape's."
    )
    drafts: tuple[Draft, Draft, Draft, Draft] | None = Field(
        None, description="Of a box: of its rear, front, right and left side."
    )
    drawn_at: Depth | None = Field(
        None,
        description="Depth at which a side that leans stands where it is drawn. "
        "Default: `top`, or the rail.",
    )
    radius: Clearance | None = Field(
        None, description="Of its upright corners. Default: `corner_radius`."
    )
    floor_radius: Clearance | None = Field(
        None, description="Along its floor, and its roof. Default: the shape's."
    )

    @model_validator(mode="after")
    def _one_outline(self) -> Self:
        if (self.outline is None) == (self.box is None):
            raise choice_error("`outline` or `box`", "draw the zone one way")
        if self.drafts is not None and self.box is None:
            raise choice_error("`draft` at the corners of an `outline`", "move the drafts there")
        return self


class Flange(Section):
    """The flange round the opening; its edge and its holes are the rail's, what is left on it
    until after welding is `split.skim`."""

    thickness: Length = Field(0.008, description="As finished.")


class Boss(Section):
    """Metal that a plug, a tube or a sensor screws into."""

    name: Name = Field(description="What to call it.")
    kind: Literal["drain", "dipstick", "sensor", "return"] = Field(description="What it is for.")
    at: Place = Field(description="Middle of its outer face, where a plug seats.")
    facing: Direction = Field(description="Direction its outer face looks; no unit.")
    diameter: Length = Field(description="Of the boss.")
    height: Length = Field(
        description="From its outer face inward; it may reach into the inside, but not across it."
    )
    thread: Thread | None = Field(
        None, description="Tapped through it: M14x1.5. The solids have the hole to be tapped."
    )
    bore: Length | None = Field(
        None, description="Hole through it. Default: the thread's diameter less its pitch."
    )
    made: Literal["with the pan", "welded in"] | None = Field(
        None,
        description="Milled on with its half, or turned and welded in. Default: milled on where "
        "there is a `split`.",
    )

    @model_validator(mode="after")
    def _hole(self) -> Self:
        if self.thread is None and self.bore is None:
            raise choice_error("`thread`, or `bore`", "say what goes through the boss")
        if sum(c * c for c in self.facing) == 0.0:
            raise choice_error("a `facing` direction that is not zero", "write [0, 0, -1]")
        return self


class Relief(Section):
    """Room for crank and rods: where their sweep comes near the pan, it is hollowed out. The metal
    round that room is as thick as `wall` or `floor`, the thicker of the two."""

    clearance: Clearance = Field(0.003, description="Round `engine.crank_sweep`.")


class Shape(Section):
    """A pan from numbers: its inside, and the wall round it."""

    wall: Length = Field(description="Of the sides, and of roofs.")
    floor: Length | None = Field(None, description="Thickness of the floors. Default: `wall`.")
    zones: tuple[Zone, ...] = Field(min_length=1, description="What the inside is made up of.")
    corner_radius: Length = Field(
        0.006, description="Of upright inside corners: at least the cutter's."
    )
    floor_radius: Clearance | None = Field(
        None, description="Along inside floors: the cutter's corner. Default: `corner_radius`."
    )
    draft: Draft = Field(0.0, description="By which sides lean in towards the floor.")
    flange: Flange = Field(default_factory=Flange, description="The flange at the rail.")
    bosses: tuple[Boss, ...] = Field((), description="For plugs, tubes and sensors.")
    relief: Relief | None = Field(None, description="Room for crank and rods.")
    material: Metal | None = Field(
        None, description="What it is made of. Default: the material of `split`."
    )
