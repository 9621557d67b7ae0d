# SPDX-License-Identifier: Apache-2.0
"""What can be wrong with a body that a cavity is made from, said with the place."""

import numpy as np

from sumpwright.errors import Problem
from sumpwright.geometry.edge import Ints
from sumpwright.geometry.mesh import Mesh, Points


def _place(point: Points) -> str:
    """``x 112.0 mm, y -40.0 mm, z -8.0 mm``."""
    x, y, z = (np.asarray(point) * 1e3).round(1) + 0.0
    return f"x {x:.1f} mm, y {y:.1f} mm, z {z:.1f} mm"


def dip(point: Points, drop: float) -> Problem:
    """A rim that does not reach the rail plane.

    Parameters
    ----------
    point : (3,) [m]
        Its lowest point.
    drop : float [m]
        How far that is below the plane.

    Returns
    -------
    problem : Problem [-]
    """
    short = f"{1e3 * drop:.3g} mm"
    return Problem(
        code="GEO-251",
        where=f"shell near {_place(point)}",
        found=f"its rim is {short} below the rail plane there",
        needed="a rim that is on or above the rail plane all the way round",
        do=f"draw the walls up past the rail plane, or put the rail plane {short} lower",
    )


def hole(point: Points, drop: float) -> Problem:
    """A hole below the rail plane.

    Parameters
    ----------
    point : (3,) [m]
        Lowest point of its edge.
    drop : float [m]
        How far that is below the plane.

    Returns
    -------
    problem : Problem [-]
    """
    return Problem(
        code="GEO-252",
        where=f"shell near {_place(point)}",
        found=f"a hole whose edge is up to {1e3 * drop:.3g} mm below the rail plane",
        needed="a shell that is open only at the rail",
        do="close the hole (drain plug, sensor port, missing face) and export again",
    )


def no_opening(below: Mesh, height: float) -> Problem:
    """A shell that the rail plane does not cut.

    Parameters
    ----------
    below : Mesh [m]
        What of it lies below the plane.
    height : float [m]
        Of the plane.

    Returns
    -------
    problem : Problem [-]
    """
    nothing = not len(below.faces)
    return Problem(
        code="GEO-253",
        where="shell",
        found="nothing of it below the rail plane" if nothing else "no opening at the rail plane",
        needed=f"a shell that is cut by the rail plane at height {1e3 * height:.4g} mm",
        do="check the rail height, the unit and the file's origin",
    )


def mixed_skins(below: Mesh, rims: Ints) -> Problem:
    """Skins that cannot be closed together.

    Parameters
    ----------
    below : Mesh [m]
        What lies below the plane.
    rims : (k, 2) [-]
        Its open sides.

    Returns
    -------
    problem : Problem [-]
    """
    return Problem(
        code="GEO-254",
        where=f"shell near {_place(below.vertices[rims].mean(axis=(0, 1)))}",
        found="skins that face different ways, or cross each other at the rail plane",
        needed="one skin, or several that all face the same way",
        do="make the face directions agree (unify normals) and export again",
    )


def no_hollow() -> Problem:
    """Metal without a hollow.

    Returns
    -------
    problem : Problem [-]
    """
    return Problem(
        code="GEO-255",
        where="pan solid",
        found="no hollow that opens to the rail plane",
        needed="metal round a hollow that nothing but the rail opening joins to the outside",
        do="close drain and sensor holes, or give the cavity's own file",
    )


def no_flat_top(body: Mesh) -> Problem:
    """A cavity whose top is not flat.

    Parameters
    ----------
    body : Mesh [m]
        The cavity.

    Returns
    -------
    problem : Problem [-]
    """
    high = body.vertices[np.argmax(body.vertices[:, 2])] if len(body.vertices) else np.zeros(3)
    return Problem(
        code="GEO-258",
        where=f"cavity near {_place(high)}",
        found="a top that is not a flat horizontal face",
        needed="a cavity that is closed by a flat face at the pan rail",
        do="cut the cavity off flat at the pan rail, or set the crankcase height to 0 mm",
    )
