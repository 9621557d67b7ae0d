# SPDX-License-Identifier: Apache-2.0
"""Track logs from a flow balance, by another hand than invented_log.py: no car stands behind them.

A gear pump against bearings and jets, a relief valve with a slope, oil that thins, a slow sender.
Straights pull and brakes bite, so that hardly a moment is gentle. They test the code, not oil.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sumpwright.logs.first_order import first_order
from sumpwright.logs.log import Channel, Log

Floats = NDArray[np.float64]
G, RPM, HZ = 9.80665, np.pi / 30.0, 200.0


@dataclass(frozen=True)
class Engine:
    """Pressure in bar from a flow in units of what the pump gives at 1000 rpm."""

    at_3000: float = 2.0
    """[bar] hot"""
    crack: float = 4.6
    """[bar] at which the relief valve begins to open"""
    slope: float = 0.2
    """[bar] more for each unit of flow that it lets by"""
    bearings: float = 0.8
    """Share of the flow at 3000 rpm that goes with pressure over viscosity; the rest is jets"""
    stages: tuple[float, float, float] | None = None
    """[rpm] at which the pump goes up and down a stage, and the lower one's share of the flow"""

    def pressure(self, flow: Floats, celsius: Floats) -> Floats:
        """Where the flows balance, by halving."""
        thin = viscosity(np.array([95.0]))[0] / viscosity(celsius)
        leak = 3.0 * self.bearings / self.at_3000 * thin
        jets = 3.0 * (1.0 - self.bearings) / np.sqrt(self.at_3000)
        low, high = np.zeros_like(flow), np.full_like(flow, 25.0)
        for _ in range(30):
            p = 0.5 * (low + high)
            relief = np.maximum(p - self.crack, 0.0) / self.slope
            under = leak * p + jets * np.sqrt(p) + relief < flow
            low, high = np.where(under, p, low), np.where(under, high, p)
        return np.asarray(0.5 * (low + high))

    def given(self, rpm: Floats) -> Floats:
        """Flow of the pump over its rows in time."""
        if self.stages is None:
            return rpm / 1000.0
        up, down, share = self.stages
        told = (rpm > up) | (rpm < down)
        last = np.maximum.accumulate(np.where(told, np.arange(len(rpm)), 0))
        high = first_order(
            np.where(rpm[last] > up, 1.0, 0.0), float(np.exp(-1.0 / (HZ * 0.1))), 0.0
        )
        return np.asarray(rpm / 1000.0 * (share + (1.0 - share) * high))


ENGINES = {
    "usual": Engine(),
    "weak": Engine(at_3000=0.85),
    "strong": Engine(at_3000=4.2, crack=3.3, slope=0.06),
    "two stages": Engine(stages=(3900.0, 3700.0, 0.6)),
}


def viscosity(celsius: Floats) -> Floats:
    """[mm^2/s] by Walther's line (ASTM D341, from memory) through 85 at 40 and 13 at 100 degC."""
    x = np.log10(np.array([313.15, 373.15]))
    y = np.log10(np.log10(np.array([85.0, 13.0]) + 0.7))
    slope = (y[1] - y[0]) / (x[1] - x[0])
    line = y[0] + slope * (np.log10(celsius + 273.15) - x[0])
    return np.asarray(10.0 ** (10.0**line) - 0.7)


@dataclass(frozen=True)
class Dip:
    """Where air in the pump took pressure away, before the sender was late."""

    start: float
    depth: float
    turn: str


@dataclass(frozen=True, eq=False)
class Second:
    """A log and what is in it."""

    log: Log
    dips: tuple[Dip, ...]


