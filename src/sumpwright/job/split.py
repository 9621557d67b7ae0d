# SPDX-License-Identifier: Apache-2.0
"""The job file's section of how a pan is made in two halves and welded."""

from typing import Annotated, Literal

from pydantic import Field

from sumpwright.job.section import Clearance, Coordinate, Length, Section
from sumpwright.job.shop import Metal
from sumpwright.units import quantity


class Lip(Section):
    """The step by which the halves find each other: a ring that stands up on one half's inside and
    goes into a rebate of the other."""

    height: Length = Field(description="Of the ring over the split.")
    thickness: Length = Field(description="Of the ring, taken out of the wall from inside.")
    clearance: Clearance = Field(
        0.0001, description="Between ring and rebate, on the side and at the ring's end."
    )
    on: Literal["lower", "upper"] = Field("lower", description="The half that has the ring.")


class Split(Section):
    """Where the pan is parted into two halves, and how these are joined."""

    height: Coordinate | None = Field(
        None,
        description="Of the level split over the rail: negative. Default: `sumpwright halves` "
        "proposes one.",
    )
    material: Metal = Field("aluminium 6061-T6", description="What both halves are made of.")
    allowance: Clearance = Field(
        0.002, description="Stock round a half that is milled off, on each side."
    )
    skim: Clearance = Field(
        0.0005, description="Left on the flange's sealing face until after welding."
    )
    lip: Lip | None = Field(None, description="The step that registers the halves. Default: none.")
    root_face: Clearance = Field(0.001, description="Of the wall left square under the groove.")
    groove_angle: Annotated[float, quantity("rad", "20 deg", "120 deg")] = Field(
        1.2217304763960306, description="Of the weld groove all round outside, side to side."
    )
    groove_depth: Clearance | None = Field(
        None,
        description="Of the groove, from outside; 0 mm is none. Default: what lip and root face "
        "leave of the wall where it is thinnest.",
    )
    gap: Clearance = Field(0.0, description="Between the root faces when welded.")
    setups: tuple[Literal["left", "right", "front", "rear"], ...] = Field(
        (),
        description="Further set-ups of a half on the mill, besides from the split and from the "
        "other side: the spindle square to these sides, such as for a slot under the flange.",
    )
