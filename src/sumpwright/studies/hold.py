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
from sumpwright.geometry.level import levels_of
from sumpwright.job.model import Job, Pan
from sumpwright.oil.drawdown import critical_submergence
from sumpwright.oil.submergence import submergence_ratio
from sumpwright.studies.bodies import Bodies, PanBodies
from sumpwright.studies.oil_state import SOLID_ANGLE, OilState, oil_state
from sumpwright.studies.result import LowMark, PanHold

Floats = NDArray[np.float64]
Gravity = Callable[[Floats, Floats], Floats]
"""Direction [rad] and size (g, or slope in rad) -> gravity in car axes [g]."""

DEGREES = np.arange(0.0, 360.0, 5.0)
DIRECTIONS = np.radians(DEGREES)
MAGNITUDES = np.linspace(0.0, 1.6, 33)
SLOPES = np.radians(np.linspace(0.0, 60.0, 61))
WAYS = ACCELERATE, LEFT, BRAKE, RIGHT = tuple(np.radians([0.0, 90.0, 180.0, 270.0]).tolist())
HALVINGS = 12
"""Halvings of a grid step to find a limit: 0.05 g / 2^12 is 1.2e-5 g."""


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

    def cover(self, gravity: Floats) -> Floats:
        """Oil over the rim's highest point less the draw-down height (k,) [m]."""
        up, height, size = self.surfaces(gravity)
        return self.cover_under(up, height, size)

    def cover_under(self, up: Floats, height: Floats, size: Floats) -> Floats:
        """As `cover`, for surfaces already found."""
        assert self.pan.rim is not None
        return np.asarray(height - self.pan.rim.highest_height(up) - self.drawdown(size))

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
    return Situation(bodies, body, state.running(state.full), state.flow, angle)


def _pan_hold(job: Job, bodies: Bodies, pan: Pan, body: PanBodies) -> PanHold | None:
    here = situation(job, bodies, pan, body)
    state = oil_state(job, bodies, pan, body)
    if here is None or state is None:
        return None
    angles, sizes = (a.ravel() for a in np.meshgrid(DIRECTIONS, MAGNITUDES, indexing="ij"))
    up, height, size = here.surfaces(_turning(angles, sizes))
    grid = (len(DIRECTIONS), len(MAGNITUDES))
    cover = here.cover_under(up, height, size).reshape(grid)
    limit, held = _refined(here, DIRECTIONS, MAGNITUDES, cover, _turning)
    toward = {way: float(limit[np.argmin(abs(DIRECTIONS - way))]) for way in WAYS}
    nose, left, tail, right = _slope_limits(here)
    rail = (up @ body.rail.T).min(axis=1) - height
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
        submergence_ratio=_risk_index(here),
        crank_limit_g=_crank_limit(bodies, up, height, grid),
        rail_limit_g=_plain(_interpolated(MAGNITUDES, rail.reshape(grid))),
        low_mark=_low_mark(here, state),
    )


def _crank_limit(
    bodies: Bodies, up: Floats, height: Floats, grid: tuple[int, int]
) -> tuple[float, ...] | None:
    if bodies.crank_sweep is None:
        return None
    gap = bodies.crank_sweep.lowest_height(up) - height
    return _plain(_interpolated(MAGNITUDES, gap.reshape(grid)))


def _turning(angle: Floats, size: Floats) -> Floats:
    return effective_gravity(turning_accel(angle, size))


def _refined(
    here: Situation, directions: Floats, sizes: Floats, cover: Floats, gravity: Gravity
) -> tuple[Floats, NDArray[np.bool_]]:
    """Smallest size at which cover is lost in each direction, and where it never is.

    The grid finds the step in which cover is first lost, halving finds the place in it. A pickup
    that uncovers and is covered again within one step of the grid would be missed.
    """
    lost = cover < 0.0
    held = ~lost.any(axis=1)
    first = np.where(held, len(sizes) - 1, lost.argmax(axis=1))
    low, high = sizes[np.maximum(first - 1, 0)], sizes[first]
    low = np.where(first == 0, high, low)
    open_ = np.flatnonzero(~held & (first > 0))
    for _ in range(HALVINGS if len(open_) else 0):
        middle = 0.5 * (low[open_] + high[open_])
        wet = here.cover(gravity(directions[open_], middle)) >= 0.0
        low[open_] = np.where(wet, middle, low[open_])
        high[open_] = np.where(wet, high[open_], middle)
    return np.asarray(np.where(held, sizes[-1], low)), np.asarray(held)


def _interpolated(sizes: Floats, margin: Floats) -> Floats:
    """Size at which each row of `margin` first falls below zero, straight lines between sizes."""
    lost = margin < 0.0
    first = np.where(lost.any(axis=1), lost.argmax(axis=1), len(sizes))
    limit = np.full(len(margin), sizes[-1])
    for row in np.flatnonzero(first < len(sizes)):
        k = max(int(first[row]), 1)
        above, below = margin[row, k - 1], margin[row, k]
        share = above / (above - below) if above > 0.0 else 0.0
        limit[row] = sizes[k - 1] + share * (sizes[k] - sizes[k - 1])
    return limit


def _slope_limits(here: Situation) -> tuple[float, float, float, float]:
    """Steepest ground [deg] at running oil with nose, left side, tail, right side uphill."""
    sides = np.array(WAYS)  # the side that is uphill
    angles, sizes = (a.ravel() for a in np.meshgrid(sides, SLOPES, indexing="ij"))
    cover = here.cover(slope_gravity(angles, sizes)).reshape(len(sides), len(SLOPES))
    limit, _ = _refined(here, sides, SLOPES, cover, slope_gravity)
    nose, left, tail, right = np.degrees(limit)
    return float(nose), float(left), float(tail), float(right)


def _low_mark(here: Situation, state: OilState) -> LowMark | None:
    if state.low is None:
        return None
    low = replace(here, oil=state.running(state.low))
    ways = np.array(WAYS)
    angles, sizes = (a.ravel() for a in np.meshgrid(ways, MAGNITUDES, indexing="ij"))
    cover = low.cover(_turning(angles, sizes)).reshape(len(ways), len(MAGNITUDES))
    accelerate, left, brake, right = _refined(low, ways, MAGNITUDES, cover, _turning)[0]
    return LowMark(low.oil, float(left), float(right), float(brake), float(accelerate))


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
