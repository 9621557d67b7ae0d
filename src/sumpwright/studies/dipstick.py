# SPDX-License-Identifier: Apache-2.0
"""Where does the oil wet the dipstick, and what lines does it get?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.inside import inside
from sumpwright.geometry.level import levels_of
from sumpwright.geometry.line import line_crossings
from sumpwright.job.model import Pan
from sumpwright.studies.bodies import Bodies, PanBodies
from sumpwright.studies.oil_state import OilState, dipstick_line, installed_up
from sumpwright.studies.result import DipstickScale, Graduation
from sumpwright.units import shown

Floats = NDArray[np.float64]

GRADUATION = {"metric": 0.25e-3, "us": 0.25 * 9.46352946e-4}
"""m^3 between lines: a quarter litre, a quarter US quart."""
CROSSES = "a stick that crosses the full level inside the cavity"
STEEPEST_LEAN = np.cos(np.radians(80.0))
"""A stick nearer the surface than 10 degrees reads nothing a person could trust."""


@dataclass(frozen=True)
class Stick:
    """A straight dipstick, engine frame [m]."""

    start: Floats
    direction: Floats
    end: float
    """How far along it can be wetted: the cavity's floor, or its tip [m]."""

    def wet_at(self, up: Floats, height: float) -> float | None:
        """How far along the surface cuts the stick [m]; None where it does not."""
        fall = float(self.direction @ up)
        if fall > -STEEPEST_LEAN:
            return None
        along = (height - float(self.start @ up)) / fall
        return along if 0.0 <= along <= self.end else None


def stick_of(pan: Pan, bodies: Bodies, body: PanBodies, full_height: float, units: str) -> Stick:
    """The dipstick, checked: it points down, reaches the full level, and does so in the cavity.

    Raises InputError with the place where it misses the oil.
    """
    assert pan.dipstick is not None
    start, direction = dipstick_line(pan.dipstick)
    up = installed_up(bodies)
    where = bodies.where(body.key, "dipstick")
    fall = float(direction @ up)
    if fall > -STEEPEST_LEAN:
        lean = np.degrees(np.arccos(np.clip(-fall, -1.0, 1.0)))
        found = f"a stick that leans {lean:.0f} deg from straight down"
        raise _missed(where, found, "a stick within 80 deg of straight down as installed")
    along = (full_height - float(start @ up)) / fall
    tip = pan.dipstick.length if pan.dipstick.length is not None else np.inf
    if along < 0.0:
        raise _missed(where, "a stick that starts under the full level", CROSSES)
    if along > tip:
        above = shown(along - tip, "length", units)
        raise _missed(where, f"a stick whose tip ends {above} above the full level", CROSSES)
    place = start + along * direction
    if not inside(body.oil_space, place[None])[0]:
        x, y, z = (shown(c, "length", units) for c in place)
        spot = f"at the full level the stick is at x {x}, y {y}, z {z}, outside the cavity"
        raise _missed(where, spot, CROSSES)
    return Stick(start, direction, min(tip, _floor_along(body, start, direction, along)))


def scale_of(
    stick: Stick, body: PanBodies, up: Floats, state: OilState, units: str
) -> DipstickScale:
    """Marks and lines on level ground, cold."""
    step = GRADUATION[units]
    volumes = np.arange(step, body.holds, step)
    heights = levels_of(body.level, up, volumes).height
    found = [(float(v), stick.wet_at(up, float(h))) for v, h in zip(volumes, heights, strict=True)]
    marks = [
        None
        if volume is None
        else stick.wet_at(up, float(levels_of(body.level, up, volume).height[0]))
        for volume in (state.full, state.low)
    ]
    assert marks[0] is not None
    return DipstickScale(
        full_along_m=marks[0],
        low_along_m=marks[1],
        low_end_along_m=stick.end,
        graduations=tuple(Graduation(v, a) for v, a in found if a is not None),
    )


def _floor_along(body: PanBodies, start: Floats, direction: Floats, wet: float) -> float:
    """How far along the stick leaves the cavity below the point `wet` along it."""
    along, way = line_crossings(body.oil_space, start, direction)
    leaving = along[(way > 0.0) & (along >= wet)]
    return float(leaving[0]) if len(leaving) else wet


def _missed(where: str, found: str, needed: str) -> InputError:
    return InputError(
        [
            Problem(
                code="JOB-152",
                where=where,
                found=found,
                needed=needed,
                do="check the dipstick's start, direction and length, and the fill",
            )
        ]
    )
