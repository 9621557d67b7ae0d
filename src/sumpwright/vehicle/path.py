# SPDX-License-Identifier: Apache-2.0
r"""Plane paths by curvature over arc length: what a car can drive, with no step in curvature.

Curvature is positive to the left. Between nodes it is straight over arc length, so each piece is a
straight, an arc or part of a clothoid (R s = A^2), and heading is exact there:

.. math:: \theta(s) = \int \kappa ds, \quad x = \int \cos\theta ds, \quad y = \int \sin\theta ds

Place is integrated by an 8-point Gauss rule per piece of at most `BEND`, which leaves rounding.
A path is of the point it is given for; a car's other points turn on other radii.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.vehicle.guard import not_negative, positive

Floats = NDArray[np.float64]

BEND = 0.1
"""rad; nodes are set so close that the heading changes by no more between two."""
_GAUSS_AT, _GAUSS_WEIGHT = np.polynomial.legendre.leggauss(8)
_MEET = 1e-9  # 1/m; curvatures closer than this meet, which is a radius of a million kilometres


@dataclass(frozen=True, eq=False)
class Path:
    """Nodes along a path; all arrays are (n,), read-only, and start at arc length 0."""

    arc_length: Floats
    """[m], rising"""
    curvature: Floats
    """[1/m], positive to the left; straight between nodes"""
    x: Floats
    """[m]"""
    y: Floats
    """[m]"""
    heading: Floats
    """[rad] from +x toward +y, not wrapped"""

    def __post_init__(self) -> None:
        for name in ("arc_length", "curvature", "x", "y", "heading"):
            values = np.array(getattr(self, name), dtype=np.float64, order="C")
            values.setflags(write=False)
            object.__setattr__(self, name, values)

    @property
    def length(self) -> float:
        """Of the whole path [m]."""
        return float(self.arc_length[-1])

    @property
    def sharpness(self) -> Floats:
        """(n - 1,) change of curvature per length between nodes [1/m^2]; 1/A^2 on a clothoid."""
        return np.asarray(np.diff(self.curvature) / np.diff(self.arc_length))

    def mirrored(self) -> "Path":
        """The same path with left and right changed about the x axis."""
        return Path(self.arc_length, -self.curvature, self.x, -self.y, -self.heading)

    def reversed(self) -> "Path":
        """The path driven back from its end, placed at the origin again."""
        return path_of(self.length - self.arc_length[::-1], -self.curvature[::-1])


def path_of(
    arc_length: ArrayLike,
    curvature: ArrayLike,
    *,
    x: float = 0.0,
    y: float = 0.0,
    heading: float = 0.0,
) -> Path:
    """The path whose curvature runs straight between given nodes.

    Parameters
    ----------
    arc_length : (n,) [m]
        From 0, rising, at least two.
    curvature : (n,) [1/m]
        Positive to the left.
    x : float [m]
        Of the start.
    y : float [m]
        Of the start.
    heading : float [rad]
        At the start.

    Returns
    -------
    path : Path [m]
        With nodes added wherever the heading changes by more than `BEND`.

    Raises
    ------
    RangeError
        If the nodes do not rise from 0 or a number is not finite.

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_path.py.
    """
    s, k = _refined(*_checked(arc_length, curvature))
    step = np.diff(s)
    turned = heading + np.concatenate([[0.0], np.cumsum(0.5 * (k[:-1] + k[1:]) * step)])
    share = 0.5 * (1.0 + _GAUSS_AT)[:, None] * step
    bend = turned[:-1] + (k[:-1] + 0.5 * np.diff(k) / step * share) * share
    along = 0.5 * step * (_GAUSS_WEIGHT @ np.cos(bend))
    across = 0.5 * step * (_GAUSS_WEIGHT @ np.sin(bend))
    place = [np.concatenate([[0.0], np.cumsum(part)]) for part in (along, across)]
    return Path(s, k, x + place[0], y + place[1], turned)


def straight(length: float) -> Path:
    """A straight path.

    Parameters
    ----------
    length : float [m]
        Positive.

    Returns
    -------
    path : Path [m]
    """
    return path_of([0.0, positive(length, "length", "m")], [0.0, 0.0])


def arc(radius: float, angle: float) -> Path:
    """Part of a circle, turning left.

    Parameters
    ----------
    radius : float [m]
        Positive; `Path.mirrored` turns right.
    angle : float [rad]
        Positive; 2 pi is one lap.

    Returns
    -------
    path : Path [m]
    """
    r = positive(radius, "radius", "m")
    return path_of([0.0, r * positive(angle, "angle", "rad")], [1.0 / r, 1.0 / r])


def clothoid(parameter: float, length: float) -> Path:
    r"""An Euler spiral from straight into a left turn: what steady turning of the wheel drives.

    .. math:: R s = A^2, \quad \theta = s^2 / (2 A^2)

    Parameters
    ----------
    parameter : float [m]
        A; the sideways jerk at speed v is v^3/A^2.
    length : float [m]
        Of the piece; its end has the radius A^2/length.

    Returns
    -------
    path : Path [m]

    Raises
    ------
    RangeError
        If a number is not positive.

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_path.py.
    """
    end = positive(length, "length", "m") / positive(parameter, "clothoid parameter", "m") ** 2
    return path_of([0.0, length], [0.0, end])


def transition_length(speed: float, radius: float, jerk: float) -> float:
    r"""Length of the shortest clothoid from straight to a radius within a jerk.

    .. math:: L = v^3 / (j R) = A^2 / R

    Parameters
    ----------
    speed : float [m/s]
        v, held all along.
    radius : float [m]
        R, at its end.
    jerk : float [m/s^3]
        j, the limit of the rate of sideways acceleration.

    Returns
    -------
    length : float [m]

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_path.py.
    """
    rate = positive(jerk, "jerk limit", "m/s^3") * positive(radius, "radius", "m")
    return positive(speed, "speed", "m/s") ** 3 / rate


def chained(*paths: Path) -> Path:
    """One path of several, each laid on at the end of the one before.

    Parameters
    ----------
    paths : Path [m]
        In order of driving; where each was placed does not matter, except the first.

    Returns
    -------
    path : Path [m]

    Raises
    ------
    RangeError
        If the curvature jumps where two meet: no car can drive that.
    """
    for before, after in pairwise(paths):
        if abs(before.curvature[-1] - after.curvature[0]) > _MEET:
            raise RangeError(
                "curvature must not jump where paths meet: "
                f"{before.curvature[-1]:.6g} 1/m, then {after.curvature[0]:.6g} 1/m"
            )
    starts = np.concatenate([[0.0], np.cumsum([p.length for p in paths])])
    s = [start + p.arc_length[1:] for start, p in zip(starts[:-1], paths, strict=True)]
    k = [p.curvature[1:] for p in paths]
    first = paths[0]
    return path_of(
        np.concatenate([[0.0], *s]),
        np.concatenate([first.curvature[:1], *k]),
        x=float(first.x[0]),
        y=float(first.y[0]),
        heading=float(first.heading[0]),
    )


def _checked(arc_length: ArrayLike, curvature: ArrayLike) -> tuple[Floats, Floats]:
    s, k = np.asarray(arc_length, dtype=float), np.asarray(curvature, dtype=float)
    if s.ndim != 1 or s.shape != k.shape or len(s) < 2:
        raise RangeError("a path needs at least two nodes, each with one curvature")
    not_negative(float(np.abs(k).max()), "curvature", "1/m")
    if s[0] != 0.0 or not (np.diff(s) > 0.0).all() or not math.isfinite(s[-1]):
        raise RangeError("arc length must start at 0 and rise from node to node")
    return s, k


def _refined(s: Floats, k: Floats) -> tuple[Floats, Floats]:
    """Nodes so close that the heading changes by `BEND` at most; old nodes stay."""
    bend = np.maximum(np.abs(k[:-1]), np.abs(k[1:])) * np.diff(s)
    count = np.maximum(1, np.ceil(bend / BEND * (1.0 - 1e-12))).astype(np.int64)
    piece = np.repeat(np.arange(len(count)), count)
    part = (np.arange(len(piece)) - np.repeat(np.cumsum(count) - count, count)) / count[piece]
    fine = np.append(s[piece] + part * np.diff(s)[piece], s[-1])
    return fine, np.append(k[piece] + part * np.diff(k)[piece], k[-1])
