# SPDX-License-Identifier: Apache-2.0
"""At what steady acceleration, and which way, does the pickup uncover? Stock beside new.

Static: the surface is the exact plane for the oil really in the pan, normal to effective gravity.
The pickup is covered while every point of its rim lies below the surface, along effective gravity,
by the draw-down height of its flow. Compartments and doors are not in this answer.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import (
    STANDARD_GRAVITY,
    effective_gravity,
    slope_gravity,
    turning_accel,
    up_of,
)
from sumpwright.geometry.level import levels_of, volume_below
from sumpwright.job.model import Job, Pan
from sumpwright.oil.drawdown import critical_submergence
from sumpwright.oil.submergence import submergence_ratio
from sumpwright.studies.apart import oil_apart
from sumpwright.studies.bodies import Bodies, PanBodies
from sumpwright.studies.first_loss import first_loss
from sumpwright.studies.oil_state import SOLID_ANGLE, OilState, oil_state
from sumpwright.studies.pickup import floor_gap
from sumpwright.studies.result import LowMark, OilApart, PanHold

Floats = NDArray[np.float64]
Gravity = Callable[[Floats, Floats], Floats]
"""Direction [rad] and size (g, or slope in rad) -> gravity in car axes [g]."""

DEGREES = np.arange(0.0, 360.0, 5.0)
DIRECTIONS = np.radians(DEGREES)
MAGNITUDES = np.linspace(0.0, 1.6, 33)
SLOPES = np.radians(np.linspace(0.0, 60.0, 61))
_APART = (
    "at_rest_m3",
    *("accelerate_m3", "left_m3", "brake_m3", "right_m3"),
    *("slope_up_m3", "slope_left_m3", "slope_down_m3", "slope_right_m3"),
)
"""Fields of `OilApart` in the order of WAYS."""
GRID = np.hstack(
    [
        np.full((len(DIRECTIONS), 1), len(DIRECTIONS) * (len(MAGNITUDES) - 1)),
        np.arange(len(DIRECTIONS) * (len(MAGNITUDES) - 1)).reshape(len(DIRECTIONS), -1),
    ]
)
"""Where `_grid_gravity` has each direction (row) at each magnitude (column)."""
WAYS = ACCELERATE, LEFT, BRAKE, RIGHT = tuple(np.radians([0.0, 90.0, 180.0, 270.0]).tolist())


@dataclass(frozen=True)
class Situation:
    """One pan with one amount of oil in it, ready to be asked."""

    bodies: Bodies
    pan: PanBodies
    oil: float
    flow: float
    solid_angle: float

    def surfaces(self, gravity: Floats) -> tuple[Floats, Floats, Floats]:
        """Up (k, 3), surface height (k,) [m] and gravity's size (k,) [g] for `gravity` (k, 3)."""
        up = up_of(self.bodies.pose.direction_to_engine(gravity))
        height = levels_of(self.pan.level, up, self.oil).height
        return up, height, np.asarray(np.linalg.norm(gravity, axis=-1))

    def cover(self, up: Floats, height: Floats, size: Floats) -> Floats:
        """Oil over the rim's highest point less the draw-down height (k,) [m], of `surfaces`."""
        assert self.pan.rim is not None
        return np.asarray(height - self.pan.rim.highest_height(up) - self.drawdown(size))

    def spare(self, gravity: Floats) -> Floats:
        """Oil beyond what reaches up to the draw-down height over the rim (k,) [m^3].

        Of one sign with `cover`, and found without looking for the surface.
        """
        assert self.pan.rim is not None
        up = up_of(self.bodies.pose.direction_to_engine(gravity))
        needed = self.drawdown(np.linalg.norm(gravity, axis=-1))
        height = self.pan.rim.highest_height(up) + needed
        return self.oil - volume_below(self.pan.level, up, height)

    def drawdown(self, size: Floats) -> Floats:
        """Cover that the flow demands in gravity of `size` (k,) [g]: (k,) [m]."""
        return critical_submergence(self.flow, size * STANDARD_GRAVITY, self.solid_angle)


def hold(job: Job, bodies: Bodies) -> PanHold | None:
    """Hold limits of the new pan, with the stock pan's beside it; None without pickup or fill."""
    new = _pan_hold(job, bodies, job.new, bodies.new)
    if new is None or job.stock is None or bodies.stock is None:
        return new
    return replace(new, stock=_pan_hold(job, bodies, job.stock, bodies.stock))


def situation(job: Job, bodies: Bodies, pan: Pan, body: PanBodies) -> Situation | None:
    """The pan at its full mark with the engine at the hold speed; None without pickup or fill."""
    state = oil_state(job, bodies, pan, body)
    if state is None or pan.pickup is None or body.rim is None:
        return None
    angle = SOLID_ANGLE[pan.pickup.place]
    oil = _held_in(body, state.running(state.full))
    return Situation(bodies, body, oil, state.flow, angle)


def _held_in(body: PanBodies, oil: float) -> float:
    """`oil`, or as much of it as pan and crankcase hold: `check` says when that is less."""
    return min(oil, body.level.volume)


