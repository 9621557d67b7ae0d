# SPDX-License-Identifier: Apache-2.0
"""The job file's section of the shop: machine, cutters, stock, sheet, press, printer, prices.

No answer about oil turns on it; what is made does.
"""

from typing import Annotated, Literal

from pydantic import Field

from sumpwright.job.number import number
from sumpwright.job.section import Clearance, Length, Section
from sumpwright.units import quantity

Size = tuple[Length, Length, Length]
Metal = Literal[
    "steel",
    "stainless steel",
    "aluminium 5052-H32",
    "aluminium 5754-H22",
    "aluminium 3003-H14",
    "aluminium 6061-T6",
    "aluminium 6082-T6",
]
Name = Annotated[str, Field(min_length=1, max_length=120)]
Money = Annotated[float, number(0, 10_000_000)]


class Machine(Section):
    """The milling machine."""

    name: Name = Field(description="What the shop calls it.")
    travel: Size = Field(description="Along x, y and z.")
    daylight: Length | None = Field(
        None, description="Most between table and spindle nose. Default: its travel along z."
    )
    fixture: Length = Field(
        0.04, description="Height of vice or plate that the work stands on, over the table."
    )
    tool: Length | None = Field(
        None,
        description="From the spindle's nose to the tip of the longest tool. Default: 60 mm more "
        "than the longest `reach`.",
    )
    price_hour: Money | None = Field(None, description="Of an hour on it, in `prices.currency`.")


class Cutter(Section):
    """An end mill in its holder."""

    name: Name = Field(description="What the shop calls it.")
    diameter: Length = Field(description="Of the cutter.")
    corner: Clearance = Field(0.0, description="Radius of its corner; half the diameter is a ball.")
    reach: Length = Field(description="How far it stands out of its holder.")
    holder: Length | None = Field(
        None, description="Diameter of the holder. Default: it clears everything."
    )


class StockBlock(Section):
    """A block or plate on the shelf, or to be bought."""

    name: Name = Field(description="What the shop calls it.")
    size: Size = Field(description="Length, width, thickness.")
    material: Metal = Field(description="What it is made of.")
    count: Annotated[int, number(1, 1000, whole=True)] = Field(1, description="How many.")
    price: Money | None = Field(None, description="Of the whole block.")


class SheetStock(Section):
    """A sheet on the shelf, or to be bought."""

    name: Name = Field(description="What the shop calls it.")
    size: tuple[Length, Length] = Field(description="Length, width.")
    thickness: Length = Field(description="Of the sheet.")
    material: Metal = Field(description="What it is made of.")
    price: Money | None = Field(None, description="Of the whole sheet.")
    spacing: Clearance = Field(
        0.005, description="Left between two parts cut from it, the cutter's kerf included."
    )
    margin: Clearance = Field(0.01, description="Left along its edge.")


class BendTest(Section):
    """A strip bent to see what the sheet really does: it settles K for its material and
    thickness."""

    material: Metal = Field(description="Of the strip.")
    thickness: Length = Field(description="Of the strip.")
    radius: Clearance = Field(description="Inside the bend, as measured.")
    angle: Annotated[float, quantity("rad", "5 deg", "170 deg")] = Field(
        1.5707963267948966, description="By which the strip was bent; 90 deg is square."
    )
    flat: Length = Field(description="Length of the strip before.")
    legs: tuple[Length, Length] = Field(
        description="Outside lengths of both legs after, to the crossing of the outer faces."
    )


class Printer(Section):
    """The printer of fit-check parts."""

    name: Name = Field(description="What the shop calls it.")
    volume: Size = Field(description="What fits it: x, y, z.")
    shrink: Annotated[float, quantity("dimensionless", "-2 %", "5 %")] = Field(
        0.0, description="By how much a print comes out smaller than drawn."
    )
    clearance: Clearance = Field(0.0002, description="Between a key and its pocket, on each side.")
    wall: Length | None = Field(
        None, description="Of a pan printed to try the fit. Default: as it is drawn."
    )
    density: Annotated[float, quantity("kg/m^3", "500 kg/m^3", "3000 kg/m^3")] = Field(
        1240.0, description="Of what it prints. Default: PLA."
    )
    price_kg: Money | None = Field(None, description="Of a kilogram of it.")


class Bought(Section):
    """A part that is bought in."""

    name: Name = Field(description="What to ask for.")
    line: Name | None = Field(
        None,
        description="Key of the line of the parts list that it is bought for, such as "
        "`pan-bolts`: the line takes this name and price. Default: a line of its own.",
    )
    count: Annotated[int, number(1, 1000, whole=True)] = Field(
        1, description="How many. Default: 1, or as many as its `line` needs."
    )
    price: Money | None = Field(None, description="Of one.")
    note: Name | None = Field(None, description="Where from, which standard, what to look out for.")


class Prices(Section):
    """What things cost; left out, the parts list has no costs."""

    currency: Annotated[str, Field(min_length=1, max_length=8)] = Field(
        "EUR", description="What all prices of the job are in."
    )
    weld_hour: Money | None = Field(None, description="Of an hour of welding.")
    weld_rate: Annotated[float, quantity("m/s", "1 mm/min", "2000 mm/min")] | None = Field(
        None, description="Weld length laid in a minute, all passes and preparation included."
    )
    cut_hour: Money | None = Field(None, description="Of an hour of sheet cutting.")
    cut_rate: Annotated[float, quantity("m/s", "10 mm/min", "50000 mm/min")] | None = Field(
        None, description="Length of sheet cut in a minute."
    )
    bend: Money | None = Field(None, description="Of one bend.")
    removal: Annotated[float, quantity("m^3/s", "0.1 cm^3/min", "2000 cm^3/min")] | None = Field(
        None, description="Metal milled off in a minute, on average."
    )


class Inspection(Section):
    """What the finished pan is measured against, where the shop asks for other than is usual."""

    flatness: Length | None = Field(
        None, description="Most that the sealing face may be off flat. Default: 0.15 mm."
    )
    leak: Annotated[float, quantity("m^3/s", "0.01 cm^3/min", "1000 cm^3/min")] | None = Field(
        None,
        description="Most air that may leak in the test, as volume at 0 degC and 1 atm. Default: "
        "what stands for a drop of hot oil in eight hours.",
    )
    pressure: Annotated[float, quantity("Pa", "5 kPa", "20 kPa")] = Field(
        15_000.0, description="Over the air outside, in the leak test. A pan is no pressure vessel."
    )
    settle: Annotated[float, quantity("s", "10 s", "3600 s")] = Field(
        180.0, description="Before the first reading: air and metal come to one temperature."
    )
    hose: Annotated[float, quantity("m^3", "0.001 L", "10 L")] | None = Field(
        None, description="Volume of hose, gauge and cover in the leak test. Default: left out."
    )


class Shop(Section):
    """What the shop has to make the part with, and what it costs."""

    machine: Machine | None = Field(None, description="The milling machine.")
    cutters: tuple[Cutter, ...] = Field((), description="End mills in their holders.")
    stock: tuple[StockBlock, ...] = Field((), description="Blocks and plates.")
    sheets: tuple[SheetStock, ...] = Field((), description="Sheets.")
    bends: tuple[BendTest, ...] = Field((), description="Strips bent as a test.")
    printer: Printer | None = Field(None, description="The printer of fit-check parts.")
    bought: tuple[Bought, ...] = Field((), description="Parts that are bought in.")
    inspection: Inspection = Field(
        default_factory=Inspection, description="What the finished pan is measured against."
    )
    prices: Prices = Field(default_factory=Prices, description="What things cost.")
