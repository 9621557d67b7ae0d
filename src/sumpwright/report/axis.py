# SPDX-License-Identifier: Apache-2.0
"""Round numbers for the axes of a chart, and where they fall on paper."""

import math
from dataclasses import dataclass

GROUND_SQUARE = {"metric": (0.1, "100 mm"), "us": (0.1016, "4 in")}
"""Side of the squares drawn on the road [m], and in words."""


@dataclass(frozen=True)
class Axis:
    """A straight scale: value `low` at `start` on paper, `high` at `end`."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Place on paper."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)


def round_step(span: float, count: int) -> float:
    """1, 2 or 5 times a power of ten that divides `span` in about `count` steps."""
    rough = max(span, 1e-12) / max(count, 1)
    power = 10.0 ** math.floor(math.log10(rough))
    return next(m * power for m in (1.0, 2.0, 5.0, 10.0) if rough <= m * power * 1.0001)


def ticks(low: float, high: float, count: int) -> list[float]:
    """Multiples of a round step from `low` to `high`."""
    step = round_step(high - low, count)
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [k * step for k in range(first, last + 1)]


def tick_text(value: float, step: float) -> str:
    """`value` with as many decimals as `step` needs."""
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    text = f"{value:.{decimals}f}"
    return text.replace("-", "" if float(text) == 0.0 else "−")
