# SPDX-License-Identifier: Apache-2.0
"""Shapes that oil flows through in a flat panel, made ready for the flow: windows, weirs, gaps.

Triangles whose areas add up: over any direction a triangle's width is a tent, so the whole
opening's is straight lines between its corners, at any tilt, and no sorting of outlines is needed.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.table import not_negative, positive

Floats = NDArray[np.float64]

HOLE_ENTRY, PIPE = 12.0 * math.pi, 64.0
"""E and F of a round hole: loss over v^2 / 2g times Reynolds number, of the edge and per D."""
SLIT_ENTRY, SLOT = 128.0 / math.pi, 96.0
"""E and F of a long slit, on twice its height: 8 % off the hole's, so E hardly knows shape."""
FLAT = 1e-4
"""How far corners may lie off their plane, as a share of the opening's size."""
DUST = 1e-12
"""Share of an opening under which it counts as dry or shut."""


@dataclass(frozen=True, eq=False)
class Opening:
    """An opening in a flat panel as the flow needs it; made by `window` or `gap`."""

    corners: Floats
    """(m, 3, 3) [m] triangles that add up to the opening."""
    areas: Floats
    """(m,) [m^2] of the triangles, negative for those that a hollow outline takes away."""
    traits: Floats
    """(4,) hydraulic diameter D [m], E [-], F t [m], and 1 if D shrinks with the wetted area."""

    @property
    def area(self) -> float:
        """Of the whole opening [m^2]."""
        return float(self.areas.sum())


def window(corners: ArrayLike, *, thickness: float = 0.0) -> Opening:
    """An opening of any plain outline: a window, or the way over a panel of partial height.

    A full-width panel that ends below the roof leaves such an opening from its top edge to the
    roof, and the flow over that edge is a weir's. Where oil wets only part of the opening its
    hydraulic diameter is 4 wetted area / whole perimeter, so a thin cold film is slow.

    Parameters
    ----------
    corners : (n, 3) [m]
        Of the outline, in order, either way round. It may be hollow but must not cross itself.
    thickness : float [m]
        t, of the panel.

    Returns
    -------
    opening : Opening [-]

    Raises
    ------
    RangeError
        If there are under three corners, they do not lie on one plane or enclose nothing.

    Source
    ------
    [closed-form] signed triangles from one corner.
    """
    points = _points(corners, 3, "an opening")
    t = float(not_negative(thickness, "panel thickness", "m"))
    arms = points[1:] - points[0]
    normals = np.cross(arms[:-1], arms[1:]) / 2.0
    whole = normals.sum(axis=0)
    size = float(np.abs(arms).max())
    area = float(np.linalg.norm(whole))
    if not area > 1e-9 * size**2:
        raise RangeError("the outline of an opening encloses no area")
    off = float(np.abs(arms @ whole).max()) / area
    if off > FLAT * size:
        raise RangeError(f"corners of an opening lie up to {off * 1e3:.3g} mm off their plane")
    rim = float(np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1).sum())
    first = np.broadcast_to(points[0], arms[:-1].shape)
    triangles = np.stack([first, points[1:-1], points[2:]], axis=1)
    return Opening(
        np.ascontiguousarray(triangles),
        normals @ whole / area,
        np.array([4.0 * area / rim, HOLE_ENTRY, PIPE * t, 1.0]),
    )


def gap(path: ArrayLike, *, height: float, thickness: float) -> Opening:
    """A narrow slot along a line, such as the leak round a door or under a panel's edge.

    Parameters
    ----------
    path : (n, 3) [m]
        The line; repeat the first point at the end where it closes.
    height : float [m]
        h, clear width of the slot, across the line.
    thickness : float [m]
        t, length of the slot along the flow: the panel's thickness, or the overlap.

    Returns
    -------
    opening : Opening [-]

    Raises
    ------
    RangeError
        If the line has no length or the height is not positive.

    Source
    ------
    [closed-form] each straight run as two triangles without width.
    """
    points = _points(path, 2, "a gap")
    return slots(np.stack([points[:-1], points[1:]], axis=1), height=height, thickness=thickness)


def slots(runs: ArrayLike, *, height: float, thickness: float) -> Opening:
    """Narrow slots along straight runs that need not meet: a gap that is broken here and there.

    Parameters
    ----------
    runs : (n, 2, 3) [m]
        Both ends of each.
    height : float [m]
        h, clear width of the slot, across the runs.
    thickness : float [m]
        t, length of the slot along the flow.

    Returns
    -------
    opening : Opening [-]

    Raises
    ------
    RangeError
        If the runs have no length or the height is not positive.

    Source
    ------
    [closed-form] each straight run as two triangles without width.
    """
    ends = np.asarray(runs, dtype=float)
    if ends.ndim != 3 or ends.shape[1:] != (2, 3):
        raise RangeError("slots need two ends of 3 coordinates for every run")
    start, end = (_points(e, 1, "a gap") for e in np.moveaxis(ends, 1, 0))
    h = float(positive(height, "gap height", "m"))
    t = float(not_negative(thickness, "gap thickness", "m"))
    length = np.linalg.norm(end - start, axis=1)
    positive(length.sum(), "length of a gap", "m")
    # two tents, one full at the start and one at the end, are even along the run
    triangles = np.concatenate(
        [np.stack([start, start, end], axis=1), np.stack([start, end, end], axis=1)]
    )
    return Opening(
        triangles,
        np.tile(length * h / 2.0, 2),
        np.array([2.0 * h, SLIT_ENTRY, SLOT * t, 0.0]),
    )


def _points(points: ArrayLike, least: int, what: str) -> Floats:
    """The points as an array, once there are enough and all are finite."""
    array = np.asarray(points, dtype=float)
    if array.ndim != 2 or array.shape[1] != 3 or len(array) < least:
        raise RangeError(f"{what} needs at least {least} points of 3 coordinates")
    if not np.isfinite(array).all():
        raise RangeError(f"a coordinate of {what} is missing or not finite")
    return array
