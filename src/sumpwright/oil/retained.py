# SPDX-License-Identifier: Apache-2.0
"""Curves over engine speed that a person measured: oil held up in the engine, and pump flow.

No formula stands in for a measurement here. Between the points the curves are straight; outside
them they refuse, because an extrapolated hold-up or flow would look like a measurement.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError

_RPM = 30.0 / math.pi  # rad/s to rpm, which is how a person knows the points


@dataclass(frozen=True)
class Curve:
    """Straight lines between measured points, refused outside them. All numbers in SI."""

    x: tuple[float, ...]
    y: tuple[float, ...]
    what: str
    """Name of x in messages, such as ``engine speed``."""
    unit: str
    """Unit that messages show x in."""
    scale: float = 1.0
    """Factor from SI to `unit`."""

    def __post_init__(self) -> None:
        if faults := self._faults():
            raise RangeError(f"curve over {self.what}: " + "; ".join(faults))

    def at(self, x: ArrayLike) -> NDArray[np.float64]:
        """Values at `x` (...); RangeError with value and limits outside the curve."""
        asked = np.asarray(x, dtype=float)
        # A speed typed in rpm may come back a rounding error past the end point.
        slack = 1e-12 * max(abs(self.x[0]), abs(self.x[-1]))
        bad = ~((asked >= self.x[0] - slack) & (asked <= self.x[-1] + slack))
        if bad.any():
            raise RangeError(
                f"{self.what} {self._shown(asked[bad][0])} is outside the curve, "
                f"{self._shown(self.x[0])} to {self._shown(self.x[-1])}"
            )
        return np.asarray(np.interp(asked, self.x, self.y))

    def _shown(self, x: float) -> str:
        return f"{x * self.scale:.6g} {self.unit}"

    def _faults(self) -> list[str]:
        """Everything that is wrong with the points."""
        if len(self.x) != len(self.y):
            return [f"{len(self.x)} points along, but {len(self.y)} values"]
        found = [] if len(self.x) > 1 else [f"needs at least 2 points, has {len(self.x)}"]
        if not np.isfinite((*self.x, *self.y)).all():
            return [*found, "a number is missing or not finite"]
        found += [
            f"{self.what} must rise from point to point, but {self._shown(b)} follows "
            f"{self._shown(a)}"
            for a, b in zip(self.x, self.x[1:], strict=False)
            if b <= a
        ]
        return found + [
            f"the value at {self._shown(x)} is below zero"
            for x, y in zip(self.x, self.y, strict=True)
            if y < 0.0
        ]


def speed_curve(speed: ArrayLike, values: ArrayLike) -> Curve:
    """Curve over engine speed, checked: speeds rise, values are not negative.

    Parameters
    ----------
    speed : (n,) [rad/s]
        Crankshaft speeds, rising.
    values : (n,) [SI]
        What was measured at each speed.

    Returns
    -------
    curve : Curve [SI]

    Raises
    ------
    RangeError
        Names every fault of the points.

    Source
    ------
    Exact: straight lines between points. Checked by tests/oil/test_retained.py.
    """
    x, y = (tuple(map(float, np.atleast_1d(np.asarray(a, float)))) for a in (speed, values))
    return Curve(x, y, what="engine speed", unit="rpm", scale=_RPM)


def retained_oil(
    speed: ArrayLike, *, curve_speed: ArrayLike, curve_volume: ArrayLike
) -> NDArray[np.float64]:
    """Oil that is up in the engine, and so not in the pan, at an engine speed.

    Parameters
    ----------
    speed : (...) [rad/s]
        Crankshaft speed asked for.
    curve_speed : (n,) [rad/s]
        Speeds of the measured points, rising.
    curve_volume : (n,) [m^3]
        Oil held up at each; dipstick level at rest against level while running.

    Returns
    -------
    volume : (...) [m^3]

    Raises
    ------
    RangeError
        If the speed is outside the curve, or the curve is faulty.

    Source
    ------
    Exact: straight lines between points. Checked by tests/oil/test_retained.py.
    """
    return speed_curve(curve_speed, curve_volume).at(speed)


def pump_flow(
    speed: ArrayLike, *, curve_speed: ArrayLike, curve_flow: ArrayLike
) -> NDArray[np.float64]:
    """Oil that the pump draws through the pickup at an engine speed.

    Parameters
    ----------
    speed : (...) [rad/s]
        Crankshaft speed asked for.
    curve_speed : (n,) [rad/s]
        Speeds of the measured points, rising.
    curve_flow : (n,) [m^3/s]
        Flow at each.

    Returns
    -------
    flow : (...) [m^3/s]

    Raises
    ------
    RangeError
        If the speed is outside the curve, or the curve is faulty.

    Source
    ------
    Exact: straight lines between points. Checked by tests/oil/test_retained.py.
    """
    return speed_curve(curve_speed, curve_flow).at(speed)
