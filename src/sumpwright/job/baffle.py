# SPDX-License-Identifier: Apache-2.0
"""The job file's sections of what stands in a pan: baffles with windows and trap doors, and bodies
that take up room.

Along and up on a baffle are those of geometry/panel.py.
"""

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from sumpwright.job.body import GeometryFile
from sumpwright.job.number import number
from sumpwright.job.section import (
    Clearance,
    Coordinate,
    Direction,
    FileKind,
    Length,
    Place,
    Section,
    choice_error,
    file_from_text,
)
from sumpwright.job.sheet_part import ButtHinge, Join, Tab
from sumpwright.units import quantity

Spot = tuple[Coordinate, Coordinate]
"""On a baffle's plane, from its `at`: along, up."""
Material = Literal["steel", "aluminium", "stainless steel"]
Hinge = Literal["top", "bottom", "start", "end"]
_SIDES: dict[str, int] = {"bottom": 0, "end": 1, "top": 2, "start": 3}
"""Of a rectangle, as geometry/panel.py counts them."""


class Displacing(GeometryFile):
    """A closed body in the cavity that takes up room for oil."""

    name: str = Field(min_length=1, description="What to call it on pages.")


class Spring(Section):
    """A spring that shuts a trap door."""

    preload: Annotated[float, quantity("N m", "0 mN m", "10 N m")] = Field(
        description="Its moment on the shut door."
    )
    rate: Annotated[float, quantity("N m/rad", "0 mN m/rad", "10 N m/rad")] = Field(
        0.0, description="By which the moment grows as the door opens."
    )


class TrapDoor(Section):
    """A flap over an opening: it swings one way only, and oil passes that way only."""

    hinge: Annotated[Hinge | int, number(0, 99, "top", "bottom", "start", "end", whole=True)] = (
        Field(
            description="The side it hangs on. `start` and `end` are the ends along the baffle. "
            "Of an opening by its outline: the side's number, 0 from the first corner to the next."
        )
    )
    opens: Literal["ahead", "behind"] = Field(
        description="`ahead`: toward the baffle's normal; `behind`: against it."
    )
    thickness: Length | None = Field(
        None, description="Of the flap. Default: the baffle's thickness."
    )
    material: Material | None = Field(
        None, description="What the flap is made of. Default: the baffle's material."
    )
    mass: Annotated[float, quantity("kg", "0.1 g", "10 kg")] | None = Field(
        None, description="Instead of `material`: what the flap weighs."
    )
    stop: Annotated[float, quantity("rad", "1 deg", "180 deg")] = Field(
        1.2217304763960306, description="Largest angle it opens to."
    )
    gap: Annotated[float, quantity("m", "0 mm", "10 mm")] = Field(
        0.0003, description="Clear round the shut flap; oil leaks through it both ways."
    )
    spring: Spring | None = Field(None, description="What shuts it besides its own weight.")
    overlap: Clearance | None = Field(
        None, description="By which the flap covers the opening's edge, as made. Default: 3 mm."
    )
    butt_hinge: ButtHinge | None = Field(
        None, description="What it hangs on, as made; left out, it is drawn without a hinge."
    )

    @model_validator(mode="after")
    def _one_weight(self) -> Self:
        if self.mass is not None and self.material is not None:
            raise choice_error("`material` or `mass`, not both", "delete one of the two")
        return self


class BaffleOpening(Section):
    """A window in a baffle, or a hole with a trap door over it."""

    name: str = Field(min_length=1, description="What to call it on pages.")
    centre: Spot | None = Field(None, description="Middle of a rectangle on the baffle: along, up.")
    width: Length | None = Field(None, description="Of the rectangle, along.")
    height: Length | None = Field(None, description="Of the rectangle, up.")
    outline: tuple[Spot, ...] | None = Field(
        None, min_length=3, description="Instead of a rectangle: corners in order round the edge."
    )
    discharge: Annotated[float, number(0.1, 1.0)] = Field(
        0.61,
        description="Discharge coefficient. A sharp edge has 0.61; well rounded ones have more.",
    )
    door: TrapDoor | None = Field(None, description="The flap over it; without one it is a window.")

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = [v is not None for v in (self.centre, self.width, self.height)]
        if any(given) == (self.outline is not None) or any(given) != all(given):
            needed = "`centre`, `width` and `height`, or `outline`"
            raise choice_error(needed, "give all three, or the corners")
        return self

    @property
    def hinge_side(self) -> int | None:
        """Number of the outline's side that the door hangs on; None for a window."""
        if self.door is None:
            return None
        hinge = self.door.hinge
        return hinge if isinstance(hinge, int) else _SIDES[hinge]


