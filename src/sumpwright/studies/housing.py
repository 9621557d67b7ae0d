# SPDX-License-Identifier: Apache-2.0
"""What does the pickup housing come to? Solids, areas on the oil's way, bolts, room in the pan."""

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np

from sumpwright import __version__
from sumpwright.errors import InputError, Problem
from sumpwright.geometry.build import build_mesh, build_volume
from sumpwright.geometry.level import levels_of
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.revision import input_hash
from sumpwright.job.suction import Screen
from sumpwright.metal.material import material
from sumpwright.metal.thread import screw_length
from sumpwright.oil.density import density
from sumpwright.oil.screen import screen_loss
from sumpwright.oil.viscosity import kinematic_viscosity
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.housing_judge import judged_of, verdict_of
from sumpwright.studies.housing_part import WIRE_METAL, housing_parts, screen_mass
from sumpwright.studies.housing_place import housing_body, placed_housing, refuse_numbers
from sumpwright.studies.housing_result import (
    Bolting,
    HousingResult,
    HousingScene,
    ScreenPoint,
    Solid,
)
from sumpwright.studies.housing_room import rooms_of
from sumpwright.studies.housing_shape import HousingShape, open_share
from sumpwright.studies.housing_words import findings_of
from sumpwright.studies.oil_state import density_15, hold_speed, installed_up, oil_state
from sumpwright.studies.pickup import floor_gap
from sumpwright.studies.suction_line import draws, oil_line, pickup_flow, screen_of

Progress = Callable[[str, float], None]

RPM = 30.0 / math.pi
PRINT_DENSITY = 1240.0
"""kg/m^3 of what a printed housing is made of, where the job has no printer: PLA, from memory."""


