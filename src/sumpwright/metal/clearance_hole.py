# SPDX-License-Identifier: Apache-2.0
"""Holes that bolts go through: how large, and how far they may be out of place."""

import csv
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError

FITS = ("fine", "medium", "coarse")


def clearance_hole(thread: str, fit: str) -> float:
    """Diameter of the hole that a bolt goes through [m].

    Parameters
    ----------
    thread : str [-]
        Of the bolt: ``M2`` to ``M12``.
    fit : str [-]
        ``fine``, ``medium`` or ``coarse``.

    Returns
    -------
    diameter : float [m]

    Raises
    ------
    RangeError
        Where the table has no such thread or fit.

    Source
    ------
    [ISO-273]
    """
    row = _row(thread)
    if fit not in FITS:
        raise RangeError(f"no fit is called '{fit}'; there are {', '.join(FITS)}")
    return row[fit]


def bolt_diameter(thread: str) -> float:
    """Nominal diameter of a bolt, its largest [m].

    Parameters
    ----------
    thread : str [-]
        ``M2`` to ``M12``.

    Returns
    -------
    diameter : float [m]

    Raises
    ------
    RangeError
        Where the table has no such thread.

    Source
    ------
    [ISO-273]
    """
    return _row(thread)["diameter"]


def screw_through(hole: float) -> str:
    """The thread that a hole of this size is a clearance hole of.

    Parameters
    ----------
    hole : float [m]
        Diameter.

    Returns
    -------
    thread : str [-]
        ``M2`` to ``M12``; the hole is no smaller than its fine one, no larger than its coarse one.

    Raises
    ------
    RangeError
        Where the hole is no thread's.

    Source
    ------
    [ISO-273]
    """
    for name, row in _table().items():
        if row["fine"] - 1e-9 <= hole <= row["coarse"] + 1e-9:
            return name
    raise RangeError(f"a hole of {1e3 * hole:.4g} mm is no screw's clearance hole by ISO 273")


def floating_tolerance(hole: float, bolt: float) -> float:
    r"""Position tolerance that each of two parts may have where the bolt passes through both [m].

    .. math:: T = H - F

    Parameters
    ----------
    hole : float [m]
        H, smallest diameter of the clearance hole.
    bolt : float [m]
        F, largest diameter of the bolt.

    Returns
    -------
    tolerance : float [m]
        Diameter of the zone that the hole's centre stays in; negative where the bolt is larger.

    Source
    ------
    [ASME-Y14.5] appendix B, floating fasteners.
    """
    return hole - bolt


def fixed_tolerance(hole: float, bolt: float, threaded: float | None = None) -> float:
    r"""Position tolerance of a clearance hole whose bolt is held in the other part's thread [m].

    .. math:: H = F + T_1 + T_2

    Parameters
    ----------
    hole : float [m]
        H, smallest diameter of the clearance hole.
    bolt : float [m]
        F, largest diameter of the bolt.
    threaded : float or None [m]
        T2, position tolerance of the threaded holes. None: both parts get the same.

    Returns
    -------
    tolerance : float [m]
        T1, diameter of the zone that the hole's centre stays in; negative where there is no room.

    Source
    ------
    [ASME-Y14.5] appendix B, fixed fasteners.
    """
    both = hole - bolt
    return 0.5 * both if threaded is None else both - threaded


def position_error(off: ArrayLike) -> NDArray[np.float64]:
    """How far holes are out of place, as a position tolerance counts it: twice the distance [m].

    Parameters
    ----------
    off : (n, 2) [m]
        Each centre from where it should be.

    Returns
    -------
    diameter : (n,) [m]

    Source
    ------
    [ASME-Y14.5] appendix B.
    """
    return np.asarray(2.0 * np.linalg.norm(np.asarray(off, dtype=float).reshape(-1, 2), axis=1))


def _row(thread: str) -> dict[str, float]:
    known = _table()
    if thread not in known:
        raise RangeError(f"no clearance hole for '{thread}'; there are {', '.join(known)}")
    return known[thread]


@cache
def _table() -> dict[str, dict[str, float]]:
    text = Path(__file__).with_suffix(".csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    sizes = ("diameter", *FITS)
    return {r["name"]: {s: 1e-3 * float(r[f"{s}_mm"]) for s in sizes} for r in rows}
