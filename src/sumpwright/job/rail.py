# SPDX-License-Identifier: Apache-2.0
"""The job file's section of the pan rail: its holes, and the outlines that go with them."""

from typing import Annotated, Literal

from pydantic import Field

from sumpwright.job.profile import Outline, Spot
from sumpwright.job.section import Clearance, Length, Section

Thread = Literal["M5", "M6", "M8", "M10", "M12"]


class RailHole(Section):
    """One hole of the bolt pattern."""

    name: Annotated[str, Field(min_length=1, max_length=40)] = Field(
        description="What to call it, such as its number."
    )
    at: Spot = Field(description="Its centre: ahead, to the left; engine frame.")
    diameter: Length | None = Field(
        None, description="Of the hole in the pan's flange. Default: `thread` and `fit`."
    )


class Rail(Section):
    """The engine's pan rail: what the pan bolts to."""

    thread: Thread = Field("M6", description="Of the pan's bolts.")
    fit: Literal["fine", "medium", "coarse"] = Field(
        "medium", description="Clearance holes of the flange by ISO 273."
    )
    holes: tuple[RailHole, ...] = Field((), description="The bolt pattern.")
    outline: Outline | None = Field(
        None, description="Outer edge of the flange. Default: `margin` round the holes."
    )
    radius: Clearance = Field(0.0, description="Rounding of the outline's corners.")
    margin: Length = Field(0.010, description="From a hole's centre to the flange's edge.")
    opening: Outline | None = Field(
        None, description="Inner edge of the block's rail: what the pan may be open to."
    )
    opening_radius: Clearance = Field(0.0, description="Rounding of the opening's corners.")
