# SPDX-License-Identifier: Apache-2.0
"""The job file's section of the suction line: from the pickup's mouth to the pump's inlet."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from sumpwright.job.section import Length, Place, Section, choice_error
from sumpwright.units import quantity

_WOVEN = ("pitch", "wire")
_PERFORATED = ("hole", "open_area", "thickness")


class Cloth(Section):
    """What a screen is made of: woven wire by `pitch` and `wire`, or sheet by `hole`, `open_area`
    and `thickness`."""

    pitch: Annotated[float, quantity("m", "0.05 mm", "20 mm")] | None = Field(
        None, description="Woven: from wire to wire; 25.4 mm over the mesh count."
    )
    wire: Annotated[float, quantity("m", "0.01 mm", "5 mm")] | None = Field(
        None, description="Woven: diameter of the wire."
    )
    hole: Annotated[float, quantity("m", "0.1 mm", "20 mm")] | None = Field(
        None, description="Perforated: diameter of a hole."
    )
    open_area: Annotated[float, quantity("dimensionless", "5 %", "80 %")] | None = Field(
        None, description="Perforated: holes over the whole face."
    )
    thickness: Annotated[float, quantity("m", "0.1 mm", "20 mm")] | None = Field(
        None, description="Perforated: of the sheet; at most one hole's diameter."
    )

    @property
    def woven(self) -> bool:
        """Whether it is woven wire."""
        return self.pitch is not None

    @model_validator(mode="after")
    def _one_kind(self) -> Self:
        woven = [getattr(self, key) is not None for key in _WOVEN]
        holes = [getattr(self, key) is not None for key in _PERFORATED]
        if any(woven) == any(holes) or any(woven) != all(woven) or any(holes) != all(holes):
            needed = "`pitch` and `wire`, or `hole`, `open_area` and `thickness`"
            raise choice_error(
                needed, "describe the screen as woven wire, or as a sheet with holes"
            )
        return self


class Screen(Cloth):
    """The pickup's screen: woven wire by `pitch` and `wire`, or sheet by `hole`, `open_area` and
    `thickness`."""

    area: Annotated[float, quantity("m^2", "0.5 cm^2", "2000 cm^2")] = Field(
        description="Whole face that oil goes through, wires or sheet between the holes included."
    )


class Bend(Section):
    """A round bend in a tube."""

    angle: Annotated[float, quantity("rad", "1 deg", "180 deg")] = Field(
        description="By which it turns."
    )
    radius: Length = Field(description="Of the tube's centre line; at least half the bore.")


class Tube(Section):
    """A run of one bore."""

    bore: Annotated[float, quantity("m", "3 mm", "100 mm")] = Field(description="Inside diameter.")
    length: Annotated[float, quantity("m", "0 mm", "5 m")] = Field(
        description="Straight lengths together, without the bends."
    )
    roughness: Annotated[float, quantity("m", "0 mm", "2 mm")] = Field(
        0.0, description="Height of the wall's roughness; 0 mm for drawn tube."
    )
    bends: tuple[Bend, ...] = Field((), description="Round bends in it.")


class Suction(Section):
    """The way of the oil from the pickup to the pump."""

    edge_radius: Annotated[float, quantity("m", "0 mm", "100 mm")] = Field(
        0.0, description="Rounding of the mouth's edge, at most the first bore; 0 mm is sharp."
    )
    screen: Screen | None = Field(None, description="The pickup's screen.")
    tubes: tuple[Tube, ...] = Field(
        min_length=1, description="From the pickup to the pump, in the order the oil flows."
    )
    pump_inlet: Place = Field(description="Where the pump's inlet is, engine frame.")
