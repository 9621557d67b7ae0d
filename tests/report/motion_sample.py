# SPDX-License-Identifier: Apache-2.0
"""An invented drive: real compartments of the sample pan, a made-up swing of the oil in them.

The surfaces stand where the volumes say, and the cover over the pickup is that of the drawn
surfaces, so the pictures agree with the numbers; how the oil gets from one compartment to the next
is made up and proves nothing.
"""

from dataclasses import replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.compartment import Compartments, compartments
from sumpwright.geometry.frame import effective_gravity, up_of
from sumpwright.geometry.level import level_body, levels_of
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Door as PanelDoor
from sumpwright.geometry.panel import Opening, Panel, rectangle
from sumpwright.oil.door import Door
from sumpwright.studies.motion_result import (
    Chance,
    CompartmentCourse,
    DoorCourse,
    DriveResult,
    DriveSummary,
    ErrorReport,
    PickupCourse,
    PumpCourse,
)
from sumpwright.studies.motion_scene import MotionScene, door_shape, panel_shapes
from sumpwright.studies.result import Requirement
from tests.report.sample import NEW_RIM, POSE, _mesh, new_cavity

Floats = NDArray[np.float64]

STEP, DURATION = 0.02, 12.0
OIL, RETAINED = 0.0034, 0.0006


def _hole(
    name: str, along: float, up: float, wide: float, high: float, *, side: int = 0
) -> Opening:
    outline = rectangle([along, up], width=wide, height=high)
    return Opening(name, outline, PanelDoor(2, side) if side else None)


def sample_panels() -> tuple[Panel, ...]:
    """A box round the pickup whose front and sides let oil in by doors, its rear by a window."""
    side = [[-0.07, -0.105], [0.07, -0.105], [0.07, -0.02], [-0.07, -0.02]]
    return (
        Panel("front wall", [0.25, 0.0, 0.0], [1, 0, 0], None, 0.0015, 0.0,
              (_hole("front door", 0.0, -0.075, 0.05, 0.028, side=-1),)),
        Panel("rear wall", [0.12, 0.0, 0.0], [1, 0, 0], None, 0.0015, 0.0,
              (_hole("rear window", 0.02, -0.08, 0.04, 0.02),)),
        Panel("left wall", [0.185, 0.07, 0.0], [0, 1, 0], side, 0.0015, 0.0,
              (_hole("left door", -0.01, -0.078, 0.05, 0.026, side=-1),)),
        Panel("right wall", [0.185, -0.07, 0.0], [0, 1, 0], side, 0.0015, 0.0,
              (_hole("right door", 0.01, -0.078, 0.05, 0.026, side=1),)),
    )  # fmt: skip


@cache
def sample_parts() -> tuple[Mesh, Compartments]:
    cavity = _mesh(new_cavity())
    return cavity, compartments(cavity, sample_panels())


def _door(panel: Panel, opening: Opening) -> Door:
    ends = panel.hinge_line(opening)
    assert opening.door is not None
    return Door(
        hinge=ends.mean(axis=0), reach=-panel.basis[1], swing=opening.door.side * panel.normal,
        width=float(np.linalg.norm(ends[1] - ends[0])), length=float(np.ptp(opening.outline[:, 1])),
        thickness=0.0015, mass=0.012, stop=np.radians(70.0),
    )  # fmt: skip


@cache
def motion_sample() -> MotionScene:
    cavity, parts = sample_parts()
    doors = []
    for panel in sample_panels():
        for opening in (o for o in panel.openings if o.door):
            link = next(k for k in parts.links if k.opening == opening.name)
            ends = (link.behind, link.ahead)
            assert opening.door is not None
            if opening.door.side < 0:
                ends = (link.ahead, link.behind)
            doors.append(door_shape(opening.name, _door(panel, opening), ends))
    return MotionScene(
        pose=POSE, cavity=cavity, compartments=parts.bodies, names=parts.names,
        panels=tuple(panel_shapes(sample_panels(), cavity)), doors=tuple(doors), rim=NEW_RIM,
    )  # fmt: skip


