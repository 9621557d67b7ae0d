# SPDX-License-Identifier: Apache-2.0
"""Where does the oil stand at one steady acceleration, and is the pickup covered there?

Prepared once for a job, then answered at once. Two ways of looking at the same oil: `settled` is
what the static hold computes, one plane through all that the baffles part; `sudden` is the moment
before anything has run through windows, doors and gaps: each compartment tilts what it has at rest.
Both stand still: slosh and the time it takes are for `drive`.
"""

import math
from dataclasses import asdict, dataclass
from typing import Any, Literal, get_args

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.frame import effective_gravity, up_of
from sumpwright.geometry.level import LevelBody, level_body, levels_of, volume_below
from sumpwright.job.model import Job
from sumpwright.oil.drawdown import FLOOR
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.compartment import Parted
from sumpwright.studies.hold import Situation, situation
from sumpwright.studies.oil_state import oil_state
from sumpwright.studies.result import Triple

Floats = NDArray[np.float64]
Mode = Literal["settled", "sudden"]

MOST = 3.0
"""g; far beyond any road car, where a level still has a meaning."""


@dataclass(frozen=True, eq=False)
class TiltReady:
    """The new pan at its full mark with the engine at the hold speed, ready to be tilted."""

    here: Situation
    names: tuple[str, ...]
    bodies: tuple[LevelBody, ...]
    """The n compartments"""
    at_rest: Floats
    """(n,) [m^3] on level ground"""
    pickup: int | None
    """Number of the compartment it draws from; None without a pickup"""


@dataclass(frozen=True)
class TiltSurface:
    """The oil of one compartment."""

    compartment: str
    height_m: float
    """Of its surface along `Tilt.up`, from the engine frame's origin as in result.py"""
    volume_m3: float


@dataclass(frozen=True)
class Tilt:
    """The oil at one acceleration."""

    mode: Mode
    accel_g: tuple[float, float]
    """Of the car: forward, left"""
    up: Triple
    """Unit vector against effective gravity, car frame"""
    surfaces: tuple[TiltSurface, ...]
    cover_m: float | None
    """Oil over the rim's highest point less the draw-down height; None without a pickup"""
    drawdown_m: float | None
    covered: bool | None

    def as_json(self) -> dict[str, Any]:
        """Plain dict of it, SI keys."""
        return asdict(self)


def tilt_ready(job: Job, bodies: Bodies, found: Parted) -> TiltReady:
    """The new pan of a job, filled; `found` is what `parted` makes of it."""
    here = _situation(job, bodies)
    levels = tuple(level_body(mesh) for mesh in found.parts.bodies)
    up, height, _ = here.surfaces(np.array([[0.0, 0.0, -1.0]]))
    return TiltReady(here, found.parts.names, levels, _below(levels, up, height), found.pickup)


def tilt(made: TiltReady, ax: float, ay: float, mode: Mode = "settled") -> Tilt:
    """The oil while the car accelerates by `ax` forward and `ay` to the left [g], steadily.

    Raises RangeError for what is not a number, more than `MOST`, or no such mode.
    """
    _refuse(ax, ay, mode)
    gravity = effective_gravity([[ax, ay, 0.0]])
    up, height, size = made.here.surfaces(gravity)
    heights = np.repeat(height, len(made.bodies))
    volumes = _below(made.bodies, up, height)
    if mode == "sudden":
        volumes = made.at_rest
        heights = _levels(made.bodies, up, volumes)
    cover = drawdown = None
    if made.pickup is not None:
        drawdown = float(made.here.drawdown(size)[0])
        cover = float(made.here.cover(up, heights[[made.pickup]], size)[0])
    x, y, z = up_of(gravity)[0].tolist()
    return Tilt(
        mode=mode,
        accel_g=(ax, ay),
        up=(x, y, z),
        surfaces=tuple(
            TiltSurface(name, float(h), float(v))
            for name, h, v in zip(made.names, heights, volumes, strict=True)
        ),
        cover_m=cover,
        drawdown_m=drawdown,
        covered=None if cover is None else cover >= 0.0,
    )


def _situation(job: Job, bodies: Bodies) -> Situation:
    """As the static hold has it; a pan without a pickup still has its oil."""
    body = bodies.new
    here = situation(job, bodies, job.new, body)
    if here is not None:
        return here
    state = oil_state(job, bodies, job.new, body)
    assert state is not None, "load_job refuses a job without a fill"
    oil = min(state.running(state.full), body.level.volume)
    return Situation(bodies, body, oil, state.flow, FLOOR)


def _below(bodies: tuple[LevelBody, ...], up: Floats, height: Floats) -> Floats:
    """(n,) oil of each compartment under one plane [m^3]."""
    return np.array([volume_below(body, up, height)[0] for body in bodies])


def _levels(bodies: tuple[LevelBody, ...], up: Floats, volumes: Floats) -> Floats:
    """(n,) heights of each compartment's own surface [m]."""
    pairs = zip(bodies, volumes, strict=True)
    return np.array([levels_of(b, up, np.clip(v, 0.0, b.volume)).height[0] for b, v in pairs])


def _refuse(ax: float, ay: float, mode: str) -> None:
    size = math.hypot(ax, ay)
    if not size <= MOST:  # nan is not, either
        raise RangeError(f"a tilt needs 0 to {MOST:g} g, got {size:.3g} g")
    if mode not in get_args(Mode):
        raise RangeError(f"a tilt is {' or '.join(get_args(Mode))}, got {mode!r}")
