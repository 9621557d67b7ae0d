# SPDX-License-Identifier: Apache-2.0
"""An outline of rounded corners moved in or out by an even distance."""

import numpy as np
from numpy.typing import ArrayLike

from sumpwright.errors import RangeError
from sumpwright.geometry.outline_side import moved_sides
from sumpwright.geometry.profile import Profile, corner_turns
from sumpwright.geometry.profile_round import SMOOTH, rounded_corners


def inset_profile(outline: Profile, radii: ArrayLike, distance: float) -> Profile:
    """Lines and arcs with rounded corners, each side moved in square to itself.

    A rounding that is convex loses the distance, down to a sharp corner; one that is re-entrant
    gains it. Sharp corners stay sharp.

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
    radius = np.broadcast_to(np.asarray(radii, dtype=float), len(outline.points))
    turns = corner_turns(outline)
    rounded = (radius > 0.0) & (np.abs(turns) > SMOOTH)
    left = np.where(rounded, radius - np.sign(turns) * distance, 0.0)
    try:
        moved = moved_sides(outline, -distance)
    except RangeError as err:
        raise RangeError(f"{err} {1e3 * distance:.4g} mm further in") from err
    return rounded_corners(moved, np.maximum(left, 0.0))
