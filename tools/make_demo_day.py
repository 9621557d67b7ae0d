# SPDX-License-Identifier: Apache-2.0
"""Make the demo's test day: one session of each revision, as two different loggers write it.

    python tools/make_demo_day.py [FOLDER]

Invented: nobody drove it. A driver goes round both ways, slow before fast, drives eights, brakes
and comes home. Where the oil goes is computed by the same network that predicts, so these logs
show that reading finds what was put in; they prove nothing about a pan. The same seed writes the
same files.
"""

import math
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator
from scipy.ndimage import gaussian_filter1d

from sumpwright.job.load import load_job
from sumpwright.studies.asked import Driven
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.drive import driven_run
from sumpwright.studies.drive_feed import gallery_pressure
from sumpwright.studies.network import ready
from sumpwright.vehicle.trace import logged_trace

Floats = NDArray[np.float64]

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
SEED = 20
RATE = 25.0
G = 9.80665
RADIUS, EIGHT = 30.0, 15.0
CIRCLES = (0.5, 0.7, 0.85, 0.95)
"""g, each way"""
HOLD = 12.0
GEARS, FINAL, TYRE, IDLE = (3.36, 2.01, 1.34), 3.90, 0.302, 850.0
UP, DOWN = (7.0, 19.0), (4.5, 15.0)
"""m/s"""
SHIFT = 0.35
LAG, NOISE = 0.08, 3e3
"""s of the pressure sensor, Pa"""
WARM, HOT = 82.0, 99.0
"""degC, first and last"""


@dataclass(frozen=True, eq=False)
class Day:
    """What a session does, sample by sample."""

    time: Floats
    speed: Floats
    ax: Floats
    ay: Floats
    """g"""
    yaw: Floats
    """rad/s"""
    rpm: Floats
    gear: NDArray[np.int64]
    throttle: Floats
    temperature: Floats
    """degC"""


def nodes() -> list[tuple[float, float, float]]:
    """Time [s], speed [m/s] and curvature [1/m] between which the car moves smoothly."""
    found = [(0.0, 0.0, 0.0), (8.0, 0.0, 0.0), (14.0, 12.0, 0.0), (26.0, 13.0, 0.0)]
    for way in (1.0, -1.0):
        for size in CIRCLES:
            speed, now = math.sqrt(size * G * RADIUS), found[-1][0]
            found += [(now + 3.0, speed, 0.0), (now + 4.4, speed, way / RADIUS)]
            found += [(now + 4.4 + HOLD, speed, way / RADIUS), (now + 6.0 + HOLD, speed, 0.0)]
            found += [(now + 12.0 + HOLD, 13.0, 0.0)]
    speed = math.sqrt(0.9 * G * EIGHT)
    for lap in range(6):
        now, way = found[-1][0], 1.0 if lap % 2 == 0 else -1.0
        found += [(now + 1.3, speed, way / EIGHT), (now + 8.0, speed, way / EIGHT)]
    now = found[-1][0]
    found += [(now + 1.3, speed, 0.0), (now + 8.0, 27.0, 0.0), (now + 11.0, 27.0, 0.0)]
    found += [(now + 13.4, 6.0, 0.0), (now + 22.0, 4.0, 0.0), (now + 26.0, 0.0, 0.0)]
    return [*found, (now + 34.0, 0.0, 0.0)]


def day() -> Day:
    """The session as it is driven, the same with either pan."""
    when, speeds, bends = (np.array(column) for column in zip(*nodes(), strict=True))
    time = np.arange(0.0, when[-1], 1.0 / RATE)
    speed = np.maximum(
        gaussian_filter1d(PchipInterpolator(when, speeds)(time), 0.4 * RATE, mode="nearest"), 0.0
    )
    bend = gaussian_filter1d(np.interp(time, when, bends), 0.25 * RATE)
    ax = np.gradient(speed, time) / G
    gear = _gears(speed)
    turning = speed / TYRE * np.array(GEARS)[gear] * FINAL * 30.0 / math.pi
    rpm = np.maximum(gaussian_filter1d(turning, 0.3 * SHIFT * RATE, mode="nearest"), IDLE)
    warm = WARM + (HOT - WARM) * (1.0 - np.exp(-time / 120.0))
    throttle = np.clip(0.12 + 1.4 * ax + 0.3 * np.abs(speed * speed * bend / G), 0.0, 1.0)
    shifting = gaussian_filter1d(np.abs(np.diff(gear, prepend=gear[0])).astype(float), 3.0) > 0.02
    throttle[shifting] = 0.0
    return Day(time, speed, ax, speed * speed * bend / G, speed * bend, rpm, gear, throttle, warm)


