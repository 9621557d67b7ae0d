# SPDX-License-Identifier: Apache-2.0
"""Measured points laid over designed ones: turned and moved; and what a free scale would want.

Only a proper turn is taken, never a mirror image, however well that would fit.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Registration:
    """measured = scale * rotation @ design + shift, as near as it goes."""

    rotation: Floats
    """(d, d) [-]"""
    shift: Floats
    """(d,) [m]"""
    scale: float
    """1 of a rigid fit"""
    residual: Floats
    """(n, d) [m] of each measured point off its design, in the design's axes and size"""

    @property
    def off(self) -> Floats:
        """(n,) [m] length of each residual."""
        return np.asarray(np.linalg.norm(self.residual, axis=1))

    @property
    def rms(self) -> float:
        """Root mean square of the residuals' lengths [m]."""
        return float(np.sqrt((self.off**2).mean()))

    @property
    def turn(self) -> float:
        """Of the measured points against the design, in the plane [rad]."""
        return math.atan2(self.rotation[1, 0], self.rotation[0, 0])

    def into_design(self, points: ArrayLike) -> Floats:
        """(k, d) [m] measured points where the fit puts them in the design's axes."""
        away = np.asarray(points, dtype=float) - self.shift
        return np.asarray(away @ self.rotation / self.scale)


@dataclass(frozen=True)
class Stretch:
    """How measured points would have to be stretched to be the design: an affine fit, taken apart.

    measured = turn [[along, skew], [0, across]] design + shift.
    """

    along: float
    """Scale along x [-]"""
    across: float
    """Scale along y [-]"""
    skew: float
    """By which x and y are not square in what was measured [rad]"""


def rigid_fit(design: ArrayLike, measured: ArrayLike) -> Registration:
    """The turn and shift that bring the design nearest to what was measured.

    Parameters
    ----------
    design : (n, d) [m]
        Where points should be; two dimensions or three.
    measured : (n, d) [m]
        Where the same points were found, in axes of their own.

    Returns
    -------
    fit : Registration [m]

    Raises
    ------
    RangeError
        With fewer than two points, or where all lie at one place.

    Source
    ------
    [Kabsch-1976], with the sign of the smallest singular value turned where that is needed for a
    proper turn.
    """
    return _fit(design, measured, scaled=False)


def similarity_fit(design: ArrayLike, measured: ArrayLike) -> Registration:
    """The same with a scale that is free: what was measured is `scale` times as large.

    Parameters
    ----------
    design : (n, d) [m]
        Where points should be.
    measured : (n, d) [m]
        Where the same points were found.

    Returns
    -------
    fit : Registration [m]

    Raises
    ------
    RangeError
        With fewer than two points, or where all lie at one place.

    Source
    ------
    [Umeyama-1991] equations 40 to 43.
    """
    return _fit(design, measured, scaled=True)


def scale_spread(design: ArrayLike, fit: Registration) -> float | None:
    """Standard error of the scale of a similarity fit [-].

    The fit is linear in scale times cosine, scale times sine and the two shifts; the error is that
    of a linear fit with 2 n - 4 degrees of freedom, residuals alike in every direction.

    Parameters
    ----------
    design : (n, 2) [m]
        Where points should be.
    fit : Registration [m]
        By `similarity_fit`.

    Returns
    -------
    spread : float or None [-]
        None of two points, which any scale fits.

    Source
    ------
    [closed-form]: least squares, s^2 = sum r^2 / (2 n - 4), var = s^2 / sum |x - mean|^2.
    """
    points = np.asarray(design, dtype=float).reshape(-1, 2)
    free = 2 * len(points) - 4
    if free <= 0:
        return None
    arms = float(((points - points.mean(axis=0)) ** 2).sum())
    seen = fit.scale * fit.residual  # as large as they were measured
    return math.sqrt(float((seen**2).sum()) / free / arms)


def stretch(design: ArrayLike, measured: ArrayLike) -> Stretch | None:
    """Scale along x and y and the skew that an affine fit wants.

    Parameters
    ----------
    design : (n, 2) [m]
        Where points should be.
    measured : (n, 2) [m]
        Where the same points were found.

    Returns
    -------
    stretch : Stretch or None [-]
        None with fewer than four points, where points lie nearly in line, and of a mirror image.

    Source
    ------
    [closed-form]: linear least squares, then a turn times an upper triangle.
    """
    x, y = _pair(design, measured)
    if len(x) < 4 or x.shape[1] != 2:
        return None
    away = x - x.mean(axis=0)
    sizes = np.linalg.svd(away, compute_uv=False)
    if sizes[1] < 0.05 * sizes[0]:  # a line of holes says nothing of the scale across it
        return None
    matrix = np.linalg.lstsq(away, y - y.mean(axis=0), rcond=None)[0].T
    if np.linalg.det(matrix) <= 0.0:
        return None
    turned, upper = np.linalg.qr(matrix)
    signs = np.sign(np.diag(upper))
    upper = signs[:, None] * upper
    del turned
    return Stretch(
        along=float(upper[0, 0]),
        across=float(upper[1, 1]),
        skew=math.atan2(float(upper[0, 1]), float(upper[1, 1])),
    )


def _fit(design: ArrayLike, measured: ArrayLike, *, scaled: bool) -> Registration:
    x, y = _pair(design, measured)
    middle, found = x.mean(axis=0), y.mean(axis=0)
    a, b = x - middle, y - found
    size = float((a**2).sum())
    if size <= 1e-24 or float((b**2).sum()) <= 1e-24:
        raise RangeError("a fit needs points apart from one another, got all at one place")
    u, strength, v = np.linalg.svd(b.T @ a)
    proper = np.ones(len(strength))
    proper[-1] = np.sign(np.linalg.det(u) * np.linalg.det(v)) or 1.0
    rotation = (u * proper) @ v
    scale = float((strength * proper).sum()) / size if scaled else 1.0
    if scale <= 0.0:
        raise RangeError("a fit with a free scale needs points that are no mirror image")
    shift = found - scale * rotation @ middle
    residual = (y - shift) @ rotation / scale - x
    return Registration(np.asarray(rotation), np.asarray(shift), scale, np.asarray(residual))


def _pair(design: ArrayLike, measured: ArrayLike) -> tuple[Floats, Floats]:
    x, y = (np.asarray(p, dtype=float) for p in (design, measured))
    if x.shape != y.shape or x.ndim != 2 or len(x) < 2:
        raise RangeError(
            f"a fit needs at least 2 points and as many measured, got {len(x)} and {len(y)}"
        )
    return x, y
