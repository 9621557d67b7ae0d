# SPDX-License-Identifier: Apache-2.0
"""Keys of a manoeuvre in the job file as options of `drive`, without loading the schema."""

import inspect
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Annotated, Any, cast

import typer

KEYS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "turn": ("left|right", "Which way, or which way first; left by default."),
        "radius": ("LENGTH", 'Of the car\'s path: "15 m".'),
        "speed": ("SPEED", 'Held; of braking the first, of a launch the last: "60 km/h".'),
        "accel": ("ACCEL", 'Of a circle instead of the speed; of a launch, of a kerb: "1.0 g".'),
        "decel": ("ACCEL", "Largest, under braking."),
        "duration": ("TIME", "Of the full circle, or on the slope."),
        "laps": ("NUMBER", "Instead of the duration."),
        "gear": ("NUMBER", "Held all along; the engine's speed comes from the job's driveline."),
        "rpm": ("SPEED", 'Of the engine, held all along: "4500 rpm".'),
        "cone_spacing": ("LENGTH", "Of a slalom."),
        "offset": ("LENGTH", "Of a slalom: path to the side of each cone."),
        "cones": ("NUMBER", "Of a slalom: how many are passed."),
        "end_speed": ("SPEED", "After braking."),
        "start_speed": ("SPEED", "Before a launch."),
        "turn_speed": ("SPEED", "In the turn after braking."),
        "hold": ("TIME", "Of the turn after braking, or of each stage of a skidpad."),
        "release": ("TIME", "From full braking to full turning."),
        "uphill": ("SIDE", "Of a hill: nose, tail, left, right, or an angle from the nose."),
        "slope": ("ANGLE", "Of a hill."),
        "bank": ("ANGLE", "Of the road on a circle; positive where the inner side is lower."),
        "pulse": ("TIME", "How long a kerb pushes upward."),
        "rebound": ("TIME", "How long the body then comes down again."),
        "stages": ("LIST", 'Of a skidpad, rising: "0.4 g, 0.6 g, 0.8 g".'),
        "ease": ("ACCEL", "Of a skidpad: largest forward between stages."),
        "both": ("true|false", "Of a skidpad: left round and then right round."),
        "run_up": ("TIME", "Of quiet, straight driving before."),
        "rest": ("TIME", "Of quiet afterwards."),
        "jerk": ("JERK", 'How fast acceleration may change at most: "30 m/s^3".'),
        "cutoff": ("FREQUENCY", 'Of a log: what swings faster is taken off: "5 Hz".'),
        "longest_gap": ("TIME", "Of a log: between two rows."),
    }
)
"""Each with what to write for its value, and its help."""


def with_manoeuvre_keys(command: Callable[..., None]) -> Callable[..., None]:
    """`command` with an option for each key in place of its ``**options``."""
    signature = inspect.signature(command)
    kept = [p for p in signature.parameters.values() if p.kind is not p.VAR_KEYWORD]
    hints = {key: _option(key, *told) for key, told in KEYS.items()}
    more = [
        inspect.Parameter(key, inspect.Parameter.KEYWORD_ONLY, default=None, annotation=hint)
        for key, hint in hints.items()
    ]
    named = cast(Any, command)
    named.__signature__ = signature.replace(parameters=[*kept, *more])
    named.__annotations__ = {**command.__annotations__, **hints}
    return command


def _option(key: str, metavar: str, told: str) -> Any:
    name = f"--{key.replace('_', '-')}"
    return Annotated[str | None, typer.Option(name, metavar=metavar, help=told)]
