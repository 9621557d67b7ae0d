# SPDX-License-Identifier: Apache-2.0
"""An outline of rounded corners moved in or out by an even distance."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.outline_side import moved_sides
from sumpwright.geometry.profile import Profile, corner_turns, rounded_profile
from sumpwright.geometry.profile_round import SMOOTH, rounded_corners

Floats = NDArray[np.float64]


def inset_profile(corners: ArrayLike, radii: ArrayLike, distance: float) -> Profile:
    """Straight sides with rounded corners, each side moved in square to itself.

    A rounding that is convex loses the distance, down to a sharp corner; one that is re-entrant
    gains it. Sharp corners stay sharp.

    Parameters
    ----------
    corners : (n, 2) [m]
        Before rounding, solid on the left.
    radii : (n,) [m]
        Of each corner's rounding.
    distance : float [m]
        Inward; negative moves it out.

    Returns
    -------
    profile : Profile [m]

    Raises
    ------
    RangeError
        Where a side is used up, or two roundings need more of one than there is.
    """
    points = np.asarray(corners, dtype=float).reshape(-1, 2)
    radius = np.broadcast_to(np.asarray(radii, dtype=float), len(points))
    side = np.roll(points, -1, axis=0) - points
    along = side / np.linalg.norm(side, axis=1, keepdims=True)
    before = np.roll(along, 1, axis=0)
    cross = before[:, 0] * along[:, 1] - before[:, 1] * along[:, 0]
    # where two sides moved in by d meet: d (t - t') / (t' x t) off the corner
    straight = np.abs(cross) < 1e-9
    left = np.stack([-along[:, 1], along[:, 0]], axis=1)
    step = (along - before) / np.where(straight, 1.0, cross)[:, None]
    moved = points + distance * np.where(straight[:, None], left, step)
    kept = ((np.roll(moved, -1, axis=0) - moved) * along).sum(axis=1)
    if (kept <= 1e-6).any():
        k = int(kept.argmin())
        raise RangeError(
            f"the side from corner {k + 1} is used up {1e3 * distance:.4g} mm further in"
        )
    turned = np.where(radius > 0.0, radius - np.sign(cross) * distance, 0.0)
    return rounded_profile(moved, np.maximum(turned, 0.0))


def inset_outline(outline: Profile, radii: ArrayLike, distance: float) -> Profile:
    """Lines and arcs with rounded corners, each side moved in square to itself.

    Parameters
    ----------
    outline : Profile [m]
        Before rounding, solid on the left.
    radii : (n,) [m]
        Of each corner's rounding.
    distance : float [m]
        Inward; negative moves it out.

    Returns
    -------
    profile : Profile [m]

    Raises
    ------
    RangeError
        Where a side is used up, or a rounding finds no room.
    """
    if not outline.bulges.any():
        return inset_profile(outline.points, radii, distance)
    radius = np.broadcast_to(np.asarray(radii, dtype=float), len(outline.points))
    turns = corner_turns(outline)
    rounded = (radius > 0.0) & (np.abs(turns) > SMOOTH)
    left = np.where(rounded, radius - np.sign(turns) * distance, 0.0)
    return rounded_corners(moved_sides(outline, -distance), np.maximum(left, 0.0))
