# SPDX-License-Identifier: Apache-2.0
"""The job file's section of one manoeuvre: a kind, and what that kind takes.

Every key but `name` and `kind` may be left out of the section as such; what a kind needs and takes
is in manoeuvre_kind.py. A key left out takes the default of that manoeuvre's own function.
"""

from typing import Annotated, Literal

from pydantic import Field

from sumpwright.job.number import number
from sumpwright.job.section import (
    Accel,
    Duration,
    FileKind,
    RoadSpeed,
    Section,
    Speed,
    Time,
)
from sumpwright.units import quantity

Kind = Literal[
    "circle",
    "figure-eight",
    "slalom",
    "brake",
    "brake-and-turn",
    "launch",
    "hill",
    "bank",
    "kerb",
    "skidpad",
    "trace",
]
Uphill = Literal["nose", "tail", "left", "right"]
OilIs = Literal["hot", "cold"]
LowSpeed = Annotated[float, quantity("m/s", "0 m/s", "150 m/s")]
Short = Annotated[float, quantity("s", "0.01 s", "60 s")]
Road = Annotated[float, quantity("m", "0.5 m", "2000 m")]


class Manoeuvre(Section):
    """What the car does, under a name to call it by. It begins with the oil at rest."""

    name: str = Field(
        min_length=1, description="What to call it: `sumpwright drive JOB NAME`, and on pages."
    )
    kind: Kind = Field(description="What the car does.")
    oil: Annotated[float | OilIs, quantity("K", "-60 degC", "250 degC", "hot", "cold")] = Field(
        "hot", description="Temperature of the oil; `hot` and `cold` are the job's own."
    )
    rpm: Speed | None = Field(
        None, description="Engine speed, held all along. A log's own engine speed goes before it."
    )
    gear: Annotated[int, number(1, 20, whole=True)] | None = Field(
        None,
        description="Instead of `rpm`: gear held all along, of `driveline`. With neither the "
        "driver shifts where there is a `driveline`; else it is `engine.rpm`.",
    )
    turn: Literal["left", "right"] | None = Field(
        None,
        description="Which way, or which way first: a slalom passes its first cone on its left. "
        "Default: left.",
    )
    radius: Road | None = Field(None, description="Of the car's path.")
    speed: RoadSpeed | None = Field(
        None,
        description="Held; of braking the first one, of a launch the last one. A hill without it "
        "is stood on.",
    )
    accel: Accel | None = Field(
        None,
        description="Instead of `speed` on a circle: acceleration toward its middle. Of a launch: "
        "largest, forward. Of a kerb: peak, upward.",
    )
    decel: Accel | None = Field(None, description="Largest deceleration under braking.")
    duration: Duration | None = Field(
        None, description="Of the full circle, or on the slope; ways in and out come on top."
    )
    laps: Annotated[float, number(0.1, 1000.0)] | None = Field(
        None,
        description="Instead of `duration`: times round; of an eight whole ones, and 1 by default.",
    )
    cone_spacing: Annotated[float, quantity("m", "1 m", "200 m")] | None = Field(
        None, description="Of a slalom, along the line of cones."
    )
    offset: Annotated[float, quantity("m", "0.1 m", "50 m")] | None = Field(
        None, description="Of a slalom: path to the side of each cone."
    )
    cones: Annotated[int, number(1, 200, whole=True)] | None = Field(
        None, description="Of a slalom: how many are passed. Default: 6."
    )
    end_speed: LowSpeed | None = Field(None, description="After braking. Default: 0 m/s.")
    start_speed: LowSpeed | None = Field(None, description="Before a launch. Default: 0 m/s.")
    turn_speed: RoadSpeed | None = Field(
        None, description="In the turn after braking; its radius is turn_speed^2/accel."
    )
    hold: Duration | None = Field(
        None,
        description="Of the turn after braking (default 3 s), or of each stage of a skidpad "
        "(default 10 s).",
    )
    release: Short | None = Field(
        None, description="From full braking to full turning. Default: 1 s."
    )
    uphill: (
        Annotated[
            float | Uphill, quantity("rad", "-180 deg", "360 deg", "nose", "tail", "left", "right")
        ]
        | None
    ) = Field(
        None,
        description="Side of the car that points uphill; as an angle, from the nose to the left.",
    )
    slope: Annotated[float, quantity("rad", "0 deg", "60 deg")] | None = Field(
        None, description="Of the ground on a hill."
    )
    bank: Annotated[float, quantity("rad", "-45 deg", "60 deg")] | None = Field(
        None, description="Of the road on a circle: positive where the inner side is lower."
    )
    pulse: Short | None = Field(None, description="How long a kerb pushes upward.")
    rebound: Annotated[float, quantity("s", "0 s", "60 s")] | None = Field(
        None,
        description="How long the body then comes down again; it takes the upward speed off. "
        "Default: 0 s, left out.",
    )
    stages: tuple[Accel, ...] | None = Field(
        None, min_length=1, description="Of a skidpad: accelerations, rising."
    )
    ease: Accel | None = Field(
        None,
        description="Of a skidpad: largest forward acceleration between stages. Default: 1 m/s^2.",
    )
    both: bool | None = Field(
        None, description="Of a skidpad: left round and then right round. Default: true."
    )
    run_up: Time | None = Field(
        None, description="Of quiet, straight driving before (and after, where it ends straight)."
    )
    rest: Time | None = Field(None, description="Of quiet afterwards, while the oil comes back.")
    jerk: Annotated[float, quantity("m/s^3", "0.5 m/s^3", "5000 m/s^3")] | None = Field(
        None, description="How fast acceleration may change at most."
    )
    file: (
        Annotated[
            str,
            FileKind(".csv", needed="a CSV file", do="save the log as CSV text"),
        ]
        | None
    ) = Field(
        None, min_length=1, description="Of a trace: the log, CSV, relative to the job folder."
    )
    cutoff: Annotated[float, quantity("Hz", "0.2 Hz", "50 Hz")] | None = Field(
        None, description="Of a trace: what swings faster is taken off. Default: 5 Hz."
    )
    longest_gap: Annotated[float, quantity("s", "0.01 s", "10 s")] | None = Field(
        None, description="Of a trace: between two rows. Default: 0.5 s."
    )
