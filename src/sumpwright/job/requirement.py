# SPDX-License-Identifier: Apache-2.0
"""Limits of the requirements ledger, with the defaults a careful shop would set."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from sumpwright.units import quantity

Word = Literal["stock", "off"]


Gap = Annotated[float | Word, quantity("m", "-1 m", "2 m", "off")]
Litres = Annotated[float | Word, quantity("m^3", "0.001 L", "100 L", "stock", "off")]
HoldLimit = Annotated[float | Word, quantity("m/s^2", "0 g", "3 g", "stock", "off")]
Target = Annotated[float | Word, quantity("m/s^2", "0 g", "3 g", "off")]
Slope = Annotated[float | Word, quantity("rad", "0 deg", "60 deg", "off")]
HoldTime = Annotated[float | Word, quantity("s", "0.1 s", "3600 s", "off")]
DrySpell = Annotated[float | Word, quantity("s", "0 s", "3600 s", "off")]
Share = Annotated[float | Word, quantity("dimensionless", "0.1 %", "50 %", "off")]
Driven = Annotated[
    float | Literal["target", "off"], quantity("m/s^2", "0.1 g", "3 g", "target", "off")
]
Asked = Literal["on", "off"]
Inlet = Annotated[float | Word, quantity("Pa", "1 kPa", "200 kPa", "off")]

_G = 9.80665
_DEG = 0.017453292519943295


class Requirements(BaseModel):
    """Each limit is a quantity; `stock` asks for the stock pan's own value; `off` drops it."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    capacity: Litres = Field(
        "stock",
        description="The pan holds at least this, cold, and the job's own fill.",
    )
    crank_gap: Gap = Field(
        0.020, description="Oil at rest, hot, stays at least this far below the crank sweep."
    )
    clearance: Gap = Field(
        0.010, description="Gap to every obstacle, over every case of engine movement."
    )
    guard: Gap = Field(
        0.0, description="Lowest point of the pan over the guard's lowest point, all cases."
    )
    ground: Gap = Field(0.100, description="Pan over the ground at ride height.")
    ground_at_bump: Gap = Field(0.040, description="Pan over the ground at full bump.")
    floor_gap: Gap = Field(0.006, description="Pickup's mouth off the floor of the pan.")
    hold_left: HoldLimit = Field("stock", description="Static hold in a left turn.")
    hold_right: HoldLimit = Field("stock", description="Static hold in a right turn.")
    hold_brake: HoldLimit = Field("stock", description="Static hold under braking.")
    hold_accelerate: HoldLimit = Field("stock", description="Static hold accelerating.")
    slope_up: Slope = Field(17 * _DEG, description="Pickup covered, nose uphill.")
    slope_down: Slope = Field(17 * _DEG, description="Pickup covered, nose downhill.")
    slope_side: Slope = Field(11 * _DEG, description="Pickup covered, either side uphill.")
    target_left: Target = Field(1.2 * _G, description="To hold in motion, left turn.")
    target_right: Target = Field(1.2 * _G, description="To hold in motion, right turn.")
    target_brake: Target = Field(1.1 * _G, description="To hold in motion, braking.")
    target_accelerate: Target = Field(0.6 * _G, description="To hold in motion, accelerating.")
    hold_time: HoldTime = Field(
        8.0, description="How long the pickup stays covered at the targets in turns, in motion."
    )
    hold_time_straight: HoldTime = Field(
        4.0,
        description="How long it stays covered at the targets in braking and accelerating, which "
        "last only as long as the speed allows: from 140 km/h, 4 s at 1 g.",
    )
    dry_spell: DrySpell = Field(
        0.0, description="Longest time with air at the pickup in any of the job's manoeuvres."
    )
    inlet_hot: Inlet = Field(
        80e3, description="Absolute pressure at the pump's inlet, hot, at `engine.rpm`."
    )
    inlet_cold: Inlet = Field(
        70e3, description="Absolute pressure at the pump's inlet, cold, at `engine.cold_rpm`."
    )
    proof_fill: Share = Field(
        0.03,
        description="Before release, a fill test: litres poured and the fill curve differ by at "
        "most this share of the full mark.",
    )
    proof_tilt: Gap = Field(
        0.005, description="Before release, a tilt test: the liquid line lies within this."
    )
    proof_doors: Asked = Field("on", description="Before release, every trap door seen to swing.")
    proof_leak: Asked = Field("on", description="Before release, a leak test without a leak.")
    proof_left: Driven = Field(
        "target",
        description="Before release, a log without a dip in pressure up to this in a left turn; "
        "`target` asks for `target_left`.",
    )
    proof_right: Driven = Field("target", description="The same in a right turn.")
    proof_brake: Driven = Field("target", description="The same under braking.")
    proof_session: Asked = Field(
        "on", description="Before release, a session driven without a leak or a sign of trouble."
    )
    proof_teardown: Asked = Field("on", description="Before release, a teardown without a fault.")


PROOF = tuple(name for name in Requirements.model_fields if name.startswith("proof_"))
"""Limits on what was seen, not computed: no answer of a study turns on them."""
