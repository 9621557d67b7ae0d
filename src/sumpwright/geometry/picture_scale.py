# SPDX-License-Identifier: Apache-2.0
"""From picture elements to lengths: a scale bar, a scanner's resolution, or a known rectangle."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError

Floats = NDArray[np.float64]

POINTED = 1.0
"""Picture elements by which a point that a person read off a picture may be off; one sigma."""
SCANNER = 0.005
"""Share by which a flatbed's resolution may be off along its travel; [common-practice]."""
INCH = 0.0254
HORIZON = 0.05
"""Of the nearness of the rectangle's first corner: what is nearer the horizon is not looked at."""
REACH = 2.0
"""Times the rectangle's size; how far to every side of it a picture is flattened."""
MOST = 80_000_000
"""Elements of a flattened picture."""


@dataclass(frozen=True)
class PictureScale:
    """Length of a picture element and how sure that is."""

    element: float
    """m"""
    spread: float
    """One sigma, as a share of it [-]"""


def bar_scale(a: ArrayLike, b: ArrayLike, length: float) -> PictureScale:
    """The scale by a bar of known length.

    Parameters
    ----------
    a : (2,) [-]
        One end, picture elements.
    b : (2,) [-]
        The other.
    length : float [m]
        Between them.

    Returns
    -------
    scale : PictureScale [m]

    Raises
    ------
    RangeError
        Where the ends are nearer than 20 elements or the length is none.

    Source
    ------
    [closed-form]: two ends, each off by one element along the bar.
    """
    far = math.dist(np.asarray(a, dtype=float), np.asarray(b, dtype=float))
    if far < 20.0:
        raise RangeError(f"a scale bar needs its ends at least 20 elements apart, got {far:.3g}")
    if not length > 0.0:
        raise RangeError(f"a scale bar needs a length over 0 m, got {length:.4g}")
    return PictureScale(length / far, math.sqrt(2.0) * POINTED / far)


def dpi_scale(dpi: float) -> PictureScale:
    """The scale by a scanner's resolution, taken at its word.

    Parameters
    ----------
    dpi : float [-]
        Picture elements to the inch.

    Returns
    -------
    scale : PictureScale [m]

    Raises
    ------
    RangeError
        Outside 30 to 4800.
    """
    if not 30.0 <= dpi <= 4800.0:
        raise RangeError(f"a scanner's resolution is 30 to 4800 dpi, got {dpi:.4g}")
    return PictureScale(INCH / dpi, SCANNER)


@dataclass(frozen=True, eq=False)
class FlatView:
    """How a plane lies in a picture, by the four corners of a rectangle on it."""

    matrix: Floats
    """(3, 3) from (x, y, 1) [m], y up from the rectangle's lower left, to picture elements"""
    scale: PictureScale
    """Of the flattened picture: no coarser than the finest side"""
    size: Floats
    """(2,) [m] of the rectangle"""

    def in_picture(self, points: ArrayLike) -> Floats:
        """(n, 2) picture elements of points on the plane (n, 2) [m]; far off behind the horizon."""
        p = np.asarray(points, dtype=float).reshape(-1, 2)
        q = np.column_stack([p, np.ones(len(p))]) @ self.matrix.T
        ahead = q[:, 2:] > HORIZON
        return np.where(ahead, q[:, :2] / np.where(ahead, q[:, 2:], 1.0), -1e9)

    def extent(self, wide: int, high: int) -> tuple[Floats, Floats]:
        """Lower left and upper right (2,) [m] of what a picture shows of the plane.

        No further out than twice the rectangle to every side: beyond that little can be measured.
        """
        ends = np.array([[0, 0, 1], [wide, 0, 1], [wide, high, 1], [0, high, 1]], dtype=float)
        q = ends @ np.linalg.inv(self.matrix).T
        low, top = -REACH * self.size, (1.0 + REACH) * self.size
        if (q[:, 2] <= 0.0).any():  # the horizon is in the picture
            return low, top
        on = q[:, :2] / q[:, 2:]
        return np.maximum(on.min(axis=0), low), np.minimum(on.max(axis=0), top)


def flat_view(corners: ArrayLike, width: float, height: float) -> FlatView:
    """The view of a rectangle seen askew.

    Parameters
    ----------
    corners : (4, 2) [-]
        Lower left, lower right, upper right, upper left of the rectangle; picture elements.
    width : float [m]
        Of the rectangle.
    height : float [m]
        Of the rectangle.

    Returns
    -------
    view : FlatView [-]

    Raises
    ------
    RangeError
        Where the corners are not those of a rectangle seen from above, in that order.

    Source
    ------
    [closed-form]: the projective map of four points, eight linear equations.
    """
    p = np.asarray(corners, dtype=float).reshape(4, 2)
    side = np.roll(p, -1, axis=0) - p
    after = np.roll(side, -1, axis=0)
    cross = side[:, 0] * after[:, 1] - side[:, 1] * after[:, 0]
    long = np.linalg.norm(side, axis=1)
    # y runs down in a picture, so counter-clockwise to the eye has negative crosses
    if not (cross < 0.0).all() or long.min() < 20.0:
        raise RangeError(
            "four corners are needed: lower left, lower right, upper right, upper left, at least "
            "20 elements apart"
        )
    if not min(width, height) > 0.0:
        raise RangeError("a rectangle needs a width and a height over 0 m")
    rows, right = [], []
    for (x, y), (u, v) in zip(
        [(0, 0), (width, 0), (width, height), (0, height)], p.tolist(), strict=True
    ):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    matrix = np.append(np.linalg.solve(np.array(rows, dtype=float), right), 1.0).reshape(3, 3)
    sizes = np.array([width, height, width, height])
    scale = PictureScale(float((sizes / long).min()), math.sqrt(2.0) * POINTED / float(long.min()))
    return FlatView(matrix, scale, np.array([width, height]))


def flattened(
    grey: NDArray[np.float32], view: FlatView
) -> tuple[NDArray[np.float32], Floats, float]:
    """The picture of the plane as seen square from above; what lies outside of it is mid grey.

    Parameters
    ----------
    grey : (h, w) [-]
        The picture.
    view : FlatView [-]
        How the plane lies in it.

    Returns
    -------
    flat : (k, m) [-]
        The first row on top.
    corner : (2,) [m]
        Middle of its upper left element, in the rectangle's axes.
    element : float [m]
        Of it: that of `view.scale`, more where that would make too large a picture.
    """
    from scipy.ndimage import map_coordinates

    (x0, y0), (x1, y1) = view.extent(grey.shape[1], grey.shape[0])
    step = max(view.scale.element, math.sqrt((x1 - x0) * (y1 - y0) / MOST))
    x, y = np.arange(x0, x1, step), np.arange(y1, y0, -step)
    flat = np.full((len(y), len(x)), 0.5, dtype=np.float32)
    for k, up in enumerate(y):  # by rows: the whole would need eight times the picture's memory
        at = view.in_picture(np.column_stack([x, np.full(len(x), up)]))
        flat[k] = map_coordinates(grey, at[:, ::-1].T, order=1, mode="constant", cval=0.5)
    return flat, np.array([x0, y1]), step
