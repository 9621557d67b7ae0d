# SPDX-License-Identifier: Apache-2.0
"""The job file's sections of what turns and breathes: pump, oil on its way home, gears, air."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from sumpwright.job.number import number
from sumpwright.job.section import Place, Pressure, Section, Speed, Temperature, choice_error
from sumpwright.units import quantity

Share = Annotated[float, quantity("dimensionless", "0 %", "100 %")]


class PressureReading(Section):
    """One reading of the oil pressure, with the relief valve shut."""

    pressure: Pressure = Field(description="Over the atmosphere, as gauges show it.")
    rpm: Annotated[float, quantity("rad/s", "100 rpm", "25000 rpm")] = Field(
        description="Engine speed."
    )
    at: Temperature = Field(description="Temperature of the oil.")


class Pump(Section):
    """The oil pump. What it draws comes from `displacement`, or from the engine's `flow` curve."""

    displacement: Annotated[float, quantity("m^3", "0.1 cm^3", "500 cm^3")] | None = Field(
        None, description="Moved by one turn of the pump. Leave out where `engine.flow` is given."
    )
    drive_ratio: Annotated[float, number(0.05, 20.0)] = Field(
        1.0, description="Turns of the pump for one of the crankshaft."
    )
    efficiency: Annotated[float, quantity("dimensionless", "20 %", "100 %")] = Field(
        0.95, description="Flow over displacement; less as a pump wears."
    )
    relief: Pressure | None = Field(
        None, description="At which the relief valve opens, as gauges show it. Needs a `reading`."
    )
    relief_to: Literal["pan", "inlet"] = Field(
        "pan",
        description="Where it spills: into the `pan`, or back to the pump's `inlet`, which spares "
        "the pickup that part.",
    )
    reading: PressureReading | None = Field(
        None, description="One reading of the oil pressure: from it all others are computed."
    )


class Return(Section):
    """A place where oil comes home from the engine."""

    name: str = Field(min_length=1, description="What to call it on pages.")
    at: Place = Field(description="Middle of where it comes down, engine frame.")
    share: Share = Field(description="Of all the oil that comes home; all shares make 100 %.")
    spread: Annotated[float, quantity("m", "0 mm", "500 mm")] = Field(
        0.02, description="How far round `at` it comes down."
    )


class Driveline(Section):
    """Gears, final drive and tyre, and the engine speeds at which the driver changes gear."""

    gears: tuple[Annotated[float, number(0.1, 20.0)], ...] = Field(
        min_length=1, description="Ratios, first gear first, falling."
    )
    final_drive: Annotated[float, number(0.1, 20.0)] = Field(
        description="Ratio of the final drive."
    )
    tyre_radius: Annotated[float, quantity("m", "50 mm", "1 m")] = Field(
        description="Rolling, under load: the distance of one turn over 2 pi."
    )
    shift_up: Speed = Field(description="Engine speed at which the driver shifts up.")
    shift_down: Speed = Field(description="Engine speed at which the driver shifts down.")
    shift_time: Annotated[float, quantity("s", "0.01 s", "3 s")] = Field(
        0.3, description="From one gear's engine speed to the next one's."
    )
    idle: Annotated[float, quantity("rad/s", "100 rpm", "5000 rpm")] = Field(
        94.24777960769379, description="Engine speed under which the clutch slips."
    )
    limit: Speed | None = Field(
        None, description="Engine speed that must not be passed; a manoeuvre that would is refused."
    )


class Air(Section):
    """The air over the oil in the crankcase."""

    altitude: Annotated[float, quantity("m", "-500 m", "6000 m")] | None = Field(
        None, description="Over the sea: the pressure is then the standard atmosphere's."
    )
    pressure: Annotated[float, quantity("Pa", "20 kPa", "200 kPa")] | None = Field(
        None, description="Instead: absolute pressure in the crankcase."
    )

    @model_validator(mode="after")
    def _one_pressure(self) -> Self:
        if (self.altitude is None) == (self.pressure is None):
            raise choice_error("`altitude` or `pressure`", "give one of the two")
        return self