def housing_of(folder: Path, progress: Progress | None = None) -> HousingResult:
    """The housing of the job in `folder`; InputError where it has none. Writes but the cache."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    if loaded.job.new.housing is None:
        raise InputError([no_housing(loaded)])
    refuse_numbers(loaded, "new")  # before a pan is drawn for it
    say("reading geometry", 0.0)
    return housing_with(loaded, read_bodies(loaded, progress), progress)


def no_housing(loaded: LoadedJob) -> Problem:
    """What a job without a housing lacks."""
    return Problem(
        "HOUS-509",
        loaded.where("new", "housing"),
        "no housing",
        "`new.housing`, the pickup's housing by numbers",
        "add it; docs/job-file.md has its keys",
    )


def housing_with(
    loaded: LoadedJob, bodies: Bodies, progress: Progress | None = None
) -> HousingResult:
    """The housing of a job whose bodies are read; it must have one."""
    say = progress or (lambda _text, _share: None)
    shape = placed_housing(loaded, "new", bodies.new.cavity)
    assert shape is not None
    say("building the housing", 0.5)
    solids = tuple(_solids(loaded, shape))
    say("looking for room", 0.8)
    room = tuple(rooms_of(loaded.job.new, bodies.new, housing_body(shape)))
    bolting = _bolting(shape)
    result = HousingResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        verdict="",
        inlet_m=shape.inlet,
        over_floor_m=floor_gap(bodies.new),
        height_m=shape.housing.height,
        low_profile=shape.housing.height / shape.rim.equivalent_diameter,
        face_m2=shape.face_area,
        open_m2=_open(shape),
        tube_m2=0.25 * math.pi * shape.housing.socket.bore**2,
        curtain_m2=_curtain(shape, floor_gap(bodies.new)),
        inside_m2=_inside(shape),
        displaced_m3=build_volume(shape.displaced),
        low_cover_m=_low_cover(loaded, bodies, shape),
        screen=tuple(_screen(loaded, shape)),
        bolting=bolting,
        room=room,
        solids=solids,
        findings=(),
        made=tuple(housing_parts(shape, solids, bolting, loaded.job.shop, loaded.job.units)),
        scene=_scene(bodies, shape),
    )
    say("building the housing", 1.0)
    judged = judged_of(result, shape, loaded.job.requirements.floor_gap)
    decide_first = sorted((*findings_of(result, shape), *judged), key=lambda f: f.severity)
    return replace(result, findings=tuple(decide_first), verdict=verdict_of(decide_first))


def _scene(bodies: Bodies, shape: HousingShape) -> HousingScene:
    builds = [
        ("pickup-housing", shape.body),
        ("retaining-flange", shape.plate),
        ("screen-blank", shape.blank),
    ]
    outlines = [("plan", shape.plan()), ("inside", shape.inside), ("inlet", shape.opening)]
    if shape.housing.screen is not None:
        outlines.append(("screen", shape.screen_plan))
    return HousingScene(
        cavity=bodies.new.cavity,
        bodies=tuple((key, build_mesh(build)) for key, build in builds if build is not None),
        centre=(float(shape.centre[0]), float(shape.centre[1])),
        bolts=tuple((float(x), float(y)) for x, y in shape.bolts),
        clearance=0.0 if shape.thread is None else shape.thread.clearance,
        outlines=tuple((name, profile.polygon()) for name, profile in outlines),
    )


def _solids(loaded: LoadedJob, shape: HousingShape) -> Iterator[Solid]:
    from sumpwright.geometry.cad_build import build_solid
    from sumpwright.geometry.cad_measure import area, bounds, volume

    housing = shape.housing
    printer = None if loaded.job.shop is None else loaded.job.shop.printer
    metal = housing.material
    own: tuple[str, float | None] = (metal, material(metal).density)
    if housing.made == "printed":
        own = "printed", PRINT_DENSITY if printer is None else printer.density
    builds = [
        ("pickup-housing", "pickup housing", shape.body, own),
        ("retaining-flange", "retaining flange", shape.plate, (metal, material(metal).density)),
        ("screen-blank", "screen, cut to size", shape.blank, (WIRE_METAL, None)),
    ]
    for key, name, build, (what, weight) in builds:
        if build is None:
            continue
        solid = build_solid(build, name)
        size = np.diff(bounds(solid), axis=0)[0]
        taken = volume(solid)
        mass = screen_mass(shape) if weight is None else weight * taken
        sides = (float(size[0]), float(size[1]), float(size[2]))
        yield Solid(key, name, taken, area(solid), sides, what, mass, solid)


def _open(shape: HousingShape) -> float:
    cloth = shape.housing.screen
    return shape.face_area * (1.0 if cloth is None else open_share(cloth))


def _curtain(shape: HousingShape, gap: float | None) -> float | None:
    return None if gap is None else shape.opening.length * gap


def _inside(shape: HousingShape) -> float:
    """The curtain from the screen to the edge of the tube's hole, or the inside's height at a
    wall; never more than what the inlet lets in."""
    socket = shape.housing.socket
    tall = shape.ceiling - shape.seat - shape.screen_thickness
    if socket.leaves == "top":
        return min(math.pi * socket.bore * tall, shape.face_area)
    across = float(
        np.ptp(shape.inside.polygon() @ [-math.sin(socket.direction), math.cos(socket.direction)])
    )
    return min(across * tall, shape.face_area)


def _low_cover(loaded: LoadedJob, bodies: Bodies, shape: HousingShape) -> float | None:
    state = oil_state(loaded.job, bodies, loaded.job.new, bodies.new)
    if state is None or state.low is None:
        return None
    up, level = installed_up(bodies), bodies.new.level
    oil = min(state.running(state.low), level.volume)
    height = float(levels_of(level, up, oil).height[0])
    return height - float(shape.rim.highest_height(up)[0])


def _screen(loaded: LoadedJob, shape: HousingShape) -> Iterator[ScreenPoint]:
    """The screen's share of the pressure, at the speed the pan must hold, hot, and cold."""
    job, cloth = loaded.job, shape.housing.screen
    oil, hold = oil_line(job), hold_speed(job)
    if cloth is None or oil is None or not draws(job):
        return
    given = {name: getattr(cloth, name) for name in type(cloth).model_fields}
    screen = screen_of(Screen.model_construct(**given, area=shape.face_area))
    states = [("hot", job.oil.hot, hold), ("cold", job.oil.cold, job.engine.cold_rpm)]
    for state, t, speed in states:
        if speed is None:
            continue
        flow = float(pickup_flow(job, oil, speed, job.oil.hot))
        nu, rho = kinematic_viscosity(oil, t), density(density_15(job), t)
        loss = float(screen_loss(screen, flow, viscosity=nu, density=rho))
        yield ScreenPoint(state, t, speed * RPM, flow, loss)


def _bolting(shape: HousingShape) -> Bolting | None:
    screw = shape.thread
    if screw is None:
        return None
    length = screw_length(shape.flange + shape.engagement)
    engaged = length - shape.flange
    return Bolting(screw.name, len(shape.bolts), length, engaged, engaged / screw.diameter)
