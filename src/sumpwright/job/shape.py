# SPDX-License-Identifier: Apache-2.0
"""The job file's section of a pan drawn from numbers."""

from typing import Annotated

from pydantic import Field

from sumpwright.job.profile import Outline
from sumpwright.job.section import Clearance, Length, Section


class Zone(Section):
    """A part of the inside: an outline carried down to a floor. Zones join where they overlap."""

    name: Annotated[str, Field(min_length=1, max_length=120)] = Field(
        description="What to call it: sump well, shallow front, right kick-out."
    )
    outline: Outline = Field(description="Of the inside, at the rail or at its roof.")
    radius: Clearance | None = Field(
        None, description="Of its upright corners. Default: `corner_radius`."
    )
    depth: Length = Field(description="From the rail down to its floor.")


class Shape(Section):
    """A pan from numbers, inside of a `wall`."""

    wall: Length = Field(description="Of the sides.")
    zones: tuple[Zone, ...] = Field(min_length=1, description="What the inside is made up of.")
    corner_radius: Length = Field(0.006, description="Of upright inside corners: the cutter's.")
