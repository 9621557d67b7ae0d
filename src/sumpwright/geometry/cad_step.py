# SPDX-License-Identifier: Apache-2.0
"""STEP files as the CAD kernel's own solids, where triangles are not enough: to cut and to join."""

from pathlib import Path

from sumpwright.errors import SolveError
from sumpwright.geometry.cad import _shape, _wake
from sumpwright.geometry.cad_measure import Solid, single, sound


def step_solid(path: Path) -> Solid:
    """The one solid in a STEP file.

    Parameters
    ----------
    path : Path [-]
        The file.

    Returns
    -------
    solid : Solid [mm]

    Raises
    ------
    SolveError
        Where it holds none, or several, or one that the kernel finds invalid.
    InputError
        GEO-230 not readable, GEO-234 the kernel lacks a system library.
    """
    _wake(path)
    shape, _ = _shape(path)
    if shape is None:
        raise SolveError(f"{path.name} holds no solid")
    return sound(single(shape), path.name)
