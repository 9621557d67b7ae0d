# SPDX-License-Identifier: Apache-2.0
"""Make the demo's log of a figure-eight, examples/demo-b/tests/eight.csv, from a few numbers.

    python tools/make_demo_log.py [FILE]

A driver pulls away, drives left, right, left round two cones and stops: 30 s at 25 Hz. Nobody
drove it; the file comes out the same each time.
"""

import sys
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

TARGET = Path(__file__).resolve().parents[1] / "examples" / "demo-b" / "tests" / "eight.csv"
RATE, LENGTH = 25.0, 30.0
"""1/s and s"""
AHEAD = (
    (1.0, 0.0),
    (1.3, 0.52),
    (3.2, 0.44),
    (3.6, 0.0),
    (25.6, 0.0),
    (26.0, -0.72),
    (27.3, -0.68),
)
"""s and g; straight between them, and from the last one down to rest."""
LEFT = (
    *((3.4, 0.0), (4.1, 0.80), (6.5, 0.88), (10.4, 0.84), (11.0, 0.0), (11.6, -0.82)),
    *((14.0, -0.90), (17.7, -0.85), (18.3, 0.0), (18.9, 0.86), (22.0, 0.92), (25.2, 0.78)),
    (25.8, 0.0),
)
"""s and g, as above"""
GEARS = (3.36, 2.01)
"""First until `SHIFT` s; the final drive and tyre are those of the job."""
SHIFT, FINAL, TYRE, IDLE = 3.0, 3.90, 0.302, 850.0
HAND = ((0.43, 0.030), (0.81, 0.025), (1.37, 0.018))
SHAKE = ((4.7, 0.012), (7.9, 0.009), (11.3, 0.007))
"""Hz and g: what a driver's hands, and the ground and the engine, put on top."""


def rows() -> Floats:
    """(n, 5): time [s], ahead, left and up [g], engine speed [1/min]."""
    time = np.arange(round(LENGTH * RATE) + 1) / RATE
    ahead, left = _along(time, AHEAD), _along(time, LEFT)
    speed = np.maximum(np.concatenate([[0.0], np.cumsum(ahead[:-1])]) * 9.80665 / RATE, 0.0)
    ahead[(time > AHEAD[-1][0]) & (speed == 0.0)] = 0.0
    moving = np.minimum(speed / 5.0, 1.0)
    left = left * (1.0 + 2.0 * _waves(time, HAND, 0.0)) + moving * _waves(time, SHAKE, 1.0)
    ahead = ahead + moving * (0.6 * _waves(time, HAND, 2.0) + _waves(time, SHAKE, 3.0))
    up = (0.2 + moving) * _waves(time, SHAKE, 4.0)
    gear = np.where(time < SHIFT, *GEARS)
    turns = np.maximum(speed / TYRE * FINAL * gear * 30.0 / np.pi, IDLE)
    return np.column_stack([time, ahead, left, up, turns])


def _along(time: Floats, points: tuple[tuple[float, float], ...]) -> Floats:
    at, value = np.array(points).T
    return np.interp(time, at, value)


def _waves(time: Floats, waves: tuple[tuple[float, float], ...], phase: float) -> Floats:
    """Sum of sines, apart from others by a phase [rad]."""
    parts = [a * np.sin(2.0 * np.pi * f * time + phase * (1.0 + f)) for f, a in waves]
    return np.asarray(sum(parts))


def main(target: Path) -> None:
    """Write the log and say how hard it is."""
    found = np.round(rows(), 3) + 0.0  # the sum makes a plain zero of -0
    lines = [f"{t:.2f},{x:.3f},{y:.3f},{z:.3f},{n:.0f}" for t, x, y, z, n in found]
    head = "# invented for a demonstration: nobody drove this\ntime_s,ax_g,ay_g,az_g,rpm\n"
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(head + "\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    most = np.abs(found[:, 1:3]).max(axis=0)
    print(f"{target.name}: {len(found)} rows, up to {most[0]:.2f} g along, {most[1]:.2f} g across")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else TARGET)
