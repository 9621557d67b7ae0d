# SPDX-License-Identifier: Apache-2.0
"""The circle through points that lie nearly on one."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError

Floats = NDArray[np.float64]

STEPS = 40
"""Most rounds; a fit of points that go round settles in about five."""


@dataclass(frozen=True)
class Circle:
    """A circle and how well points lie on it, in the points' unit."""

    x: float
    y: float
    radius: float
    rms: float
    """Of the points' distances from it"""
    spread: float
    """Standard error of its centre, along the worse of x and y"""


def circle_fit(points: ArrayLike) -> Circle:
    """The circle with the least sum of squares of the points' distances from it.

    Started from the circle that is least squares in |p|^2, then Gauss-Newton on the distances
    themselves: the start alone is too small where points cover a part of the circle.

    Parameters
    ----------
    points : (n, 2) [m]
        At least three, not in line; any unit.

    Returns
    -------
    circle : Circle [m]

    Raises
    ------
    RangeError
        With fewer than three points, or points in line.

    Source
    ------
    [closed-form]: least squares.
    """
    p = np.asarray(points, dtype=float).reshape(-1, 2)
    if len(p) < 3:
        raise RangeError(f"a circle needs at least 3 points, got {len(p)}")
    middle = p.mean(axis=0)
    size = float(np.sqrt(((p - middle) ** 2).sum(axis=1).mean()))
    if size == 0.0:
        raise RangeError("a circle needs points that are not in line")
    q = (p - middle) / size
    if np.linalg.svd(q, compute_uv=False)[1] < 1e-6 * np.sqrt(len(q)):
        raise RangeError("a circle needs points that are not in line")
    start = np.linalg.lstsq(np.column_stack([2 * q, np.ones(len(q))]), (q**2).sum(1), rcond=None)[0]
    at = np.array([*start[:2], np.sqrt(max(start[2] + start[:2] @ start[:2], 1e-12))])
    for _ in range(STEPS):
        arm = q - at[:2]
        far = np.maximum(np.linalg.norm(arm, axis=1), 1e-12)
        slope = np.column_stack([-arm / far[:, None], -np.ones(len(q))])
        step = np.linalg.lstsq(slope, at[2] - far, rcond=None)[0]
        at = at + step
        if np.abs(step).max() < 1e-13:
            break
    return _circle(q, at, middle, size)


def _circle(q: Floats, at: Floats, middle: Floats, size: float) -> Circle:
    arm = q - at[:2]
    far = np.maximum(np.linalg.norm(arm, axis=1), 1e-12)
    off = far - at[2]
    slope = np.column_stack([-arm / far[:, None], -np.ones(len(q))])
    noise = float((off**2).sum()) / max(len(q) - 3, 1)
    spread = np.sqrt(noise * np.diag(np.linalg.pinv(slope.T @ slope))[:2].max())
    x, y = middle + size * at[:2]
    rms = float(np.sqrt((off**2).mean()))
    return Circle(float(x), float(y), size * float(at[2]), size * rms, size * float(spread))
