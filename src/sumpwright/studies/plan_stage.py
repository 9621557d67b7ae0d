# SPDX-License-Identifier: Apache-2.0
"""The stages of a programme, slow before fast and both ways round; each opens the next."""

import math
from collections.abc import Iterator
from dataclasses import replace

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.studies.plan_forecast import Model
from sumpwright.studies.plan_result import Drive, Forecast, Stage, Turn
from sumpwright.studies.plan_run import (
    SUSTAINED,
    Way,
    circle_run,
    course_run,
    ladder,
    pressure_of,
    radius_of,
    section_of,
)
from sumpwright.studies.plan_words import AFTER, BEFORE, GATE, HOW, WARM
from sumpwright.vehicle.manoeuvre import JERK

Targets = dict[str, float | None]
Say = tuple[str, ...]

SHARES = (0.5, 0.75, 0.9)
"""Of the target, in figure-eights and slaloms; common practice, no source."""
STRAIGHT_STEP = 0.3
"""g; between stops, and between launches."""
STOP_FROM = 28.0
"""m/s; where the job has no stop of its own."""
LASTING = 0.8
"""Of the target, for the sustained runs; common practice, no source."""
CONES, OFFSET, NUMBER = 18.0, 1.0, 8
EIGHTS = 2
"""Times round a figure-eight."""
SIDES: tuple[Turn, ...] = ("left", "right")


def stages(model: Model, targets: Targets) -> tuple[Stage, ...]:
    """All of them, numbered from 1."""
    found = (
        *_warm_up(model),
        *_circles(model, targets),
        *_figure_eights(model, targets),
        *_slaloms(model, targets),
        *_launches(model, targets),
        *_stops(model, targets),
        *_sustained(model, targets),
    )
    return tuple(replace(stage, number=n + 1) for n, stage in enumerate(found))


def turn_target(targets: Targets) -> float | None:
    """The smaller of both sides' targets; None where the job has neither."""
    known = [t for t in (targets["left"], targets["right"]) if t is not None]
    return min(known, default=None)


def _stage(kind: str, name: str, runs: tuple[Drive, ...], radius: float | None = None) -> Stage:
    return Stage(0, name, kind, radius, runs, HOW[kind], AFTER, GATE[kind])


def _warm_up(model: Model) -> Iterator[Stage]:
    job = model.loaded.job
    idle = None if job.driveline is None else job.driveline.idle * 30.0 / math.pi
    said = Forecast("not computed", None, 0.0, why="straight and gentle: no forecast is needed")
    run = Drive(
        "straight", 0.0, None, None, idle, None, None, None, 1, pressure_of(job, idle), said
    )
    yield Stage(0, "Before the start", "before", None, (), BEFORE, (), GATE["before"])
    yield Stage(0, "Warm-up", "warm-up", None, (run,), WARM, AFTER, GATE["warm-up"])


def _circles(model: Model, targets: Targets) -> Iterator[Stage]:
    """A rung of the ladder to a stage; a side ends at its own target."""
    whole = max((t for s in SIDES if (t := targets[s]) is not None), default=None)
    if whole is None:
        return
    done: dict[str, float] = dict.fromkeys(SIDES, 0.0)
    for rung in ladder(whole):
        runs = []
        for side in SIDES:
            target = targets[side] if targets[side] is not None else whole
            size = min(rung, target or whole)
            if size > done[side]:
                runs.append(circle_run(model, side, size))
                done[side] = size
        name = f"Circles, {rung:.2f} g, left and right"
        name = name if len(runs) == len(SIDES) else f"Circles, {rung:.2f} g, {runs[0].turn}"
        yield _stage("circle", name, tuple(runs), radius_of(model.loaded.job))


def _figure_eights(model: Model, targets: Targets) -> Iterator[Stage]:
    target, own = turn_target(targets), section_of(model.loaded.job, "figure-eight")
    if target is None:
        return
    usual = 0.5 * radius_of(model.loaded.job)
    radius = usual if own is None or own.radius is None else own.radius
    runs = []
    for share in SHARES:
        size = share * target
        speed = math.sqrt(size * STANDARD_GRAVITY * radius)
        options = {"radius": f"{radius:.6f} m", "accel": f"{size:.6f} g", "laps": f"{EIGHTS}"}
        lasts = EIGHTS * 4.0 * math.pi * radius / speed
        way = Way("both", size, speed, lasts, laps=float(EIGHTS))
        runs.append(course_run(model, "figure-eight", options, way))
    yield _stage("figure-eight", "Figure-eights", tuple(runs), radius)