def pressure_of(folder: Path, drive: Day) -> Floats:
    """Pa in the gallery, as the network of the job in `folder` has it."""
    loaded = load_job(folder)
    bodies = read_bodies(loaded)
    oil = 273.15 + float(np.median(drive.temperature))
    made = ready(loaded, bodies, parted(loaded.job, bodies, folder=folder), oil)
    motion, _ = logged_trace(drive.time, drive.ax, drive.ay, None, drive.rpm)
    done = driven_run(loaded, bodies, made, Driven("day", "trace", motion, oil, "hot"))
    found = gallery_pressure(loaded, done)
    assert found is not None, "the demo's engine has a reading of its pressure"
    warmer = (drive.temperature - np.median(drive.temperature)) * -0.008
    clean = np.interp(drive.time, done.course.time, found) * (1.0 + warmer)
    return _sensed(np.minimum(clean, 430e3), drive)


def _sensed(clean: Floats, drive: Day) -> Floats:
    """Through a slow sensor, with noise; the key is on before the engine runs."""
    rng = np.random.default_rng(SEED)
    clean = np.where(drive.time < 3.0, 0.0, clean)
    slow, share = np.zeros_like(clean), 1.0 - math.exp(-1.0 / (RATE * LAG))
    for k in range(1, len(clean)):
        slow[k] = slow[k - 1] + share * (clean[k] - slow[k - 1])
    return np.maximum(slow + rng.normal(0.0, NOISE, len(slow)), 0.0)


def _gears(speed: Floats) -> NDArray[np.int64]:
    gear = np.zeros(len(speed), dtype=np.int64)
    for k in range(1, len(speed)):
        now = gear[k - 1]
        if now < 2 and speed[k] > UP[now]:
            now += 1
        elif now > 0 and speed[k] < DOWN[now - 1]:
            now -= 1
        gear[k] = now
    return gear


def _shaken(drive: Day) -> tuple[Floats, Floats]:
    rng = np.random.default_rng(SEED + 1)
    ax, ay = (a + rng.normal(0.0, 0.02, len(a)) for a in (drive.ax, drive.ay))
    return ax, ay


def comma_log(drive: Day, pressure: Floats) -> str:
    """A preamble, names with units, commas."""
    ax, ay = _shaken(drive)
    head = [
        "Session,Invented for a demonstration: nobody drove this",
        "Place,Saltmarsh airfield skidpad",
        f"Rate,{RATE:.0f} Hz",
        "",
        "Time [s],Oil Pressure [bar],Engine Speed [rpm],Oil Temp [degC],Long Acc [g],"
        "Lat Acc [g],Road Speed [km/h],Gear,Throttle [%]",
    ]
    rpm = np.where(drive.time < 3.0, 0.0, drive.rpm)
    rows = [
        f"{t:.2f},{p / 1e5:.3f},{n:.0f},{c:.1f},{x:.3f},{y:.3f},{v * 3.6:.1f},{g + 1},{a * 100:.0f}"
        for t, p, n, c, x, y, v, g, a in zip(
            drive.time, pressure, rpm, drive.temperature, ax, ay, drive.speed, drive.gear,
            drive.throttle, strict=True,
        )
    ]  # fmt: skip
    return "\n".join([*head, *rows, ""])


def semicolon_log(drive: Day, pressure: Floats) -> str:
    """Semicolons, decimal commas, a row of units; temperature at a fifth of the rate."""
    ax, ay = _shaken(drive)
    head = [
        "Invented for a demonstration: nobody drove this",
        "t;P_oil;n_engine;T_oil;a_long;a_lat;v;yaw_rate",
        "s;kPa;1/min;degC;m/s^2;m/s^2;km/h;deg/s",
    ]
    rpm = np.where(drive.time < 3.0, 0.0, drive.rpm)
    rows = []
    for k, t in enumerate(drive.time):
        warm = f"{drive.temperature[k]:.1f}" if k % 5 == 0 else ""
        cells = (
            f"{t:.2f};{pressure[k] / 1e3:.1f};{rpm[k]:.0f};{warm};{ax[k] * G:.2f};{ay[k] * G:.2f};"
            f"{drive.speed[k] * 3.6:.1f};{math.degrees(drive.yaw[k]):.2f}"
        )
        rows.append(cells.replace(".", ","))
    return "\n".join([*head, *rows, ""])


def main(target: Path) -> int:
    """Write both logs."""
    drive = day()
    for name, written in (("demo-a", comma_log), ("demo-b", semicolon_log)):
        path = target / name / "tests" / "skidpad.csv"
        path.parent.mkdir(parents=True, exist_ok=True)
        text = written(drive, pressure_of(EXAMPLES / name, drive))
        path.write_text(text, encoding="utf-8", newline="\n")
        print(path)
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else EXAMPLES))