def _accel(time: Floats) -> Floats:
    """A brake, then a left and a right circle with soft transitions [g]."""

    def pulse(start: float, end: float, soft: float) -> Floats:
        rise = np.clip((time - start) / soft, 0.0, 1.0)
        fall = np.clip((end - time) / soft, 0.0, 1.0)
        share = np.minimum(rise, fall)
        return np.asarray(share * share * (3.0 - 2.0 * share))

    forward = -0.7 * pulse(1.0, 2.4, 0.4) + 0.3 * pulse(9.4, 11.0, 0.5)
    left = 0.97 * pulse(2.6, 6.0, 0.7) - 0.9 * pulse(6.0, 9.4, 0.7)
    return np.stack([forward, left, 0.04 * np.sin(9.0 * time)], axis=1)


def _lagged(values: Floats, lag: float) -> Floats:
    out = values.copy()
    for k in range(1, len(values)):
        out[k] = out[k - 1] + (values[k] - out[k - 1]) * min(STEP / lag, 1.0)
    return out


def _volumes(parts: Compartments, up: Floats, total: Floats) -> Floats:
    """(n, k) shares of the oil: a compartment low along up takes more, none more than it holds."""
    middles = np.array([b.vertices.mean(axis=0) for b in parts.bodies])
    depth = -(up @ (middles - middles.mean(axis=0)).T)
    kept = np.where(np.arange(len(middles)) == parts.holding(NEW_RIM.mean(axis=0)), 2.3, 1.0)
    want = kept * parts.volumes * np.exp(13.0 * depth)
    for _ in range(40):  # what one cannot hold goes to the others
        volume = np.minimum(want * (total / want.sum(axis=1))[:, None], 0.96 * parts.volumes)
        want = volume + 1e-3 * (total - volume.sum(axis=1))[:, None] * (parts.volumes - volume)
        want = np.maximum(want, 1e-7)
    return volume


def _summary(time: Floats, cover: Floats, inlet: Floats, air: Floats) -> DriveSummary:
    dry = air > 0.0
    edges = np.flatnonzero(np.diff(np.concatenate([[0], dry.astype(int), [0]])))
    spells = [(b - a) * STEP for a, b in zip(edges[::2], edges[1::2], strict=True)]
    return DriveSummary(
        duration_s=DURATION, first_air_s=float(time[dry][0]) if dry.any() else None,
        aerated_s=float(dry.sum() * STEP), longest_dry_s=float(max(spells, default=0.0)),
        air_drawn_m3=float((air * 6e-4 * STEP).sum()), least_cover_m=float(cover.min()),
        least_cover_s=float(time[cover.argmin()]), least_inlet_pa=float(inlet.min()),
        least_inlet_s=float(time[inlet.argmin()]), least_pressure_pa=2.1e5,
        most_retained_m3=RETAINED * 1.3, largest_g=0.97, mass_error=2.4e-7,
    )  # fmt: skip


def _ledger(longest: float, inlet: float) -> tuple[Requirement, ...]:
    common = "common practice, no source"
    return (
        Requirement("dry_spell", "Longest time with air at the pickup", 0.0, longest, -longest,
                    "s", "time", common, "met" if longest <= 0.0 else "not met",
                    "longest run of time with air", "left circle"),
    )  # fmt: skip


