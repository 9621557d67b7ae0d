# SPDX-License-Identifier: Apache-2.0
"""What is said of each frame of a film: clock, part of the manoeuvre, push, cover, air, oil."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.report.feed_choice import inlet_text
from sumpwright.report.film import Film, worst_near
from sumpwright.report.series import numbers
from sumpwright.report.text import plain
from sumpwright.studies.motion_result import DriveResult
from sumpwright.units import shown

SLIGHT = 0.05
"""g; less is not said."""


@dataclass(frozen=True)
class FrameWords:
    """One frame's words."""

    clock: str
    part: str
    """Name of the part of the manoeuvre; may be empty"""
    push: str
    cover: str
    """The least while the frame stands, as the air is the most"""
    air: str
    """Empty where it takes none"""
    inlet: str
    rpm: str
    oil: tuple[str, ...]
    """In each compartment"""


def frame_words(result: DriveResult, film: Film) -> list[FrameWords]:
    """The words of all frames; a dash where there is nothing to say."""
    seconds, units = np.array(result.time_s), result.units

    def at(values: tuple[float | None, ...], kind: str) -> list[str]:
        found = np.interp(film.time, seconds, numbers(values))
        return ["–" if np.isnan(v) else shown(float(v), kind, units) for v in found]

    least = -worst_near(seconds, -numbers(result.pickup.cover_m), film.time)
    cover = ["–" if np.isnan(v) else shown(float(v), "length", units) for v in least]
    left = np.interp(film.time, seconds, numbers(result.pump.inlet_pa))
    inlet = ["–" if np.isnan(p) else inlet_text(float(p), units) for p in left]
    rpm = np.interp(film.time, seconds, numbers(result.rpm))
    oil = [at(part.volume_m3, "volume") for part in result.compartments]
    return [
        FrameWords(
            clock=f"{film.time[k]:.2f} s",
            part=part_at(result, float(film.time[k])),
            push=push_words(film.accel[k]),
            cover=cover[k],
            air=air_words(float(film.air[k])),
            inlet=inlet[k],
            rpm="–" if np.isnan(rpm[k]) else f"{rpm[k]:.0f} rpm",
            oil=tuple(row[k] for row in oil),
        )
        for k in range(len(film.time))
    ]


def air_words(share: float) -> str:
    """``42 %``; empty where there is none, or none is known of."""
    if not share > 0.0:
        return ""
    return f"{100.0 * share:.0f} %" if share >= 0.005 else "under 1 %"


def part_at(result: DriveResult, time: float) -> str:
    """The name of the part of the manoeuvre at a time."""
    found = (plain(name) for name, start, end in result.spans if start <= time < end)
    return next(found, "")


def push_words(accel: NDArray[np.float64]) -> str:
    """Which way the car is pushed: ``0.97 g to the left, 0.30 g back``."""
    forward, left, _ = (float(a) for a in accel)
    said = []
    if abs(left) >= SLIGHT:
        said.append(f"{abs(left):.2f} g to the {'left' if left > 0.0 else 'right'}")
    if abs(forward) >= SLIGHT:
        said.append(f"{abs(forward):.2f} g {'forward' if forward > 0.0 else 'back'}")
    return ", ".join(said) or "steady"


def volume_share(result: DriveResult, film: Film) -> list[list[int]]:
    """Per cent that each compartment is full, frame by frame."""
    seconds = np.array(result.time_s)
    rows = [
        np.interp(film.time, seconds, part.volume_m3) / part.capacity_m3
        for part in result.compartments
    ]
    return [[round(100.0 * float(v)) for v in frame] for frame in np.array(rows).T]
