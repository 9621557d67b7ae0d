# SPDX-License-Identifier: Apache-2.0
"""Does a folded part run into itself, or into another? How it gets there is bend_order.py's."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from sumpwright.metal.flat_pattern import FlatPattern
from sumpwright.metal.fold import Folded, folded
from sumpwright.metal.fold_piece import FINE, Pieces, Thick, common

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Clash:
    """Two pieces of a sheet in one place."""

    place: Floats
    """(3,) [m] in the frame of the flat"""
    volume: float
    """m^3 that they share"""


def clash(pattern: FlatPattern) -> Clash | None:
    """Where a part, all its bends made, runs into itself.

    Parameters
    ----------
    pattern : FlatPattern [m]
        As it is cut.

    Returns
    -------
    clash : Clash or None [m]
        The first that is found.

    Raises
    ------
    RangeError
        Where a bend does not part the sheet, so that nothing can turn about it.
    """
    if not pattern.bends:
        return None
    pieces = Pieces(folded(pattern), FINE)
    met = (pieces.meeting(i, k) for k, i in combinations(range(len(pieces)), 2))
    return next((Clash(*both) for both in met if both is not None), None)


def part_solids(body: Folded) -> list[Thick]:
    """All of a folded part as thick bodies.

    Parameters
    ----------
    body : Folded [m]
        In space.

    Returns
    -------
    solids : list of Thick [mm]
    """
    return list(Pieces(body, FINE).solids())


def shared_by(ones: Sequence[Thick], others: Sequence[Thick]) -> tuple[Floats, float] | None:
    """The middle and the volume of the most that two bodies have in common.

    Parameters
    ----------
    ones : sequence of Thick [mm]
        Pieces of one.
    others : sequence of Thick [mm]
        Pieces of the other.

    Returns
    -------
    shared : ((3,), float) or None [m, m^3]
    """
    if not ones or not others:
        return None
    a, b = (
        np.array([solid.bounding_box() for solid in solids]).reshape(-1, 2, 3)
        for solids in (ones, others)
    )
    near = ((a[:, None, 0] < b[None, :, 1]) & (b[None, :, 0] < a[:, None, 1])).all(axis=2)
    pairs = zip(*(index.tolist() for index in np.nonzero(near)), strict=True)
    found = [f for i, k in pairs if (f := common(ones[i], others[k])) is not None]
    return max(found, key=lambda f: f[1]) if found else None
