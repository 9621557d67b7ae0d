# SPDX-License-Identifier: Apache-2.0
"""Checks on a bench before the engine runs: fill, tilt, trap doors, leaks."""

import math

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import effective_gravity, turning_accel, up_of
from sumpwright.geometry.level import levels_of
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.model import Job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.dipstick import GRADUATION, Stick, stick_of
from sumpwright.studies.oil_state import hold_speed, installed_up, retained_oil_at
from sumpwright.studies.plan_result import (
    Bench,
    DoorCheck,
    FillStep,
    FillTest,
    TiltStep,
    TiltTest,
    Triple,
)
from sumpwright.studies.result import PanFill
from sumpwright.studies.tilt_pour import tilt_pour

Floats = NDArray[np.float64]

WAYS = {"left": 90.0, "right": 270.0, "brake": 180.0, "accelerate": 0.0}
DOWN = {"left": "right side", "right": "left side", "brake": "front", "accelerate": "rear"}
TILTS = (0.5, 1.0)
"""g; looked at before each way's target."""
RAIL = 1e-4
"""m; a line this little over the rail still counts as at it."""
_SIDES = ("the rear", "the front"), ("the right", "the left"), ("below", "above")
CANNOT_SHOW = (
    "On the bench the oil feels 1 g; in a turn it feels sqrt(1 + g²) times that. The head over "
    "the pickup is lower here, and doors are pressed less.",
    "Nothing flows: no pump draws, no oil comes home, none is up in the engine.",
    "Nothing swings: a turn comes on in less than a second, and the oil overshoots.",
    "The line is that of one surface at rest. Behind tight baffles it gets there in minutes, and "
    "behind a shut door perhaps not at all: wait, and note what holds it back.",
)
LEAK = (
    "Limit: your own leak limit, or the one the customer or the engine's maker gives. None is "
    "invented here.",
    "Cold, filled to the full mark, wiped dry, chalk or paper under every seam, plug and joint: "
    "leave it standing for as long as your own rule says (common practice, no source).",
    "If you test with air, follow qualified practice for pressure tests: very little pressure, a "
    "regulator and a relief, no face over the pan. Air under pressure stores energy and a pan is "
    "no pressure vessel.",
    "Check again with hot oil after the first idle, at every joint.",
)


def bench(job: Job, bodies: Bodies, filled: PanFill, targets: dict[str, float | None]) -> Bench:
    """All bench checks of the new pan; `targets` [g] by way."""
    return Bench(
        fill=fill_test(job, bodies, filled),
        tilt=tilt_test(job, bodies, filled, targets),
        doors=door_checks(job, bodies),
        leak=LEAK,
    )


def fill_test(job: Job, bodies: Bodies, filled: PanFill) -> FillTest:
    """Heights at even steps, at the marks, and brim-full."""
    pan, step = job.new, 2.0 * GRADUATION[job.units]
    marks = {filled.full_m3: "full", **({filled.low_m3: "low"} if filled.low_m3 else {})}
    even = [v for v in np.arange(step, filled.cavity_m3, step) if _apart(v, marks, 0.1 * step)]
    volumes = np.array(sorted({*map(float, even), *marks}))
    stick, share = None, _asked(job.requirements.proof_fill)
    if pan.dipstick is not None:
        stick = stick_of(pan, bodies, bodies.new, filled.full_height_m, job.units)
    return FillTest(
        steps=tuple(_fill_steps(bodies, volumes, marks, filled.lowest_m, stick)),
        holds_m3=filled.cavity_m3,
        full_m3=filled.full_m3,
        low_m3=filled.low_m3,
        service_fill_m3=filled.service_fill_m3,
        pitch_deg=0.0 if job.pose is None else math.degrees(job.pose.pitch),
        roll_deg=0.0 if job.pose is None else math.degrees(job.pose.roll),
        limit_m3=None if share is None else share * filled.full_m3,
    )


def _asked(limit: float | str) -> float | None:
    return limit if isinstance(limit, float) else None


def _apart(volume: float, marks: dict[float, str], least: float) -> bool:
    return all(abs(volume - mark) > least for mark in marks)


