# SPDX-License-Identifier: Apache-2.0
"""Invented logs with known truth, from a seed: no car, engine or oil stands behind a number of it.

They test the code and nothing else: that it finds what was put in says nothing of real oil.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.logs.log import Channel, Log

Floats = NDArray[np.float64]
G = 9.80665
RPM = np.pi / 30.0
RELIEF, LAG = 480e3, 0.08


@dataclass(frozen=True)
class Truth:
    """A dip that was put in."""

    start: float
    end: float
    depth: float
    turn: str


@dataclass(frozen=True, eq=False)
class Invented:
    """A log, what is in it, and its columns."""

    log: Log
    dips: tuple[Truth, ...]
    columns: dict[str, Floats]
    """time [s], rpm, pressure [bar], temperature [degC], ay and ax [g]"""


def invented(
    seed: int, *, rate: float = 50.0, length: float = 240.0, dips: int = 8, noise: float = 4e3
) -> Invented:
    """A log of corners, straights, shifts, warm-up and dropouts; dips mostly in right turns."""
    rng = np.random.default_rng(seed)
    time = np.arange(0.0, length, 1.0 / rate)
    ay, corners = _corners(rng, time)
    rpm, ax = _speed(rng, time, corners)
    kelvin = 363.0 - 45.0 * np.exp(-time / 70.0) + 8.0 * np.sin(time / 60.0)
    pressure = _lagged(_pressure(rpm, kelvin), 1.0 / rate)
    truths = _dips(rng, corners, dips)
    for dip in truths:
        pressure = pressure * (1.0 - dip.depth * _shape(time, dip))
    pressure = pressure + rng.normal(0.0, noise, len(time))
    for k in rng.choice(len(time), 5, replace=False):  # a plug that shakes
        if not any(d.start - 0.5 < time[k] < d.end + 0.5 for d in truths):
            pressure[k] = 0.0
    columns = {
        "time": time,
        "rpm": rpm + rng.normal(0.0, 8.0, len(time)),
        "pressure": pressure / 1e5,
        "temperature": kelvin - 273.15 + rng.normal(0.0, 0.2, len(time)),
        "ay": ay + rng.normal(0.0, 0.02, len(time)),
        "ax": ax + rng.normal(0.0, 0.02, len(time)),
    }
    return Invented(_log(f"invented-{seed}", columns), truths, columns)


def _pressure(rpm: Floats, kelvin: Floats) -> Floats:
    """Grows with speed and with viscosity, up to the relief valve."""
    thick = np.exp(-(kelvin - 363.0) / 60.0)
    return np.minimum(rpm * RPM * 720.0 * thick**0.6 + 30e3 * thick, RELIEF)


def _lagged(value: Floats, step: float) -> Floats:
    keep, out = np.exp(-step / LAG), value.copy()
    for k in range(1, len(out)):
        out[k] = keep * out[k - 1] + (1.0 - keep) * value[k]
    return out


def _corners(
    rng: np.random.Generator, time: Floats
) -> tuple[Floats, tuple[tuple[float, float, float], ...]]:
    """Lateral acceleration in g, and start, end and its top of each corner."""
    ay, found, t, side = np.zeros(len(time)), [], 12.0, 1.0
    while t + 9.0 < time[-1]:
        size, long = side * rng.uniform(0.8, 1.15), rng.uniform(4.0, 6.5)
        rise = np.clip((time - t) / 0.5, 0.0, 1.0) * np.clip((t + long - time) / 0.5, 0.0, 1.0)
        ay += size * rise
        found.append((t, t + long, size))
        t, side = t + long + rng.uniform(3.0, 6.0), -side
    return ay, tuple(found)


def _speed(
    rng: np.random.Generator, time: Floats, corners: tuple[tuple[float, float, float], ...]
) -> tuple[Floats, Floats]:
    """Engine speed with a shift up on most straights, idle at first; and forward g."""
    knots, values, ax = [0.0, 8.0], [850.0, 870.0], np.zeros(len(time))
    for k, (start, end, _) in enumerate(corners):
        low = rng.uniform(2600.0, 4200.0)
        knots += [start, end]
        values += [low, low + rng.uniform(200.0, 1200.0)]
        then = corners[k + 1][0] if k + 1 < len(corners) else end + 3.0
        if rng.random() < 0.7:
            at = end + 0.5 * (then - end)
            knots += [at, at + 0.18]
            values += [6400.0, 4300.0]
        ax += 0.15 * ((time > end) & (time < then))
    return np.interp(time, knots, values), ax


def _dips(
    rng: np.random.Generator, corners: tuple[tuple[float, float, float], ...], count: int
) -> tuple[Truth, ...]:
    """Dips of 0.35 to 2 s and 30 to 70 % in the corners; six in seven of them right."""
    left = [c for c in corners if c[2] > 0.0]
    right = [c for c in corners if c[2] < 0.0]
    few = min(count // 7, len(left))
    some = [left[int(k)] for k in rng.choice(len(left), few, replace=False)]
    rest = min(count - few, len(right))
    some += [right[int(k)] for k in rng.choice(len(right), rest, replace=False)]
    found = []
    for start, end, size in some:
        long = rng.uniform(0.35, 2.0)
        at = rng.uniform(start + 0.7, end - 0.5 - long)
        turn = "left" if size > 0.0 else "right"
        found.append(Truth(float(at), float(at + long), rng.uniform(0.3, 0.7), turn))
    return tuple(sorted(found, key=lambda d: d.start))


def _shape(time: Floats, dip: Truth) -> Floats:
    """0 outside, 1 within, over edges of an eighth of a second, half a cosine each."""
    edge = 0.125
    share = np.clip(np.minimum(time - dip.start, dip.end - time) / edge, 0.0, 1.0)
    return 0.5 - 0.5 * np.cos(np.pi * share)


def _log(name: str, columns: dict[str, Floats]) -> Log:
    si = {
        "rpm": ("rpm", columns["rpm"] * RPM),
        "pressure": ("bar", columns["pressure"] * 1e5),
        "temperature": ("degC", columns["temperature"] + 273.15),
        "ay": ("g", columns["ay"] * G),
        "ax": ("g", columns["ax"] * G),
    }
    made = {
        role: Channel(role, role, unit, "given", columns["time"], value)  # type: ignore[arg-type]
        for role, (unit, value) in si.items()
    }
    return Log(name, made)


DIALECTS = ("comma", "semicolon", "tab", "preamble", "clock")


def text_of(made: Invented, dialect: str) -> str:
    """The log as the text of a CSV file, in one of `DIALECTS`."""
    c = made.columns
    names = ["Time", "Engine Speed", "Oil Pressure", "Oil Temp", "Lat Acc", "Long Acc"]
    units = ["s", "rpm", "bar", "degC", "g", "g"]
    data = np.column_stack([c[k] for k in ("time", "rpm", "pressure", "temperature", "ay", "ax")])
    mark = {"semicolon": ";", "tab": "\t"}.get(dialect, ",")
    rows = [[f"{v:.4f}" for v in row] for row in data]
    if dialect == "clock":
        rows = [[_clock(t), *row[1:]] for t, row in zip(c["time"], rows, strict=True)]
        units[0] = ""
    heads = [[f"{n} [{u}]" if u else n for n, u in zip(names, units, strict=True)]]
    if dialect == "preamble":
        before = [["Invented session"], ["Place", "Nowhere"], ["Rows", str(len(rows))], []]
        heads = [*before, names, units]
    lines = [mark.join(row) for row in [*heads, *rows]]
    if dialect == "semicolon":
        lines = [lines[0], *(line.replace(".", ",") for line in lines[1:])]
    return "\n".join(lines) + "\n"


def _clock(t: float) -> str:
    seconds = 50400.0 + t
    return f"{int(seconds // 3600):02d}:{int(seconds % 3600 // 60):02d}:{seconds % 60:06.3f}"
