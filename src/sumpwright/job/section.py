# SPDX-License-Identifier: Apache-2.0
"""What all sections of the job file are made of: the kinds of quantity, and the strict section."""

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, FiniteFloat
from pydantic_core import PydanticCustomError

from sumpwright.units import quantity

Coordinate = Annotated[float, quantity("m", "-10 m", "10 m")]
Place = tuple[Coordinate, Coordinate, Coordinate]
Direction = tuple[FiniteFloat, FiniteFloat, FiniteFloat]
Length = Annotated[float, quantity("m", "0.1 mm", "5 m")]
Volume = Annotated[float, quantity("m^3", "0.001 L", "100 L")]
Angle = Annotated[float, quantity("rad", "-180 deg", "180 deg")]
Speed = Annotated[float, quantity("rad/s", "0 rpm", "25000 rpm")]
Temperature = Annotated[float, quantity("K", "-60 degC", "250 degC")]
Density = Annotated[float, quantity("kg/m^3", "801 kg/m^3", "1163 kg/m^3")]
Viscosity = Annotated[float, quantity("m^2/s", "2 mm^2/s", "20000 mm^2/s")]
Clearance = Annotated[float, quantity("m", "0 mm", "50 mm")]
"""Between two things that do not touch, or touch at 0 mm."""
Pressure = Annotated[float, quantity("Pa", "1 kPa", "2000 kPa")]
Time = Annotated[float, quantity("s", "0 s", "3600 s")]
Duration = Annotated[float, quantity("s", "0.1 s", "3600 s")]
RoadSpeed = Annotated[float, quantity("m/s", "0.1 m/s", "150 m/s")]
Accel = Annotated[float, quantity("m/s^2", "0.01 g", "5 g")]
"""Always positive: the key says which way."""


def file_from_text(value: Any) -> Any:
    """A section of a file, from the file's path alone."""
    return {"file": value} if isinstance(value, str) else value


def number_from_text(value: Any) -> Any:
    """The schema's version, from the text of the file."""
    return 1 if value == "1" else value


def choice_error(needed: str, do: str) -> PydanticCustomError:
    """What a section says where its keys contradict one another or leave a choice open."""
    return PydanticCustomError("choice", "{needed}", {"needed": needed, "do": do})


class FileKind:
    """Marks a field as a file's path, and says which kinds of file it takes."""

    def __init__(self, *suffixes: str, needed: str, do: str) -> None:
        self.suffixes, self.needed, self.do = suffixes, needed, do


class Section(BaseModel):
    """What all sections share: unknown keys are refused, values do not change once loaded."""

    model_config = ConfigDict(extra="forbid", frozen=True)