def _pan_hold(job: Job, bodies: Bodies, pan: Pan, body: PanBodies) -> PanHold | None:
    here = situation(job, bodies, pan, body)
    state = oil_state(job, bodies, pan, body)
    if here is None or state is None:
        return None
    up, height, size = here.surfaces(_grid_gravity())
    cover = here.cover(up, height, size)[GRID]
    limit, held = _limits(here, DIRECTIONS, MAGNITUDES, cover, _turning)
    toward = {way: float(limit[np.argmin(abs(DIRECTIONS - way))]) for way in WAYS}
    nose, left, tail, right = _slope_limits(here)
    return PanHold(
        name=body.name,
        rpm=None if state.speed is None else state.speed * 30.0 / np.pi,
        oil_m3=here.oil,
        flow_m3_s=here.flow,
        directions_deg=_plain(DEGREES),
        limit_g=_plain(limit),
        held_to_end=tuple(bool(h) for h in held),
        left_g=toward[LEFT],
        right_g=toward[RIGHT],
        brake_g=toward[BRAKE],
        accelerate_g=toward[ACCELERATE],
        slope_up_deg=nose,
        slope_down_deg=tail,
        slope_left_deg=left,
        slope_right_deg=right,
        magnitudes_g=_plain(MAGNITUDES),
        cover_m=tuple(_plain(row) for row in cover),
        cover_at_rest_m=float(cover[0, 0]),
        drawdown_at_rest_m=here.drawdown(np.array(1.0)).item(),
        floor_gap_m=floor_gap(body),
        submergence_ratio=_risk_index(here),
        crank_limit_g=_crank_limit(here, up, height),
        rail_limit_g=_touches(here, up, height, lambda ups: (ups @ body.rail.T).min(axis=1)),
        low_mark=_low_mark(here, state),
        apart=_apart(here, state, toward, (nose, left, tail, right)),
        oil_left_out_m3=state.running(state.full) - here.oil,
    )


def _crank_limit(here: Situation, up: Floats, height: Floats) -> tuple[float, ...] | None:
    sweep = here.bodies.crank_sweep
    return None if sweep is None else _touches(here, up, height, sweep.lowest_height)


def _touches(
    here: Situation, up: Floats, height: Floats, lowest: Callable[[Floats], Floats]
) -> tuple[float, ...]:
    """Where the surface's plane first reaches a body of `lowest` height, in each direction [g]."""

    def spare(k: NDArray[np.int64], size: Floats) -> Floats:
        ups = up_of(here.bodies.pose.direction_to_engine(_turning(DIRECTIONS[k], size)))
        return volume_below(here.pan.level, ups, lowest(ups)) - here.oil

    return _plain(first_loss(spare, MAGNITUDES, (lowest(up) - height)[GRID])[0])


def _turning(angle: Floats, size: Floats) -> Floats:
    return effective_gravity(turning_accel(angle, size))


def _grid_gravity() -> Floats:
    """Every direction at every magnitude but 0, which is one for all and comes last."""
    angles, sizes = np.meshgrid(DIRECTIONS, MAGNITUDES[1:], indexing="ij")
    return np.vstack([_turning(angles, sizes).reshape(-1, 3), _turning(np.zeros(1), np.zeros(1))])


def _limits(
    here: Situation, directions: Floats, sizes: Floats, grid: Floats, gravity: Gravity
) -> tuple[Floats, NDArray[np.bool_]]:
    """Size at which cover is first lost in each direction, and where it never is."""
    return first_loss(lambda k, size: here.spare(gravity(directions[k], size)), sizes, grid)


def _limits_alone(here: Situation, sizes: Floats, gravity: Gravity) -> Floats:
    """The limits of the four ways, where nobody wants to see the cover itself."""
    ways = np.array(WAYS)
    angle, size = np.meshgrid(ways, sizes, indexing="ij")
    spare = here.spare(gravity(angle, size).reshape(-1, 3)).reshape(angle.shape)
    return _limits(here, ways, sizes, spare, gravity)[0]


def _slope_limits(here: Situation) -> tuple[float, float, float, float]:
    """Steepest ground [deg] at running oil with nose, left side, tail, right side uphill."""
    limit = _limits_alone(here, SLOPES, slope_gravity)  # the way is the side uphill
    nose, left, tail, right = np.degrees(limit)
    return float(nose), float(left), float(tail), float(right)


def _low_mark(here: Situation, state: OilState) -> LowMark | None:
    if state.low is None:
        return None
    low = replace(here, oil=_held_in(here.pan, state.running(state.low)))
    accelerate, left, brake, right = _limits_alone(low, MAGNITUDES, _turning)
    return LowMark(low.oil, float(left), float(right), float(brake), float(accelerate))


def _apart(
    here: Situation, state: OilState, toward: dict[float, float], slopes: tuple[float, ...]
) -> OilApart:
    """Oil apart from the pickup's at rest, at the four limits, and at the four slope limits."""
    turns, tilts = np.array([toward[way] for way in WAYS]), np.radians(slopes)
    rest = np.array([[0.0, 0.0, -1.0]])
    ways = np.array(WAYS)
    gravity = np.vstack([rest, _turning(ways, turns), slope_gravity(ways, tilts)])
    up, height, _ = here.surfaces(gravity)
    surfaces = {name: (up[k], float(height[k])) for k, name in enumerate(_APART)}
    if state.low is not None:
        low = replace(here, oil=_held_in(here.pan, state.running(state.low)))
        surfaces["low_at_rest_m3"] = up[0], float(low.surfaces(rest)[1][0])
    assert here.pan.rim is not None
    return oil_apart(here.pan, here.pan.rim, surfaces)


def _risk_index(here: Situation) -> float | None:
    if here.flow <= 0.0 or here.pan.rim is None:
        return None
    up, height, _ = here.surfaces(np.array([[0.0, 0.0, -1.0]]))
    return float(
        submergence_ratio(
            cover=height[0] - here.pan.rim.highest_height(up)[0],
            diameter=here.pan.rim.equivalent_diameter,
            flow=here.flow,
            gravity=STANDARD_GRAVITY,
        )
    )


def _plain(values: Floats) -> tuple[float, ...]:
    return tuple(float(v) for v in values)
