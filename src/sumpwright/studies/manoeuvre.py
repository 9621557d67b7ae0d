# SPDX-License-Identifier: Apache-2.0
"""A manoeuvre's section as the motion that it describes, before any engine turns."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from sumpwright.errors import Finding, RangeError
from sumpwright.job.manoeuvre import Manoeuvre
from sumpwright.studies.trace_log import logged_motion
from sumpwright.vehicle.combined import brake_and_turn, staged_skidpad
from sumpwright.vehicle.kerb import kerb_strike
from sumpwright.vehicle.manoeuvre import brake, figure_eight, launch, slalom, steady_circle
from sumpwright.vehicle.motion import Motion
from sumpwright.vehicle.slope import banked_circle, hill

_UPHILL = {"nose": 0.0, "left": 0.5 * math.pi, "tail": math.pi, "right": -0.5 * math.pi}
_ROUND = ("radius", "speed", "accel", "run_up", "jerk")
_STRAIGHT = ("run_up", "rest", "jerk")
_TURNED: Mapping[str, tuple[Callable[..., Motion], tuple[str, ...]]] = MappingProxyType(
    {
        "circle": (steady_circle, (*_ROUND, "laps", "duration")),
        "figure-eight": (figure_eight, (*_ROUND, "laps")),
        "slalom": (slalom, ("cone_spacing", "offset", "speed", "cones", "run_up", "jerk")),
        "brake-and-turn": (
            brake_and_turn,
            ("speed", "turn_speed", "decel", "accel", "hold", "release", "run_up", "jerk"),
        ),
        "bank": (banked_circle, (*_ROUND, "bank", "duration")),
    }
)
"""Kinds that go left or right, and those of their keys that their functions know by that name."""
_AHEAD: Mapping[str, tuple[Callable[..., Motion], tuple[str, ...]]] = MappingProxyType(
    {
        "brake": (brake, ("speed", "decel", "end_speed", *_STRAIGHT)),
        "launch": (launch, ("speed", "accel", "start_speed", *_STRAIGHT)),
        "kerb": (kerb_strike, ("accel", "pulse", "rebound", *_STRAIGHT)),
    }
)


@dataclass(frozen=True)
class Laid:
    """A motion, and what there is to say of it."""

    motion: Motion
    findings: tuple[Finding, ...] = ()
    assumptions: tuple[str, ...] = ()


def motion_of(section: Manoeuvre, log: Path | None = None) -> Laid:
    """What the car does in a manoeuvre; `log` is the file of a trace.

    RangeError where it cannot be driven, InputError with all that is wrong with a log.
    """
    if section.kind == "trace":
        if log is None:
            raise RangeError("a trace needs its file")
        return Laid(*logged_motion(log, **_given(section, ("cutoff", "jerk", "longest_gap"))))
    if section.kind in _AHEAD:
        function, names = _AHEAD[section.kind]
        return Laid(function(**_given(section, names)))
    if section.kind == "hill":
        return Laid(_hill(section))
    if section.kind == "skidpad":
        return Laid(_skidpad(section))
    function, names = _TURNED[section.kind]
    return Laid(function(**_given(section, names), left=section.turn != "right"))


def _given(section: Manoeuvre, names: tuple[str, ...]) -> dict[str, Any]:
    """The keys that were given; the rest is left to the function's own defaults."""
    values = {name: getattr(section, name) for name in names}
    return {name: value for name, value in values.items() if value is not None}


def _hill(section: Manoeuvre) -> Motion:
    uphill = section.uphill
    assert uphill is not None, "the job's cross-checks refuse a hill without a side"
    side = _UPHILL[uphill] if isinstance(uphill, str) else uphill
    given = _given(section, ("slope", "duration", "speed", "run_up", "jerk"))
    return hill(side, **given)


def _skidpad(section: Manoeuvre) -> Motion:
    given = _given(section, ("radius", "hold", "ease", "rest", "both", "run_up", "jerk"))
    assert section.stages is not None, "the job's cross-checks refuse a skidpad without stages"
    return staged_skidpad(accels=section.stages, **given)