class Face(Section):
    """A flat face in a STEP file; `file: wall.step` may be written as just `wall.step`."""

    file: Annotated[
        str,
        FileKind(
            ".step",
            ".stp",
            needed="a STEP file",
            do="export the flat face as STEP; no other format keeps it flat",
        ),
    ] = Field(min_length=1, description="STEP with one flat face, relative to the job folder.")
    frame: Literal["engine", "car"] = Field("engine", description="Frame of the coordinates.")


class Baffle(Section):
    """A flat sheet in the pan: by numbers, or a flat face from CAD.

    By numbers, outlines and openings are drawn on its plane and count from `at`: *up* is as near to
    up as the plane allows (to the left on a level sheet), and *along* runs to the left for a normal
    of [1, 0, 0], to the rear for [0, 1, 0] and ahead for [0, 0, 1].
    """

    name: str = Field(min_length=1, description="What to call it on pages.")
    at: Place | None = Field(None, description="A point on its plane, engine frame.")
    normal: Direction | None = Field(
        None, description="Direction square to the sheet; plain numbers, no unit."
    )
    outline: tuple[Spot, ...] | None = Field(
        None,
        min_length=3,
        description="Corners in order round the edge. Left out: it reaches the cavity's wall "
        "everywhere, from `bottom` to `top` where those are given.",
    )
    top: Coordinate | None = Field(
        None, description="Instead of an outline: ends at this height over the pan rail."
    )
    bottom: Coordinate | None = Field(
        None, description="Instead of an outline: starts at this height over the pan rail."
    )
    face: Annotated[Face, BeforeValidator(file_from_text)] | None = Field(
        None,
        description="Instead of numbers: a flat face from CAD. Its holes are windows.",
    )
    thickness: Length = Field(description="Of the sheet, centred on its plane.")
    material: Material = Field("steel", description="Of the sheet; its doors are made from it too.")
    gap: Clearance = Field(
        0.0, description="Clear all round, wherever its edge runs along the cavity's wall."
    )
    openings: tuple[BaffleOpening, ...] = Field((), description="Windows and trap doors.")
    bend_radius: Clearance | None = Field(
        None, description="Inside its bends, where a tab gives none. Default: its thickness."
    )
    grain: Literal["along", "up"] | None = Field(
        None, description="Which way the sheet was rolled. Left out: any, and it is nested freely."
    )
    tabs: tuple[Tab, ...] = Field((), description="Flanges bent up from its edge.")
    joins: tuple[Join, ...] = Field(
        (), description="How it goes together with others; what is left out is proposed."
    )

    @model_validator(mode="after")
    def _numbers_or_face(self) -> Self:
        by_numbers = (self.at, self.normal, self.outline, self.top, self.bottom)
        if self.face is not None:
            if any(v is not None for v in by_numbers) or self.openings:
                needed = "`face` alone, or `at` and `normal` with what is drawn from there"
                do = "keep one way; windows of a face are the holes in it"
                raise choice_error(needed, do)
        elif self.at is None or self.normal is None:
            raise choice_error("`at` and `normal`, or `face`", "give both, or a STEP file")
        return self

    @model_validator(mode="after")
    def _one_edge(self) -> Self:
        if self.outline is not None and (self.top is not None or self.bottom is not None):
            needed = "`outline`, or `top` and `bottom`, not both"
            raise choice_error(needed, "delete one; an outline has its own upper and lower edge")
        if self.normal is not None and not any(self.normal):
            raise choice_error("a `normal` that is not zero", "write [1, 0, 0] for a wall across")
        return self
