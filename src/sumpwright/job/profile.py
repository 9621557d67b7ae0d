# SPDX-License-Identifier: Apache-2.0
"""The job file's way of drawing a flat outline: corners, each sharp, rounded or reached by an
arc."""

from typing import Annotated

from pydantic import Field

from sumpwright.job.section import Clearance, Coordinate, Length, Section

Spot = tuple[Coordinate, Coordinate]
"""In the plane of the pan rail, engine frame: ahead, to the left."""


class Corner(Section):
    """One corner of an outline, in order round the edge."""

    at: Spot = Field(description="Where it is: ahead, to the left; before any rounding.")
    radius: Clearance | None = Field(
        None,
        description="Of its rounding, beside an arc too; 0 mm is sharp. Default: the outline's own "
        "radius.",
    )
    through: Spot | None = Field(
        None,
        description="The side from the corner before to this one is an arc through this point.",
    )


Outline = Annotated[tuple[Corner, ...], Field(min_length=3)]


class RoundHole(Section):
    """A round hole in the plane of the rail."""

    at: Spot = Field(description="Its centre: ahead, to the left.")
    diameter: Length = Field(description="Of the hole.")
