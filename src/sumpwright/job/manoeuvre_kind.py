# SPDX-License-Identifier: Apache-2.0
"""What each kind of manoeuvre needs and takes of the manoeuvre section's keys."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import get_args

from sumpwright.job.manoeuvre import Kind

KINDS: tuple[str, ...] = get_args(Kind)
_ALL = ("name", "kind", "oil", "rpm")
_DRIVEN = ("gear", "run_up", "jerk")


@dataclass(frozen=True)
class Takes:
    """The keys of one kind, besides those that every kind takes."""

    about: str
    needs: tuple[str, ...]
    one_of: tuple[tuple[str, str], ...] = ()
    """Pairs of which exactly one key is needed."""
    may: tuple[str, ...] = ()

    @property
    def keys(self) -> tuple[str, ...]:
        """Every key that may stand in a manoeuvre of this kind."""
        return (*_ALL, *self.needs, *(key for pair in self.one_of for key in pair), *self.may)


_SPEED = ("accel", "speed")
TAKES: Mapping[str, Takes] = MappingProxyType(
    {
        "circle": Takes(
            "a circle at one speed",
            ("radius",),
            (_SPEED, ("duration", "laps")),
            ("turn", *_DRIVEN),
        ),
        "figure-eight": Takes(
            "a figure-eight at one speed", ("radius",), (_SPEED,), ("laps", "turn", *_DRIVEN)
        ),
        "slalom": Takes(
            "a slalom at one speed",
            ("cone_spacing", "offset", "speed"),
            may=("cones", "turn", *_DRIVEN),
        ),
        "brake": Takes(
            "braking straight ahead", ("speed", "decel"), may=("end_speed", "rest", *_DRIVEN)
        ),
        "brake-and-turn": Takes(
            "braking into a turn",
            ("speed", "turn_speed", "decel", "accel"),
            may=("hold", "release", "turn", *_DRIVEN),
        ),
        "launch": Takes(
            "accelerating straight ahead",
            ("speed", "accel"),
            may=("start_speed", "rest", *_DRIVEN),
        ),
        "hill": Takes(
            "on to a slope and staying there",
            ("uphill", "slope", "duration"),
            may=("speed", *_DRIVEN),
        ),
        "bank": Takes(
            "a circle on a banked road",
            ("radius", "bank"),
            (_SPEED,),
            ("duration", "turn", *_DRIVEN),
        ),
        "kerb": Takes(
            "a kerb under the car; its speed is not known",
            ("accel", "pulse"),
            may=("rebound", "rest", "run_up", "jerk"),
        ),
        "skidpad": Takes(
            "a circle in stages of rising acceleration",
            ("radius", "stages"),
            may=("hold", "ease", "rest", "both", *_DRIVEN),
        ),
        "trace": Takes(
            "a log that was driven; its speed is not known",
            ("file",),
            may=("cutoff", "longest_gap", "jerk"),
        ),
    }
)
