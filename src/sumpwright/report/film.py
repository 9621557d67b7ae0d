# SPDX-License-Identifier: Apache-2.0
"""What a film of the oil shows and when: the result at each frame's time, and how fast it runs."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.level import level_body, levels_of
from sumpwright.report.door_course import moving_doors
from sumpwright.report.series import numbers
from sumpwright.studies.motion_result import DriveResult
from sumpwright.studies.motion_scene import MotionScene

Floats = NDArray[np.float64]

TICK = 0.08
"""s each frame stands: a GIF counts in hundredths, and 80 ms is the nearest to twelve a second."""
MOST_FRAMES = 240
LOOKS = 25
"""Frames that say how far the oil climbs."""
TRACE = 1e-3
"""Share of air that stands for a spell between two of the result's times."""


@dataclass(frozen=True, eq=False)
class Film:
    """A run cut into n frames; all that is drawn of each."""

    time: Floats
    up: Floats
    """(n, k, 3) unit normals of the surfaces"""
    height: Floats
    """(n, k) [m] where they stand along up, from the engine frame's origin"""
    angle: Floats
    """(n, d) [rad] of the doors"""
    air: Floats
    """(n,) largest share of air at the pickup while the frame stands; nan where not known"""
    accel: Floats
    """(n, 3) [g] of the car"""
    pace: float
    """Seconds of the run for each of the film."""

    @property
    def pace_words(self) -> str:
        """``real time``, or how many times as fast."""
        return "real time" if abs(self.pace - 1.0) < 0.02 else f"{self.pace:.1f} times as fast"


def frame_times(duration: float) -> tuple[Floats, float]:
    """Times of the frames from 0, and the pace: real time, faster where that is too many frames."""
    count = int(duration / TICK + 1e-9) + 1
    if 2 <= count <= MOST_FRAMES:
        return TICK * np.arange(count, dtype=np.float64), 1.0
    count = MOST_FRAMES if count > MOST_FRAMES else 2
    return np.asarray(np.linspace(0.0, duration, count)), duration / (count - 1) / TICK


def film_of(result: DriveResult, scene: MotionScene) -> Film:
    """The frames of a run; surfaces stand where the compartments' volumes put them."""
    start = result.time_s[0]
    time, pace = frame_times(result.time_s[-1] - start)
    seconds, at = np.array(result.time_s), time + start

    def between(values: Floats) -> Floats:
        return np.stack([np.interp(at, seconds, v) for v in values.T], axis=1)

    ups, heights = [], []
    for part, mesh in zip(result.compartments, scene.compartments, strict=True):
        up = between(np.array(part.tilt))
        up /= np.linalg.norm(up, axis=1, keepdims=True)
        body = level_body(mesh)
        volume = np.clip(np.interp(at, seconds, part.volume_m3), 0.0, body.volume)
        ups.append(up)
        heights.append(levels_of(body, up, volume).height)
    return Film(
        time=at,
        up=np.stack(ups, axis=1),
        height=np.stack(heights, axis=1),
        angle=_angles(result, scene, at),
        air=_air(result, seconds, at),
        accel=between(np.array(result.accel_g)),
        pace=pace,
    )


def _angles(result: DriveResult, scene: MotionScene, at: Floats) -> Floats:
    """(n, d) [rad]; doors without a course of their own are stuck, open or shut."""
    stuck = 1.0 if result.doors_are == "stuck open" else 0.0
    rows = [np.full(len(at), stuck * door.stop) for door in scene.doors]
    for k, (_, course) in enumerate(moving_doors(result, scene)):
        rows[k] = np.radians(np.interp(at, result.time_s, course.angle_deg))
    return np.array(rows).reshape(len(rows), len(at)).T


def _air(result: DriveResult, seconds: Floats, at: Floats) -> Floats:
    """The worst air while each frame stands; a spell too short for the series shows as a trace."""
    air = worst_near(seconds, numbers(result.pickup.air_fraction), at)
    first = result.summary.first_air_s
    if first is not None and not (air > 0.0).any():
        air[int(np.abs(at - first).argmin())] = TRACE
    return air


def worst_near(time: Floats, values: Floats, at: Floats) -> Floats:
    """The largest value within half a frame of each time, so that no spell falls between two."""
    edges = np.concatenate([[-np.inf], 0.5 * (at[1:] + at[:-1]), [np.inf]])
    first, last = np.searchsorted(time, edges[:-1]), np.searchsorted(time, edges[1:])
    near = np.interp(at, time, values)
    return np.array(
        [
            np.nanmax(values[a:b]) if b > a and not np.isnan(values[a:b]).all() else n
            for a, b, n in zip(first, last, near, strict=True)
        ]
    )


def oil_reach(film: Film, scene: MotionScene) -> Floats:
    """(n, 3) corners of the oil in a few frames, engine frame: how far a picture must reach."""
    few = np.unique(np.linspace(0, len(film.time) - 1, LOOKS).astype(np.int64))
    found = [np.zeros((0, 3))]
    for k, mesh in enumerate(scene.compartments):
        sides = np.sort(mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
        start, end = mesh.vertices[np.unique(sides, axis=0)].swapaxes(0, 1)
        for number in few.tolist():
            up, height = film.up[number, k], film.height[number, k]
            low, high = start @ up - height, end @ up - height
            cut = (low < 0.0) != (high < 0.0)
            share = (low[cut] / (low[cut] - high[cut]))[:, None]
            found += [start[low < 0.0], start[cut] + share * (end[cut] - start[cut])]
    return np.concatenate(found)
