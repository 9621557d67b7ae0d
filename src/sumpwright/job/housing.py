# SPDX-License-Identifier: Apache-2.0
"""The job file's section of the pickup housing, its screen and the flange that retains it.

From below: retaining flange with the inlet's opening, screen, housing with its roof, and a socket
for the tube. The inlet is the lower face of the lowest of them.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from sumpwright.job.number import number
from sumpwright.job.profile import Outline, Spot
from sumpwright.job.section import Angle, Clearance, Coordinate, Length, Section, choice_error
from sumpwright.job.shop import Metal
from sumpwright.job.suction import Cloth
from sumpwright.units import quantity

SmallThread = Literal["M3", "M4", "M5", "M6", "M8"]
Bore = Annotated[float, quantity("m", "3 mm", "100 mm")]


class Socket(Section):
    """Where the suction tube is let into the housing: a shoulder that it stands on, a bore round
    it."""

    leaves: Literal["top", "side"] = Field("top", description="Through the roof or a wall.")
    tube: Bore = Field(description="Outside diameter of the tube that goes in.")
    bore: Bore = Field(description="Inside diameter of the tube, and of the hole to it.")
    depth: Length = Field(description="How far the tube goes in.")
    wall: Length = Field(0.003, description="Of the socket round the tube.")
    edge_radius: Clearance = Field(
        0.0,
        description="Rounding where the hole to the tube begins inside the housing; "
        "`suction.edge_radius`, where that is left out.",
    )
    offset: Spot = Field(
        (0.0, 0.0), description="Through the roof: from the inlet's middle, ahead and to the left."
    )
    direction: Angle = Field(
        0.0, description="Through a wall: from straight ahead toward the left; 180 deg is astern."
    )
    rise: Annotated[float, quantity("rad", "0 deg", "60 deg")] = Field(
        0.0, description="Through a wall: by which the tube rises from the level."
    )
    over_inlet: Length | None = Field(
        None,
        description="Through a wall: height of the tube's middle over the inlet, where it leaves "
        "the inside. Default: half way up the inside.",
    )


class Retainer(Section):
    """The flat flange under the screen, bolted up into the housing."""

    thickness: Length = Field(description="Of the plate.")
    opening: Length | None = Field(
        None, description="Diameter of the inlet, where it is round. Default: the housing's inside."
    )
    diameter: Length | None = Field(
        None, description="Outside, of a round plate. Default: the housing's plan with its lugs."
    )
    thread: SmallThread = Field("M4", description="Of its bolts.")
    count: Annotated[int, number(2, 24, whole=True)] = Field(4, description="How many bolts.")
    circle: Length | None = Field(
        None, description="Diameter that the bolts stand on, evenly spaced."
    )
    start: Angle = Field(
        0.0, description="Where the first stands: from straight ahead toward the left."
    )
    at: tuple[Spot, ...] | None = Field(
        None, min_length=2, description="Instead of a circle: each bolt, from the inlet's middle."
    )
    lug: Length | None = Field(
        None, description="Radius of metal round each bolt. Default: the bolt's diameter."
    )
    engagement: Length | None = Field(
        None,
        description="Length of thread in the housing. Default: 1.5 times the diameter, and on to "
        "the end of the next screw that is sold.",
    )

    @model_validator(mode="after")
    def _one_pattern(self) -> Self:
        if (self.circle is None) == (self.at is None):
            raise choice_error("`circle`, or `at`", "say one way where the bolts stand")
        return self


class Housing(Section):
    """A pickup housing from numbers; oil enters it from below."""

    centre: Spot = Field(description="Middle of the inlet: ahead, to the left; engine frame.")
    inlet: Coordinate | None = Field(
        None, description="Height of the inlet over the pan rail: negative."
    )
    over_floor: Length | None = Field(
        None, description="Instead of `inlet`: its height over the highest floor under its rim."
    )
    diameter: Length | None = Field(None, description="Outside, where its plan is round.")
    box: tuple[Length, Length] | None = Field(
        None, description="Outside, where its plan is a box: along the engine and across."
    )
    outline: Outline | None = Field(
        None, description="Outside, of any other plan; engine frame, as `centre`."
    )
    radius: Clearance = Field(
        0.0, description="Rounding of a box's or outline's upright corners, outside."
    )
    height: Length = Field(description="From the inlet to the top of its roof.")
    wall: Length = Field(description="Of its sides.")
    roof: Length | None = Field(None, description="Thickness of its top. Default: `wall`.")
    made: Literal["machined", "printed"] = Field("machined", description="How it is made.")
    material: Metal = Field(
        "aluminium 6082-T6", description="Of housing and flange, where they are machined."
    )
    place: Literal["floor", "free", "corner"] = Field(
        "floor", description="As `pickup.place`: what bounds the flow to the inlet."
    )
    socket: Socket = Field(description="Where the suction tube is let in.")
    screen: Cloth | None = Field(None, description="The screen over its mouth.")
    lap: Length = Field(
        0.002, description="How far the screen reaches beyond the housing's inside, all round."
    )
    retainer: Retainer | None = Field(None, description="The flange that retains the screen.")

    @property
    def top(self) -> float:
        """Thickness of the roof [m]."""
        return self.wall if self.roof is None else self.roof

    @model_validator(mode="after")
    def _one_plan(self) -> Self:
        if sum(v is not None for v in (self.diameter, self.box, self.outline)) != 1:
            raise choice_error(
                "one of `diameter`, `box` and `outline`", "draw the housing's plan one way"
            )
        if (self.inlet is None) == (self.over_floor is None):
            raise choice_error("`inlet`, or `over_floor`", "give the inlet's height one way")
        if self.screen is not None and self.retainer is None:
            raise choice_error("a `retainer` for the `screen`", "add the flange that holds it")
        return self