def _fill_steps(
    bodies: Bodies, volumes: Floats, marks: dict[float, str], lowest: float, stick: Stick | None
) -> list[FillStep]:
    pan, up = bodies.new, installed_up(bodies)
    flat = levels_of(pan.level, np.array([0.0, 0.0, 1.0]), volumes).height
    stands = levels_of(pan.level, up, volumes).height
    top = float(pan.cavity.bounds[1, 2])
    return [
        FillStep(
            volume_m3=float(v),
            below_rail_m=top - float(level),
            depth_m=float(height) - lowest,
            along_dipstick_m=None if stick is None else stick.wet_at(up, float(height)),
            mark=marks.get(float(v), ""),
        )
        for v, level, height in zip(volumes, flat, stands, strict=True)
    ]


def tilt_angle(accel_g: float) -> float:
    """Tilt from level [deg] at which oil at rest lies as in a steady acceleration [g]."""
    return math.degrees(math.atan(accel_g))


def tilt_test(
    job: Job, bodies: Bodies, filled: PanFill, targets: dict[str, float | None]
) -> TiltTest:
    """The liquid line for the oil that is in the pan at the hold speed."""
    pour = tilt_pour(job, filled)
    volume = min(pour.volume, bodies.new.level.volume)
    steps = [_tilt(bodies, volume, way, g) for way in WAYS for g in _tilts(targets.get(way))]
    what = "the full fill, hot, less what the engine holds up at the speed the pan must hold at"
    if retained_oil_at(job, hold_speed(job)) == 0.0:
        what = "the full fill, hot; the job does not say how much the engine holds up"
    frame, limit = job.engine.crankcase_height, _asked(job.requirements.proof_tilt)
    return TiltTest(volume, what, frame, limit, tuple(steps), CANNOT_SHOW, pour.within)


def _tilts(target: float | None) -> tuple[float, ...]:
    if target is None:
        return TILTS
    return (*(g for g in TILTS if g < target - 0.02), target)


def _tilt(bodies: Bodies, volume: float, way: str, accel: float) -> TiltStep:
    direction = math.radians(WAYS[way])
    gravity = effective_gravity(turning_accel(direction, accel))
    up = np.asarray(up_of(bodies.pose.direction_to_engine(gravity)))
    height = float(levels_of(bodies.new.level, up, volume).height[0])
    line = liquid_line(bodies.new.oil_space, up, height)
    rail = float(bodies.new.cavity.bounds[1, 2])
    return TiltStep(
        way=way,
        accel_g=accel,
        angle_deg=tilt_angle(accel),
        down_side=DOWN[way],
        highest=_triple(line[line[:, 2].argmax()]),
        lowest=_triple(line[line[:, 2].argmin()]),
        over_rail=bool(line[:, 2].max() > rail + RAIL),
    )


def liquid_line(mesh: Mesh, up: Floats, height: float) -> Floats:
    """(k, 3) points where a plane cuts the edges of a body's skin [m]."""
    corners = mesh.corners
    over = corners @ up - height
    found = []
    for a, b in ((0, 1), (1, 2), (2, 0)):
        cut = over[:, a] * over[:, b] < 0.0
        share = over[cut, a] / (over[cut, a] - over[cut, b])
        found.append(corners[cut, a] + share[:, None] * (corners[cut, b] - corners[cut, a]))
        found.append(corners[over[:, a] == 0.0, a])
    return np.concatenate(found)


def door_checks(job: Job, bodies: Bodies) -> tuple[DoorCheck, ...]:
    """Every trap door, by the name the job gives it."""
    panels = {panel.name: panel for panel in bodies.new.panels}
    found = []
    for baffle in job.new.baffles:
        for opening in baffle.openings:
            if opening.door is None:
                continue
            side = 1.0 if opening.door.opens == "ahead" else -1.0
            found.append(
                DoorCheck(
                    baffle=baffle.name,
                    name=opening.name,
                    stop_deg=math.degrees(opening.door.stop),
                    swings=_toward(side * panels[baffle.name].normal),
                    hinge=str(opening.door.hinge),
                    edge_gap_m=opening.door.gap,
                )
            )
    return tuple(found)


def _toward(direction: Floats) -> str:
    """The side of the engine that a direction points to most."""
    axis = int(np.abs(direction).argmax())
    return _SIDES[axis][int(direction[axis] > 0.0)]


def _triple(point: Floats) -> Triple:
    return float(point[0]), float(point[1]), float(point[2])
