# SPDX-License-Identifier: Apache-2.0
"""A made session for tests of `read`: invented, with its dips where they are asked for.

40 s straight, 15 s left, 5 s straight, 15 s right, 20 s straight; 25 rows a second.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

G = 9.80665
RADIUS = 30.0


@dataclass(frozen=True)
class Session:
    """What was driven."""

    size: float = 0.9
    """g on the circles"""
    dips: tuple[tuple[float, float], ...] = ()
    """[s], in which half of the pressure is missing"""
    stop: bool = False
    """Whether it ends in a stop at 0.8 g"""
    rate: float = 25.0

    def write(
        self,
        folder: Path,
        *,
        lateral: float | None = None,
        yaw: bool = False,
        forward: float | None = None,
    ) -> Path:
        """The log as CSV; the signs that `lateral` and `forward` are logged with, None: not."""
        chance = np.random.default_rng(7)
        time = np.arange(0.0, 95.0, 1.0 / self.rate)
        turn = np.where((time >= 40.0) & (time < 55.0), 1.0, 0.0)
        turn = turn - np.where((time >= 60.0) & (time < 75.0), 1.0, 0.0)
        soft = np.convolve(np.pad(turn, 8, "edge"), np.ones(17) / 17.0, "valid")
        speed = np.full(len(time), np.sqrt(self.size * G * RADIUS))
        speed += np.where(np.abs(soft) > 0.0, 0.0, np.sin(time / 4.0))
        push = np.zeros(len(time))
        if self.stop:
            last = time > 80.0
            speed[last] = np.maximum(speed[last] + 14.0 - 0.8 * G * (time[last] - 80.0), 3.0)
            push = np.where(last & (speed > 3.1), -0.8, 0.0)
        rpm = 250.0 * speed
        pressure = 0.075 * rpm + chance.normal(0.0, 1.5, len(time))  # kPa
        for start, end in self.dips:
            pressure[(time >= start) & (time < end)] *= 0.5
        side = self.size * soft
        names = {"Time (s)": time, "Oil pressure (kPa)": pressure, "RPM": rpm}
        names["Speed (m/s)"] = speed
        if lateral is not None:
            names["LatG (g)"] = lateral * side + chance.normal(0.0, 0.01, len(time))
        if yaw:
            names["Yaw (rad/s)"] = side * G / speed
        if forward is not None:
            names["LongG (g)"] = forward * push
        rows = "\n".join(
            ",".join(f"{v:.4f}" for v in row) for row in zip(*names.values(), strict=True)
        )
        path = folder / "session.csv"
        path.write_text(f"{','.join(names)}\n{rows}\n", encoding="utf-8")
        return path
