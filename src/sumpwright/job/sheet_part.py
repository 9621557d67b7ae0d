# SPDX-License-Identifier: Apache-2.0
"""The job file's sections of how a baffle is made from sheet: tabs, joins, the hinge of a door."""

from typing import Annotated, Literal

from pydantic import Field

from sumpwright.job.number import number
from sumpwright.job.section import Clearance, Coordinate, Length, Section
from sumpwright.units import quantity

Count = Annotated[int, number(1, 100, whole=True)]


class RowOfHoles(Section):
    """Holes in a row along the middle of what they are in."""

    diameter: Length = Field(description="Of each hole.")
    count: Count = Field(1, description="How many, evenly apart.")
    use: Literal["rivets", "screws", "plug welds"] = Field("rivets", description="What goes in.")


class Tab(Section):
    """A flange bent up from a straight piece of the baffle's edge, to fix it by.

    Its outer face comes to where the edge of the flat baffle is.
    """

    name: str | None = Field(None, min_length=1, description="What to call it on drawings.")
    edge: Literal["top", "bottom", "start", "end"] = Field(
        description="Which edge; `start` and `end` are the ends along the baffle."
    )
    at: Coordinate = Field(
        description="Middle of the tab: along, on the top or bottom; up, on the start or end."
    )
    width: Length = Field(description="Of the tab, along the edge.")
    flange: Length = Field(description="How far its outer face reaches from the edge.")
    bends: Literal["ahead", "behind"] = Field(
        description="`ahead`: toward the baffle's normal; `behind`: against it."
    )
    angle: Annotated[float, quantity("rad", "5 deg", "150 deg")] = Field(
        1.5707963267948966, description="By which it is bent; 90 deg is square."
    )
    radius: Clearance | None = Field(
        None, description="Inside the bend. Default: the baffle's `bend_radius`."
    )
    relief: Length | None = Field(
        None, description="Width of the slit on either side. Default: the sheet's thickness, 1 mm."
    )
    holes: RowOfHoles | None = Field(None, description="Holes in its flange.")


class Join(Section):
    """How this baffle and another are put together where they meet."""

    to: str = Field(min_length=1, description="Name of the other baffle.")
    kind: Literal["half-lap", "tab-and-slot", "butt"] = Field(
        description="`half-lap`: each is slit half way, and they slide into each other. "
        "`tab-and-slot`: tongues of the one that ends here go through slots in the other. "
        "`butt`: the one that ends here stops at the other's face."
    )
    slit: Literal["top", "bottom"] = Field(
        "bottom", description="Of a half-lap: the end of the crossing this baffle is slit from."
    )
    count: Count | None = Field(None, description="Of tongues. Default: one in each 40 mm.")
    width: Length | None = Field(
        None, description="Of a tongue. Default: a third of its share, 12 mm at most."
    )
    clearance: Clearance | None = Field(
        None,
        description="Between sheet and slot on each side. Default: a tenth of the thickness, "
        "0.1 mm at least.",
    )
    weld: bool | None = Field(
        None,
        description="Whether it is welded: tongues across their ends, others along the seam. "
        "Default: only a `tab-and-slot` is.",
    )


class ButtHinge(Section):
    """A hinge by numbers: knuckles rolled from the flap and from a leaf, on one pin."""

    pin: Length = Field(description="Diameter of the pin.")
    knuckles: Annotated[int, number(3, 99, whole=True)] = Field(
        3, description="Of flap and leaf together; the flap has the first and the last."
    )
    length: Length | None = Field(
        None, description="Of the hinge. Default: the side that the door hangs on."
    )
    leaf: Length = Field(description="How far the leaf reaches from the pin; as thick as the flap.")
    play: Clearance = Field(
        0.0001, description="Between pin and knuckle, and between knuckles, on each side."
    )
    holes: RowOfHoles | None = Field(None, description="In the leaf, and in the baffle behind it.")
    stop_tab: bool = Field(
        True, description="Whether the leaf has a tab that stops the door at its `stop`."
    )