def second(
    seed: int,
    *,
    engine: str = "usual",
    where: str = "right",
    rate: float = 50.0,
    cold: bool = False,
) -> Second:
    """Laps of a track; dips in corners to the right, to the left, under brakes, or none."""
    rng = np.random.default_rng(seed)
    time, ax, ay, rpm, parts = _laps(rng)
    warm = rng.uniform(95.0, 110.0)
    celsius = warm - (75.0 if cold else 15.0) * np.exp(-time / 90.0)
    chosen = [p for p in parts if p[2] == where and rng.random() < 0.6]
    air, spans = np.zeros(len(time)), []
    for a, b, _ in chosen:
        start = a + rng.uniform(0.2, 0.5)
        long = min(rng.uniform(0.4, 2.0), b - start - 0.2)
        if long > 0.35:
            rise, fall = rng.uniform(0.06, 0.14), rng.uniform(0.1, 0.3)
            edge = np.minimum((time - start) / rise, (start + long - time) / fall)
            air = np.maximum(air, rng.uniform(0.3, 0.7) * np.clip(edge, 0.0, 1.0))
            spans.append((start, start + long))
    made = ENGINES[engine]
    whole = made.pressure(made.given(rpm), celsius)
    pressure = whole * (1.0 - air)
    turn = "straight" if where == "brake" else where
    dips = tuple(_truth(time, air, span, turn) for span in spans)
    sender = first_order(pressure, float(np.exp(-1.0 / (HZ * rng.uniform(0.03, 0.12)))), 0.0)
    return Second(_log(rng, rate, (time, sender, rpm, celsius, ax, ay)), dips)


def _truth(time: Floats, air: Floats, span: tuple[float, float], turn: str) -> Dip:
    here = (time >= span[0]) & (time <= span[1])
    first = int(np.argmax(here & (air > 0.05)))
    return Dip(float(time[first]), float(air[here].max()), turn)


Parts = list[tuple[float, float, str]]


def _laps(rng: np.random.Generator) -> tuple[Floats, Floats, Floats, Floats, Parts]:
    """Time, forward and left g, rpm; and start, end and kind of what can uncover a pickup."""
    plan = [(rng.uniform(4.0, 7.0), rng.uniform(0.85, 1.1), rng.uniform(2.5, 5.0))
            for _ in range(6)]  # fmt: skip
    at, gx, gy, knots, parts = [0.0, 12.0], [0.0], [0.0], [(0.0, 850.0), (12.0, 870.0)], []
    for k in range(18):
        straight, size, corner = plan[k % 6]
        side, t = (1.0 if k % 2 else -1.0), at[-1]
        up, low = t + straight * rng.uniform(0.4, 0.6), rng.uniform(3200.0, 4300.0)
        knots += [(up, 6300.0), (up + rng.uniform(0.15, 0.35), 4500.0), (t + straight, 6100.0)]
        brake = t + straight + rng.uniform(1.4, 2.0)
        knots += [(brake - 0.8, low), (brake - 0.5, low + 900.0), (brake, low)]
        end = brake + corner
        knots.append((end, low + rng.uniform(0.0, 900.0)))
        at += [t + straight, brake, end]
        gx += [rng.uniform(0.35, 0.5), -rng.uniform(0.8, 1.0), 0.03]
        gy += [0.0, 0.0, side * size]
        parts += [(t + straight, brake, "brake"), (brake + 0.5, end, "left" if k % 2 else "right")]
    time = np.arange(0.0, at[-1], 1.0 / HZ)
    steps = np.zeros((2, len(time)))
    for (a, b), x, y in zip(pairwise(at), gx, gy, strict=True):
        steps[:, (time >= a) & (time < b)] = [[x], [y]]
    ax, ay = (first_order(s, float(np.exp(-1.0 / (HZ * 0.15))), 0.0) for s in steps)
    rpm = np.interp(time, [k[0] for k in knots], [k[1] for k in knots])
    return time, ax, ay, rpm, parts


def _log(rng: np.random.Generator, rate: float, seen: tuple[Floats, ...]) -> Log:
    """As a logger keeps it: rows at its rate, noise, ripple and the steps of 10 bits."""
    every = round(HZ / rate)
    time, bar, rpm, celsius, ax, ay = (s[::every] for s in seen)
    bar = bar + rng.normal(0.0, 0.025, len(time)) + 0.03 * np.sin(np.cumsum(rpm) * 0.9)
    bar = np.round(np.clip(bar, 0.0, 10.0) * 102.4) / 102.4
    values = {
        "pressure": ("bar", bar * 1e5),
        "rpm": ("rpm", (rpm + rng.normal(0.0, 6.0, len(time))) * RPM),
        "temperature": ("degC", np.round(celsius, 1) + 273.15),
        "ax": ("g", (ax + rng.normal(0.0, 0.02, len(time))) * G),
        "ay": ("g", (ay + rng.normal(0.0, 0.02, len(time))) * G),
    }
    channels = {
        role: Channel(role, role, unit, "given", time, value)  # type: ignore[arg-type]
        for role, (unit, value) in values.items()
    }
    return Log("second", channels)