@cache
def drive_sample() -> DriveResult:
    _, parts = sample_parts()
    time = np.arange(0.0, DURATION + 0.5 * STEP, STEP)
    accel = _accel(time)
    gravity = POSE.direction_to_engine(effective_gravity(_lagged(accel, 0.16)))
    up = up_of(gravity)
    retained = RETAINED * (1.0 + 0.3 * np.sin(0.5 * time))
    volume = _lagged(_volumes(parts, up, OIL - retained), 0.25)
    levels = [
        levels_of(level_body(body), up, v) for body, v in zip(parts.bodies, volume.T, strict=True)
    ]
    home = parts.holding(NEW_RIM.mean(axis=0))
    assert home is not None
    cover = levels[home].height - (NEW_RIM @ up.T).max(axis=0) - 0.006
    air = np.clip(-cover / 0.012, 0.0, 1.0)
    inlet = 93e3 - 4e3 * np.abs(accel[:, 1]) - 32e3 * air
    swing = [np.clip(70.0 * np.sin(1.1 * time + k), 0.0, 70.0) for k in range(3)]
    summary = _summary(time, cover, inlet, air)
    return DriveResult(
        job="Sample low pan", revision="B", input_hash="9f2c4be17a60d3815c2e", code_version="0.1.0",
        units="metric", manoeuvre="left then right, hot", kind="figure-eight", temperature_k=373.15,
        doors_are="working", time_s=tuple(time.tolist()),
        accel_g=tuple(tuple(a) for a in accel.tolist()),  # type: ignore[misc]
        rpm=tuple((4500.0 + 900.0 * np.sin(0.8 * time)).tolist()),
        speed_m_s=tuple((14.0 + np.cumsum(accel[:, 0]) * 9.81 * STEP).tolist()),
        compartments=tuple(
            CompartmentCourse(
                name, hint, float(size), tuple(v.tolist()), tuple(lev.height.tolist()),
                tuple(tuple(u) for u in up.tolist()),  # type: ignore[misc]
            )
            for name, hint, size, v, lev in zip(
                parts.names, parts.hints, parts.volumes, volume.T, levels, strict=True
            )
        ),
        doors=tuple(
            DoorCourse(d.name, 70.0, tuple(s.tolist()))
            for d, s in zip(motion_sample().doors, swing, strict=True)
        ),
        pickup=PickupCourse(parts.names[home], tuple(cover.tolist()), tuple(air.tolist())),
        pump=PumpCourse(
            tuple([6e-4] * len(time)), tuple(inlet.tolist()), tuple((4.2e5 * (1 - air)).tolist())
        ),
        retained_m3=tuple(retained.tolist()), summary=summary,
        error=ErrorReport(2.4e-7, 2e-5, 1.1e-4, 1.9e-5, 5210, 44),
        requirements=_ledger(summary.longest_dry_s, float(inlet.min())),
        assumptions=("Surfaces are planes; waves that break are not in the model.",),
        spans=(("braking", 1.0, 2.6), ("left circle", 2.6, 6.0), ("right circle", 6.0, 9.4)),
        chances=(
            Chance("Longest time with air at the pickup", 0.34, 0.252, 0.441, 96, 20310504,
                   ("fill ±0.2 L", "oil temperature ±10 K", "discharge numbers ±10 %")),
        ),
    )  # fmt: skip


@cache
def short_sample() -> DriveResult:
    """The second round the first air, so that its film is made quickly."""
    full = drive_sample()
    cut = slice(160, 211)
    return replace(
        full, time_s=full.time_s[cut], accel_g=full.accel_g[cut], rpm=full.rpm[cut],
        speed_m_s=full.speed_m_s[cut], retained_m3=full.retained_m3[cut],
        compartments=tuple(
            replace(
                p, volume_m3=p.volume_m3[cut], surface_height_m=p.surface_height_m[cut],
                tilt=p.tilt[cut],
            )
            for p in full.compartments
        ),
        doors=tuple(replace(d, angle_deg=d.angle_deg[cut]) for d in full.doors),
        pickup=replace(
            full.pickup, cover_m=full.pickup.cover_m[cut],
            air_fraction=full.pickup.air_fraction[cut],
        ),
        pump=PumpCourse(
            full.pump.flow_m3_s[cut], full.pump.inlet_pa[cut], full.pump.pressure_pa[cut]
        ),
        spans=(("left circle", 3.0, 6.0),),
    )  # fmt: skip
