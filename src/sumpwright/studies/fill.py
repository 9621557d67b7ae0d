# SPDX-License-Identifier: Apache-2.0
"""What does the pan hold, how high does it stand, where are the marks? Stock beside new."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.frame import slope_gravity, up_of
from sumpwright.geometry.level import extent_along, levels_of, volume_below
from sumpwright.job.model import Job, Pan
from sumpwright.studies.bodies import Bodies, PanBodies
from sumpwright.studies.dipstick import Stick, scale_of, stick_of
from sumpwright.studies.oil_state import OilState, installed_up, oil_state
from sumpwright.studies.result import FillCurve, PanFill, Parked
from sumpwright.units import shown

Floats = NDArray[np.float64]

CURVE_POINTS = 121
SIDES = (
    ("nose", 0.0),
    ("nose and left side", 45.0),
    ("left side", 90.0),
    ("tail and left side", 135.0),
    ("tail", 180.0),
    ("tail and right side", 225.0),
    ("right side", 270.0),
    ("nose and right side", 315.0),
)


def fill(job: Job, bodies: Bodies) -> PanFill | None:
    """Fill of the new pan, with the stock pan's beside it; None where no fill is known."""
    new = _pan_fill(job, bodies, job.new, bodies.new)
    if new is None or job.stock is None or bodies.stock is None:
        return new
    return replace(new, stock=_pan_fill(job, bodies, job.stock, bodies.stock))


def _pan_fill(job: Job, bodies: Bodies, pan: Pan, body: PanBodies) -> PanFill | None:
    state = oil_state(job, bodies, pan, body)
    if state is None:
        return None
    _refuse_overfill(job, bodies, pan, body, state)
    up = installed_up(bodies)
    lowest = float(extent_along(body.level, up)[0, 0])
    brim = float((body.rail @ up).min())
    full = _height(body, up, state.full)
    low = None if state.low is None else _height(body, up, state.low)
    hot = _height(body, up, min(state.hot(state.full), body.level.volume))
    usable, usable_by = _usable(job, bodies, body, state, brim)
    stick = stick_of(pan, bodies, body, full, job.units) if pan.dipstick is not None else None
    return PanFill(
        name=body.name,
        cavity_m3=body.holds,
        lowest_m=lowest,
        curve=_curve(body, up, lowest),
        full_m3=state.full,
        full_height_m=full,
        full_depth_m=full - lowest,
        low_m3=state.low,
        low_height_m=low,
        low_depth_m=None if low is None else low - lowest,
        service_fill_m3=state.full + job.oil.beyond_pan,
        brim_m3=float(volume_below(body.level, up, brim)[0]),
        brim_height_m=brim,
        usable_m3=usable,
        usable_by=usable_by,
        hot_m3=state.hot(state.full),
        hot_height_m=hot,
        hot_depth_m=hot - lowest,
        crank_gap_m=_crank_gap(bodies, up, hot),
        expansion=state.expansion,
        dipstick=None if stick is None else scale_of(stick, body, up, state, job.units),
        parked=_parked(job, bodies, body, state, stick),
    )


def _height(body: PanBodies, up: Floats, volume: float) -> float:
    return float(levels_of(body.level, up, volume).height[0])


def _refuse_overfill(job: Job, bodies: Bodies, pan: Pan, body: PanBodies, state: OilState) -> None:
    """Oil that even cold goes over the rail is a slip in the fill, the unit or the cavity.

    Oil that only goes over it hot is an answer: the capacity is not met, and by how much.
    """
    most = body.holds
    if state.full <= most:
        return
    marked = pan.dipstick is not None and pan.dipstick.full is not None
    own = (body.key, "fill") if pan.fill is not None else ("oil", "fill")
    cold, rail = (shown(v, "volume", job.units) for v in (state.full, most))
    whole = f"the cavity of the {body.key} pan holds up to its rail: {rail}"
    raise InputError(
        [
            Problem(
                code="JOB-150",
                where=bodies.where(*((body.key, "dipstick", "full") if marked else own)),
                found=f"{cold} at the full mark",
                needed=f"no more than {whole}",
                do="lower the fill, or check the cavity's unit and size with `sumpwright measure`",
            )
        ]
    )


def _curve(body: PanBodies, up: Floats, lowest: float) -> FillCurve:
    volumes = np.linspace(0.0, body.holds, CURVE_POINTS)
    levels = levels_of(body.level, up, volumes)
    return FillCurve(
        depth_m=tuple(float(h - lowest) for h in levels.height),
        volume_m3=tuple(float(v) for v in volumes),
        surface_area_m2=tuple(float(a) for a in levels.surface_area),
    )


def _usable(
    job: Job, bodies: Bodies, body: PanBodies, state: OilState, brim: float
) -> tuple[float, str]:
    """Most oil, cold, whose hot surface keeps the crank gap and stays under the rail."""
    up = installed_up(bodies)
    gap = job.requirements.crank_gap
    highest, why = brim, "the rail"
    if bodies.crank_sweep is not None and isinstance(gap, float):
        under_crank = float(bodies.crank_sweep.lowest_height(up[None])[0]) - gap
        if under_crank < brim:
            highest, why = under_crank, "the crank gap"
    return float(volume_below(body.level, up, highest)[0]) / state.expansion, why


def _crank_gap(bodies: Bodies, up: Floats, height: float) -> float | None:
    if bodies.crank_sweep is None:
        return None
    return float(bodies.crank_sweep.lowest_height(up[None])[0]) - height


def _parked(
    job: Job, bodies: Bodies, body: PanBodies, state: OilState, stick: Stick | None
) -> tuple[Parked, ...]:
    """The full fill, cold, with each side uphill."""
    slope = job.oil.parked_slope
    gravity = slope_gravity(np.radians([angle for _, angle in SIDES]), slope)
    ups = up_of(bodies.pose.direction_to_engine(gravity))
    heights = levels_of(body.level, ups, state.full).height
    level_up = installed_up(bodies)
    found = []
    for (side, angle), up, height in zip(SIDES, ups, heights, strict=True):
        along = None if stick is None else stick.wet_at(up, float(height))
        reads = None
        if stick is not None and along is not None:
            wet = float((stick.start + along * stick.direction) @ level_up)
            reads = float(volume_below(body.level, level_up, wet)[0])
        found.append(
            Parked(
                side=side,
                direction_deg=angle,
                slope_deg=float(np.degrees(slope)),
                height_m=float(height),
                crank_gap_m=_crank_gap(bodies, up, float(height)),
                dipstick_along_m=along,
                dipstick_reads_m3=reads,
            )
        )
    return tuple(found)
