# SPDX-License-Identifier: Apache-2.0
"""The job file's section of the pan rail: its holes, and the outlines that go with them."""

from typing import Annotated, Literal

from pydantic import Field

from sumpwright.job.profile import Outline, Spot
from sumpwright.job.section import Clearance, Length, Section, Temperature
from sumpwright.job.shop import Metal

Thread = Literal["M5", "M6", "M8", "M10", "M12"]
Name = Annotated[str, Field(min_length=1, max_length=40)]


class RailHole(Section):
    """One hole of the bolt pattern."""

    name: Name = Field(description="What to call it, such as its number.")
    at: Spot = Field(description="Its centre: ahead, to the left; engine frame.")
    diameter: Length | None = Field(
        None, description="Of the hole in the pan's flange. Default: `thread` and `fit`."
    )


class MeasuredHole(Section):
    """One hole as measured."""

    name: Name = Field(description="Which hole of `rail.holes`.")
    at: Spot = Field(description="Its centre, in axes of the measurement's own.")


class MeasuredSet(Section):
    """The pattern as measured once: where its axes lie and how they are turned does not matter."""

    name: Name = Field(description="What to call it: calipers in March, print 2.")
    how: Literal["calipers", "scan", "photo", "stock mesh", "printer", "measuring machine"] = Field(
        description="How it was measured; `printer` is a print of the design, measured."
    )
    seen: Literal["above", "below"] = Field(
        "above", description="Side it was seen from; a gasket on a scanner may lie either way."
    )
    holes: tuple[MeasuredHole, ...] = Field(min_length=2, description="What was measured.")


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
    position: Length | None = Field(
        None,
        description="Position tolerance that the pan's own holes are made to, a diameter. "
        "Default: half of what the clearance holes leave.",
    )
    block: Literal["grey iron", "aluminium"] = Field("grey iron", description="Metal of the block.")
    metal: Metal | None = Field(
        None, description="Of the pan. Default: that of `new.split`, or aluminium."
    )
    cold: Temperature = Field(293.15, description="Of pan and block when they are bolted together.")
    hot: Temperature = Field(393.15, description="Of both at their hottest.")
    measured: tuple[MeasuredSet, ...] = Field((), description="The pattern as it was measured.")