def _slaloms(model: Model, targets: Targets) -> Iterator[Stage]:
    """Transitions: the side of the peak swings with every cone."""
    target, own = turn_target(targets), section_of(model.loaded.job, "slalom")
    if target is None:
        return
    spacing = CONES if own is None or own.cone_spacing is None else own.cone_spacing
    offset = OFFSET if own is None or own.offset is None else own.offset
    runs = []
    most = quickest_slalom(offset) / STANDARD_GRAVITY
    for size in sorted({min(share * target, most) for share in SHARES}):
        speed = slalom_speed(size * STANDARD_GRAVITY, spacing=spacing, offset=offset)
        options = {"cone_spacing": f"{spacing:.6f} m", "offset": f"{offset:.6f} m"}
        options |= {"speed": f"{speed:.6f} m/s", "cones": str(NUMBER)}
        way = Way("both", size, speed, spacing * NUMBER / speed)
        runs.append(course_run(model, "slalom", options, way))
    stage = _stage("slalom", "Transitions: slalom", tuple(runs))
    yield replace(stage, layout=(("cones apart", spacing), ("path to the side", offset)))


def slalom_speed(accel: float, *, spacing: float, offset: float) -> float:
    """Speed [m/s] at which a sine of that half wave [m] and amplitude [m] makes `accel` [m/s^2].

    The peak of y = offset sin(pi x / spacing) bends by offset (pi / spacing)^2.
    """
    return spacing / math.pi * math.sqrt(accel / offset)


def quickest_slalom(offset: float) -> float:
    """Peak [m/s^2] of such a sine whose jerk, a sqrt(a / offset), is a quick driver's."""
    return float((JERK**2 * offset) ** (1.0 / 3.0))


def _launches(model: Model, targets: Targets) -> Iterator[Stage]:
    target, own = targets["accelerate"], section_of(model.loaded.job, "launch")
    if target is None:
        return
    end = STOP_FROM if own is None or own.speed is None else own.speed
    start = 0.0 if own is None or own.start_speed is None else own.start_speed
    runs = []
    for size in ladder(target, step=STRAIGHT_STEP):
        options = {"start_speed": f"{start:.6f} m/s", "speed": f"{end:.6f} m/s"}
        options["accel"] = f"{size:.6f} g"
        runs.append(course_run(model, "launch", options, _straight(size, start, end, shifts=True)))
    yield _stage("launch", "Accelerating", tuple(runs))


def _stops(model: Model, targets: Targets) -> Iterator[Stage]:
    target, own = targets["brake"], section_of(model.loaded.job, "brake")
    if target is None:
        return
    speed = STOP_FROM if own is None or own.speed is None else own.speed
    runs = []
    for size in ladder(target, step=STRAIGHT_STEP):
        options = {"speed": f"{speed:.6f} m/s", "decel": f"{size:.6f} g"}
        runs.append(course_run(model, "brake", options, _straight(size, 0.0, speed)))
    yield _stage("brake", "Braking", tuple(runs))


def _straight(accel_g: float, slow: float, fast: float, *, shifts: bool = False) -> Way:
    """Time and distance of an even change of speed: v / a and v^2 / (2 a)."""
    accel = accel_g * STANDARD_GRAVITY
    distance = (fast**2 - slow**2) / (2.0 * accel)
    return Way("straight", accel_g, fast, (fast - slow) / accel, shifts=shifts, distance=distance)


def _sustained(model: Model, targets: Targets) -> Iterator[Stage]:
    target = turn_target(targets)
    if target is None:
        return
    runs = tuple(circle_run(model, side, LASTING * target, least=SUSTAINED) for side in SIDES)
    name = f"Sustained, {LASTING * target:.2f} g"
    yield _stage("sustained", name, runs, radius_of(model.loaded.job))
